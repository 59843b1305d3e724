//! What the phone says and what it hears in a run: the platform's voice and recogniser, each with a stand-in that does as the test says.
//! In Chromium: no other driver puts something into a page before the app starts.

mod listening;
mod speaking;
mod stand_in;
mod taught;

use anyhow::Result;
use trammel_browser_tests::{AppServer, Page, in_engines};

use listening::{
    a_number_is_heard_read_back_and_kept_by_voice, it_asks_before_the_voice_leaves_the_phone, what_goes_wrong_is_said,
    what_is_not_clear_is_asked, where_nothing_listens_the_keyboard_does,
};
use speaking::{a_phone_without_a_voice_says_so, it_waits_for_the_first_touch, the_steps_are_said};
use taught::words_are_taught_anew_and_had_back;

in_engines! {
    chromium Chromium:
        the_steps_are_said,
        a_phone_without_a_voice_says_so,
        it_waits_for_the_first_touch,
        a_number_is_heard_read_back_and_kept_by_voice,
        what_is_not_clear_is_asked,
        it_asks_before_the_voice_leaves_the_phone,
        what_goes_wrong_is_said,
        where_nothing_listens_the_keyboard_does,
        words_are_taught_anew_and_had_back;
}

/// An example airframe with the protractor accepted, at the pitch; gives the address of its run.
pub(crate) async fn at_pitch(page: &Page, app: &AppServer) -> Result<String> {
    page.open(app.address().as_str()).await?;
    page.make_example(app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "protractor", 0).await?;
    page.step_in(&run, "set/pitch").await?;
    page.appears("#reading").await?;
    Ok(run)
}
