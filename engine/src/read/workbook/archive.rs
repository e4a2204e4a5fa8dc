//! What a workbook is as a file: a ZIP archive, whose parts must not unpack to more than a study can hold.

use crate::diagnose::{Findings, Span, code};

/// Most bytes to which the parts of a workbook may unpack together: a hundred times those of a large study.
const MOST_UNPACKED: u64 = 64 << 20;
/// How an older or an encrypted workbook begins ([MS-CFB], 2.2).
const COMPOUND_FILE: &[u8] = b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1";
/// The stream of an encrypted workbook ([MS-OFFCRYPTO], 2.3.4.4), in UTF-16.
const ENCRYPTED: &[u8] = b"E\0n\0c\0r\0y\0p\0t\0e\0d\0P\0a\0c\0k\0a\0g\0e\0";
/// How an entry of the archive's directory begins (PKWARE, APPNOTE.TXT, 4.3.12).
const ENTRY: &[u8] = b"PK\x01\x02";
/// Where the unpacked size stands in such an entry.
const UNPACKED_SIZE: std::ops::Range<usize> = 24..28;

/// Why a workbook is not read.
pub enum Refused {
    Encrypted,
    Older,
    NoArchive,
    TooLarge(String),
    Damaged,
}

/// Looks at a file before anything of it is unpacked. What its directory says is what it may unpack to: the archive
/// reader refuses a part that grows beyond the size told.
pub fn examine(bytes: &[u8]) -> Result<(), Refused> {
    if bytes.starts_with(COMPOUND_FILE) {
        let encrypted = bytes.windows(ENCRYPTED.len()).any(|w| w == ENCRYPTED);
        return Err(if encrypted { Refused::Encrypted } else { Refused::Older });
    }
    if !bytes.starts_with(b"PK") {
        return Err(Refused::NoArchive);
    }
    let unpacked = unpacked_size(bytes);
    if unpacked > MOST_UNPACKED {
        let megabytes = unpacked >> 20;
        return Err(Refused::TooLarge(format!("it would unpack to {megabytes} MB")));
    }
    Ok(())
}

/// The sizes in every directory entry together, whichever of several directories a reader would follow.
fn unpacked_size(bytes: &[u8]) -> u64 {
    let entries = bytes.windows(ENTRY.len()).enumerate().filter(|(_, w)| *w == ENTRY).map(|(at, _)| at);
    let size = |at: usize| {
        let four = bytes.get(at + UNPACKED_SIZE.start..at + UNPACKED_SIZE.end)?;
        Some(u64::from(u32::from_le_bytes(four.try_into().ok()?)))
    };
    entries.filter_map(size).sum()
}

impl Refused {
    /// Reports it.
    pub fn report(self, name: &str, span: Span, findings: &Findings) {
        let (code, message, help) = match self {
            Refused::Encrypted => (
                &code::WORKBOOK_LOCKED,
                format!("{name} is protected by a password"),
                "open it in the spreadsheet, take the password away and save it again",
            ),
            Refused::Older => (
                &code::UNKNOWN_FORMAT,
                format!("{name} is a workbook of the older kind, whatever its name"),
                "open it in the spreadsheet and save it as .xlsx",
            ),
            Refused::NoArchive => (
                &code::TABLE_DAMAGED,
                format!("{name} is no workbook, whatever its name"),
                "open it in the spreadsheet and save it as .xlsx, or give it the ending .csv if it is text",
            ),
            Refused::TooLarge(how) => (
                &code::WORKBOOK_TOO_LARGE,
                format!("{name} is larger than a study can be: {how}"),
                "copy the tables of the study into a new workbook, or save them as CSV",
            ),
            Refused::Damaged => (
                &code::TABLE_DAMAGED,
                format!("{name} is damaged or not complete"),
                "fetch it again from where it came from, or open it in the spreadsheet and save it again",
            ),
        };
        findings.report(code, span, message, help);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(size: u32) -> Vec<u8> {
        let mut entry = ENTRY.to_vec();
        entry.resize(46, 0);
        entry[UNPACKED_SIZE].copy_from_slice(&size.to_le_bytes());
        entry
    }

    #[test]
    fn the_sizes_told_in_the_directory_are_added() {
        let bytes = [b"PK\x03\x04".to_vec(), entry(1000), entry(24), b"PK\x01\x02 cut".to_vec()].concat();
        assert_eq!(unpacked_size(&bytes), 1024);
        assert!(examine(&bytes).is_ok());
    }

    #[test]
    fn an_archive_that_tells_more_than_a_study_holds_is_not_unpacked() {
        let bytes = [b"PK\x03\x04".to_vec(), entry(40 << 20), entry(40 << 20)].concat();
        assert!(matches!(examine(&bytes), Err(Refused::TooLarge(_))));
        assert!(matches!(examine(b"id,worker"), Err(Refused::NoArchive)));
    }
}
