//! Budgets of the Guide to the Expression of Uncertainty in Measurement (JCGM 100:2008).

use trammel::metrology::{Budget, Component, Source, coverage_factor};

use crate::Tally;

/// Annex H.1, end gauge. Inputs read in GUM_H1.py of the MSLNZ/GTC repository (MIT) and in a second program's test file;
/// results from memory of the clause, arithmetic recomputed.
const H1: &str = "GUM H.1";
/// G.4.1, example. From memory; recomputed.
const G41: &str = "GUM G.4.1, example, from memory";
/// JCGM 101:2008, 9.2: four inputs of standard uncertainty 1 added. Second hand; recomputed.
const S1: &str = "JCGM 101, 9.2.2";

fn line(words: &'static str, u: f64, dof: f64, sensitivity: f64) -> Component {
    Component { source: Source::Other(words.into()), u, dof, sensitivity }
}

pub(crate) fn checks(tally: &mut Tally) {
    end_gauge(tally);
    product(tally);
    let four = Budget { components: vec![line("one of four", 1.0, f64::INFINITY, 1.0); 4] };
    tally.near(S1, "expanded uncertainty of four added inputs", four.expanded_at(0.95), 3.92, 0.5e-2);
    tally.near(S1, "the same, recomputed", four.expanded_at(0.95), 3.919_928, 0.5e-6);
}

fn end_gauge(tally: &mut Tally) {
    let difference = Budget {
        components: vec![
            line("repeated observations", 5.8, 24.0, 1.0),
            line("random effects of the comparator", 3.9, 5.0, 1.0),
            line("systematic effects of the comparator", 6.7, 8.0, 1.0),
        ],
    };
    tally.near(H1, "u(d), nm", difference.combined(), 9.7, 0.05);
    tally.near(H1, "u(d), recomputed", difference.combined(), 9.6819, 0.5e-4);
    tally.near(H1, "degrees of freedom of u(d), recomputed", difference.effective_dof(), 25.447, 0.5e-3);
    let (standard, theta, alpha) = (50_000_623.0, -0.1, 11.5e-6);
    let mut components = difference.components;
    components.extend([
        line("calibration of the standard", 75.0 / 3.0, 18.0, 1.0),
        line("expansion of the standard", 2e-6 / 3_f64.sqrt(), f64::INFINITY, 0.0),
        line("difference of the expansions", 1e-6 / 3_f64.sqrt(), 50.0, -standard * theta),
        line("difference of the temperatures", 0.05 / 3_f64.sqrt(), 2.0, -standard * alpha),
    ]);
    for (place, nanometres) in [(3, 25.0), (4, 0.0), (5, 2.9), (6, 16.6)] {
        let component = &components[place];
        tally.near(H1, component.source.words(), component.contribution(), nanometres, 0.05);
    }
    let budget = Budget { components };
    tally.same(
        H1,
        "the largest",
        budget.largest().map(|line| line.source.words()),
        Some("calibration of the standard"),
    );
    tally.near(H1, "combined, nm", budget.combined(), 32.0, 0.5);
    tally.near(H1, "combined, recomputed", budget.combined(), 31.6639, 0.5e-4);
    // The clause prints 16.7 from intermediate values that it rounded.
    tally.near(H1, "effective degrees of freedom", budget.effective_dof(), 16.7, 0.1);
    tally.near(H1, "the same, recomputed", budget.effective_dof(), 16.7519, 0.5e-4);
    tally.near(
        H1,
        "k at 99 %, degrees of freedom cut to 16",
        coverage_factor(0.99, budget.effective_dof()),
        2.92,
        0.5e-2,
    );
    tally.near(H1, "k at 95 %", coverage_factor(0.95, budget.effective_dof()), 2.12, 0.5e-2);
    // 2.92 · 32 is printed as 93; unrounded it is 92.48.
    tally.near(H1, "expanded at 99 %, nm", budget.expanded_at(0.99), 93.0, 0.6);
    tally.near(H1, "the same, recomputed", budget.expanded_at(0.99), 92.48, 0.5e-2);
}

fn product(tally: &mut Tally) {
    let budget = Budget {
        components: vec![
            line("first factor", 0.25, 9.0, 1.0),
            line("second factor", 0.57, 4.0, 1.0),
            line("third factor", 0.82, 14.0, 1.0),
        ],
    };
    tally.near(G41, "combined, %", budget.combined(), 1.03, 0.5e-2);
    tally.near(G41, "effective degrees of freedom", budget.effective_dof(), 19.0, 0.05);
    // 18.9987 would be cut to 18; the example rounds it to 19 first.
    tally.near(G41, "k at 95 % for 19", coverage_factor(0.95, budget.effective_dof().round()), 2.093, 0.5e-3);
    let expanded = coverage_factor(0.95, 19.0) * budget.combined();
    tally.near(G41, "expanded, %", expanded, 2.2, 0.05);
}
