//! What nothing measured fixes, in the words of the trade.

use nalgebra::DVector;

use super::{Displacement, Network, Placement, Unknown};
use crate::language::tr;

/// A motion that no reading sees.
#[derive(Clone, Debug, PartialEq)]
pub struct FreeMotion {
    /// Which unknown it is, or mostly is.
    pub what: Unknown,
    /// Said, with what would fix it.
    pub words: String,
}

/// A pose that is free by at least this share of the largest part is named before the level and the planes: it is what
/// the work is about, and its pitch is free together with the level when the fixed assembly's own slope was not read.
const SHARE_OF_A_POSE: f64 = 0.5;
/// Least distance of an assembly's points from their centre that a turn is weighed by, metres.
const LEAST_REACH: f64 = 0.1;

/// How much more a turn counts than a shift of the centre: a turn about the joint or about the tail shifts the centre
/// as well.
const TURN_COUNTS: f64 = 2.0;

/// Names as many motions as there are directions. Each direction is written as turns about the assembly's centre (times
/// the reach of its points, so that they count in metres) and shifts of that centre; the largest part is named and
/// taken out of the other directions.
pub(super) fn free_motions(network: &Network, at: &Placement, directions: &[DVector<f64>]) -> Vec<FreeMotion> {
    let unknowns = unknowns(network);
    let mut left: Vec<Vec<f64>> = directions
        .iter()
        .map(|direction| unknowns.iter().map(|unknown| extent(network, at, direction, *unknown)).collect())
        .collect();
    let mut named = Vec::new();
    while let Some((row, column)) = largest(&left, &unknowns) {
        let pivot = left.swap_remove(row);
        for other in &mut left {
            let factor = other[column] / pivot[column];
            for (cell, part) in other.iter_mut().zip(&pivot) {
                *cell -= factor * part;
            }
        }
        named.push(FreeMotion { what: unknowns[column], words: words(network, unknowns[column], false) });
    }
    named
}

/// A turn that the readings fix so badly that they come to nothing.
pub(super) fn hardly_fixed(network: &Network, what: Unknown) -> FreeMotion {
    FreeMotion { what, words: words(network, what, true) }
}

fn unknowns(network: &Network) -> Vec<Unknown> {
    let assemblies = 0..network.scene().assemblies().len();
    let pose = |assembly| (0..3).flat_map(move |axis| [Unknown::Turn(assembly, axis), Unknown::Shift(assembly, axis)]);
    let planes = 0..network.layout().len() - network.layout().planes;
    let rest = [Unknown::LevelSlope, Unknown::LevelRoll].into_iter().chain(planes.map(Unknown::Plane));
    assemblies.flat_map(pose).chain(rest).filter(|unknown| network.layout().place(*unknown).is_some()).collect()
}

/// How far a direction moves something along an unknown, in metres.
fn extent(network: &Network, at: &Placement, direction: &DVector<f64>, unknown: Unknown) -> f64 {
    let three = |first: Unknown| {
        network.layout().place(first).map_or_else(Displacement::zeros, |at| {
            Displacement::new(direction[at], direction[at + 1], direction[at + 2])
        })
    };
    let part = network.layout().place(unknown).map_or(0.0, |place| direction[place]);
    match unknown {
        Unknown::Turn(assembly, _) => part * reach(network, assembly),
        Unknown::Shift(assembly, axis) => {
            let pose = &at.poses[assembly];
            let arm = pose.place(&network.scene().centre(assembly)) - pose.origin();
            (three(Unknown::Shift(assembly, 0)) + three(Unknown::Turn(assembly, 0)).cross(&arm))[axis]
        }
        Unknown::LevelSlope | Unknown::LevelRoll => part * reach(network, network.scene().fixed()),
        Unknown::Plane(_) => part,
    }
}

/// Root mean square distance of an assembly's points from their centre, metres.
fn reach(network: &Network, assembly: usize) -> f64 {
    let centre = network.scene().centre(assembly);
    let points = &network.scene().assemblies()[assembly].points;
    let sum: f64 = points.iter().map(|point| (point.at - centre).norm_squared()).sum();
    (sum / points.len().max(1) as f64).sqrt().max(LEAST_REACH)
}

/// Where the largest part stands; that of a pose where it is a fair share of all.
fn largest(directions: &[Vec<f64>], unknowns: &[Unknown]) -> Option<(usize, usize)> {
    let cells =
        || directions.iter().enumerate().flat_map(|(row, parts)| (0..parts.len()).map(move |column| (row, column)));
    let counts = |unknown: &Unknown| if matches!(unknown, Unknown::Turn(..)) { TURN_COUNTS } else { 1.0 };
    let size = |&(row, column): &(usize, usize)| directions[row][column].abs() * counts(&unknowns[column]);
    let pick = |wanted: &dyn Fn(&Unknown) -> bool| {
        cells().filter(|cell| wanted(&unknowns[cell.1])).max_by(|a, b| size(a).total_cmp(&size(b)))
    };
    let all = pick(&|_| true)?;
    let pose = pick(&|unknown| matches!(unknown, Unknown::Turn(..) | Unknown::Shift(..)));
    Some(pose.filter(|cell| size(cell) >= SHARE_OF_A_POSE * size(&all)).unwrap_or(all))
}

/// What is not fixed, or hardly, and what to measure.
fn words(network: &Network, unknown: Unknown, hardly: bool) -> String {
    let name = |assembly: usize| network.scene().assemblies()[assembly].name.as_str();
    let fixed = name(network.scene().fixed());
    let (what, measure) = match unknown {
        Unknown::Turn(assembly, 0) => (
            tr!("the roll of the {assembly} to the {fixed}", assembly = name(assembly), fixed),
            tr!("the roll across the one and across the other"),
        ),
        Unknown::Turn(assembly, 1) => (
            tr!("the pitch of the {assembly} to the {fixed}", assembly = name(assembly), fixed),
            tr!("the slope of the one and of the other"),
        ),
        Unknown::Turn(assembly, _) => (
            tr!("the yaw of the {assembly}", assembly = name(assembly)),
            tr!("the offset from a string of two of its points, one near the joint and one far aft"),
        ),
        Unknown::Shift(assembly, 0) => (
            tr!("how far aft the {assembly} sits", assembly = name(assembly)),
            tr!("a distance along the fuselage from the {fixed}, or the gap at the joint", fixed),
        ),
        Unknown::Shift(assembly, 1) => (
            tr!("how far to the side the {assembly} sits", assembly = name(assembly)),
            tr!(
                "the offset of a point from a string, or distances from a left and a right point of the {fixed}",
                fixed
            ),
        ),
        Unknown::Shift(assembly, _) => (
            tr!("how high the {assembly} sits", assembly = name(assembly)),
            tr!("the height of one of its points over a point of the {fixed}", fixed),
        ),
        Unknown::LevelSlope => {
            (tr!("the slope of the {fixed} to level", fixed), tr!("the slope of the {fixed}", fixed))
        }
        Unknown::LevelRoll => {
            (tr!("the roll of the {fixed} to level", fixed), tr!("the roll across the {fixed}", fixed))
        }
        Unknown::Plane(plane) => (
            tr!("the height of level plane {number}", number = plane + 1),
            tr!("from it to a point of the {fixed}", fixed),
        ),
    };
    if hardly {
        tr!("What you measured hardly fixes {motion}: measure {measure}.", motion = what, measure)
    } else {
        tr!("Nothing you measured fixes {motion}: measure {measure}.", motion = what, measure)
    }
}
