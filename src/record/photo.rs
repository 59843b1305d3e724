//! Photos as they are kept: JPEG files that hold the picture and nothing else.
//!
//! What a camera writes beside the picture (place, time, device, a second picture in small) stands in the application segments and the
//! comments of a JPEG file, or behind its end (ITU-T T.81, annex B; Exif 2.3, section 4.5.4). [`clean_jpeg`] leaves all of it away and
//! copies the compressed picture as it is.

use std::fmt;

use super::{Digest, Photo};
use crate::language::{tr, words};

/// The most bytes that a photo from elsewhere may have.
pub const MAX_PHOTO: usize = 2_000_000;

/// The most bytes of a file that is looked at as a picture.
pub const MAX_PICTURE: u64 = 60_000_000;

/// The most pixels that a picture may have before it is made smaller: decoded they take four bytes each.
const MAX_PIXELS: u64 = 65_000_000;

/// The longest side that a picture may have before it is made smaller, in pixels.
const MAX_SIDE: u32 = 20_000;

/// Said in the place of a photo whose file is not on this phone.
#[must_use]
pub fn photo_not_here() -> &'static str {
    words!("The picture is not on this phone: it came with a record without photos.")
}

/// Why a file is not taken as a photo. [`fmt::Display`] is what the screen shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PhotoError {
    /// The file has too many bytes; it was not read.
    TooLarge {
        /// Bytes in the file.
        size: u64,
        /// Bytes allowed.
        limit: u64,
    },
    /// No kind of picture that cameras make.
    NotPicture,
    /// Decoded it would fill the phone's memory.
    TooManyPixels {
        /// Its width in pixels, as it says.
        width: u32,
        /// Its height in pixels, as it says.
        height: u32,
    },
    /// The file ends within the picture.
    CutShort,
    /// The file is not built as a JPEG file is.
    Damaged,
    /// A kind of JPEG file that browsers do not show alike.
    Unusual,
    /// It carries more than the picture: where or with what it was taken.
    CarriesMore,
    /// It is not the photo that the record names.
    NotThePhoto,
    /// The browser could not read the picture, or not in time.
    Unreadable,
}

impl fmt::Display for PhotoError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::TooLarge { size, limit } => {
                return f.write_str(&tr!(
                    "This file has {size} MB; a picture may have {limit} MB. It was not read.",
                    size = megabytes(*size),
                    limit = megabytes(*limit)
                ));
            }
            Self::NotPicture => words!("This file is not a picture. Nothing was kept."),
            Self::TooManyPixels { width, height } => {
                return f.write_str(&tr!(
                    "This picture has {width} \u{d7} {height} pixels, more than a phone can work with. Take it smaller: {limit} \
                     million pixels at most.",
                    width,
                    height,
                    limit = MAX_PIXELS / 1_000_000
                ));
            }
            Self::CutShort => words!("This picture is cut short. Nothing was kept."),
            Self::Damaged => words!("This picture is damaged. Nothing was kept."),
            Self::Unusual => {
                words!("This is an unusual kind of JPEG file that not every browser shows. Nothing was kept.")
            }
            Self::CarriesMore => words!("This photo carries more than the picture, such as where it was taken."),
            Self::NotThePhoto => words!("This is not the photo that the record names."),
            Self::Unreadable => {
                words!("This browser cannot read this picture. Nothing was kept; take it again, or choose it as a JPEG file.")
            }
        })
    }
}

impl std::error::Error for PhotoError {}

fn megabytes(bytes: u64) -> String {
    format!("{}.{}", bytes / 1_000_000, bytes / 100_000 % 10)
}

impl Photo {
    /// A photo to be kept, and its file, from a JPEG file with whatever it carries.
    ///
    /// # Errors
    /// When it is no JPEG file that every browser shows.
    pub fn of(jpeg: &[u8]) -> Result<(Self, Vec<u8>), PhotoError> {
        let clean = clean_jpeg(jpeg)?;
        within(clean.len() as u64, MAX_PHOTO as u64)?;
        let (width, height) = jpeg_size(&clean)?;
        let bytes = u32::try_from(clean.len()).unwrap_or(u32::MAX);
        Ok((Self { digest: Digest::of(&clean), bytes, width, height }, clean))
    }

