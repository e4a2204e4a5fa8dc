//! What may be opened: ordinary files that lie in the folder of the study and are no larger than one can be.

use std::fs::{File, Metadata};
use std::io::{Error, ErrorKind, Read, Result};
use std::path::{Component, Path};

/// Most bytes of a file that is kept whole.
const MOST_BYTES: u64 = 256 << 20;

/// Why a file is not opened.
pub enum Shut {
    /// In words, with what to do.
    Refused(String, &'static str),
    /// The system's own reason.
    Failed(Error),
}

/// Whether a name stays within the folder of the study, by itself and by the links on its way.
pub fn inside(folder: &Path, name: &str) -> std::result::Result<(), Shut> {
    let plain = |c| matches!(c, Component::Normal(_) | Component::CurDir);
    if !Path::new(name).components().all(plain) {
        return Err(Shut::Refused(
            format!("{name} lies outside the folder of the study"),
            "put the file beside study.yaml and give its name only",
        ));
    }
    let path = folder.join(name);
    let own = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    match (own.canonicalize(), path.canonicalize()) {
        (Ok(folder), Ok(path)) if !path.starts_with(&folder) => Err(Shut::Refused(
            format!("{name} is a link that leads out of the folder of the study"),
            "put the file itself beside study.yaml, so that the study can be handed on whole",
        )),
        (Ok(_), Err(error)) if is_link(&path) && error.kind() != ErrorKind::NotFound => Err(Shut::Refused(
            format!("{name} is a link that leads to no file"),
            "put the file itself beside study.yaml",
        )),
        _ => Ok(()),
    }
}

fn is_link(path: &Path) -> bool {
    path.symlink_metadata().is_ok_and(|own| own.file_type().is_symlink())
}

/// The bytes of a file. Pipes and devices, which may never end, are not opened.
pub fn bytes(folder: &Path, name: &str) -> std::result::Result<Vec<u8>, Shut> {
    let path = folder.join(name);
    let data = path.metadata().map_err(Shut::Failed)?;
    if !data.is_file() && !data.is_dir() {
        return Err(Shut::Refused(
            format!("{name} is no ordinary file but a pipe or a device"),
            "save what it holds as a file beside study.yaml",
        ));
    }
    let bytes = read(&path, &data).map_err(Shut::Failed)?;
    match bytes.len() as u64 > MOST_BYTES {
        true => Err(Shut::Refused(
            format!("{name} has more than {} MB, which is larger than it can be", MOST_BYTES >> 20),
            "keep what belongs to this study; a long table is best stored as Parquet",
        )),
        false => Ok(bytes),
    }
}

/// All bytes, or one more than may be.
fn read(path: &Path, data: &Metadata) -> Result<Vec<u8>> {
    let mut bytes = Vec::new();
    if data.len() <= MOST_BYTES {
        bytes.reserve_exact(data.len() as usize + 1);
    }
    File::open(path)?.take(MOST_BYTES + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}
