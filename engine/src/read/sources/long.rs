//! Files too long to be kept: cut into pieces once, and read piece by piece wherever they are needed.

use super::{Content, SourceFile, Sources, door, unreadable};
use crate::diagnose::{FileId, Findings, Span};
use sha2::digest::Output;
use sha2::{Digest, Sha256};
use std::fs::File;
use std::io::{Error, ErrorKind, Read, Result, Seek, SeekFrom};
use std::path::{Path, PathBuf};

/// Bytes of a table from which on it is an archive, and is read piece by piece: some 20,000 tubes.
const LONG_TEXT: u64 = 1 << 20;

/// The same for a table that is no text, which is packed.
const LONG_PACKED: u64 = 1 << 18;

/// Bytes of a piece of text; small enough that the threads share them evenly.
const PIECE: usize = 1 << 21;

/// Longest line or quoted cell that is believed to be one.
const LONGEST_LINE: usize = 1 << 22;

/// A file that is not kept.
#[derive(Debug, Clone)]
pub struct Long {
    /// Where it is.
    pub path: PathBuf,
    /// Its pieces, where it is text.
    pub pieces: Vec<Piece>,
    /// What parts its cells.
    pub separator: u8,
}

/// Whole lines of a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Piece {
    /// First byte.
    pub from: u64,
    /// Bytes.
    pub length: usize,
    /// Number of its first line.
    pub line: u32,
    /// Lines.
    pub lines: u32,
}

impl Long {
    /// The bytes of a piece.
    pub fn bytes(&self, piece: &Piece) -> Result<Vec<u8>> {
        let mut file = File::open(&self.path)?;
        file.seek(SeekFrom::Start(piece.from))?;
        let mut bytes = Vec::with_capacity(piece.length);
        match file.take(piece.length as u64).read_to_end(&mut bytes)? == piece.length {
            true => Ok(bytes),
            false => Err(ErrorKind::UnexpectedEof.into()),
        }
    }

    /// The lines around a line, with the number of the first; nothing where it cannot be read any more.
    pub fn around(&self, line: u32) -> (Vec<u8>, u32) {
        let piece = self.pieces.iter().rfind(|piece| piece.line <= line);
        let read = piece.and_then(|piece| Some((self.bytes(piece).ok()?, piece.line)));
        read.unwrap_or((Vec::new(), line))
    }
}

impl Sources {
    /// Whether a table is a folder of files or a file too long to be kept.
    pub fn is_long(&self, name: &str) -> bool {
        let path = self.folder.join(name);
        let long = if has_ending(&path, "parquet") { LONG_PACKED } else { LONG_TEXT };
        let text = ["csv", "tsv", "txt", "parquet"].iter().any(|ending| has_ending(&path, ending));
        path.metadata().is_ok_and(|data| data.is_dir() || (text && data.is_file() && data.len() > long))
    }

    /// Opens the file, or every file of the folder, in the order of their names; `None` with a finding where one cannot be read.
    pub fn open_long(&mut self, name: &str, mentioned: Span, findings: &Findings) -> Option<Vec<FileId>> {
        if let Err(shut) = door::inside(&self.folder, name) {
            let (code, message, help) = self.shut(name, shut);
            findings.report(code, mentioned, message, help);
            return None;
        }
        let files = self.files_of(name);
        let opened = files.and_then(|files| {
            files
                .into_iter()
                .map(|name| Ok((Long::open(&self.folder.join(&name))?, name)))
                .collect::<Result<Vec<_>>>()
        });
        match opened {
            Ok(opened) => {
                let first = self.files.len() as u16;
                let add = |(long, name)| SourceFile { name, content: Content::Long(long) };
                self.files.extend(opened.into_iter().map(add));
                Some((first..self.files.len() as u16).map(FileId).collect())
            }
            Err(error) => {
                let (code, message, mut help) = unreadable(name, &self.folder.join(name), &error);
                if error.kind() == ErrorKind::InvalidData {
                    help = "close the quote that is open, or name the table itself if this is no table";
                }
                findings.report(code, mentioned, message, help);
                None
            }
        }
    }

    /// A long file.
    pub fn long(&self, file: FileId) -> Option<&Long> {
        match &self.files.get(file.0 as usize)?.content {
            Content::Long(long) => Some(long),
            _ => None,
        }
    }

