//! A logbook for tests: writes entries as the app would, with ids and times that count up, and folds them.

#![allow(dead_code, unused_imports, reason = "each test crate uses its own part")]

mod every_kind;
pub(crate) mod history;

pub(crate) use every_kind::every_kind;

use chrono::{DateTime, FixedOffset};
use ed25519_dalek::{Signer, SigningKey};
use trammel::procedure::{MATE_AFT_FUSELAGE, Procedure, Run, StepKind, examples, procedure};
use trammel::quantity::{Quantity, Unit};
use trammel::record::{
    Airframe, AirframeId, Body, Entry, EntryId, HoleMark, Instrument, InstrumentKind, Key, LaidOutHoles, Ledger,
    MarkedHole, MovedAdjuster, Reading, RunId, SpecValue,
};
use uuid::Uuid;

/// Writes entries and folds them.
#[derive(Clone)]
pub(crate) struct Logbook {
    pub(crate) ledger: Ledger,
    pub(crate) works_on: &'static str,
    pub(crate) airframe: AirframeId,
    pub(crate) run: RunId,
    pub(crate) by: String,
    pub(crate) device: Uuid,
    /// What each device signs with: its own, where it has one.
    pub(crate) signers: Vec<(Uuid, SigningKey)>,
    count: u64,
}

impl Logbook {
    /// An example airframe with its instruments accepted and its mating begun.
    pub(crate) fn example(which: usize) -> Self {
        let mut book = Self::example_without_run(which);
        book.begin(MATE_AFT_FUSELAGE, 0xB);
        book
    }

    /// Begins a run of a procedure; what is read from here on belongs to it.
    pub(crate) fn begin(&mut self, procedure: &'static str, number: u128) {
        (self.works_on, self.run) = (procedure, RunId(Uuid::from_u128(number)));
        let (run, version) = (self.run, self.procedure().version);
        self.put(Body::RunStarted { run, procedure: procedure.to_owned(), version, file: None });
    }

    /// An example airframe as it is made, before anything is done.
    pub(crate) fn sheet_only(which: usize) -> Self {
        let mut book = Self::empty();
        book.make(which);
        book
    }

    /// An example airframe with its instruments accepted.
    pub(crate) fn example_without_run(which: usize) -> Self {
        let mut book = Self::sheet_only(which);
        book.equip();
        book
    }

    /// Makes an example airframe under the id that the book is at.
    pub(crate) fn make(&mut self, which: usize) {
        let example = &examples()[which];
        self.put(Body::AirframeMade { details: example.details.clone() });
        for (key, value) in &example.specification {
            self.specify(key, value.clone(), &example.source);
        }
    }

    /// Accepts instruments for it.
    pub(crate) fn equip(&mut self) {
        let inches = self.airframe().details.units.length() == Unit::Inch;
        self.accept("protractor", instrument(InstrumentKind::Protractor, Unit::Degree, 0.1, 0.1));
        if inches {
            self.accept("tape", instrument(InstrumentKind::Tape, Unit::Inch, 1.0 / 32.0, 1.0 / 16.0));
            self.accept("rule", instrument(InstrumentKind::Rule, Unit::Inch, 1.0 / 64.0, 1.0 / 128.0));
        } else {
            self.accept("tape", instrument(InstrumentKind::Tape, Unit::Millimetre, 1.0, 1.3));
            self.accept("rule", instrument(InstrumentKind::Rule, Unit::Millimetre, 0.5, 0.2));
        }
    }

    /// Nothing yet.
    pub(crate) fn empty() -> Self {
        Self {
            ledger: Ledger::default(),
            works_on: MATE_AFT_FUSELAGE,
            airframe: AirframeId(Uuid::from_u128(0xA)),
            run: RunId(Uuid::from_u128(0xB)),
            by: "A. Builder".to_owned(),
            device: Uuid::from_u128(0xD),
            signers: Vec::new(),
            count: 0,
        }
    }

