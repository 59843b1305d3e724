//! The pad by keyboard: what each key is on the pad.

use crate::app::prelude::*;

use crate::app::browser::keyboard::{Keyboard, Pressed};
use crate::app::shop::Shop;
use crate::quantity::Key;

/// Listens while the pad stands, unless the settings say that keys are left alone. `sign`: answers the question that gives the number
/// its sign, where there is one; the minus is the hyphen before a fraction where there is none.
pub(super) fn listen(press: Callback<Key>, sign: Option<Callback<bool>>) {
    let shop = Shop::here();
    let keyboard = Keyboard::follow(move |pressed| {
        if shop.settings.with_untracked(|settings| settings.keys_off) {
            return false;
        }
        let key = match (pressed, sign) {
            (Pressed::On | Pressed::Back | Pressed::Enter, _) => return false,
            (Pressed::Plus | Pressed::Minus, Some(sign)) => {
                sign.run(pressed == Pressed::Minus);
                return true;
            }
            (Pressed::Plus, None) => return false,
            (Pressed::Digit(digit), _) => Key::Digit(digit),
            (Pressed::Point, _) => Key::Point,
            (Pressed::Stroke, _) => Key::Over,
            (Pressed::Space | Pressed::Minus, _) => Key::Gap,
            (Pressed::Delete, _) => Key::Back,
        };
        press.run(key);
        true
    });
    let keyboard = StoredValue::new_local(Some(keyboard));
    on_cleanup(move || {
        keyboard.try_update_value(Option::take);
    });
}
