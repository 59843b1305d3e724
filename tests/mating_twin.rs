//! The digital twin of the mating, tested against its drawing; then worked by trial and error and with the app.

#![allow(clippy::print_stdout, reason = "the campaign prints its figures")]

#[path = "twin/follow.rs"]
mod follow;
mod support;
mod twin;

use follow::{Habit, WithTheApp};
use twin::body::{JOINT, Side, TAIL_POST, aft_bulkhead, bar_end, firewall_corner, lower_joint, upper_joint};
use twin::config::{Config, SetUp};
use twin::contact::TUBE_SLOPE_DEG;
use twin::mating::{Advisor, Check, PASS, PASS_WITH_STRING};
use twin::space::{Vec3, vec3};
use twin::tally::{Row, Tally};
use twin::trial::TrialAndError;
use twin::world::{Corner, Station, Twin};

const BOTH: [SetUp; 2] = [SetUp::Saddle, SetUp::Block];
const SIDES: [Side; 2] = [Side::Left, Side::Right];

fn perfect(set_up: SetUp) -> Twin {
    Twin::new(Config::perfect(set_up), 1)
}

/// A rough twin after every adjuster has been moved.
fn disturbed(set_up: SetUp, seed: u64) -> Twin {
    let mut twin = Twin::new(Config::rough(set_up), seed);
    twin.move_support(0.75);
    twin.rock_saddle(-0.125);
    twin.open_joint(Side::Right, 0.25);
    twin.open_joint(Side::Left, 0.0625);
    twin
}

#[track_caller]
fn assert_near(got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "got {got}, want {want} ± {within}");
}

#[test]
fn bodies_stay_rigid_and_right_handed() {
    let points: Vec<Vec3> = SIDES
        .into_iter()
        .flat_map(|s| [firewall_corner(s), lower_joint(s), upper_joint(s), aft_bulkhead(s), bar_end(s)])
        .chain([TAIL_POST])
        .collect();
    for set_up in BOTH {
        for seed in 0..50 {
            let twin = disturbed(set_up, seed);
            for body in [twin.assembly().frame, twin.assembly().cone] {
                for &a in &points {
                    for &b in &points {
                        assert_near((body.point(a) - body.point(b)).length(), (a - b).length(), 1e-12);
                    }
                }
                let [x, y, z] =
                    [vec3(1.0, 0.0, 0.0), vec3(0.0, 1.0, 0.0), vec3(0.0, 0.0, 1.0)].map(|v| body.direction(v));
                let cross = vec3(x.bl * y.wl - x.wl * y.bl, x.wl * y.fs - x.fs * y.wl, x.fs * y.bl - x.bl * y.fs);
                assert_near((cross - z).length(), 0.0, 1e-12);
            }
        }
    }
}

/// The drawing's own numbers: √(226² + 17.25² + 19²) = 227.452 and atan(5.722 / 126) = 2.6°.
#[test]
fn as_drawn_everything_is_nominal() {
    for set_up in BOTH {
        let mut twin = perfect(set_up);
        assert_near(twin.true_pitch_error(), 0.0, 1e-9);
        assert_near(twin.true_twist(), 0.0, 1e-9);
        assert_near(twin.true_offset(), 0.0, 1e-9);
        assert_near(twin.true_diagonal_difference(), 0.0, 1e-9);
        let fall = twin.assembly().cone_direction_in_frame(aft_bulkhead(Side::Left) - upper_joint(Side::Left));
        assert_near(fall.wl.atan2(fall.fs).to_degrees(), twin.true_pitch(), 0.001);
        assert_near(twin.read_pitch(Side::Left, false), -2.6, 1e-9);
        assert_near(twin.read_pitch(Side::Right, true), -2.6, 1e-9);
        assert_near(twin.read_roll(Station::Tail, false), 0.0, 1e-9);
        assert_near(twin.read_offset(), 0.0, 1e-9);
        // The joint stands open a little at the start, so the distance is a little longer than drawn.
        let gap = twin.assembly().opening(JOINT);
        assert!((1.0 / 32.0..=3.0 / 32.0).contains(&gap), "gap {gap}");
        let drawn = (TAIL_POST + vec3(gap, 0.0, 0.0) - firewall_corner(Side::Left)).length();
        assert_near(drawn - gap, 227.452, 0.001);
        assert_near(twin.read_diagonal(Side::Left), drawn, 1.0 / 64.0);
    }
}

/// 122 in · tan 0.1° = 0.213 in: the trade's height for an angle over a base.
#[test]
fn raising_the_saddle_lifts_the_tail() {
    let mut twin = perfect(SetUp::Saddle);
    twin.raise_saddle(0.213);
    assert_near(twin.true_pitch_error(), 0.1, 0.0005);
    twin.raise_saddle(-0.852);
    assert_near(twin.true_pitch_error(), -0.3, 0.001);
    assert_near(twin.true_offset(), 0.0, 1e-9);
}

