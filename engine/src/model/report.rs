//! What the user adds to the written report: words of their own and a logo.

use serde::Serialize;

/// The language of the written report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum ReportLanguage {
    /// English.
    #[serde(rename = "en")]
    English,
    /// German.
    #[serde(rename = "de")]
    German,
}

/// The part `report` of the study file; texts are Markdown.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct ReportWords {
    /// The language, where the study chooses one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub language: Option<ReportLanguage>,
    /// Why and where the study was made.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub background: Option<String>,
    /// The controls seen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub controls: Option<String>,
    /// What the assessor recommends.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub recommendations: Option<String>,
    /// A logo for the head of the report.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub logo: Option<Logo>,
}

/// A picture that stands at the head of the report.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Logo {
    /// File name, relative to the study.
    pub file: String,
    /// Its kind.
    pub kind: PictureKind,
    /// Width and height in pixels.
    pub size: (u32, u32),
    /// Its bytes.
    #[serde(skip)]
    pub bytes: Vec<u8>,
}

/// A kind of picture that every medium of the report can hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum PictureKind {
    /// PNG.
    Png,
    /// JPEG.
    Jpeg,
}
