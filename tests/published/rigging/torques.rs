//! Torques of threads, and adapters on torque wrenches.

use trammel::quantity::{Angle, Length, Torque, Unit};
use trammel::rigging::{Adapter, Nut, ThreadTorque};

use crate::{Tally, rows};

/// FAA AC 43.13-1B, table 7-1, dry cadmium-plated threads, seen on landseaskyspace.com.
const TABLE: &str = "AC 43.13-1B, table 7-1";
/// The same ranges in newton metres in an aircraft manual (manualshive.com).
const METRIC: &str = "metric twin of AC 43.13-1B, table 7-1";
/// AC 43.13-1B, 7-40: the drag of the nut is added to both ends.
const DRAG: &str = "AC 43.13-1B, 7-40";
/// Army TM 1-1500-204-23-9: 300 in-lb wanted, wrench 10 in, adapter 4 in: 214.
const ARMY: &str = "TM 1-1500-204-23-9, adapter";
/// Army TM 9-254: 60 set, wrench 12 in, adapter 2 in: 70 on the nut; at an angle the adapter counts by its cosine.
const ARMY_SET: &str = "TM 9-254, adapter";
/// A maintenance manual (manualshive.com): 20 ft-lb, 14 in, 3 in: 16.5; square to the wrench no correction.
const MANUAL: &str = "adapter in a maintenance manual";

fn whole(torque: Torque) -> i64 {
    torque.inch_pounds().round() as i64
}

pub(crate) fn checks(tally: &mut Tally) {
    let mut threads = 0;
    for [thread, tension, shear, most_tension, most_shear] in rows(include_str!("../thread_torques.tsv")) {
        let Some(row) = ThreadTorque::of(thread) else {
            tally.same(TABLE, thread, "missing", "there");
            continue;
        };
        let range = |nut| {
            let range = row.range(nut);
            format!("{}-{}", whole(range.least), whole(range.most))
        };
        let most = |nut| whole(row.most(nut)).to_string();
        let got = [range(Nut::Tension), range(Nut::Shear), most(Nut::Tension), most(Nut::Shear)];
        tally.same(TABLE, thread, got, [tension, shear, most_tension, most_shear].map(str::to_owned));
        threads += 1;
    }
    tally.same(TABLE, "threads", ThreadTorque::all().len(), threads);
    for (thread, least, most) in [
        ("8-36", 1.4, 1.7),
        ("1/4-28", 5.6, 7.9),
        ("5/16-24", 11.3, 15.8),
        ("3/8-24", 18.1, 21.5),
        ("7/16-20", 50.8, 56.5),
        ("1/2-20", 54.2, 78.0),
        ("5/8-18", 124.3, 146.9),
        ("3/4-16", 259.9, 282.5),
    ] {
        let range = ThreadTorque::of(thread).map(|row| row.range(Nut::Tension));
        let ends =
            range.map_or((f64::NAN, f64::NAN), |range| (range.least.newton_metres(), range.most.newton_metres()));
        tally.near(METRIC, thread, ends.0, least, 0.05);
        tally.near(METRIC, thread, ends.1, most, 0.05);
    }
    let drag =
        ThreadTorque::of("1/4-28").and_then(|row| row.range(Nut::Shear).with_drag(Torque::from_inch_pounds(8.0)).ok());
    tally.same(
        DRAG,
        "1/4-28 thin nut, 8 in-lb",
        drag.map(|range| (whole(range.least), whole(range.most))),
        Some((38, 48)),
    );
    adapters(tally);
}

fn adapters(tally: &mut Tally) {
    let adapter = |wrench, adapter, angle| Adapter {
        wrench: Length::from_inches(wrench),
        adapter: Length::from_inches(adapter),
        angle: Angle::from_degrees(angle),
    };
    let setting = |on_nut: f64, adapter: Adapter| {
        adapter.setting(Torque::from_inch_pounds(on_nut)).map_or(f64::NAN, Torque::inch_pounds)
    };
    let on_nut = |set: f64, adapter: Adapter| {
        adapter.on_nut(Torque::from_inch_pounds(set)).map_or(f64::NAN, Torque::inch_pounds)
    };
    tally.near(ARMY, "setting", setting(300.0, adapter(10.0, 4.0, 0.0)), 214.0, 0.5);
    tally.near(ARMY, "setting, recomputed", setting(300.0, adapter(10.0, 4.0, 0.0)), 214.29, 0.005);
    tally.near(ARMY_SET, "on the nut", on_nut(60.0, adapter(12.0, 2.0, 0.0)), 70.0, 1e-9);
    let foot_pounds = adapter(14.0, 3.0, 0.0).setting(Torque::from_inch_pounds(240.0)).ok();
    let got = foot_pounds.and_then(|set| set.in_unit(Unit::FootPoundForce)).unwrap_or(f64::NAN);
    tally.near(MANUAL, "setting, ft-lb", got, 16.5, 0.05);
    tally.near(MANUAL, "square to the wrench", setting(240.0, adapter(14.0, 3.0, 90.0)), 240.0, 1e-9);
    // By its cosine: 2 in at 60° count as 1 in.
    tally.near(ARMY_SET, "at an angle", on_nut(60.0, adapter(12.0, 2.0, 60.0)), 65.0, 1e-9);
}
