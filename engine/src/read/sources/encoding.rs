//! Text that is not UTF-8: where it first shows, and what it probably is.

use super::{Content, Sources};
use crate::diagnose::{FileId, Findings, Span, code};
use encoding_rs::WINDOWS_1252;

/// Bytes that stand for nothing in Windows-1252, and control characters that no table holds.
const IN_NO_TABLE: &[u8] = b"\x81\x8D\x8F\x90\x9D\x00\x01\x02\x03\x04\x05\x06\x07\x08\x0E\x0F\x10\x11\x12\x13\x14\x15\x16\x17\x18\x19\x1A\x1B\x1C\x1D\x1E\x1F\x7F";

impl Sources {
    /// Makes the text of a table UTF-8: what can be Windows-1252 is read so, with a note at the first such character.
    pub fn decode(&mut self, file: FileId, findings: &Findings) {
        let bytes = self.bytes(file);
        let Err(error) = std::str::from_utf8(bytes) else { return };
        let of_no_table = |bytes: &[u8]| bytes.iter().any(|b| IN_NO_TABLE.contains(b));
        if matches!(bytes, [0xFF, 0xFE, ..] | [0xFE, 0xFF, ..]) || of_no_table(bytes) {
            return;
        }
        let (text, _) = WINDOWS_1252.decode_without_bom_handling(bytes);
        let (text, at) = (text.into_owned().into_bytes(), error.valid_up_to());
        let (line, column) = position(bytes, at);
        let byte = bytes[at];
        let message = format!(
            "{} is not in UTF-8; it is read as Windows-1252, in which byte 0x{byte:02X} is `{}`",
            self.name(file),
            WINDOWS_1252.decode_without_bom_handling(&[byte]).0
        );
        if let Content::Bytes { decoded, .. } = &mut self.files[file.0 as usize].content {
            *decoded = Some(text);
        }
        findings.report(
            &code::READ_AS_WINDOWS_1252,
            Span::Text { file, line, column, length: 1 },
            message,
            "check the accented letters; to be sure of them save the table as UTF-8, which a spreadsheet calls \"CSV UTF-8\"",
        );
    }

    /// Says where a file is not UTF-8.
    pub(super) fn report_encoding(&self, file: FileId, at: usize, findings: &Findings) {
        let bytes = self.bytes(file);
        let name = self.name(file);
        let (line, column) = position(bytes, at);
        let message = match bytes {
            [0xFF, 0xFE, ..] | [0xFE, 0xFF, ..] => format!("{name} is in UTF-16, not UTF-8"),
            _ => format!("{name} is not in UTF-8: byte 0x{:02X} cannot stand here", bytes[at]),
        };
        findings.report(
            &code::NOT_UTF8,
            Span::Text { file, line, column, length: 1 },
            message,
            match name.ends_with(".yaml") {
                true => "save the file again as UTF-8; editors offer it under \"Save as\"",
                false => "save the file again as UTF-8; a spreadsheet calls it \"CSV UTF-8\"",
            },
        );
    }
}

/// Line and column, in characters, of the first byte that is not UTF-8.
fn position(bytes: &[u8], at: usize) -> (u32, u32) {
    let before = &bytes[..at];
    let line_start = before.iter().rposition(|&b| b == b'\n').map_or(0, |i| i + 1);
    let line = before.iter().filter(|&&b| b == b'\n').count() as u32 + 1;
    (line, String::from_utf8_lossy(&before[line_start..]).chars().count() as u32 + 1)
}
