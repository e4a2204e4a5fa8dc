//! The logo of the report: its bytes, and how large it is.

use super::sources::Sources;
use crate::diagnose::{Findings, Span, code};
use crate::model::{Logo, PictureKind};

/// Opens the logo; a finding at `span` where it is missing or no picture that can be used.
pub fn logo(name: &str, span: Span, sources: &mut Sources, findings: &Findings) -> Option<Logo> {
    let file = sources.open(name, Some(span), findings)?;
    let bytes = sources.bytes(file);
    let known = png(bytes).map(|size| (PictureKind::Png, size));
    match known.or_else(|| jpeg(bytes).map(|size| (PictureKind::Jpeg, size))) {
        Some((kind, size)) if size.0 > 0 && size.1 > 0 => {
            Some(Logo { file: name.to_owned(), kind, size, bytes: bytes.to_vec() })
        }
        _ => {
            let message = format!("{name} is neither a PNG nor a JPEG picture");
            findings.report(&code::LOGO_UNUSABLE, span, message, "save the logo as PNG or JPEG");
            None
        }
    }
}

/// Width and height of a PNG, from its first chunk.
fn png(bytes: &[u8]) -> Option<(u32, u32)> {
    let head = bytes.strip_prefix(b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR")?;
    let number = |from: usize| Some(u32::from_be_bytes(head.get(from..from + 4)?.try_into().ok()?));
    Some((number(0)?, number(4)?))
}

/// Width and height of a JPEG, from its first frame header.
fn jpeg(bytes: &[u8]) -> Option<(u32, u32)> {
    let mut rest = bytes.strip_prefix(b"\xff\xd8")?;
    loop {
        let [0xff, marker, high, low, ..] = *rest else { return None };
        let length = usize::from(u16::from_be_bytes([high, low]));
        let frame = matches!(marker, 0xc0..=0xcf) && !matches!(marker, 0xc4 | 0xc8 | 0xcc);
        if frame {
            let pair = |from: usize| Some(u16::from_be_bytes([*rest.get(from)?, *rest.get(from + 1)?]));
            return Some((pair(7)?.into(), pair(5)?.into()));
        }
        rest = rest.get(2 + length.max(2)..)?;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The header chunk of a PNG of 16 by 9 pixels, as the PNG specification (section 11.2.1) lays it out.
    #[test]
    fn a_png_tells_its_size_in_its_first_chunk() {
        let head = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\0\x10\0\0\0\x09\x08\x02\0\0\0";
        assert_eq!(png(head), Some((16, 9)));
        assert_eq!(png(b"\x89PNG\r\n\x1a\n"), None);
    }

    /// A JPEG's segments: marker, length, and in the frame header precision, height, width (ITU-T T.81, B.2.2).
    #[test]
    fn a_jpeg_tells_its_size_in_its_frame_header() {
        let bytes = b"\xff\xd8\xff\xe0\0\x04ab\xff\xc0\0\x0b\x08\0\x09\0\x10\x01";
        assert_eq!(jpeg(bytes), Some((16, 9)));
        assert_eq!(jpeg(b"\xff\xd8\xff\xe0\0"), None);
    }
}
