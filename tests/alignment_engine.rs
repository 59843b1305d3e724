//! The engine from outside: what it says is free, how far off it may start, how sure it is, what it wants next, what it
//! says of wrong readings. Each against something that is not the engine's own claim: readings left out, the same
//! readings from the truth, many sets, the adjustment with the reading added, slips put in.

mod mating_network;

use fastrand::Rng;
use trammel::alignment::{
    AdjustError, Adjusted, Candidate, Displacement, Gravity, Levels, Line, Network, Observation, Observed, Placement,
    Pose, Slip, Taken, Unknown, adjust, snoop,
};
use trammel::quantity::Unit;

use self::mating_network::{Case, case, normal};

fn full(seed: u64) -> Case {
    case(&mut Rng::with_seed(seed), 24)
}

/// The network with only the readings that are wanted.
fn only(network: &Network, wanted: impl Fn(&Observed) -> bool) -> Network {
    let left = network.observations().iter().filter(|reading| wanted(&reading.what)).cloned().collect();
    Network::new(network.scene().clone(), left, Gravity::Unknown).expect("some are left")
}

fn free(network: &Network, start: &Placement) -> Vec<(Unknown, String)> {
    match adjust(network, start) {
        Err(AdjustError::Free(motions)) => motions.into_iter().map(|motion| (motion.what, motion.words)).collect(),
        other => panic!("{:?}", other.map(|adjusted| adjusted.cost())),
    }
}

#[test]
fn what_nothing_fixes_is_named() {
    // The first nine readings fix everything.
    let Case { network, start, .. } = case(&mut Rng::with_seed(1), 9);
    assert!(adjust(&network, &start).is_ok());
    let side = "Nothing you measured fixes how far to the side the tail cone sits: measure the offset of a point from a string, or \
                distances from a left and a right point of the frame.";
    let level = "Nothing you measured fixes the slope of the frame to level: measure the slope of the frame.";
    let roll = "Nothing you measured fixes the roll of the tail cone to the frame: measure the roll across the one and across the other.";
    let without = |dropped: fn(&Observed) -> bool| free(&only(&network, |what| !dropped(what)), &start);
    let distances = without(|what| matches!(what, Observed::Distance { .. }));
    assert_eq!(distances, [(Unknown::Shift(1, 1), side.to_owned())]);
    let slopes = without(|what| matches!(what, Observed::Slope(_)));
    assert_eq!(slopes, [(Unknown::LevelSlope, level.to_owned())]);
    let rolls = without(|what| matches!(what, Observed::Roll { .. }));
    assert_eq!(rolls, [(Unknown::Turn(1, 0), roll.to_owned())]);
}

/// From full sets without noise, readings are taken away at random until something is free. Measuring what is then
/// asked for has to fix it.
#[test]
fn measuring_what_is_asked_for_fixes_it() {
    let mut rng = Rng::with_seed(4);
    for _ in 0..200 {
        let Case { network, truth, start } = case(&mut rng, 24);
        let read = |what: Observed| {
            let value = what.value(network.scene(), &truth);
            Observation { what, value, sigma: 0.0005 }
        };
        let adjusted = |left: &[Observation]| {
            let fewer = Network::new(network.scene().clone(), left.to_vec(), Gravity::Unknown).expect("some are left");
            adjust(&fewer, &start).map(|adjusted| adjusted.cost())
        };
        let mut left: Vec<_> = network.observations().iter().map(|reading| read(reading.what.clone())).collect();
        while adjusted(&left).is_ok() {
            left.swap_remove(rng.usize(0..left.len()));
        }
        // The first reading to level brings the level itself in, which is then asked for.
        let mut asked = Vec::new();
        while let Err(error) = adjusted(&left) {
            let AdjustError::Free(motions) = error else { panic!("{error:?}") };
            for motion in motions {
                assert!(!asked.contains(&motion.what), "asked twice: {}", motion.words);
                asked.push(motion.what);
                left.extend(answer(&network, motion.what).into_iter().map(read));
            }
        }
        assert!(asked.len() <= 5, "{asked:?}");
    }
}

