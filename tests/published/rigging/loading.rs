//! Loading extremes and limits of the centre of gravity.

use trammel::metrology::Rule;
use trammel::quantity::Unit;
use trammel::rigging::{Balance, Corner, Envelope, Item, Outside, Place, Placed, Toward, extreme, extreme_about};

use super::{inch, lb};
use crate::Tally;

/// FAA AC 43.13-1B, chapter 10, figures 10-10 and 10-13: one aeroplane, empty 1169 lb at +10.6, limits +8.5 to +21.9, 2100 lb. The
/// copy seen prints +18.6 for figure 10-13 where its own sums give 18.3.
const AC: &str = "AC 43.13-1B, chapter 10";
/// The rule for extreme conditions (flight-mechanic.com): full ahead of the forward limit, empty behind it but for the pilot and the
/// least fuel, 1/12 gallon for each METO horsepower.
const EXTREMES: &str = "extreme conditions, AMT text";
/// FAA data sheet A-694 rev. 26: limits +13.6 to +18.4, 1200 lb.
const A694: &str = "FAA data sheet A-694";

/// Empty, by the moment the figure prints: 1169 lb at +10.6 is 12,391.
fn empty() -> Balance {
    Balance { mass: lb(1169.0), arm: inch(10.6) }
}

fn item(mass: f64, arm: f64) -> Item {
    Item { mass: lb(mass), arm: inch(arm) }
}

fn place(arm: f64, least: f64, most: f64) -> Place {
    Place { arm: inch(arm), least: lb(least), most: lb(most) }
}

/// A mass, an arm and a moment.
type Sums = (f64, f64, f64);

fn sums(balance: Result<Balance, trammel::rigging::BalanceError>) -> Sums {
    balance.map_or((f64::NAN, f64::NAN, f64::NAN), |balance| (balance.mass.value, balance.arm.value, balance.moment()))
}

fn rectangle(arms: (f64, f64), most: f64) -> Option<Envelope> {
    let corners = [(arms.0, 1.0), (arms.0, most), (arms.1, most), (arms.1, 1.0)];
    let corners = corners.map(|(arm, mass)| Corner { arm, mass }).to_vec();
    Envelope::new(corners, Unit::Inch, Unit::Pound).ok()
}

pub(crate) fn checks(tally: &mut Tally) {
    tally.near(AC, "moment when empty", empty().moment(), 12_391.0, 0.5);
    // Oil, two front seats (one the pilot's), two rear seats, fuel, baggage.
    let least_fuel = 165.0 / 12.0 * 6.0;
    tally.near(EXTREMES, "least fuel of 165 hp, printed as 83 lb", least_fuel, 83.0, 0.5);
    let places = [
        place(-49.0, 17.0, 17.0),
        place(16.0, 170.0, 340.0),
        place(48.0, 0.0, 340.0),
        place(22.0, 83.0, 240.0),
        place(75.5, 0.0, 100.0),
    ];
    let forward = extreme_about(empty(), &places, Toward::Forward, inch(8.5));
    let (mass, arm, moment) = sums(forward);
    tally.near(AC, "forward extreme: weight", mass, 1439.0, 1e-9);
    tally.near(AC, "forward extreme: moment", moment, 16_104.0, 1.0);
    tally.near(AC, "forward extreme: arm", arm, 11.2, 0.05);
    tally.near(AC, "forward extreme: arm, recomputed", arm, 11.191, 1e-3);
    tally.near(
        EXTREMES,
        "no loading is further forward",
        sums(extreme(empty(), &places, Toward::Forward)).1,
        arm,
        1e-12,
    );
    let passengers = empty().with(&[item(17.0, -49.0), item(340.0, 16.0), item(340.0, 48.0), item(234.0, 22.0)]);
    let (mass, arm, moment) = sums(passengers);
    tally.near(AC, "most passengers: weight", mass, 2100.0, 1e-9);
    tally.near(AC, "most passengers: moment", moment, 38_466.0, 1.0);
    tally.near(AC, "most passengers: arm by its own sums, not the printed 18.6", arm, 18.317, 1e-3);
    let aft = sums(extreme_about(empty(), &places, Toward::Aft, inch(21.9)));
    tally.near(
        EXTREMES,
        "aft extreme: all behind the limit, and the pilot",
        aft.0,
        1169.0 + 17.0 + 170.0 + 340.0 + 240.0 + 100.0,
        1e-9,
    );
    let stands = |envelope: &Option<Envelope>, balance: Balance| {
        envelope.as_ref().and_then(|envelope| envelope.place(balance, Rule::Plain).ok())
    };
    let limits = rectangle((8.5, 21.9), 2100.0);
    for balance in [forward, passengers].into_iter().flatten() {
        tally.same(AC, "passes", stands(&limits, balance), Some(Placed::In));
    }
    let data_sheet = rectangle((13.6, 18.4), 1200.0);
    for (arm, mass, expected) in [
        (13.6, 1100.0, Placed::In),
        (18.4, 1200.0, Placed::In),
        (13.5, 1100.0, Placed::Out(Outside::TooFarForward)),
        (18.5, 1100.0, Placed::Out(Outside::TooFarAft)),
        (16.0, 1201.0, Placed::Out(Outside::TooHeavy)),
    ] {
        tally.same(
            A694,
            "limits, ends in",
            stands(&data_sheet, Balance { mass: lb(mass), arm: inch(arm) }),
            Some(expected),
        );
    }
}
