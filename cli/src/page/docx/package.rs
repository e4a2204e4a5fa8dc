//! The parts of a document in one file.

use std::io::{Cursor, Write};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

/// A part: its path within the file and its bytes.
pub(super) type Part = (String, Vec<u8>);

/// All parts in one file, without the time at which it was made.
pub(super) fn zipped(parts: &[Part]) -> Result<Vec<u8>, String> {
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .last_modified_time(DateTime::default());
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (path, bytes) in parts {
        zip.start_file(path.as_str(), options).map_err(|error| error.to_string())?;
        zip.write_all(bytes).map_err(|error| error.to_string())?;
    }
    Ok(zip.finish().map_err(|error| error.to_string())?.into_inner())
}
