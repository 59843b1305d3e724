//! All tours once more, in a browser that is watched: no request goes to another host, no rule of the page's policy is broken, and no
//! page holds a script, a style or an address of its own that could run something.

use anyhow::{Result, ensure};
use trammel_browser_tests::{Bench, Watch, in_engines};

/// A watched case for each tour.
macro_rules! watched {
    ($($case:ident: $tour:path),+ $(,)?) => {
        $(async fn $case(bench: &Bench) -> Result<()> {
            bench.watch();
            $tour(bench).await
        })+

        // Another engine is told of its proxy in another way, and speaks no devtools protocol.
        in_engines! {
            chromium Chromium: $($case),+, what_must_not_be_is_seen;
        }
    };
}

watched! {
    every_page: crate::every_page_fits_and_is_accessible,
    asking: crate::asking::asking_answering_and_the_desk,
    bench_page: crate::quick::bench_answers_while_typing,
    specification: crate::specification::numbers_travel_and_are_read_again,
    holes: crate::holes::bad_hole_shuts_the_hold_point,
    notes: crate::waiting::what_is_written_down,
    writing: crate::writing::a_written_procedure_is_run_here_and_elsewhere,
}

/// The watch itself: each thing that must not be is done once.
async fn what_must_not_be_is_seen(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let watch = Watch::begin(bench, &app).await?;
    watch.page.open(app.address().as_str()).await?;
    watch.page.kept_for_offline().await?;
    let wrong = watch.wrong().await?;
    ensure!(wrong.is_empty() && watch.requests_elsewhere().is_empty(), "{wrong:?} {:?}", watch.requests_elsewhere());
    let named = Watch::named_in()?;
    ensure!(named.is_empty(), "{named:?}");
    let unseen = watch.unseen().await?;
    ensure!(unseen.is_empty(), "not seen: {}", unseen.join(", "));
    Ok(())
}
