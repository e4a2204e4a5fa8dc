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

/// Line `number` (from 1) without its line end; empty past the end of the file.
pub fn line(bytes: &[u8], number: u32) -> std::borrow::Cow<'_, str> {
    let start = line_start(bytes, number);
    let end = bytes[start..].iter().position(|&b| b == b'\n').map_or(bytes.len(), |i| start + i);
    let line = &bytes[start..end];
    String::from_utf8_lossy(line.strip_suffix(b"\r").unwrap_or(line))
}

fn line_start(bytes: &[u8], number: u32) -> usize {
    let Some(skip) = number.checked_sub(2) else { return 0 };
    bytes
        .iter()
        .enumerate()
        .filter(|(_, b)| **b == b'\n')
        .nth(skip as usize)
        .map_or(bytes.len(), |(i, _)| i + 1)
}

/// The place of field `field` (from 0) of the record that starts on line `record_line`; past the last field, the
/// end of the record.
pub fn locate(bytes: &[u8], record_line: u32, field: u16, separator: u8) -> FieldPlace {
    let start = line_start(bytes, record_line);
    let (from, to) = field_range(&bytes[start..], field, separator);
    let before = &bytes[start..start + from];
    let newlines = before.iter().filter(|&&b| b == b'\n').count() as u32;
    let own_line = before.iter().rposition(|&b| b == b'\n').map_or(0, |i| i + 1);
    FieldPlace {
        line: record_line + newlines,
        column: characters(&before[own_line..]) + 1,
        length: characters(&bytes[start + from..start + to]).max(1),
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
        let place = locate(b"a,b,c\n1, 22 ,\"x,y\"\n", 2, 2, b',');
        assert_eq!(place, FieldPlace { line: 2, column: 8, length: 5 });
        assert_eq!(locate(b"a,b,c\n1, 22 ,x\n", 2, 1, b','), FieldPlace { line: 2, column: 4, length: 2 });
    }

    #[test]
    fn a_field_after_a_quoted_line_break_lies_on_the_next_line() {
        assert_eq!(locate(b"\"a\nb\",c", 1, 1, b','), FieldPlace { line: 2, column: 4, length: 1 });
    }

    #[test]
    fn columns_count_characters_not_bytes() {
        assert_eq!(locate("Jörg,x".as_bytes(), 1, 1, b',').column, 6);
    }

    #[test]
    fn lines_end_at_crlf_and_at_the_end_of_the_file() {
        assert_eq!(line(b"a\r\nb", 1), "a");
        assert_eq!(line(b"a\r\nb", 2), "b");
        assert_eq!(line(b"a\r\nb", 3), "");
    }
}
