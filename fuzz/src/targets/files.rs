//! Files that come from others.

use std::sync::LazyLock;

use trammel::procedure::{about_file, examples, faults, procedures, read_procedure, taken_in, write_procedure};
use trammel::record::{Airframe, AirframeId, Body, Entry, EntryId, Ledger};
use trammel::report::{
    bodies, lines, offer, printed, read_record, read_specification, readings_csv, work_log_csv, write_record,
};
use uuid::Uuid;

use super::{Room, Told, text};

/// An invented airframe with its numbers: what files are held against.
static EXAMPLE: LazyLock<Airframe> = LazyLock::new(|| {
    let airframe = AirframeId(Uuid::from_u128(1));
    let example = &examples()[0];
    let made = Body::AirframeMade { details: example.details.clone() };
    let set = example.specification.iter().map(|(key, value)| Body::SpecificationSet {
        key: key.clone(),
        value: value.clone(),
        source: example.source.clone(),
    });
    let mut ledger = Ledger::default();
    ledger.merge(std::iter::once(made).chain(set).zip(2..).map(|(body, id)| Entry {
        id: EntryId(Uuid::from_u128(id)),
        airframe,
        at: chrono::DateTime::UNIX_EPOCH.fixed_offset(),
        by: String::new(),
        device: Uuid::nil(),
        body,
        seal: None,
    }));
    ledger.airframe(airframe).expect("it was just made")
});

/// A record is read whole or refused; what was read is written and read again the same, and every page of it can be made.
pub(super) fn record(bytes: &[u8], room: Room, told: &mut Told) {
    let text = text(bytes);
    let read = room.within(text.len(), || read_record(&text));
    told.put(&read);
    let Ok(file) = read else { return };
    let written = write_record(&file);
    let again = read_record(&written).expect("what we write we read");
    assert_eq!(again, file);
    assert_eq!(write_record(&again), written, "the same bytes");
    let mut ledger = Ledger::default();
    ledger.merge(file.entries.clone());
    let airframes = ledger.airframes();
    ledger.merge(file.entries);
    assert_eq!(ledger.airframes(), airframes, "taking it in twice is taking it in once");
    for airframe in airframes {
        told.put(&lines(&ledger, airframe.id));
        told.put(&printed(&ledger, airframe.id, &Default::default()));
        told.put(&readings_csv(&airframe, &ledger));
        told.put(&work_log_csv(&airframe, &ledger));
    }
}

/// A procedure is read and has no fault, or is refused; what was read is written and read again the same.
pub(super) fn procedure(bytes: &[u8], room: Room, told: &mut Told) {
    let text = text(bytes);
    // Made once, and not by the file.
    procedures().for_each(drop);
    let _ = &*EXAMPLE;
    let read = room.within(text.len(), || read_procedure(&text));
    match read {
        Ok(procedure) => {
            assert!(faults(&procedure).is_empty());
            let written = write_procedure(&procedure);
            assert_eq!(read_procedure(&written).expect("what we write we read"), procedure);
            told.put(&about_file(&EXAMPLE, &procedure));
            told.put(&taken_in(&EXAMPLE, procedure));
        }
        Err(why) => {
            told.put(&why);
            assert!(!why.to_string().is_empty());
        }
    }
}

/// A specification is read or refused; what was read is written and read again the same, and can be offered.
pub(super) fn specification(bytes: &[u8], room: Room, told: &mut Told) {
    let text = text(bytes);
    let _ = &*EXAMPLE;
    let read = room.within(text.len(), || read_specification(&text));
    told.put(&read);
    let Ok(file) = read else { return };
    let written = file.write();
    let again = read_specification(&written).expect("what we write we read");
    assert_eq!(again, file);
    assert_eq!(again.write(), written, "the same bytes");
    let offered = offer(&EXAMPLE, &file);
    told.put(&offered);
    if let Ok(offered) = offered {
        told.put(&offered.left_aside());
        told.put(&bodies(&offered.changes, "C. Mentor"));
    }
}