    /// Whether a file from elsewhere is this photo, and carries nothing but the picture.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn check(&self, jpeg: &[u8]) -> Result<(), PhotoError> {
        within(jpeg.len() as u64, MAX_PHOTO as u64)?;
        if Digest::of(jpeg) != self.digest {
            return Err(PhotoError::NotThePhoto);
        }
        let (photo, clean) = Self::of(jpeg)?;
        if clean != jpeg {
            return Err(PhotoError::CarriesMore);
        }
        if photo == *self { Ok(()) } else { Err(PhotoError::NotThePhoto) }
    }

    /// "1500 × 2000 pixels, 0.4 MB".
    #[must_use]
    pub fn size_words(&self) -> String {
        let size = megabytes(u64::from(self.bytes) + 50_000);
        tr!("{width} \u{d7} {height} pixels, {size} MB", width = self.width, height = self.height, size)
    }

    /// What a photo shows, for those who do not see it.
    #[must_use]
    pub fn words(caption: &str) -> &str {
        if caption.trim().is_empty() { words!("Photo without a caption") } else { caption }
    }
}

/// # Errors
/// When a file of `size` bytes is over `limit`.
pub fn within(size: u64, limit: u64) -> Result<(), PhotoError> {
    if size > limit { Err(PhotoError::TooLarge { size, limit }) } else { Ok(()) }
}

/// # Errors
/// When a picture of this size, in pixels, is none or would fill a phone's memory once decoded.
pub(super) fn workable((width, height): (u32, u32)) -> Result<(u32, u32), PhotoError> {
    if width == 0 || height == 0 {
        return Err(PhotoError::NotPicture);
    }
    if width.max(height) > MAX_SIDE || u64::from(width) * u64::from(height) > MAX_PIXELS {
        return Err(PhotoError::TooManyPixels { width, height });
    }
    Ok((width, height))
}

/// A JPEG file without anything but the picture: the application segments (but for a plain JFIF header), the comments and whatever
/// follows the picture's end are left away. Cleaning what is clean changes nothing.
///
/// # Errors
/// [`PhotoError`]: the file is not a whole baseline or progressive JPEG file in grey or colour.
pub fn clean_jpeg(jpeg: &[u8]) -> Result<Vec<u8>, PhotoError> {
    let mut clean = Vec::with_capacity(jpeg.len());
    walk(jpeg, |part| clean.extend_from_slice(part))?;
    Ok(clean)
}

/// Width and height of a JPEG file in pixels.
///
/// # Errors
/// As [`clean_jpeg`].
pub fn jpeg_size(jpeg: &[u8]) -> Result<(u32, u32), PhotoError> {
    walk(jpeg, |_| ())
}

/// Goes through a JPEG file, hands out the parts that make the picture, and gives its size. Markers by ITU-T T.81, table B.1.
fn walk(jpeg: &[u8], mut keep: impl FnMut(&[u8])) -> Result<(u32, u32), PhotoError> {
    let mut rest = jpeg.strip_prefix(&[0xff, 0xd8]).ok_or(PhotoError::NotPicture)?;
    keep(&[0xff, 0xd8]);
    let (mut size, mut begun, mut scanned) = (None, false, false);
    loop {
        let (marker, after) = marker(rest)?;
        if marker == 0xd9 {
            keep(&[0xff, 0xd9]);
            return size.filter(|_| scanned).ok_or(PhotoError::Damaged);
        }
        let (body, after) = segment(after)?;
        rest = after;
        match marker {
            // The header of a JFIF file (its specification 1.02): the picture in small that it may hold is left away.
            0xe0 if !begun && body.len() >= 14 && body.starts_with(b"JFIF\0") => {
                keep(&[0xff, 0xe0, 0, 16]);
                keep(&body[..12]);
                keep(&[0, 0]);
            }
            0xe0..=0xef | 0xfe => {}
            0xc0..=0xc2 if size.is_none() => {
                size = Some(frame(body)?);
                keep_segment(&mut keep, marker, body);
            }
            0xc4 | 0xdb | 0xdd if in_form(marker, body) => keep_segment(&mut keep, marker, body),
            0xda if size.is_some() && in_form(marker, body) => {
                keep_segment(&mut keep, marker, body);
                let data;
                (data, rest) = rest.split_at(scan_end(rest).ok_or(PhotoError::CutShort)?);
                keep(data);
                scanned = true;
            }
            0xc3 | 0xc5..=0xcf | 0xdc | 0xde | 0xdf => return Err(PhotoError::Unusual),
            _ => return Err(PhotoError::Damaged),
        }
        begun = true;
    }
}

