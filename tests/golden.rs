//! The trade's golden cases, worked out beforehand from one set of coordinates of the invented Veldrin H2 (plane and solid geometry;
//! no source outside that), each by the key G… under which the project keeps them. Where the engine's answer is not the closed
//! form's, the case says why.
//!
//! Cases of rigging are named in words.

mod support;

#[path = "golden/engine.rs"]
mod engine;
#[path = "golden/readings.rs"]
mod readings;
#[path = "golden/rigging.rs"]
mod rigging;

#[track_caller]
fn assert_near(got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "got {got}, want {want} ± {within}");
}
