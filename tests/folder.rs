//! Phones that keep their records in step through a folder of a real WebDAV server, in good weather and in bad.

#![allow(clippy::print_stdout, reason = "figures, and what was left out, are printed")]

#[path = "support/kinds.rs"]
mod kinds;
#[allow(dead_code, reason = "only its python is used")]
#[path = "support/libraries.rs"]
mod libraries;
#[path = "folder/phone.rs"]
mod phone;
#[path = "folder/proxy.rs"]
mod proxy;
#[path = "folder/server.rs"]
mod server;
mod support;
#[path = "folder/weather.rs"]
mod weather;

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::fs;
use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::rc::Rc;

use trammel::folder::{TRIES, Trouble};
use trammel::record::EntryId;

use kinds::photo;
use phone::Phone;
use proxy::Proxy;
use server::Server;

/// A folder of the disk that is served, with the one folder of it that the phones use.
struct Place {
    disk: tempfile::TempDir,
    server: Server,
}

impl Place {
    fn new() -> Self {
        let disk = tempfile::tempdir().expect("a folder");
        let server = Server::of(disk.path(), None);
        Self { disk, server }
    }

    fn phone(&self, number: u8, with_airframe: bool) -> Phone {
        Phone::new(number, with_airframe, self.server.at, "/hangar/")
    }

    fn files(&self) -> Vec<PathBuf> {
        files(&self.disk.path().join("hangar"))
    }
}

/// The record files of a folder, sorted.
fn files(folder: &Path) -> Vec<PathBuf> {
    let all = fs::read_dir(folder).expect("there").map(|entry| entry.expect("readable").path());
    let mut files: Vec<PathBuf> = all.filter(|path| path.extension().is_some_and(|end| end == "json")).collect();
    files.sort();
    files
}

fn union(phones: &[Phone]) -> BTreeSet<EntryId> {
    phones.iter().flat_map(|phone| phone.acknowledged.iter().copied()).collect()
}

/// What was acknowledged and is not on every phone: entries and photos.
fn lost(phones: &[Phone]) -> usize {
    let every = union(phones);
    let photos: BTreeSet<_> =
        phones.iter().flat_map(|phone| phone.jpegs.borrow().keys().copied().collect::<Vec<_>>()).collect();
    let missing = |phone: &Phone| {
        every.difference(&phone.ids()).count()
            + photos.iter().filter(|digest| !phone.jpegs.borrow().contains_key(digest)).count()
    };
    phones.iter().map(missing).sum()
}

#[test]
fn two_phones_that_worked_offline_come_into_step() {
    let place = Place::new();
    let mut phones = [place.phone(1, true), place.phone(2, false)];
    phones[0].note("from the first".to_owned());
    phones[0].photograph(photo(1));
    let went = phones[0].bring_into_step().expect("an empty server takes it");
    assert_eq!(went.words(), ["Sent: 1 record, 1 photo."]);
    let came = phones[1].bring_into_step().expect("reads it");
    assert_eq!((came.entries_in, came.photos_in), (phones[0].ids().len(), 1));
    for round in 0..5 {
        phones[0].note(format!("first, {round}"));
        phones[1].note(format!("second, {round}"));
    }
    phones[1].photograph(photo(2));
    assert_ne!(phones[0].text(), phones[1].text());
    phones[0].bring_into_step().expect("sends");
    phones[1].bring_into_step().expect("takes and sends");
    let back = phones[0].bring_into_step().expect("takes");
    assert_eq!((back.entries_in, back.photos_in), (6, 1));
    assert_eq!(phones[0].text(), phones[1].text());
    assert_eq!(lost(&phones), 0);
    // What is in the folder is a record that anybody can open, one file for each phone.
    let texts: Vec<String> = place.files().iter().map(|file| fs::read_to_string(file).expect("a text")).collect();
    assert_eq!(texts.len(), 2);
    assert!(texts.contains(&phones[1].text()));
}

#[test]
fn what_is_in_step_costs_one_request() {
    let place = Place::new();
    let mut phones = [place.phone(1, true), place.phone(2, false)];
    phones[0].photograph(photo(1));
    for _ in 0..3 {
        for phone in &mut phones {
            phone.bring_into_step().expect("in good weather");
        }
    }
    for phone in &mut phones {
        phone.wire.sent.set(0);
        assert_eq!(phone.bring_into_step().expect("in good weather").words(), ["Nothing was new, here or there."]);
        assert_eq!(phone.wire.sent.get(), 1);
    }
}