    /// The names of the files of a table: itself, or those in its folder and the folders in it whose names do not begin with a dot.
    fn files_of(&self, name: &str) -> Result<Vec<String>> {
        if !self.folder.join(name).is_dir() {
            return Ok(vec![name.to_owned()]);
        }
        let mut files = Vec::new();
        for entry in self.folder.join(name).read_dir()? {
            let entry = entry?;
            let (kind, own) = (entry.file_type()?, entry.file_name());
            let inner = format!("{}/{}", name.trim_end_matches('/'), own.to_string_lossy());
            // A link could lead in circles or out of the study.
            match own.to_string_lossy().starts_with(['.', '_']) || kind.is_symlink() {
                true => {}
                false if kind.is_dir() => files.extend(self.files_of(&inner)?),
                false => files.push(inner),
            }
        }
        files.sort();
        Ok(files)
    }
}

fn has_ending(path: &Path, ending: &str) -> bool {
    path.extension().is_some_and(|own| own.eq_ignore_ascii_case(ending))
}

impl Long {
    fn open(path: &Path) -> Result<Long> {
        // A file that is no text is read by its own reader, which says nothing of why it cannot be opened.
        let pieces = match has_ending(path, "parquet") {
            true => File::open(path).map(|_| Vec::new())?,
            false => cut(path)?,
        };
        Ok(Long { path: path.to_owned(), pieces, separator: b',' })
    }

    /// The digest of the whole file.
    pub fn digest(&self) -> Result<Output<Sha256>> {
        let (mut file, mut hash, mut bytes) = (File::open(&self.path)?, Sha256::new(), vec![0; 1 << 18]);
        loop {
            match file.read(&mut bytes)? {
                0 => return Ok(hash.finalize()),
                n => hash.update(&bytes[..n]),
            }
        }
    }
}

/// Cuts a text at ends of lines that lie outside quotes.
fn cut(path: &Path) -> Result<Vec<Piece>> {
    let mut file = File::open(path)?;
    let (mut pieces, mut piece) = (Vec::new(), Piece { from: 0, length: 0, line: 1, lines: 0 });
    let (mut bytes, mut quoted) = (vec![0; PIECE], false);
    loop {
        let read = file.read(&mut bytes)?;
        if read == 0 {
            break;
        }
        let block = &bytes[..read];
        let quotes = memchr::memchr_iter(b'"', block).count();
        // Without quotes the last line end of the block is where to cut; with quotes the last one that lies outside them.
        let (end, lines_to_end) = match quotes {
            0 if !quoted => (memchr::memrchr(b'\n', block), None),
            _ => last_outside(block, &mut quoted),
        };
        let lines = memchr::memchr_iter(b'\n', block).count() as u32;
        match end {
            Some(end) => {
                let own = lines_to_end.unwrap_or(lines);
                piece.length += end + 1;
                piece.lines += own;
                pieces.push(piece);
                let from = piece.from + piece.length as u64;
                piece = Piece {
                    from,
                    length: read - end - 1,
                    line: piece.line + piece.lines,
                    lines: lines - own,
                };
            }
            None => {
                piece.length += read;
                piece.lines += lines;
                if piece.length > LONGEST_LINE {
                    return Err(Error::new(
                        ErrorKind::InvalidData,
                        "a line or a quoted cell is longer than 4 MiB",
                    ));
                }
            }
        }
    }
    if piece.length > 0 {
        pieces.push(Piece { lines: piece.lines + 1, ..piece });
    }
    Ok(pieces)
}

/// The last line end outside quotes, and how many line ends there are up to it.
fn last_outside(block: &[u8], quoted: &mut bool) -> (Option<usize>, Option<u32>) {
    let (mut end, mut to_end, mut lines) = (None, 0, 0);
    for at in memchr::memchr2_iter(b'"', b'\n', block) {
        match block[at] {
            b'"' => *quoted = !*quoted,
            _ => {
                lines += 1;
                if !*quoted {
                    (end, to_end) = (Some(at), lines);
                }
            }
        }
    }
    (end, Some(to_end))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_hold_whole_records_and_know_their_lines() {
        let row = "R1,\"a\nb\",1\n";
        let text = row.repeat(3 * PIECE / row.len());
        let file = std::env::temp_dir().join("fullshift-long-test.csv");
        std::fs::write(&file, &text).unwrap();
        let long = Long::open(&file).unwrap();
        std::fs::remove_file(&file).unwrap();
        assert!(long.pieces.len() > 2);
        let (mut from, mut line) = (0, 1);
        for piece in &long.pieces {
            assert_eq!((piece.from, piece.line), (from, line));
            let own = &text.as_bytes()[from as usize..from as usize + piece.length];
            assert!(own.starts_with(b"R1") && own.ends_with(b"1\n"));
            from += piece.length as u64;
            line += own.iter().filter(|&&b| b == b'\n').count() as u32;
        }
        assert_eq!(from as usize, text.len());
    }
}