    pub(crate) fn procedure(&self) -> &'static Procedure {
        procedure(self.works_on).expect("built in")
    }

    pub(crate) fn put(&mut self, body: Body) -> EntryId {
        self.count += 1;
        let millis = 1_760_000_000_000 + self.count * 1_000;
        // Two devices never make the same id.
        let device = if self.device == Uuid::from_u128(0xD) { 0 } else { self.device.as_bytes()[15] };
        let id = EntryId(uuid::Builder::from_unix_timestamp_millis(millis, &[device; 10]).into_uuid());
        let at: DateTime<FixedOffset> =
            DateTime::from_timestamp_millis(i64::try_from(millis).expect("fits")).expect("in range").fixed_offset();
        let (airframe, device) = (self.airframe, self.device);
        let mut head = self.ledger.head(device, airframe);
        let entry = Entry { id, airframe, at, by: self.by.clone(), device, body, seal: None }.sealed(&mut head);
        let signer = self.signers.iter().rev().find(|(of, _)| *of == device).filter(|_| entry.is_signed());
        self.ledger.merge([match signer {
            Some((_, signer)) => signed(entry, signer),
            None => entry,
        }]);
        id
    }

    /// The device makes a key, announces it, and signs with it from here on.
    pub(crate) fn make_key(&mut self, seed: u8, lost: Option<&str>) -> EntryId {
        let signer = SigningKey::from_bytes(&[seed; 32]);
        let key = Key::new(signer.verifying_key().to_bytes()).text();
        self.signers.push((self.device, signer));
        self.put(Body::KeyMade { key, lost: lost.map(str::to_owned) })
    }

    pub(crate) fn specify(&mut self, key: &str, value: SpecValue, source: &str) -> EntryId {
        self.put(Body::SpecificationSet { key: key.to_owned(), value, source: source.to_owned() })
    }

    pub(crate) fn accept(&mut self, role: &str, instrument: Instrument) -> EntryId {
        self.put(Body::InstrumentAccepted { role: role.to_owned(), instrument })
    }

    pub(crate) fn airframe(&self) -> Airframe {
        self.ledger.airframe(self.airframe).expect("made")
    }

    pub(crate) fn fold(&self) -> Run {
        Run::fold(self.procedure(), &self.airframe(), self.run, &self.ledger.in_force(self.airframe))
    }

    /// The run without a word about what to move.
    pub(crate) fn fold_without_advice(&self) -> Run {
        let entries = self.ledger.in_force(self.airframe);
        Run::without_advice(self.procedure(), &self.airframe(), self.run, &entries)
    }

    /// One reading of a slot, in the unit of the instrument that the slot is read with.
    pub(crate) fn read(&mut self, step: &str, slot: &str, value: f64) -> EntryId {
        let airframe = self.airframe();
        let laid_out = self.procedure().laid_out();
        let (_, _, found) = laid_out.iter().find(|(path, _, _)| path == step).expect("a step");
        let StepKind::Measure { slots, .. } = &found.kind else { panic!("{step} is not measured") };
        let role = &slots.iter().find(|candidate| candidate.id == slot).expect("a slot").role;
        let instrument = airframe.instruments.get(role).expect("an accepted instrument").0.clone();
        let value = Quantity::new(value, instrument.unit, instrument.step);
        let reading =
            Reading { run: self.run, step: step.to_owned(), slot: slot.to_owned(), value, instrument, asked: None };
        self.put(Body::ReadingTaken(reading))
    }

    pub(crate) fn confirm(&mut self, step: &str) -> EntryId {
        self.put(Body::StepConfirmed { run: self.run, step: step.to_owned() })
    }

    pub(crate) fn count(&mut self, step: &str, good: u32, bad: u32) -> EntryId {
        self.put(Body::Counted { run: self.run, step: step.to_owned(), good, bad })
    }

    /// Lays out a map of holes.
    pub(crate) fn lay_out(&mut self, step: &str, rows: &[u32]) -> EntryId {
        self.put(Body::HolesLaidOut(LaidOutHoles { run: self.run, step: step.to_owned(), rows: rows.to_vec() }))
    }

    /// Marks one hole of a map.
    pub(crate) fn mark(&mut self, step: &str, (row, hole): (u32, u32), mark: HoleMark, note: &str) -> EntryId {
        let (step, note) = (step.to_owned(), note.to_owned());
        self.put(Body::HoleMarked(MarkedHole { run: self.run, step, row, hole, mark, note }))
    }

    pub(crate) fn sign(&mut self, step: &str, name: &str) -> EntryId {
        self.put(Body::HoldSigned { run: self.run, step: step.to_owned(), name: name.to_owned(), drawn: None })
    }

    /// Moves an adjuster, in the airframe's unit.
    pub(crate) fn moved(&mut self, step: &str, adjuster: &str, amount: f64) -> EntryId {
        let unit = self.airframe().details.units.length();
        let amount = Quantity::new(amount, unit, 1.0 / 64.0);
        let moved = MovedAdjuster { run: self.run, step: step.to_owned(), adjuster: adjuster.to_owned(), amount };
        self.put(Body::AdjusterMoved(moved))
    }
}

/// An entry with the signature of a key: RFC 8032 as a general-purpose library has it.
pub(crate) fn signed(entry: Entry, signer: &SigningKey) -> Entry {
    let digest = entry.seal.as_ref().expect("sealed").digest.to_string();
    entry.signed(&signer.sign(digest.as_bytes()).to_bytes())
}

pub(crate) fn instrument(kind: InstrumentKind, unit: Unit, step: f64, accuracy: f64) -> Instrument {
    Instrument::new(kind, "bench".to_owned(), unit, step, accuracy)
}
