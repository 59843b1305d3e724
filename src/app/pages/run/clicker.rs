//! A run by keyboard, or by a presenter's clicker: on, back, and the step's own action.

use crate::app::prelude::*;

use crate::app::browser::focus;
use crate::app::browser::keyboard::{Keyboard, Pressed};
use crate::app::shop::Shop;

/// Where "on" leads: to the next thing that is to be done, or else to the step after this one.
const ON: [&str; 2] = ["#next", "#following-step"];
const BACK: [&str; 1] = ["#previous-step"];
/// The step's own action. A signature is given on its own button alone, and what strikes something out stands elsewhere.
const ACTION: [&str; 2] = [".run-hands .primary:enabled:not(#sign, #strike-out)", "#next"];

/// Listens while the run's page stands, unless the settings say that keys are left alone.
pub(super) fn listen() {
    let shop = Shop::here();
    let keyboard = Keyboard::follow(move |pressed| {
        if shop.settings.with_untracked(|settings| settings.keys_off) {
            return false;
        }
        match pressed {
            Pressed::On => focus::tap_first(&ON),
            Pressed::Back => focus::tap_first(&BACK),
            Pressed::Enter => focus::tap_first(&ACTION),
            _ => false,
        }
    });
    let keyboard = StoredValue::new_local(Some(keyboard));
    on_cleanup(move || {
        keyboard.try_update_value(Option::take);
    });
}
