//! What befalls an app from outside, one test each, with what its user sees: `docs/faults.md` lists them all, with those that other files
//! test. In Chromium, whose devtools can make these faults.

mod parts;
mod storage;
mod update;
mod versions;

use anyhow::Result;
use trammel_browser_tests::pad::Scale;
use trammel_browser_tests::{AppServer, Page, in_engines};

use parts::{a_page_fetches_its_own_part, a_part_that_does_not_come};
use storage::{
    a_broken_database, a_clock_that_is_set_back, a_database_that_cannot_be_opened, a_lost_copy, a_lost_database,
    a_lost_database_and_local_storage, an_entry_that_cannot_be_read, emptied_under_the_app, entries_that_are_gone,
    hardly_any_room, held_by_an_earlier_version, local_storage_is_lost, what_a_stopped_app_hands_out,
};
use update::{a_new_version_in_the_middle_of_a_run, a_new_version_that_is_not_whole};
use versions::every_earlier_schema;

in_engines! {
    chromium Chromium:
        a_new_version_in_the_middle_of_a_run,
        a_new_version_that_is_not_whole,
        a_page_fetches_its_own_part,
        a_part_that_does_not_come,
        every_earlier_schema,
        held_by_an_earlier_version,
        emptied_under_the_app,
        a_lost_database,
        a_lost_database_and_local_storage,
        a_lost_copy,
        a_database_that_cannot_be_opened,
        what_a_stopped_app_hands_out,
        entries_that_are_gone,
        a_broken_database,
        a_clock_that_is_set_back,
        hardly_any_room,
        an_entry_that_cannot_be_read,
        local_storage_is_lost;
}

const TAPE: Scale = Scale::Fraction(32);

/// An example airframe at a step that is read with the tape, the left of its two readings taken; the address of the run.
async fn half_way(page: &Page, app: &AppServer) -> Result<String> {
    page.make_example(app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "tape", 1).await?;
    page.step_in(&run, "twins").await?;
    page.read(&[17.25], TAPE).await?;
    Ok(run)
}

/// How many readings the step shows.
async fn readings(page: &Page, count: usize) -> Result<()> {
    page.wait(&format!("document.querySelectorAll('.reading').length === {count}")).await
}