#[test]
fn a_wrong_password_and_a_missing_server_are_said_and_nothing_is_tried_for_ever() {
    let place = Place::new();
    let mut phone = place.phone(1, true);
    phone.wire.password = "wrong".to_owned();
    assert_eq!(phone.bring_into_step(), Err(Trouble::NotAllowed));
    assert_eq!(phone.wire.sent.get(), 1, "a wrong password is not tried again");
    phone.wire.password = server::PASSWORD.to_owned();
    phone.wire.folder = "/no/such/parent/".to_owned();
    assert_eq!(phone.bring_into_step(), Err(Trouble::NoFolder));
    phone.wire.folder = "/hangar/".to_owned();
    let at = phone.wire.at;
    drop(place);
    phone.wire.sent.set(0);
    assert_eq!(phone.bring_into_step(), Err(Trouble::NoAnswer));
    assert_eq!(phone.wire.sent.get(), TRIES as usize);
    assert!(phone.wire.paused.get() > 10_000, "it waits longer each time");
    assert_eq!(phone.wire.at, at);
}

#[test]
fn a_damaged_file_is_refused_whole_and_does_not_stop_the_others() {
    let place = Place::new();
    let mut phones = [place.phone(1, true), place.phone(2, false), place.phone(3, false)];
    phones[0].bring_into_step().expect("sends");
    phones[1].bring_into_step().expect("takes and sends");
    phones[1].note("not yet there".to_owned());
    phones[1].bring_into_step().expect("sends");
    let files = place.files();
    let whole = fs::read(&files[1]).expect("there");
    fs::write(&files[1], &whole[..whole.len() / 2]).expect("writes");
    let came = phones[2].bring_into_step().expect("reads the other");
    assert_eq!(phones[2].ids(), phones[0].ids(), "half a file gives nothing");
    assert_eq!(came.refused.len(), 1, "{:?}", came.refused);
    assert!(came.refused[0].contains("ends in the middle"), "{:?}", came.refused);
    // The phone whose file it is writes it again.
    phones[1].bring_into_step().expect("mends it");
    assert_eq!(fs::read(&files[1]).expect("there"), whole);
    assert_eq!(phones[2].bring_into_step().expect("reads").refused, [""; 0]);
    phones[0].bring_into_step().expect("reads");
    assert_eq!(lost(&phones), 0);
}

#[test]
fn files_of_strangers_are_not_taken_in() {
    let place = Place::new();
    let mut phones = [place.phone(1, true), place.phone(2, false)];
    phones[0].bring_into_step().expect("sends");
    let file = place.files().remove(0);
    let text = fs::read_to_string(&file).expect("there");
    let folder = place.disk.path().join("hangar");
    fs::remove_file(file).expect("there");
    let device = "01920000-0000-7000-8000-0000000000ff";
    // Another airframe's name on it; a newer version; names that no phone gives.
    fs::write(folder.join(format!("01920000-0000-7000-8000-00000000000a_{device}.json")), &text).expect("writes");
    let newer = text.replacen("\"version\":", "\"version\":9", 1);
    fs::write(folder.join(format!("00000000-0000-0000-0000-00000000000a_{device}.json")), newer).expect("writes");
    for name in ["shopping.json", "00000000-0000-0000-0000-00000000000A_x.json", "a & b <c>.json", "ü.json"] {
        fs::write(folder.join(name), &text).expect("writes");
    }
    let came = phones[1].bring_into_step().expect("goes on");
    assert_eq!(came.entries_in, 0);
    assert_eq!(came.refused.len(), 2, "{:?}", came.refused);
    assert!(came.refused.iter().any(|words| words.contains("another airframe")), "{:?}", came.refused);
    assert!(came.refused.iter().any(|words| words.contains("newer version")), "{:?}", came.refused);
}

#[test]
fn two_phones_with_one_identity_do_not_overwrite_each_other() {
    let place = Place::new();
    let mut phones = [place.phone(1, true), place.phone(2, true)];
    phones[1].identity = phones[0].identity;
    for round in 0..3 {
        for phone in &mut phones {
            phone.note(format!("round {round}"));
            phone.bring_into_step().expect("in good weather");
        }
    }
    phones[0].bring_into_step().expect("reads what the other put into their file");
    assert_eq!(place.files().len(), 1);
    assert_eq!(phones[0].text(), phones[1].text());
    assert_eq!(lost(&phones), 0);
}

/// The other one writes between the reading and the writing: for the first time, and over a file that is there.
#[test]
fn what_is_written_in_between_is_not_overwritten() {
    let place = Place::new();
    let (mut one, mut other) = (place.phone(1, true), place.phone(2, true));
    other.identity = one.identity;
    let other = Rc::new(RefCell::new(other));
    for round in 0..2 {
        one.note(format!("one, {round}"));
        other.borrow_mut().note(format!("other, {round}"));
        let twin = Rc::clone(&other);
        let written = move || drop(twin.borrow_mut().bring_into_step().expect("in good weather"));
        one.wire.before_put.replace(Some(Box::new(written)));
        one.bring_into_step().expect("reads again, joins, writes");
        assert!(one.wire.before_put.borrow().is_none(), "the other was there first");
        assert!(one.ids().is_superset(&other.borrow().acknowledged));
        assert_eq!(fs::read_to_string(place.files().remove(0)).expect("there"), one.text());
    }
}