/// What somebody would measure who reads the words.
fn answer(network: &Network, free: Unknown) -> Vec<Observed> {
    let find = |assembly: &str, point: &str| network.scene().find(assembly, point).expect("a point");
    let line = |assembly, from, to| Line { from: find(assembly, from), to: find(assembly, to) };
    let roll = |assembly, left, right| Observed::Roll { left: find(assembly, left), right: find(assembly, right) };
    let slope_of_frame = Observed::Slope(line("frame", "lower firewall left", "rear lower left"));
    let roll_of_frame = roll("frame", "rear lower left", "rear lower right");
    let joint = (find("frame", "upper joint left"), find("cone", "upper socket left"));
    let string = line("frame", "centre forward", "centre aft");
    match free {
        Unknown::Turn(_, 0) => vec![roll_of_frame, roll("cone", "upper socket left", "upper socket right")],
        Unknown::Turn(_, 1) => {
            vec![slope_of_frame, Observed::Slope(line("cone", "upper socket left", "longeron aft left"))]
        }
        Unknown::Turn(..) => {
            [joint.1, find("cone", "tail post")].map(|point| Observed::StringOffset { point, string }).to_vec()
        }
        Unknown::Shift(_, 0) => vec![Observed::Gap { from: joint.0, to: joint.1, along: Displacement::x() }],
        Unknown::Shift(_, 1) => vec![Observed::StringOffset { point: joint.1, string }],
        Unknown::Shift(..) => vec![Observed::HeightDifference { from: joint.0, to: joint.1 }],
        Unknown::LevelSlope => vec![slope_of_frame],
        Unknown::LevelRoll => vec![roll_of_frame],
        Unknown::Plane(plane) => vec![Observed::Height { point: find("frame", "centre aft"), plane }],
    }
}

#[test]
fn a_plane_that_was_read_at_the_cone_alone_says_nothing() {
    let Case { network, start, .. } = case(&mut Rng::with_seed(2), 9);
    let mut observations = network.observations().to_vec();
    let point = network.scene().find("cone", "tail post").expect("a point");
    observations.push(Observation { what: Observed::Height { point, plane: 0 }, value: 0.2, sigma: 0.0005 });
    let one = Network::new(network.scene().clone(), observations.clone(), Gravity::Unknown).expect("a network");
    let alone = adjust(&one, &start).expect("the plane's height follows from the cone");
    assert!(alone.checked(9, Levels::USUAL).w.is_none(), "nothing checks it");
    observations.push(Observation { what: Observed::Height { point, plane: 2 }, value: 0.2, sigma: 0.0005 });
    let skipped = Network::new(network.scene().clone(), observations, Gravity::Unknown).expect("a network");
    assert_eq!(free(&skipped, &start)[0].0, Unknown::Plane(1), "no reading names the plane between");
}

/// Starts as far off as a third of a radian about each axis and half a metre along each: the same answer as from the
/// truth, or none.
#[test]
fn a_poor_start_gives_the_same_answer() {
    let mut rng = Rng::with_seed(3);
    let (mut same, mut refused, mut wrong) = (0, 0, 0);
    for place in 0..400 {
        let Case { network, truth, start } = case(&mut rng, 10 + place % 15);
        let best = adjust(&network, &truth).expect("solved").cost();
        let mut three = |most: f64| Displacement::from([0; 3].map(|_| (2.0 * rng.f64() - 1.0) * most));
        let (turn, shift) = (three(1.0 / 3.0), three(0.5));
        let centre = network.scene().centre(1);
        let mut off = start.clone();
        off.poses[1] = Pose::identity().turned_about(&centre, &turn);
        off.poses[1] = off.poses[1].perturbed(&trammel::alignment::SmallMotion { turn: Displacement::zeros(), shift });
        match adjust(&network, &off) {
            Ok(found) if (found.cost() - best).abs() < 1e-6 * (1.0 + best) => same += 1,
            Ok(_) => wrong += 1,
            Err(_) => refused += 1,
        }
    }
    assert_eq!((same, refused, wrong), (400, 0, 0));
}

