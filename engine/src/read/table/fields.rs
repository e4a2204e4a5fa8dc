//! Where a field lies in the bytes of a table, for quoting: found again only when a finding needs it.

/// Line, column and length of a field, in characters; line and column from 1.
#[derive(Debug, PartialEq, Eq)]
pub struct FieldPlace {
    /// Line.
    pub line: u32,
    /// Column.
    pub column: u32,
    /// Length.
    pub length: u32,
}

/// Where each line of a text starts.
pub fn starts(bytes: &[u8]) -> Vec<usize> {
    std::iter::once(0).chain(memchr::memchr_iter(b'\n', bytes).map(|end| end + 1)).collect()
}

/// The line that starts at `start`, without its line end; empty past the end of the file.
pub fn line(bytes: &[u8], start: usize) -> std::borrow::Cow<'_, str> {
    let rest = bytes.get(start..).unwrap_or_default();
    let line = &rest[..memchr::memchr(b'\n', rest).unwrap_or(rest.len())];
    String::from_utf8_lossy(line.strip_suffix(b"\r").unwrap_or(line))
}

/// The place of field `field` (from 0) of the record that starts at `start`, on line `record_line`; past the last field, the
/// end of the record.
pub fn locate(bytes: &[u8], (start, record_line): (usize, u32), field: u16, separator: u8) -> FieldPlace {
    let record = bytes.get(start..).unwrap_or_default();
    let (from, to) = field_range(record, field, separator);
    let before = &record[..from];
    let newlines = before.iter().filter(|&&b| b == b'\n').count() as u32;
    let own_line = before.iter().rposition(|&b| b == b'\n').map_or(0, |i| i + 1);
    FieldPlace {
        line: record_line + newlines,
        column: characters(&before[own_line..]) + 1,
        length: characters(&record[from..to]).max(1),
    }
}

fn characters(bytes: &[u8]) -> u32 {
    String::from_utf8_lossy(bytes).chars().count() as u32
}

/// Byte range of a field within a record, without blanks around it.
fn field_range(record: &[u8], wanted: u16, separator: u8) -> (usize, usize) {
    let (mut field, mut from, mut quoted) = (0, 0, false);
    let mut end = record.len();
    for (i, &b) in record.iter().enumerate() {
        match b {
            b'"' => quoted = !quoted,
            b'\n' if !quoted => {
                end = i;
                break;
            }
            _ if b == separator && !quoted => {
                if field == wanted {
                    return trimmed(record, from, i);
                }
                field += 1;
                from = i + 1;
            }
            _ => {}
        }
    }
    if field == wanted { trimmed(record, from, end) } else { trimmed(record, end, end) }
}

fn trimmed(record: &[u8], mut from: usize, mut to: usize) -> (usize, usize) {
    while from < to && record[to - 1].is_ascii_whitespace() {
        to -= 1;
    }
    while from < to && record[from].is_ascii_whitespace() {
        from += 1;
    }
    (from, to)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_third_field_of_the_second_line_is_found() {
        let place = locate(b"a,b,c\n1, 22 ,\"x,y\"\n", (6, 2), 2, b',');
        assert_eq!(place, FieldPlace { line: 2, column: 8, length: 5 });
        assert_eq!(
            locate(b"a,b,c\n1, 22 ,x\n", (6, 2), 1, b','),
            FieldPlace { line: 2, column: 4, length: 2 }
        );
    }

    #[test]
    fn a_field_after_a_quoted_line_break_lies_on_the_next_line() {
        assert_eq!(locate(b"\"a\nb\",c", (0, 1), 1, b','), FieldPlace { line: 2, column: 4, length: 1 });
    }

    #[test]
    fn columns_count_characters_not_bytes() {
        assert_eq!(locate("Jörg,x".as_bytes(), (0, 1), 1, b',').column, 6);
    }

    #[test]
    fn lines_end_at_crlf_and_at_the_end_of_the_file() {
        assert_eq!(starts(b"a\r\nb"), [0, 3]);
        assert_eq!(line(b"a\r\nb", 0), "a");
        assert_eq!(line(b"a\r\nb", 3), "b");
        assert_eq!(line(b"a\r\nb", 9), "");
    }
}
