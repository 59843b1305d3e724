//! A digital twin of mating an aft fuselage cone to a forward frame: two rigid bodies in exact three-dimensional
//! kinematics, hidden effects, and instruments that give what a person would type. It shares no formula with the app.
//!
//! Frames: fuselage station aft +, buttock line to the pilot's right +, waterline up +; inches and degrees.
//! Signs: pitch tail high +, roll right side low +, twist tail right-low +, offset tail to the right +.

#![allow(dead_code, reason = "each test that includes the twin uses its own part of it")]

pub(crate) mod body;
pub(crate) mod config;
pub(crate) mod contact;
pub(crate) mod instruments;
pub(crate) mod mating;
pub(crate) mod space;
pub(crate) mod tally;
pub(crate) mod trial;
pub(crate) mod world;