#[test]
fn the_next_measurement_brings_what_it_promises() {
    for seed in 0..20 {
        let Case { network, truth, start } = case(&mut Rng::with_seed(seed), 10);
        let scene = network.scene();
        let find = |assembly: &str, point: &str| scene.find(assembly, point).expect("a point");
        let tail = find("cone", "tail post");
        let undecided =
            Observed::PlumbOffset { line: find("frame", "centre aft"), point: tail, along: Displacement::y() };
        let string = Line { from: find("frame", "centre forward"), to: find("frame", "centre aft") };
        let tape = |from| Candidate { what: Observed::Distance { from: find("frame", from), to: tail }, sigma: 0.0005 };
        let candidates = [
            tape("wing pin left"),
            tape("lower firewall left"),
            Candidate { what: Observed::StringOffset { point: tail, string }, sigma: 0.0004 },
        ];
        let adjusted = adjust(&network, &start).expect("solved");
        let next = adjusted.next(&undecided, &candidates).expect("one helps");
        let with = |candidate: &Candidate| {
            let mut observations = network.observations().to_vec();
            // It reads what is expected: nothing moves, only the uncertainty does.
            let value = adjusted.predict(&candidate.what).expect("read").0;
            observations.push(Observation { what: candidate.what.clone(), value, sigma: candidate.sigma });
            let more = Network::new(scene.clone(), observations, Gravity::Unknown).expect("a network");
            adjust(&more, &truth).expect("solved").predict(&undecided).expect("computed").1
        };
        let really: Vec<f64> = candidates.iter().map(with).collect();
        assert!((next.after - really[next.candidate]).abs() < 1e-9 * next.before, "{next:?} {really:?}");
        assert!(really.iter().all(|after| next.after <= after + 1e-12), "{next:?} {really:?}");
        assert!((next.before - adjusted.predict(&undecided).expect("computed").1).abs() < 1e-15);
        let words = next.words(&adjusted, &undecided, &candidates, Unit::Inch);
        assert!(words.starts_with("Measure the ") && words.contains(" in instead of ±"), "{words}");
    }
}

/// The stated uncertainties are the scatter over many sets of readings of the same thing.
#[test]
fn uncertainties_are_the_scatter_over_many_sets() {
    const SETS: usize = 2000;
    let mut rng = Rng::with_seed(8);
    let Case { network, truth, start } = case(&mut rng, 18);
    let find = |assembly: &str, point: &str| network.scene().find(assembly, point).expect("a point");
    let offset = Observed::PlumbOffset {
        line: find("frame", "centre aft"),
        point: find("cone", "tail post"),
        along: Displacement::y(),
    };
    let stated = |adjusted: &Adjusted| {
        let tail = adjusted.estimate(&offset, Unit::Millimetre).expect("a length");
        let joint = adjusted.motion_uncertainty(1);
        let pose = adjusted.placement().poses[1];
        // The pose is near the one drawn, where yaw is the turn about up.
        [(tail.value, tail.u), (pose.yaw().radians(), joint.turn.z), (pose.origin().y, joint.shift.y)]
    };
    let wanted = stated(&adjust(&network, &truth).expect("solved")).map(|(_, u)| u);
    let mut squares = [0.0; 3];
    let exact = {
        let values = |reading: &Observation| Observation {
            value: reading.what.value(network.scene(), &truth),
            ..reading.clone()
        };
        network.observations().iter().map(values).collect::<Vec<_>>()
    };
    let again =
        |observations| Network::new(network.scene().clone(), observations, Gravity::Unknown).expect("a network");
    let middle = stated(&adjust(&again(exact.clone()), &start).expect("solved")).map(|(value, _)| value);
    for _ in 0..SETS {
        let mut observations = exact.clone();
        for reading in &mut observations {
            reading.value += reading.sigma * normal(&mut rng);
        }
        let found = stated(&adjust(&again(observations), &start).expect("solved"));
        for ((square, (value, _)), middle) in squares.iter_mut().zip(found).zip(middle) {
            *square += (value - middle) * (value - middle) / SETS as f64;
        }
    }
    for (square, u) in squares.into_iter().zip(wanted) {
        // A scatter from 2,000 sets is good to 1.6 %; four times that.
        assert!((square.sqrt() / u - 1.0).abs() < 0.064, "{} against {u}", square.sqrt());
    }
}

fn taken(network: &Network) -> Vec<Taken> {
    let describe = |reading: &Observation| {
        let angle = reading.what.is_angle();
        let tape = matches!(reading.what, Observed::Distance { .. });
        let (unit, step) = if angle { (Unit::Degree, 0.1) } else { (Unit::Inch, 1.0 / 32.0) };
        Taken { unit, step, tape, twin: None, surfaces: vec![] }
    };
    network.observations().iter().map(describe).collect()
}

