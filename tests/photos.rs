//! Photos: what is kept of a JPEG file. Made by the crate jpeg-encoder, decoded by zune-jpeg, looked through for metadata by
//! kamadak-exif: general-purpose libraries that know nothing of ours.

use std::io::Cursor;

use exif::experimental::Writer;
use exif::{Field, In, Rational, Tag, Value};
use jpeg_encoder::{ColorType, Encoder};
use proptest::collection::vec;
use proptest::prelude::*;
use trammel::record::{Photo, PhotoError, clean_jpeg, jpeg_size, picture_size};
use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::bytestream::ZCursor;

const WIDTH: u16 = 90;
const HEIGHT: u16 = 61;

/// What a camera writes beside a picture: place, device, which way up.
fn exif_data() -> Vec<u8> {
    let degrees = |value: u32| vec![Rational { num: value, denom: 1 }; 3];
    let text = |words: &str| Value::Ascii(vec![words.as_bytes().to_vec()]);
    let fields = [
        (Tag::GPSLatitudeRef, text("N")),
        (Tag::GPSLatitude, Value::Rational(degrees(48))),
        (Tag::GPSLongitudeRef, text("E")),
        (Tag::GPSLongitude, Value::Rational(degrees(11))),
        (Tag::Model, text("Invented camera")),
        (Tag::Orientation, Value::Short(vec![6])),
    ]
    .map(|(tag, value)| Field { tag, ifd_num: In::PRIMARY, value });
    let mut writer = Writer::new();
    fields.iter().for_each(|field| writer.push_field(field));
    let mut out = Cursor::new(Vec::new());
    writer.write(&mut out, false).unwrap();
    out.into_inner()
}

#[derive(Clone, Copy, Debug)]
struct Kind {
    colour: bool,
    progressive: bool,
    restarts: u16,
}

const KINDS: [Kind; 4] = [
    Kind { colour: true, progressive: false, restarts: 0 },
    Kind { colour: true, progressive: false, restarts: 3 },
    Kind { colour: true, progressive: true, restarts: 0 },
    Kind { colour: false, progressive: false, restarts: 0 },
];