/// The block carries the frame by the tubes: forward lowers the nose, so the tail falls against the frame. The edge of
/// the block must lie on the turned tube, found here from two points of the tube.
#[test]
fn sliding_the_block_turns_the_frame_about_the_joint() {
    let (rise, run) = TUBE_SLOPE_DEG.to_radians().sin_cos();
    let edge = JOINT + vec3(-74.0, 0.0, -38.0);
    for slide in [-8.0, -2.0, 0.0, 2.0, 8.0] {
        let mut twin = perfect(SetUp::Block);
        let start = twin.assembly().frame;
        twin.slide_block(slide);
        assert!(twin.true_pitch_error() * slide <= 0.0, "forward lowers the tail");
        let frame = twin.assembly().frame;
        assert_near((frame.point(JOINT) - start.point(JOINT)).length(), 0.0, 1e-12);
        let [aft, fore] = [-20.0, 20.0].map(|l| frame.point(start.drawn(edge) + vec3(-run, 0.0, rise) * l));
        let share = (edge.fs - slide - aft.fs) / (fore.fs - aft.fs);
        assert_near(aft.wl + share * (fore.wl - aft.wl), edge.wl, 1e-9);
    }
}

/// Two distances to one aft point: D_L² − D_R² = 4ae, so 0.41 in at the tail is 1/16 in between them (a = 17.25,
/// D = 227.45); the gap for it is 0.41 · 33 / 142 = 0.096 in.
#[test]
fn opening_the_right_joint_swings_the_tail_left() {
    for set_up in BOTH {
        for side in SIDES {
            let mut twin = perfect(set_up);
            let before = twin.read_gap(Corner::Upper(side));
            twin.open_joint(side, 0.0955);
            // On the sloping tubes the yaw also rolls the frame, by the yaw times tan 9°: 0.009 in more at the tail post,
            // which lies 19 in below the joint.
            let rolled = if set_up == SetUp::Block { 0.009 } else { 0.0 };
            assert_near(twin.true_offset(), -side.sign() * (0.41 + rolled), 0.002);
            assert_near(twin.true_diagonal_difference(), -side.sign() / 16.0, 0.0015);
            assert_near(twin.read_gap(Corner::Upper(side)), before + 0.0955, 1.0 / 64.0);
            // The frame came forward by half the gap, as if the block had gone aft by it.
            assert_near(twin.true_pitch_error(), 0.0, 0.007);
        }
    }
}

/// 24 in · tan 0.3° = 0.126 in: right side of the saddle up turns the tail right-high.
#[test]
fn rocking_the_support_twists_the_tail() {
    let mut twin = perfect(SetUp::Saddle);
    twin.rock_saddle(0.126);
    assert_near(twin.true_twist(), -0.3, 0.002);
    let mut twin = perfect(SetUp::Block);
    twin.rock_saddle(0.126);
    assert_near(twin.true_twist(), 0.3, 0.01);
}

#[test]
fn a_joint_closes_no_further_than_until_the_parts_touch() {
    let mut twin = perfect(SetUp::Saddle);
    twin.open_joint(Side::Left, -1.0);
    assert_near(twin.read_gap(Corner::Upper(Side::Left)), 0.0, 1e-9);
}

#[test]
fn starts_fill_their_range_and_repeat_for_the_same_seed() {
    for set_up in BOTH {
        let config = Config::rough(set_up);
        let mut widest = [0.0_f64; 3];
        for seed in 0..200 {
            let (mut twin, mut again) = (Twin::new(config, seed), Twin::new(config, seed));
            let start = [twin.true_pitch_error(), twin.true_twist(), twin.true_offset()];
            for (widest, (value, limit)) in widest.iter_mut().zip(start.into_iter().zip([1.2, 0.5, 1.5])) {
                assert!(value.abs() <= limit + 1e-9);
                *widest = widest.max(value.abs() / limit);
            }
            let pull = twin.read_diagonal(Side::Left);
            assert_eq!(pull.to_bits(), again.read_diagonal(Side::Left).to_bits());
            assert_eq!(pull * 32.0, (pull * 32.0).round(), "on the tape's marks");
            let shown = twin.read_pitch(Side::Left, false);
            assert_near(shown * 10.0, (shown * 10.0).round(), 1e-9);
        }
        assert!(widest.iter().all(|w| *w > 0.95), "{widest:?}");
    }
}

