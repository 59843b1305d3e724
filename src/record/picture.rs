//! How large a picture of any kind is, by the first bytes of its file: known before a browser is asked to decode it.

use super::photo::{PhotoError, marker, segment, workable};

/// How many bytes of a file's beginning [`picture_size`] is given: what stands before the size in a file from a camera takes less.
pub const PICTURE_HEAD: usize = 1_000_000;

/// Width and height in pixels, as the head of the file says, of a JPEG, PNG, GIF, WebP, BMP, HEIC or AVIF file.
///
/// # Errors
/// [`PhotoError::NotPicture`] when the file is of another kind, or its head does not say; [`PhotoError::TooManyPixels`] when it would
/// fill a phone's memory.
pub fn picture_size(head: &[u8]) -> Result<(u32, u32), PhotoError> {
    let all = [jpeg, png, gif, webp, bmp, boxes];
    workable(all.iter().find_map(|kind| kind(head)).ok_or(PhotoError::NotPicture)?)
}

fn at<const N: usize>(head: &[u8], place: usize) -> Option<[u8; N]> {
    head.get(place..)?.first_chunk().copied()
}

fn big(head: &[u8], place: usize) -> Option<u32> {
    at(head, place).map(u32::from_be_bytes)
}

fn little(head: &[u8], place: usize) -> Option<u32> {
    at(head, place).map(u32::from_le_bytes)
}

fn little_short(head: &[u8], place: usize) -> Option<u32> {
    at(head, place).map(|bytes| u32::from(u16::from_le_bytes(bytes)))
}

/// The first frame header, of any kind (ITU-T T.81, B.2.2).
fn jpeg(head: &[u8]) -> Option<(u32, u32)> {
    let mut rest = head.strip_prefix(&[0xff, 0xd8])?;
    loop {
        let (kind, after) = marker(rest).ok()?;
        let (body, after) = segment(after).ok()?;
        if matches!(kind, 0xc0..=0xcf) && !matches!(kind, 0xc4 | 0xc8 | 0xcc) {
            let short = |place| at(body, place).map(|bytes| u32::from(u16::from_be_bytes(bytes)));
            return Some((short(3)?, short(1)?));
        }
        rest = after;
    }
}

/// The header chunk (PNG, third edition, 11.2.1).
fn png(head: &[u8]) -> Option<(u32, u32)> {
    let whole = head.starts_with(b"\x89PNG\r\n\x1a\n") && head.get(12..16)? == b"IHDR";
    if whole { Some((big(head, 16)?, big(head, 20)?)) } else { None }
}

/// The logical screen (GIF89a, section 18).
fn gif(head: &[u8]) -> Option<(u32, u32)> {
    let gif = head.starts_with(b"GIF87a") || head.starts_with(b"GIF89a");
    if gif { Some((little_short(head, 6)?, little_short(head, 8)?)) } else { None }
}

/// The first chunk (RFC 9649, sections 2.5 to 2.7).
fn webp(head: &[u8]) -> Option<(u32, u32)> {
    if !head.starts_with(b"RIFF") || head.get(8..12)? != b"WEBP" {
        return None;
    }
    match head.get(12..16)? {
        b"VP8 " => Some((little_short(head, 26)? & 0x3fff, little_short(head, 28)? & 0x3fff)),
        b"VP8L" => {
            let bits = little(head, 21)?;
            Some(((bits & 0x3fff) + 1, (bits >> 14 & 0x3fff) + 1))
        }
        b"VP8X" => Some(((little(head, 24)? & 0xff_ffff) + 1, (little(head, 27)? & 0xff_ffff) + 1)),
        _ => None,
    }
}

/// The header that most programs write, 40 bytes or more; a height below nothing counts from the top. From memory.
fn bmp(head: &[u8]) -> Option<(u32, u32)> {
    let plain = head.starts_with(b"BM") && (40..=124).contains(&little(head, 14)?);
    let side = |place| at(head, place).map(|bytes| i32::from_le_bytes(bytes).unsigned_abs());
    if plain { Some((side(18)?, side(22)?)) } else { None }
}

/// HEIC and AVIF: the largest of the sizes that the file names (ISO/IEC 23008-12, 6.5.3: box `ispe`).
fn boxes(head: &[u8]) -> Option<(u32, u32)> {
    if head.get(4..8)? != b"ftyp" {
        return None;
    }
    let named = head.windows(4).enumerate().filter(|(_, name)| *name == b"ispe");
    let sizes = named.filter_map(|(place, _)| Some((big(head, place + 8)?, big(head, place + 12)?)));
    sizes.max_by_key(|(width, height)| u64::from(*width) * u64::from(*height))
}
