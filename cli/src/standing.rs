//! What stands already where files are to be written, and what becomes of it.

use crate::failure::Failure;
use fullshift_engine::model::assessment::InputFile;
use std::path::{Path, PathBuf};

/// The files that a result was found from: no result is written over one of them.
#[derive(Debug)]
pub(crate) struct Inputs {
    files: Vec<PathBuf>,
    /// Folders of which every file may be part of a table.
    folders: Vec<PathBuf>,
}

#[cfg(test)]
pub(crate) static NO_INPUTS: Inputs = Inputs { files: Vec::new(), folders: Vec::new() };

impl Inputs {
    /// The files read of the study at `study`, wherever links lead.
    pub(crate) fn of(study: &Path, files: &[InputFile]) -> Self {
        let folder = if study.is_dir() { study } else { study.parent().unwrap_or(Path::new("")) };
        let there = |name: &Path| folder.join(name).canonicalize().ok();
        let above = files.iter().flat_map(|input| Path::new(&input.file).ancestors().skip(1));
        Inputs {
            files: files.iter().filter_map(|input| there(input.file.as_ref())).collect(),
            folders: above.filter(|name| !name.as_os_str().is_empty()).filter_map(there).collect(),
        }
    }

    /// Refuses to write files of these names into a folder where one of them would take the place of an input or lie among them.
    fn refuse(&self, folder: &Path, names: &[&str]) -> Result<(), Failure> {
        let is_input = |path: &PathBuf| path.canonicalize().is_ok_and(|path| self.files.contains(&path));
        let target = names.iter().map(|name| folder.join(name)).find(is_input);
        let standing = folder.ancestors().find_map(|folder| folder.canonicalize().ok());
        let among = standing.is_some_and(|path| self.folders.iter().any(|own| path.starts_with(own)));
        let words = match target {
            Some(input) => format!("{} is one of the files that the study is read from", input.display()),
            None if among => format!("{} lies among the files that the study is read from", folder.display()),
            None => return Ok(()),
        };
        let remedy = "Nothing was written: a result never takes the place of what was entered. Choose another folder or name.";
        Err(Failure::command(words, remedy))
    }
}

/// What happens to a file that is there already.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Existing<'a> {
    /// It was named itself: it is replaced in one move, unless it is an input.
    Replace(&'a Inputs),
    /// It is replaced in one move, unless it is an input or none of these files beside it shows that this program wrote it.
    Renew(&'a Inputs, &'a [&'a str]),
    /// It stays, and nothing at all is written.
    Keep,
}

impl Existing<'_> {
    /// Refuses to write files of these names into a folder where one of them must stay.
    pub(crate) fn allow(&self, folder: &Path, names: &[&str]) -> Result<(), Failure> {
        let (inputs, marks) = match self {
            Existing::Replace(inputs) => (inputs, None),
            Existing::Renew(inputs, marks) => (inputs, Some(marks)),
            Existing::Keep => return Ok(()),
        };
        inputs.refuse(folder, names)?;
        let marks = marks.filter(|marks| taken(folder, marks.iter().copied()).is_empty());
        let is_file = |name: &&str| folder.join(name).is_file();
        let strange: Vec<&str> =
            marks.map_or(Vec::new(), |_| names.iter().copied().filter(is_file).collect());
        match (strange.as_slice(), marks) {
            ([_, ..], Some(marks)) => Err(Failure::command(
                format!(
                    "{} holds {} already, but no {} that would show that it was written here before",
                    folder.display(),
                    strange.join(", "),
                    marks.join(" or ")
                ),
                "Nothing was written: it may be somebody's data. Choose an empty or a new folder, or move the file away.",
            )),
            _ => Ok(()),
        }
    }
}

/// The names among `names` that are taken in `folder`.
pub(crate) fn taken<'a>(folder: &Path, names: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    names.filter(|name| folder.join(name).symlink_metadata().is_ok()).collect()
}