/// In relative mode the zero error cancels; what the mounting adds turns its sign with the instrument.
#[test]
fn reversing_the_protractor_cancels_its_mounting() {
    let config = Config {
        protractor_step: 0.001,
        protractor_seat: 0.0,
        protractor_mounting: 0.2,
        ..Config::perfect(SetUp::Saddle)
    };
    let mut seen = 0.0_f64;
    for seed in 0..20 {
        let mut twin = Twin::new(config, seed);
        let [direct, reversed] = [false, true].map(|r| twin.read_pitch(Side::Left, r));
        seen = seen.max((direct - reversed).abs());
        // The longeron runs inboard by 11.25 in over 126: laid along it, a level sees 2.590° of the side view's 2.6°.
        assert_near((direct + reversed) / 2.0, -2.59, 0.002);
    }
    assert!(seen > 0.1, "a mounting error shows between the two: {seen}");
}

/// The builder without the app gets there too, slowly: the loop and the count work without any app code.
#[test]
fn trial_and_error_arrives() {
    for set_up in BOTH {
        let tally = Tally::of(Config::rough(set_up), &PASS, 0..100, |_| TrialAndError::new());
        assert_near(tally.share(Row::finished), 1.0, 0.0);
        assert!(tally.percentile(95.0, Row::moves) > 4, "{}", tally.line("trial"));
    }
}

/// Both set-ups at once, half of the starts each; seeds count on from `first`.
fn campaign_of<A: Advisor>(
    rough: impl Fn(SetUp) -> Config + Sync,
    checks: &[Check],
    first: u64,
    starts: u64,
    advisor: impl Fn(&mut Twin) -> A + Sync,
) -> [Tally; 2] {
    let (rough, advisor) = (&rough, &advisor);
    std::thread::scope(|scope| {
        let half = |set_up| scope.spawn(move || Tally::of(rough(set_up), checks, first..first + starts / 2, advisor));
        BOTH.map(half).map(|worker| worker.join().expect("worked to the end"))
    })
}

fn with_the_app(habit: Habit) -> impl Fn(&mut Twin) -> WithTheApp {
    move |twin| WithTheApp::new(habit, twin)
}

#[test]
fn the_app_brings_both_in_within_two_moves_per_adjuster() {
    let [saddle, block] = campaign_of(Config::rough, &PASS, 0, 300, with_the_app(Habit::MeasureAgain));
    let both = saddle.and(&block);
    assert!(both.percentile(95.0, Row::moves) <= 2, "{}", both.line("app"));
    assert!(both.share(Row::agrees) >= 0.99, "{}\n{:?}", both.line("app"), both.stops());
}

/// The figures: `cargo test --test mating_twin -- --ignored --nocapture campaign`.
#[test]
#[ignore = "10,000 starts take a minute or two"]
fn campaign() {
    const STARTS: u64 = 10_000;
    let print = |name: &str, [saddle, block]: &[Tally; 2]| {
        let both = saddle.and(block);
        for (which, tally) in [("both", &both), ("saddle", saddle), ("block", block)] {
            println!("{}", tally.line(&format!("{name}, {which}")));
        }
        for (why, often) in both.stops() {
            println!("    stopped {often} times: {why}");
        }
        both
    };
    println!("{}", Tally::heading());
    let app = campaign_of(Config::rough, &PASS, 0, STARTS, with_the_app(Habit::MeasureAgain));
    let app = print("app", &app);
    let trial = campaign_of(Config::rough, &PASS, 0, STARTS, |_| TrialAndError::new());
    let trial = print("trial", &trial);
    // The same with one thing changed, on fewer starts.
    let fewer = |name: &str, habit, checks: &[Check], change: &(dyn Fn(&mut Config) + Sync)| {
        let rough = |set_up| {
            let mut config = Config::rough(set_up);
            change(&mut config);
            config
        };
        print(name, &campaign_of(rough, checks, STARTS, STARTS / 10, with_the_app(habit)));
    };
    fewer("app, moves at once", Habit::MoveAtOnce, &PASS, &|_| {});
    fewer("app, string too", Habit::MeasureAgain, &PASS_WITH_STRING, &|_| {});
    fewer("app, 0.05° protractor", Habit::MeasureAgain, &PASS, &|config| config.protractor_step = 0.05);
    fewer("app, gains ±10 %", Habit::MeasureAgain, &PASS, &|config| config.gain = 0.1);
    fewer("app, gains ±30 %", Habit::MeasureAgain, &PASS, &|config| config.gain = 0.3);
    for (advisor, tally) in [("twin", &app), ("trial", &trial)] {
        for percent in [50, 95] {
            println!("figure: {advisor}_moves_p{percent} = {}", tally.percentile(f64::from(percent), Row::moves));
        }
    }
    assert!(app.percentile(95.0, Row::moves) <= 2 && app.share(Row::agrees) >= 0.99);
}