#[test]
fn a_full_phone_says_so_and_catches_up() {
    let place = Place::new();
    let mut phones = [place.phone(1, true), place.phone(2, false)];
    phones[0].bring_into_step().expect("sends");
    phones[1].full.set(true);
    let Err(Trouble::Phone(words)) = phones[1].bring_into_step() else { panic!("it is full") };
    assert!(words.contains("full"));
    phones[1].full.set(false);
    phones[1].bring_into_step().expect("takes it now");
    assert_eq!(lost(&phones), 0);
    assert!(!phones[1].ids().is_empty());
}

/// A server need not give entity tags (RFC 9110, section 8.8.3): everything is read each time, and what was written is read back.
#[test]
fn a_server_without_tags_will_do() {
    let place = Place::new();
    let proxy = Proxy::before(place.server.at, 2);
    proxy.hide_tags();
    let mut phones = [Phone::new(1, true, proxy.at, "/hangar/"), Phone::new(2, false, proxy.at, "/hangar/")];
    for round in 0..3 {
        for phone in &mut phones {
            phone.note(format!("round {round}"));
            phone.bring_into_step().expect("in good weather");
        }
    }
    phones[0].bring_into_step().expect("in good weather");
    assert_eq!(phones[0].text(), phones[1].text());
    assert_eq!(lost(&phones), 0);
    for phone in &mut phones {
        phone.wire.sent.set(0);
        phone.bring_into_step().expect("in good weather");
        assert_eq!(phone.wire.sent.get(), 3, "the listing and both files");
    }
}

/// A disk so small that a record does not fit. Only root may mount one.
struct SmallDisk(tempfile::TempDir);

impl SmallDisk {
    fn new() -> Option<Self> {
        let at = tempfile::tempdir().expect("a folder");
        let mut mount = std::process::Command::new("mount");
        mount.args(["-t", "tmpfs", "-o", "size=64k", "tmpfs"]).arg(at.path());
        mount.output().is_ok_and(|output| output.status.success()).then(|| Self(at))
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        let _ = std::process::Command::new("umount").arg(self.0.path()).status();
    }
}

/// Fills a server until it refuses, makes room, and sees that everything arrives.
fn fill(at: SocketAddr, make_room: impl FnOnce()) {
    let mut phones = [Phone::new(1, true, at, "/hangar/"), Phone::new(2, false, at, "/hangar/")];
    phones[0].bring_into_step().expect("it fits");
    phones[1].bring_into_step().expect("it fits");
    for number in 0..120 {
        phones[0].note(format!("{number}: {}", "a long story. ".repeat(60)));
    }
    let refused = phones[0].bring_into_step().expect_err("there is no room");
    assert!(matches!(refused, Trouble::Full | Trouble::Fails(_)), "{refused:?}");
    assert!(refused.to_string().ends_with("Nothing was lost: the record is on this phone."));
    // The other phone goes on; what is half written is not taken in.
    phones[1].note("meanwhile".to_owned());
    let _ = phones[1].bring_into_step();
    assert!(phones[1].ids().len() < phones[0].ids().len());
    make_room();
    for _ in 0..2 {
        for phone in &mut phones {
            phone.bring_into_step().expect("there is room");
        }
    }
    assert_eq!(lost(&phones), 0);
    assert_eq!(phones[0].text(), phones[1].text());
}

#[test]
fn a_server_without_room_loses_nothing() {
    let disk = tempfile::tempdir().expect("a folder");
    fs::create_dir(disk.path().join("hangar")).expect("makes");
    let tight = Server::of(disk.path(), Some(40_000));
    // The limit belongs to the process: room is made by another one on the same folder.
    let proxy = Proxy::before(tight.at, 1);
    let mut roomy = None;
    fill(proxy.at, || {
        let server = roomy.insert(Server::of(disk.path(), None));
        proxy.lead_to(server.at);
    });
}

#[test]
fn a_full_disk_loses_nothing() {
    let Some(disk) = SmallDisk::new() else {
        println!("LEFT OUT: only root can mount a small disk; files of limited size were tried instead");
        return;
    };
    let server = Server::of(disk.0.path(), None);
    fill(server.at, || {
        let grown = std::process::Command::new("mount").args(["-o", "remount,size=4m"]).arg(disk.0.path()).status();
        assert!(grown.is_ok_and(|status| status.success()), "the disk grows");
    });
}