fn keep_segment(keep: &mut impl FnMut(&[u8]), marker: u8, body: &[u8]) {
    // It came out of a segment, so that its length fits.
    let length = u16::try_from(body.len() + 2).unwrap_or(u16::MAX).to_be_bytes();
    keep(&[0xff, marker, length[0], length[1]]);
    keep(body);
}

/// The next marker, any bytes that fill up before it passed over, and what follows it.
pub(super) fn marker(rest: &[u8]) -> Result<(u8, &[u8]), PhotoError> {
    match rest.iter().position(|byte| *byte != 0xff) {
        Some(0) => Err(PhotoError::Damaged),
        Some(at) => Ok((rest[at], &rest[at + 1..])),
        None => Err(PhotoError::CutShort),
    }
}

/// What a segment holds behind its length, and what follows it.
pub(super) fn segment(rest: &[u8]) -> Result<(&[u8], &[u8]), PhotoError> {
    let [high, low, ..] = *rest else { return Err(PhotoError::CutShort) };
    let length = usize::from(u16::from_be_bytes([high, low]));
    if length < 2 {
        return Err(PhotoError::Damaged);
    }
    let (whole, after) = rest.split_at_checked(length).ok_or(PhotoError::CutShort)?;
    Ok((&whole[2..], after))
}

/// The size that a frame header says: eight bits a sample, one component (grey) or three (colour).
fn frame(body: &[u8]) -> Result<(u32, u32), PhotoError> {
    let &[bits, h1, h0, w1, w0, components, ref each @ ..] = body else { return Err(PhotoError::Damaged) };
    if each.len() != usize::from(components) * 3 {
        return Err(PhotoError::Damaged);
    }
    if bits != 8 || !matches!(components, 1 | 3) {
        return Err(PhotoError::Unusual);
    }
    workable((u32::from(u16::from_be_bytes([w1, w0])), u32::from(u16::from_be_bytes([h1, h0]))))
}

/// Whether a table or a scan header is exactly as long as what it says it holds.
fn in_form(marker: u8, mut body: &[u8]) -> bool {
    let table = |body: &[u8]| match (marker, body) {
        (0xdb, [kind, ..]) => Some(if kind >> 4 == 0 { 65 } else { 129 }),
        (0xc4, [_, counts @ ..]) => Some(17 + counts.get(..16)?.iter().map(|count| usize::from(*count)).sum::<usize>()),
        (0xda, [components, ..]) => Some(usize::from(*components) * 2 + 4),
        (0xdd, _) => Some(2),
        _ => None,
    };
    let several = matches!(marker, 0xdb | 0xc4);
    loop {
        match table(body).and_then(|length| body.get(length..)) {
            Some([]) => return true,
            Some(rest) if several => body = rest,
            _ => return false,
        }
    }
}

/// Where the compressed data of a scan end: at the first marker that is not a restart.
fn scan_end(data: &[u8]) -> Option<usize> {
    data.windows(2).position(|pair| pair[0] == 0xff && !matches!(pair[1], 0 | 0xd0..=0xd7))
}
