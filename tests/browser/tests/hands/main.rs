//! One hand, a glove, a keyboard, a screen reader: what a run is worked with beside a bare finger.

#![allow(clippy::print_stdout, reason = "the run says what it took")]

mod hits;
mod keyboard;
mod tree;

use trammel_browser_tests::in_engines;

use hits::{a_clicker_goes_on_and_back, a_second_hit_is_not_meant, keys_step_and_type};
use keyboard::from_start_to_export_by_keyboard;
use tree::{a_step_as_a_screen_reader_has_it, colours_of_the_system};

in_engines! {
    chromium Chromium: from_start_to_export_by_keyboard, a_second_hit_is_not_meant, a_clicker_goes_on_and_back, keys_step_and_type,
        a_step_as_a_screen_reader_has_it, colours_of_the_system;
    firefox Firefox: a_clicker_goes_on_and_back, keys_step_and_type;
    webkit WebKit: a_clicker_goes_on_and_back, keys_step_and_type;
}
