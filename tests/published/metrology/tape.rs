//! Corrections of a steel tape.

use trammel::metrology::tape::{Blade, STEEL_EXPANSION, part_temperature, slope};
use trammel::quantity::Length;

use crate::Tally;

/// Report of a 100 ft steel tape, NIST 1991, U = 0.0010 ft; quoted by its owner on rpls.com (read). Three of its numbers fit
/// the model (A·E, weight, flat length), the others are predicted.
const REPORT: &str = "NIST report of 1991 on a 100 ft tape";
/// A surveying textbook's problem: lay out 529.81 ft. Read on justaaa.com; more digits recomputed.
const LAYOUT: &str = "layout problem, justaaa.com 875987";
/// A textbook's 20 m tape. Inputs read on byjus.com; results recomputed.
const TWENTY: &str = "20 m tape, byjus.com";
/// Magnitudes for a blade of 25 mm by 0.11 mm, recomputed (0.2151 N/m).
const BLADE: &str = "builder's blade, recomputed";
/// Conversions: 1 lbf = 4.4482216152605 N (NIST SP 811, B.8, from memory).
const NEWTONS_PER_POUND: f64 = 4.448_221_615_260_5;

fn feet(feet: f64) -> Length {
    Length::from_inches(12.0 * feet)
}

const fn celsius(fahrenheit: f64) -> f64 {
    (fahrenheit - 32.0) / 1.8
}

pub(crate) fn checks(tally: &mut Tally) {
    report(tally);
    let blade = Blade {
        expansion: 6.45e-6 * 1.8,
        standard_temperature: celsius(68.0),
        standard_tension: 12.0 * NEWTONS_PER_POUND,
        // 0.0075 in² of 29 million lbf/in².
        stiffness: 0.0075 * 29e6 * NEWTONS_PER_POUND,
        weight: 0.0,
    };
    let length = feet(529.81);
    let (warm, pulled) = (blade.temperature(length, celsius(95.0)), blade.tension(length, 20.0 * NEWTONS_PER_POUND));
    tally.near(LAYOUT, "temperature, ft", warm.inches() / 12.0, 0.092_266, 0.5e-6);
    tally.near(LAYOUT, "pull, ft", pulled.inches() / 12.0, 0.019_487, 0.5e-6);
    // The tape's own length, 100.010 ft, is a matter of calibration: 529.81 · 0.010 / 100.
    let lay_out = length - feet(0.052_981) - warm - pulled;
    tally.near(LAYOUT, "to lay out, ft", lay_out.inches() / 12.0, 529.645_3, 0.5e-4);
    // In kilograms-force throughout: only ratios of forces count.
    let blade = Blade {
        expansion: 6.2e-6,
        standard_temperature: 55.0,
        standard_tension: 10.0,
        stiffness: 0.050_891 * 2.109e6,
        weight: 0.8 / 20.0,
    };
    let length = Length::from_metres(20.0);
    let parts = [blade.temperature(length, 80.0), blade.tension(length, 16.0), blade.sag(length, 16.0, 1)];
    for (part, published) in parts.into_iter().zip([0.003_100_0, 0.001_118_1, -0.002_083_3]) {
        tally.near(TWENTY, "correction, m", part.metres(), published, 0.5e-7);
    }
    tally.near(TWENTY, "together, m", parts.into_iter().sum::<Length>().metres(), 0.002_134_7, 1e-7);
    magnitudes(tally);
}

fn report(tally: &mut Tally) {
    let flat = feet(100.0045);
    let blade = Blade {
        expansion: 6.45e-6 * 1.8,
        standard_temperature: celsius(68.0),
        standard_tension: 10.0 * NEWTONS_PER_POUND,
        stiffness: 106_667.0 * NEWTONS_PER_POUND,
        // 0.01274676 lbf/ft.
        weight: 0.012_746_76 * NEWTONS_PER_POUND / 0.3048,
    };
    // A tape that has grown by the correction is that much longer.
    let long = |pounds: f64, spans: u32, fahrenheit: f64| {
        let (length, pull) = (feet(100.0), pounds * NEWTONS_PER_POUND);
        let grown = blade.temperature(length, celsius(fahrenheit)) + blade.tension(length, pull);
        (flat + grown + blade.sag(length, pull, spans)).inches() / 12.0
    };
    for (pounds, spans, fahrenheit, published) in [
        (10.0, 1, 68.0, 99.9368),
        (15.0, 1, 68.0, 99.9791),
        (20.0, 1, 68.0, 99.9969),
        (25.0, 1, 68.0, 100.0077),
        (10.0, 4, 68.0, 100.0003),
        (10.0, 0, 61.0, 100.0000),
        (15.0, 0, 54.0, 100.0002),
        (5.20, 0, 68.0, 100.0000),
    ] {
        tally.near(REPORT, &format!("{pounds} lb, {spans} spans"), long(pounds, spans, fahrenheit), published, 0.5e-4);
    }
    for (spans, published) in [(1, 21.23), (2, 14.18), (3, 11.39), (4, 9.85)] {
        let (mut low, mut high) = (2.0_f64, 40.0);
        for _ in 0..60 {
            let middle = low.midpoint(high);
            if long(middle, spans, 68.0) < 100.0 { low = middle } else { high = middle }
        }
        tally.near(REPORT, &format!("tension for 100.0000 ft, {spans} spans"), low, published, 0.5e-2);
    }
}

fn magnitudes(tally: &mut Tally) {
    let mut blade = Blade::steel(Length::from_millimetres(25.0), Length::from_millimetres(0.11), 50.0);
    let warm = blade.temperature(Length::from_metres(10.0), 30.0);
    tally.near(BLADE, "steel, 10 m, 10 °C warmer, mm", warm.millimetres(), 1.16, 0.5e-2);
    blade.weight = 0.2151;
    for (metres, tension, published) in [(3.0, 20.0, 0.130), (5.0, 20.0, 0.602), (5.0, 50.0, 0.096), (8.0, 50.0, 0.395)]
    {
        let sag = blade.sag(Length::from_metres(metres), tension, 1);
        tally.near(BLADE, "sag, mm", -sag.millimetres(), published, 0.5e-3);
    }
    let shortened = |length: f64, height: f64| slope(Length::from_metres(length), Length::from_metres(height));
    let at_five_degrees = shortened(10.0, 10.0 * 5_f64.to_radians().sin()).map(Length::millimetres);
    tally.near(BLADE, "10 m at 5°, mm", -at_five_degrees.unwrap_or(f64::NAN), 38.05, 0.5e-2);
    let steep = shortened(100.0, 5.0).map(Length::metres);
    tally.near(BLADE, "5 in 100", -steep.unwrap_or(f64::NAN), 0.125_078_2, 0.5e-7);
    // Steel on aluminium of 23·10⁻⁶: 11.4 µm per metre and degree.
    let metre = Length::from_metres(1.0);
    let left = metre * STEEL_EXPANSION + part_temperature(metre, trammel::metrology::tape::ALUMINIUM_EXPANSION, 21.0);
    tally.near(BLADE, "steel on aluminium, µm per m and °C", -left.metres() * 1e6, 11.4, 0.05);
}
