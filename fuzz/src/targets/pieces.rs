//! Photos, a server's listing, taught words, and small texts.

use trammel::folder::listing;
use trammel::hearing::Taught;
use trammel::record::{AirframeId, Digest, Key, Photo, clean_jpeg, day, day_text, drawn_path, jpeg_size, picture_size};
use trammel::report::{read_sent, sent_text};

use super::{Room, Told, text};

/// A photo is cleaned or refused; what is clean stays as it is and is the photo that the record names.
pub(super) fn photo(bytes: &[u8], room: Room, told: &mut Told) {
    told.put(&room.within(bytes.len(), || picture_size(bytes)));
    let cleaned = room.within(bytes.len(), || clean_jpeg(bytes));
    told.put(&cleaned);
    assert_eq!(jpeg_size(bytes).err(), cleaned.as_ref().err().cloned());
    let Ok(clean) = cleaned else { return };
    // A segment of a JFIF header is made whole; all else is left away.
    assert!(clean.len() <= bytes.len());
    assert_eq!(clean_jpeg(&clean).as_ref(), Ok(&clean));
    let (photo, file) = Photo::of(bytes).expect("small enough");
    assert_eq!(photo.check(&file), Ok(()));
    told.put(&photo);
}

/// A listing is read or is none; what it hands out can be sent back in a header.
pub(super) fn listing_of(bytes: &[u8], room: Room, told: &mut Told) {
    let text = text(bytes);
    let found = room.within(text.len(), || listing(&text));
    told.put(&found);
    for member in found.iter().flatten() {
        let tag = member.tag.as_deref().unwrap_or("\"x\"");
        assert!(tag.len() <= 304 && tag.ends_with('"') && tag.bytes().all(|byte| byte.is_ascii_graphic()), "{tag:?}");
    }
}

/// Taught words are read to the byte, or refused.
pub(super) fn taught(bytes: &[u8], room: Room, told: &mut Told) {
    let read = room.within(bytes.len(), || Taught::from_bytes(bytes));
    told.put(&read);
    if let Ok(taught) = read
        && !bytes.is_empty()
    {
        assert_eq!(taught.to_bytes(), bytes);
    }
}

/// Each is read or refused, and what was read is written as it was.
pub(super) fn small(bytes: &[u8], room: Room, told: &mut Told) {
    let text = text(bytes);
    room.within(text.len(), || {
        if let Ok(digest) = text.parse::<Digest>() {
            assert_eq!(digest.to_string(), text);
        }
        if let Some(key) = Key::parse(&text) {
            assert_eq!(key.text(), text);
            assert_eq!(key.words().split(' ').count(), 4);
        }
        if let Ok(airframe) = text.parse::<AirframeId>() {
            assert_eq!(airframe.to_string().parse(), Ok(airframe));
        }
        let sent = read_sent(&text);
        assert_eq!(read_sent(&sent_text(&sent)), sent);
        if let Some(day) = day(&text) {
            assert_eq!(trammel::record::day(&day_text(day)), Some(day));
        }
        let path = drawn_path(&text);
        let plain = |letter: char| letter.is_ascii_digit() || matches!(letter, 'M' | 'L' | ' ');
        assert!(path.as_deref().unwrap_or_default().chars().all(plain), "{path:?}");
    });
    told.put(&(day(&text), drawn_path(&text), read_sent(&text), Key::parse(&text)));
}