/// A picture with everything that cameras and programs put beside it.
fn taken(kind: Kind) -> Vec<u8> {
    let (each, colours) = if kind.colour { (3, ColorType::Rgb) } else { (1, ColorType::Luma) };
    let samples: Vec<u8> =
        (0..usize::from(WIDTH) * usize::from(HEIGHT) * each).map(|place| (place * 7 % 251) as u8).collect();
    let mut file = Vec::new();
    let mut encoder = Encoder::new(&mut file, 85);
    encoder.set_progressive(kind.progressive);
    encoder.set_restart_interval(kind.restarts);
    encoder.add_app_segment(1, [b"Exif\0\0".to_vec(), exif_data()].concat()).unwrap();
    encoder.add_app_segment(1, b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta/>".to_vec()).unwrap();
    encoder.add_app_segment(2, b"MPF\0second picture".to_vec()).unwrap();
    encoder.add_app_segment(13, b"Photoshop 3.0\0caption".to_vec()).unwrap();
    encoder.encode(&samples, WIDTH, HEIGHT, colours).unwrap();
    // A comment, and what phones put behind the end: a short film.
    let at = 2;
    file.splice(at..at, [0xff, 0xfe, 0, 9].into_iter().chain(*b"secret!"));
    file.extend_from_slice(b"ftypmp42 48.0 N 11.0 E");
    file
}

fn pixels(jpeg: &[u8]) -> (Vec<u8>, (usize, usize)) {
    let mut decoder = JpegDecoder::new(ZCursor::new(jpeg));
    let pixels = decoder.decode().unwrap();
    (pixels, decoder.dimensions().unwrap())
}

/// The markers of a file up to its first scan, read plainly.
fn markers(jpeg: &[u8]) -> Vec<u8> {
    let (mut found, mut at) = (Vec::new(), 2);
    while jpeg[at + 1] != 0xda {
        assert_eq!(jpeg[at], 0xff);
        found.push(jpeg[at + 1]);
        at += 2 + usize::from(u16::from_be_bytes([jpeg[at + 2], jpeg[at + 3]]));
    }
    found
}

#[test]
fn only_the_picture_is_left_and_it_is_the_same() {
    for kind in KINDS {
        let file = taken(kind);
        let before = exif::Reader::new().read_from_container(&mut Cursor::new(&file)).unwrap();
        assert!(before.get_field(Tag::GPSLatitude, In::PRIMARY).is_some(), "the check finds what is there");
        let (photo, clean) = Photo::of(&file).unwrap();
        assert!(exif::Reader::new().read_from_container(&mut Cursor::new(&clean)).is_err(), "{kind:?}");
        let beside: Vec<u8> = markers(&clean).into_iter().filter(|mark| matches!(mark, 0xe0..=0xef | 0xfe)).collect();
        assert!(beside.is_empty() || beside == [0xe0], "{kind:?}: {beside:x?}");
        for words in ["secret", "Photoshop", "xmpmeta", "ftyp", "Invented", "MPF"] {
            assert!(!clean.windows(words.len()).any(|part| part == words.as_bytes()), "{kind:?}: {words}");
        }
        assert_eq!(pixels(&clean), pixels(&file), "{kind:?}");
        assert_eq!((photo.width, photo.height), (u32::from(WIDTH), u32::from(HEIGHT)));
        assert_eq!(clean_jpeg(&clean).unwrap(), clean, "{kind:?}");
        assert_eq!(photo.check(&clean), Ok(()));
    }
}

#[test]
fn a_photo_from_elsewhere_is_the_one_that_is_named_and_carries_nothing() {
    let file = taken(KINDS[0]);
    let (photo, clean) = Photo::of(&file).unwrap();
    assert_eq!(photo.check(&file), Err(PhotoError::NotThePhoto));
    let named = Photo { digest: trammel::record::Digest::of(&file), bytes: file.len() as u32, ..photo.clone() };
    assert_eq!(named.check(&file), Err(PhotoError::CarriesMore));
    assert_eq!(Photo { width: 91, ..photo.clone() }.check(&clean), Err(PhotoError::NotThePhoto));
    assert!(matches!(photo.check(&vec![0; 3_000_000]), Err(PhotoError::TooLarge { .. })));
}

#[test]
fn what_no_browser_shows_alike_is_refused() {
    let clean = clean_jpeg(&taken(KINDS[0])).unwrap();
    let frame = clean.windows(2).position(|pair| pair == [0xff, 0xc0]).unwrap();
    let with = |place: usize, byte: u8| {
        let mut file = clean.clone();
        file[place] = byte;
        jpeg_size(&file)
    };
    assert_eq!(with(frame + 1, 0xc9), Err(PhotoError::Unusual), "arithmetic coding");
    assert_eq!(with(frame + 4, 12), Err(PhotoError::Unusual), "twelve bits");
    assert_eq!(with(frame + 9, 4), Err(PhotoError::Damaged), "a component that is not there");
    let mut empty = clean.clone();
    empty[frame + 5..frame + 7].fill(0);
    assert_eq!(jpeg_size(&empty), Err(PhotoError::NotPicture), "a height that comes later");
    let mut vast = clean.clone();
    vast[frame + 5..frame + 9].fill(0xfe);
    assert_eq!(jpeg_size(&vast), Err(PhotoError::TooManyPixels { width: 0xfefe, height: 0xfefe }));
    assert_eq!(jpeg_size(b"\x89PNG\r\n\x1a\n"), Err(PhotoError::NotPicture));
    assert_eq!(jpeg_size(&[0xff, 0xd8, 0xff, 0xd9]), Err(PhotoError::Damaged), "no picture inside");
}

/// The first bytes of files of 300 × 200 pixels as Pillow 13.0.0 writes them; of the AVIF file only the boxes around the size.
const HEADS: [(&str, &str); 7] = [
    ("PNG", "89504e470d0a1a0a0000000d494844520000012c000000c80802000000ddbd4b02"),
    ("GIF", "4749463837612c01c800810000"),
    ("WebP", "52494646b60000005745425056503820aa000000b010009d012a2c01c8003e6d"),
    ("WebP, lossless", "5249464624000000574542505650384c180000002f2bc131000750a8a214afff"),
    ("WebP, extended", "52494646d400000057454250565038580a000000080000002b0100c700005650"),
    ("BMP", "424d56bf02000000000036000000280000002c010000c80000000100180000000000"),
    (
        "AVIF",
        "00000020667479706176696600000000617669666d6966316d6961664d413142000000eb6d657461000000000000002168646c72000000\
         0000000000706963740000000000000000000000006970636f0000001469737065000000000000012c000000c80000001070697869",
    ),
];

#[test]
fn a_picture_says_its_size_before_it_is_decoded() {
    let hex = |text: &str| -> Vec<u8> {
        (0..text.len()).step_by(2).map(|at| u8::from_str_radix(&text[at..at + 2], 16).unwrap()).collect()
    };
    for (kind, head) in HEADS {
        assert_eq!(picture_size(&hex(head)), Ok((300, 200)), "{kind}");
        assert!(picture_size(&hex(head)[..8]).is_err(), "{kind}");
    }
    assert_eq!(picture_size(&taken(KINDS[0])), Ok((u32::from(WIDTH), u32::from(HEIGHT))));
    let bomb = hex(&HEADS[0].1.replace("0000012c000000c8", "0000c3500000c350"));
    assert_eq!(picture_size(&bomb), Err(PhotoError::TooManyPixels { width: 50_000, height: 50_000 }));
    for other in ["", "%PDF-1.7", "<svg xmlns='http://www.w3.org/2000/svg'/>", "PK\u{3}\u{4}", "{\"format\":\"x\"}"] {
        assert_eq!(picture_size(other.as_bytes()), Err(PhotoError::NotPicture), "{other}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    #[test]
    fn any_bytes_are_refused_or_clean(bytes in vec(any::<u8>(), 0..400)) {
        let _ = picture_size(&bytes);
        let whole = [&[0xff, 0xd8][..], &bytes].concat();
        let _ = (jpeg_size(&whole), picture_size(&whole), clean_jpeg(&bytes));
    }

    /// Bytes changed, a piece cut out, the end cut off: what is taken all the same is clean, and stays as it is.
    #[test]
    fn a_damaged_file_is_refused_or_clean(
        kind in 0_usize..4,
        changes in vec((any::<prop::sample::Index>(), any::<u8>()), 0..6),
        cut in any::<prop::sample::Index>(),
        gone in 0_usize..40,
        end in any::<Option<prop::sample::Index>>(),
    ) {
        let mut file = taken(KINDS[kind]);
        for (at, byte) in changes {
            let at = at.index(file.len());
            file[at] = byte;
        }
        let from = cut.index(file.len());
        file.drain(from..(from + gone).min(file.len()));
        if let Some(end) = end {
            file.truncate(end.index(file.len()));
        }
        let _ = picture_size(&file);
        if let Ok((photo, clean)) = Photo::of(&file) {
            prop_assert!(clean.len() <= file.len());
            prop_assert_eq!(photo.check(&clean), Ok(()));
            prop_assert!(markers(&clean).iter().all(|mark| !matches!(mark, 0xe1..=0xef | 0xfe)));
            prop_assert!(exif::Reader::new().read_from_container(&mut Cursor::new(&clean)).is_err());
        }
    }
}
