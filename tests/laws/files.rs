//! A study as its files, which a law may change, and what is made of them.

use fullshift_tests::assessment;
use serde_json::Value;
use std::path::Path;

/// The settings, and the rows of every table.
#[derive(Debug, Clone)]
pub struct Files {
    pub settings: String,
    pub readings: Table,
    pub diary: Table,
    pub leak_checks: Table,
}

/// A table: the names of its columns, and its rows.
#[derive(Debug, Clone)]
pub struct Table {
    pub columns: &'static str,
    pub rows: Vec<String>,
}

impl Table {
    pub fn of(columns: &'static str) -> Table {
        Table { columns, rows: Vec::new() }
    }

    /// The table as text, with some of its rows.
    pub fn text(&self, rows: &[String]) -> String {
        let lines = std::iter::once(self.columns).chain(rows.iter().map(String::as_str));
        lines.collect::<Vec<_>>().join("\n") + "\n"
    }
}

impl Files {
    /// Lays the files into a folder.
    pub fn lay(&self, folder: &Path) {
        std::fs::write(folder.join("study.yaml"), &self.settings).unwrap();
        let tables =
            [("readings", &self.readings), ("diary", &self.diary), ("leak_checks", &self.leak_checks)];
        for (name, table) in tables {
            std::fs::write(folder.join(format!("{name}.csv")), table.text(&table.rows)).unwrap();
        }
    }

    /// The assessment of the study.
    pub fn assessed(&self) -> Value {
        let folder = tempfile::tempdir().unwrap();
        self.lay(folder.path());
        assessment(folder.path())
    }
}

/// A moment so many minutes after the first of March 2027.
pub fn moment(minutes: u32) -> String {
    let (day, minute) = (minutes / 1440, minutes % 1440);
    format!("2027-03-{:02} {:02}:{:02}", day + 1, minute / 60, minute % 60)
}
