//! A procedure as a builder will see it, for whoever writes it.

use uuid::Uuid;

use crate::procedure::{InstrumentDraft, Procedure, Run, State, describe, presets};
use crate::record::{Airframe, EntryId, RunId};

/// The airframe with an ordinary instrument in every part that has none yet, so that every pad comes up.
#[must_use]
pub fn equipped(airframe: &Airframe, procedure: &Procedure) -> Airframe {
    let mut equipped = airframe.clone();
    for role in &procedure.roles {
        let preset = presets(role.kind, airframe.details.units).first().copied();
        let instrument = preset.and_then(|preset| describe(&InstrumentDraft::default(), role.kind, preset).ok());
        if let (None, Some(instrument)) = (airframe.instruments.get(&role.role), instrument) {
            equipped.instruments.accept(&role.role, instrument, EntryId(Uuid::nil()));
        }
    }
    equipped
}

/// A run in which nothing was done yet, except that nothing is blocked.
#[must_use]
pub fn shown_run(procedure: &Procedure, airframe: &Airframe) -> Run {
    let mut run = Run::fold(procedure, airframe, RunId(Uuid::nil()), &[]);
    run.steps.iter_mut().for_each(|step| step.state = State::Open);
    run
}
