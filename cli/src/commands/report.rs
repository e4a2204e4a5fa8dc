//! `report`: the written report, in as many forms as are asked for, all or none of them.

use super::check;
use super::no_such_group;
use crate::arguments::{Report, Tongue};
use crate::border::Border;
use crate::deliver::{Shipment, deliver_all};
use crate::failure::Failure;
use crate::language::{self, Language};
use crate::page::{Document, docx, html, markdown};
use crate::report::{Copy, document, only_group, without_names};
use crate::standing::{Existing, Inputs};
use fullshift_engine::model::{Assessment, ReportLanguage};
use std::path::{Path, PathBuf};

/// The files of one form of the report: names and bytes.
type Files = Vec<(String, Vec<u8>)>;

/// A form of the report: its extension, and how its files are made; the stem is the name without the extension.
struct Form {
    extension: &'static str,
    files: fn(&Document, name: &str, stem: &str) -> Result<Files, Failure>,
}

const FORMS: [Form; 3] = [
    Form {
        extension: "html",
        files: |document, name, _| Ok(vec![(name.to_owned(), html::document(document).into_bytes())]),
    },
    Form { extension: "docx", files: |document, name, _| Ok(vec![(name.to_owned(), word_file(document)?)]) },
    Form { extension: "md", files: markdown_files },
];

pub(super) fn run(typed: &Report, border: &mut Border<'_>) -> Result<(), Failure> {
    let targets = typed.out.iter().map(|out| Target::of(out)).collect::<Result<Vec<_>, _>>()?;
    refuse_twice(&targets)?;
    let assessment =
        fullshift_engine::assessment(&typed.study, typed.group.as_deref()).map_err(|stopped| {
            check::tell_why(&stopped.findings, border);
            Failure::Study
        })?;
    let language = chosen(typed, &assessment);
    let inputs = Inputs::of(&typed.study, &assessment.inputs);
    let (assessment, copy) = narrowed(typed, assessment)?;
    let document = document(&assessment, &copy, language);
    let files: Vec<Files> = targets.iter().map(|target| target.files(&document)).collect::<Result<_, _>>()?;
    let shipments: Vec<Shipment<'_>> = targets
        .iter()
        .zip(&files)
        .map(|(target, files)| {
            (target.folder, files.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice())).collect())
        })
        .collect();
    deliver_all(&shipments, Existing::Replace(&inputs))?;
    let names: Vec<String> = typed.out.iter().map(|out| out.display().to_string()).collect();
    border.say(&format!("Written: {}\n", names.join(", ")));
    Ok(())
}

/// A file to be written: its folder, its name, its form.
struct Target<'a> {
    folder: &'a Path,
    name: &'a str,
    stem: &'a str,
    form: &'static Form,
}

impl<'a> Target<'a> {
    fn of(out: &'a Path) -> Result<Self, Failure> {
        let extension = out.extension().and_then(|e| e.to_str()).unwrap_or_default().to_lowercase();
        let form = FORMS.iter().find(|form| form.extension == extension);
        let named = out.file_name().and_then(|n| n.to_str()).zip(out.file_stem().and_then(|s| s.to_str()));
        match (form, named) {
            (Some(form), Some((name, stem))) => {
                let folder = out.parent().filter(|folder| !folder.as_os_str().is_empty());
                Ok(Target { folder: folder.unwrap_or(Path::new(".")), name, stem, form })
            }
            _ => {
                let known: Vec<String> = FORMS.iter().map(|form| format!(".{}", form.extension)).collect();
                Err(Failure::command(
                    format!("{} names no form of report", out.display()),
                    format!("End the name with one of {}.", known.join(", ")),
                ))
            }
        }
    }

    fn files(&self, document: &Document) -> Result<Files, Failure> {
        (self.form.files)(document, self.name, self.stem)
    }

    fn path(&self) -> PathBuf {
        let plain = self.folder.components().filter(|c| *c != std::path::Component::CurDir);
        plain.collect::<PathBuf>().join(self.name)
    }
}

fn refuse_twice(targets: &[Target<'_>]) -> Result<(), Failure> {
    for (at, target) in targets.iter().enumerate() {
        if targets[..at].iter().any(|other| other.path() == target.path()) {
            return Err(Failure::command(
                format!("{} is named twice", target.path().display()),
                "Give each report a name of its own.",
            ));
        }
    }
    Ok(())
}

fn chosen(typed: &Report, assessment: &Assessment) -> &'static Language {
    let typed = typed.language.map(|tongue| match tongue {
        Tongue::En => ReportLanguage::English,
        Tongue::De => ReportLanguage::German,
    });
    language::of(typed.or(assessment.study.report.language).unwrap_or(ReportLanguage::English))
}

/// The part of the assessment that the copy may tell.
fn narrowed(typed: &Report, assessment: Assessment) -> Result<(Assessment, Copy), Failure> {
    let mut copy = Copy { anonymous: typed.anonymous, ..Copy::default() };
    let mut told = assessment;
    if let Some(group) = &typed.group {
        let groups: Vec<String> = told.study.groups.iter().map(|g| g.group.clone()).collect();
        let (own, left_out) = only_group(told, group).ok_or_else(|| no_such_group(group, &groups))?;
        copy.findings_left_out = left_out;
        told = own;
    }
    if typed.anonymous {
        told = without_names(told);
    }
    copy.group = typed.group.as_ref().and_then(|_| told.study.groups.first()).map(|g| g.group.clone());
    Ok((told, copy))
}

fn word_file(document: &Document) -> Result<Vec<u8>, Failure> {
    docx::document(document).map_err(|words| {
        Failure::machine("the report could not be written as .docx", &std::io::Error::other(words))
    })
}

fn markdown_files(document: &Document, name: &str, stem: &str) -> Result<Files, Failure> {
    let (text, drawings) = markdown::document(document, stem);
    Ok(std::iter::once((name.to_owned(), text.into_bytes())).chain(drawings).collect())
}