/// Two slips at once are named one after the other, and what is left is where everything sits.
#[test]
fn two_slips_are_named_one_at_a_time() {
    let Case { network, truth, start } = full(5);
    let place = |words: &str| {
        let named = |reading: &Observation| reading.what.words(network.scene()) == words;
        network.observations().iter().position(named).unwrap_or_else(|| panic!("no {words}"))
    };
    let tape = place("the distance from lower firewall left to tail post");
    let other = place("the distance from wing pin right to tail top");
    let mut observations = network.observations().to_vec();
    observations[tape].value += 0.0254;
    observations[other].value -= 0.5 * 0.0254;
    let spoiled = Network::new(network.scene().clone(), observations, Gravity::Unknown).expect("a network");
    let taken = taken(&spoiled);
    let snooped = snoop(&spoiled, &start, &taken, Levels::USUAL).expect("solved");
    let named: Vec<_> = snooped.suspects.iter().map(|suspect| (suspect.reading, suspect.slip.clone())).collect();
    assert_eq!(named, [(tape, Some(Slip::TapeStart(1.0))), (other, Some(Slip::Fraction(-0.5)))]);
    assert_eq!(
        snooped.suspects[0].words(&spoiled, &taken),
        "The others do not agree with the distance from lower firewall left to tail post: it reads about 31/32 in more than they say. \
         Did the tape start at 1 in? Read it again."
    );
    assert_eq!(snooped.kept.len(), 22);
    let pitch = |at: &Placement| at.poses[1].pitch().degrees();
    assert!((pitch(&snooped.placement) - pitch(&truth)).abs() < 0.1);
    let good = snoop(&network, &start, &taken, Levels::USUAL).expect("solved");
    assert_eq!(good.suspects, [], "nothing is said of the good ones");
}

/// An error that is no ordinary slip, 23.7 mm, is still named, with nothing asked about it.
#[test]
fn an_error_of_any_size_is_named() {
    let Case { network, start, .. } = full(5);
    let place = network.observations().iter().position(|it| matches!(it.what, Observed::Distance { .. })).expect("one");
    let mut observations = network.observations().to_vec();
    observations[place].value += 0.0237;
    let spoiled = Network::new(network.scene().clone(), observations, Gravity::Unknown).expect("a network");
    let suspect =
        adjust(&spoiled, &start).expect("solved").suspect(&taken(&spoiled), Levels::USUAL).expect("a suspect");
    assert_eq!((suspect.reading, suspect.slip), (place, None));
    assert!((suspect.error.0 - 0.0237).abs() < 2.0 * suspect.error.1, "{:?}", suspect.error);
}

/// Two readings that are off by as much, the one up and the other down, as two that were written into each other's place: the test of the pair sees
/// it sooner than the test of each, by up to √2 (Baarda's test of one and of two).
#[test]
fn a_pair_is_suspected_sooner_than_each_alone() {
    let Case { network, start, .. } = full(5);
    let distances = |it: &&(usize, &Observation)| matches!(it.1.what, Observed::Distance { .. });
    let places: Vec<usize> =
        network.observations().iter().enumerate().filter(|it| distances(&it)).map(|(at, _)| at).collect();
    let (one, other) = (places[0], places[1]);
    let first = |twins: bool| {
        let mut taken = taken(&network);
        if twins {
            (taken[one].twin, taken[other].twin) = (Some(other), Some(one));
        }
        (1..600).map(f64::from).find(|tenths| {
            let mut observations = network.observations().to_vec();
            observations[one].value += tenths * 1e-4;
            observations[other].value -= tenths * 1e-4;
            let spoiled = Network::new(network.scene().clone(), observations, Gravity::Unknown).expect("a network");
            adjust(&spoiled, &start).expect("solved").suspect(&taken, Levels::USUAL).is_some()
        })
    };
    let (pair, alone) = (first(true).expect("found"), first(false).expect("found"));
    assert!(pair < 0.95 * alone && pair > 0.65 * alone, "the pair from {pair} tenths, each alone from {alone}");
}

#[test]
fn nonsense_is_refused() {
    use trammel::alignment::NetworkError::{NoReadings, NoSuchPoint, NotANumber};
    let Case { network, start, .. } = case(&mut Rng::with_seed(6), 9);
    let new =
        |observations: Vec<Observation>| Network::new(network.scene().clone(), observations, Gravity::Unknown).err();
    assert_eq!(new(vec![]), Some(NoReadings));
    let changed = |change: &dyn Fn(&mut Observation)| {
        let mut observations = network.observations().to_vec();
        change(&mut observations[3]);
        new(observations)
    };
    assert_eq!(changed(&|reading| reading.sigma = 0.0), Some(NotANumber(3)));
    assert_eq!(changed(&|reading| reading.value = f64::NAN), Some(NotANumber(3)));
    let nowhere = trammel::alignment::PointRef { assembly: 7, point: 0 };
    assert_eq!(changed(&|reading| reading.what = Observed::Height { point: nowhere, plane: 0 }), Some(NoSuchPoint(3)));
    let short = Placement { poses: vec![], ..start };
    assert_eq!(adjust(&network, &short).err(), Some(AdjustError::BadStart));
}
