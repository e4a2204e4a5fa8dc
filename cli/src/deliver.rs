//! Files are written whole or not at all: first every one under a temporary name in the same folder, then the renames.

use crate::failure::Failure;
use crate::standing::Existing;
use std::cell::RefCell;
use std::fs;
use std::io::{Error, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use tempfile::{Builder, NamedTempFile};

/// A file to be delivered: its name and its bytes.
pub(crate) type Parcel<'a> = (&'a str, &'a [u8]);

/// Parcels for one folder.
pub(crate) type Shipment<'a> = (&'a Path, Vec<Parcel<'a>>);

/// Writes all parcels into `folder`, which is made where it is missing, or leaves everything as it was.
pub(crate) fn deliver(folder: &Path, parcels: &[Parcel<'_>], existing: Existing<'_>) -> Result<(), Failure> {
    deliver_all(&[(folder, parcels.to_vec())], existing)
}

/// Writes all parcels into all folders, which are made where they are missing, or leaves everything as it was.
pub(crate) fn deliver_all(shipments: &[Shipment<'_>], existing: Existing<'_>) -> Result<(), Failure> {
    for (folder, parcels) in shipments {
        let names: Vec<&str> = parcels.iter().map(|(name, _)| *name).collect();
        existing.allow(folder, &names)?;
    }
    let mut made = Vec::new();
    let outcome = stage_all(shipments, &mut made).and_then(|staged| place(staged, existing));
    if outcome.is_err() {
        for folder in made.iter().rev() {
            let _ = fs::remove_dir(folder);
        }
    }
    outcome
}

/// Every parcel under a temporary name in its folder; `made` gets the folders that were made, outermost first.
fn stage_all(shipments: &[Shipment<'_>], made: &mut Vec<PathBuf>) -> Result<Vec<Staged>, Failure> {
    let mut staged = Vec::new();
    for (folder, parcels) in shipments {
        let new = make_folder(folder).map_err(|e| at("cannot make the folder", folder, &e))?;
        made.extend(new.into_iter().rev());
        staged.extend(stage(folder, parcels)?);
    }
    Ok(staged)
}

/// Files for one folder that are written over a long time: all of them get their names at the end, or none.
pub(crate) struct Pending<'a> {
    folder: &'a Path,
    made: Vec<PathBuf>,
    staged: RefCell<Vec<Staged>>,
    refused: Refused,
}

/// Why a file could not be written; the first reason.
type Refused = Arc<Mutex<Option<Failure>>>;

/// A file that remembers why it could not be written: a table writer that is given it tells that in words of its own.
pub(crate) struct Open {
    file: fs::File,
    target: PathBuf,
    refused: Refused,
}

impl Open {
    fn remember<T>(&self, outcome: Result<T, Error>) -> Result<T, Error> {
        outcome.inspect_err(|error| {
            if error.kind() != ErrorKind::Interrupted {
                let mut refused = self.refused.lock().unwrap_or_else(PoisonError::into_inner);
                refused.get_or_insert_with(|| at("cannot write", &self.target, error));
            }
        })
    }
}

impl Write for Open {
    fn write(&mut self, bytes: &[u8]) -> Result<usize, Error> {
        let written = self.file.write(bytes);
        self.remember(written)
    }

    fn flush(&mut self) -> Result<(), Error> {
        let flushed = self.file.flush();
        self.remember(flushed)
    }
}

impl<'a> Pending<'a> {
    /// Makes the folder where it is missing.
    pub(crate) fn in_folder(folder: &'a Path) -> Result<Self, Failure> {
        let made = make_folder(folder).map_err(|e| at("cannot make the folder", folder, &e))?;
        Ok(Pending { folder, made, staged: RefCell::default(), refused: Refused::default() })
    }

    /// Opens a file under a temporary name.
    pub(crate) fn open(&self, name: &str) -> Result<Open, Error> {
        let target = self.folder.join(name);
        if target.is_dir() {
            return Err(Error::from(ErrorKind::IsADirectory));
        }
        let file = empty_in(self.folder)?;
        let open = Open { file: file.as_file().try_clone()?, target, refused: self.refused.clone() };
        self.staged.borrow_mut().push(Staged { target: open.target.clone(), file });
        Ok(open)
    }

    /// Why one of the files could not be written, where that was so.
    pub(crate) fn refused(&self) -> Option<Failure> {
        self.refused.lock().unwrap_or_else(PoisonError::into_inner).take()
    }

    /// Gives every file its name, and says which names.
    pub(crate) fn deliver(mut self, existing: Existing<'_>) -> Result<Vec<String>, Failure> {
        let staged = self.staged.take();
        let name = |staged: &Staged| staged.target.file_name().map(|n| n.to_string_lossy().into_owned());
        let names: Vec<String> = staged.iter().filter_map(name).collect();
        existing.allow(self.folder, &names.iter().map(String::as_str).collect::<Vec<_>>())?;
        for Staged { target, file } in &staged {
            file.as_file().sync_all().map_err(|e| at("cannot write", target, &e))?;
        }
        place(staged, existing)?;
        self.made.clear();
        Ok(names)
    }
}

impl Drop for Pending<'_> {
    fn drop(&mut self) {
        self.staged.take();
        for folder in &self.made {
            let _ = fs::remove_dir(folder);
        }
    }
}

/// Makes `folder` and gives the folders that were made for it, innermost first.
fn make_folder(folder: &Path) -> Result<Vec<PathBuf>, Error> {
    let missing: Vec<PathBuf> = folder
        .ancestors()
        .take_while(|f| !f.as_os_str().is_empty() && !f.exists())
        .map(Path::to_path_buf)
        .collect();
    match fs::create_dir_all(folder) {
        Ok(()) if folder.is_dir() => Ok(missing),
        Ok(()) => Err(Error::from(ErrorKind::NotADirectory)),
        Err(error) => {
            for folder in &missing {
                let _ = fs::remove_dir(folder);
            }
            Err(if folder.is_file() { Error::from(ErrorKind::NotADirectory) } else { error })
        }
    }
}

/// A file under its temporary name, with the name that it is to get; dropping it removes it again.
struct Staged {
    target: PathBuf,
    file: NamedTempFile,
}

fn stage(folder: &Path, parcels: &[Parcel<'_>]) -> Result<Vec<Staged>, Failure> {
    parcels
        .iter()
        .map(|&(name, bytes)| {
            let target = folder.join(name);
            if target.is_dir() {
                return Err(at("cannot write", &target, &Error::from(ErrorKind::IsADirectory)));
            }
            let file = temporary(folder, bytes).map_err(|e| at("cannot write", &target, &e))?;
            Ok(Staged { target, file })
        })
        .collect()
}

fn empty_in(folder: &Path) -> Result<NamedTempFile, Error> {
    let mut builder = temporary_name();
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    builder.tempfile_in(folder)
}

fn temporary(folder: &Path, bytes: &[u8]) -> Result<NamedTempFile, Error> {
    let mut file = empty_in(folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    Ok(file)
}

/// Gives every file its name; where one cannot get it, everything placed before it is taken back.
fn place(staged: Vec<Staged>, existing: Existing<'_>) -> Result<(), Failure> {
    let mut placed: Vec<Placed> = Vec::new();
    for Staged { target, file } in staged {
        let before = Before::of(&target);
        let outcome = match existing {
            Existing::Replace(_) | Existing::Renew(..) => file.persist(&target),
            Existing::Keep => file.persist_noclobber(&target),
        };
        if let Err(refused) = outcome {
            placed.into_iter().rev().for_each(Placed::take_back);
            return Err(at("cannot write", &target, &refused.error));
        }
        placed.push(Placed { target, before });
    }
    // The names outlive a power cut only once the folder itself is on the disk; not every system offers that.
    for folder in placed.iter().filter_map(|placed| placed.target.parent()) {
        let _ = fs::File::open(folder).and_then(|f| f.sync_all());
    }
    Ok(())
}

/// A file that has got its name, and what had that name before.
struct Placed {
    target: PathBuf,
    before: Before,
}

enum Before {
    Nothing,
    /// A second name of the former file, gone when it is dropped.
    Kept(NamedTempFile<()>),
    /// The file system knows no second names.
    Lost,
}

impl Before {
    fn of(target: &Path) -> Self {
        let folder = target.parent().unwrap_or(Path::new("."));
        match temporary_name().make_in(folder, |path| fs::hard_link(target, path)) {
            Ok(kept) => Before::Kept(kept),
            Err(error) if error.kind() == ErrorKind::NotFound => Before::Nothing,
            Err(_) => Before::Lost,
        }
    }
}

impl Placed {
    fn take_back(self) {
        match self.before {
            Before::Nothing => drop(fs::remove_file(&self.target)),
            Before::Kept(former) => drop(former.persist(&self.target)),
            Before::Lost => {}
        }
    }
}

fn temporary_name() -> Builder<'static, 'static> {
    let mut builder = Builder::new();
    builder.prefix(".fullshift-").suffix(".part");
    builder
}

fn at(what: &str, path: &Path, error: &Error) -> Failure {
    Failure::machine(&format!("{what} {}", path.display()), error)
}

#[cfg(test)]
#[path = "deliver_tests.rs"]
mod tests;
