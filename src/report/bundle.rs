//! A record as one zip file: its parts beside each other, nothing compressed (photos are already; the rest is small).
//!
//! Written by hand: what is needed of the format (APPNOTE.TXT 6.3.10, sections 4.3 and 4.4) is two headers, and a crate's reader, its
//! methods of compression and its times would be several kilobytes of the download (docs/decisions/0016).

use chrono::{Datelike, NaiveDateTime, Timelike};

use super::{readings_csv, work_log_csv, write_json};
use crate::language::words;
use crate::record::{Airframe, Digest, Ledger};

/// What the bundle says of itself.
fn readme() -> String {
    [
        words!("The record of the building of an aircraft."),
        "\r\n\r\npage.html     ",
        words!("to read and to print, with its photos, in any browser"),
        "\r\nrecord.json   ",
        words!("every entry: opens in the app; photos/ holds the pictures that it names, each by its SHA-256"),
        "\r\nreadings.csv  ",
        words!("every reading, for a spreadsheet"),
        "\r\nwork-log.csv  ",
        words!("how long what was worked on, by day, for a spreadsheet"),
        "\r\nphotos/       ",
        words!("the pictures, where they were sent along"),
        "\r\n\r\n",
        words!("Nothing here approves anything. The kit's manual, the local rules and licensed people come first."),
        "\r\n",
    ]
    .concat()
}

/// The checksum and the size of a file that goes into the zip.
#[derive(Clone, Debug)]
pub struct Sum {
    crc: u32,
    size: u32,
    table: [u32; 256],
}

impl Default for Sum {
    fn default() -> Self {
        let step = |crc: u32| if crc & 1 == 1 { 0xedb8_8320 ^ (crc >> 1) } else { crc >> 1 };
        let of = |byte: u32| (0..8).fold(byte, |crc, _| step(crc));
        let mut table = [0; 256];
        (0..).zip(&mut table).for_each(|(byte, slot)| *slot = of(byte));
        Self { crc: u32::MAX, size: 0, table }
    }
}

impl Sum {
    /// Of a whole file.
    #[must_use]
    pub fn of(bytes: &[u8]) -> Self {
        let mut sum = Self::default();
        sum.take(bytes);
        sum
    }

    /// Counts the next bytes of the file. CRC-32 (ISO/IEC 8802-3, the polynomial 04C11DB7 reflected).
    pub fn take(&mut self, bytes: &[u8]) {
        for byte in bytes {
            let place = (self.crc ^ u32::from(*byte)) & 0xff;
            self.crc = self.table[place as usize] ^ (self.crc >> 8);
        }
        self.size = self.size.saturating_add(u32::try_from(bytes.len()).unwrap_or(u32::MAX));
    }
}

/// A zip file that is being written: hands out what stands before each file, and what stands behind the last.
#[derive(Clone, Debug)]
pub struct Zip {
    /// Time and date as the format has them.
    stamp: [u8; 4],
    directory: Vec<u8>,
    count: u16,
    offset: u32,
}

impl Zip {
    /// Begins one; every file of it is of this time.
    #[must_use]
    pub fn begin(now: NaiveDateTime) -> Self {
        let year = u32::try_from(now.year() - 1980).unwrap_or_default().min(127);
        let date = (year << 9) | (now.month() << 5) | now.day();
        let time = (now.hour() << 11) | (now.minute() << 5) | (now.second() / 2);
        Self { stamp: ((date << 16) | time).to_le_bytes(), directory: Vec::new(), count: 0, offset: 0 }
    }

    /// What stands before a file. The file itself follows it as it is.
    pub fn file(&mut self, name: &str, sum: &Sum) -> Vec<u8> {
        let length = u16::try_from(name.len()).unwrap_or_default();
        // Version 2.0, names in UTF-8 (bit 11), stored, when, CRC-32, the size twice, the name's length, nothing extra.
        let mut common = vec![20, 0, 0, 8, 0, 0];
        common.extend(self.stamp);
        for number in [!sum.crc, sum.size, sum.size] {
            common.extend(number.to_le_bytes());
        }
        common.extend(length.to_le_bytes());
        common.extend([0, 0]);
        let header = [b"PK\x03\x04", common.as_slice(), name.as_bytes()].concat();
        self.directory.extend(b"PK\x01\x02\x14\x00");
        self.directory.extend(common);
        // No comment, the first disk, no attributes.
        self.directory.extend([0; 10]);
        self.directory.extend(self.offset.to_le_bytes());
        self.directory.extend(name.as_bytes());
        self.count += 1;
        self.offset += u32::try_from(header.len()).unwrap_or_default() + sum.size;
        header
    }

    /// What stands behind the last file.
    #[must_use]
    pub fn end(self) -> Vec<u8> {
        let mut end = self.directory;
        let size = u32::try_from(end.len()).unwrap_or_default();
        end.extend(b"PK\x05\x06\0\0\0\0");
        end.extend(self.count.to_le_bytes());
        end.extend(self.count.to_le_bytes());
        end.extend(size.to_le_bytes());
        end.extend(self.offset.to_le_bytes());
        end.extend([0, 0]);
        end
    }
}

/// The files of a bundle beside the page and the photos.
#[must_use]
pub fn bundle_texts(ledger: &Ledger, airframe: &Airframe) -> Vec<(&'static str, String)> {
    vec![
        ("readme.txt", readme()),
        ("record.json", write_json(ledger.of(airframe.id))),
        ("readings.csv", readings_csv(airframe, ledger)),
        ("work-log.csv", work_log_csv(airframe, ledger)),
    ]
}

/// What a photo is called in a bundle.
#[must_use]
pub fn bundled_photo(digest: Digest) -> String {
    format!("photos/{digest}.jpg")
}
