//! One cell of a sheet as the text that stands for it in a table.

use crate::read::table::grid::Epoch;
use crate::read::table::moment::{Dates, serial};
use calamine::DataRef;

/// The text of a value whose number format is `format`; the error is what the cell shows in its place.
pub fn text(value: &DataRef<'_>, format: &str, epoch: Epoch) -> Result<String, String> {
    Ok(match value {
        DataRef::Empty => String::new(),
        DataRef::String(text) => text.clone(),
        DataRef::SharedString(text) => (*text).to_owned(),
        DataRef::Bool(answer) => answer.to_string(),
        DataRef::Int(number) => shown(*number as f64, format),
        DataRef::Float(number) => shown(*number, format),
        DataRef::DateTime(counted) => moment(counted.as_f64(), format, epoch),
        DataRef::DateTimeIso(text) | DataRef::DurationIso(text) => text.replace('T', " "),
        DataRef::Error(error) => return Err(error.to_string()),
    })
}

/// A number; in a format of per cent, with its sign.
fn shown(number: f64, format: &str) -> String {
    match unquoted(format).contains('%') {
        // A hundredth has no end in binary: twelve digits are more than anybody types.
        true => format!("{} %", (number * 1e14).round() / 1e12),
        false => number.to_string(),
    }
}

/// A count of days: a date, a date and time, or a time of the day alone.
fn moment(days: f64, format: &str, epoch: Epoch) -> String {
    let Some(moment) = serial(&days.to_string(), Dates::Serial(epoch)) else { return time(days) };
    let timed = days.fract() != 0.0 || unquoted(format).to_lowercase().contains('h');
    let seconds = moment.format("%S").to_string();
    moment
        .format(match (timed, seconds.as_str()) {
            (false, _) => "%Y-%m-%d",
            (true, "00") => "%Y-%m-%d %H:%M",
            (true, _) => "%Y-%m-%d %H:%M:%S",
        })
        .to_string()
}

fn time(days: f64) -> String {
    let minutes = (days * 1440.0).round() as i64;
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

/// A number format without the texts that stand in it in quotes.
fn unquoted(format: &str) -> String {
    format.split('"').step_by(2).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn float(number: f64, format: &str) -> String {
        text(&DataRef::Float(number), format, Epoch::Y1900).unwrap_or_default()
    }

    #[test]
    fn a_number_in_per_cent_keeps_its_sign() {
        assert_eq!(float(0.57, "0%"), "57 %");
        assert_eq!(float(0.57, "General"), "0.57");
        assert_eq!(float(12.0, "General"), "12");
        assert_eq!(float(76.0, "0\" %\""), "76");
    }

    /// ECMA-376, part 1, 18.17.4.2 (recalled): 36526 is 1 January 2000.
    #[test]
    fn a_count_of_days_becomes_a_date_with_the_time_that_its_format_shows() {
        assert_eq!(moment(36526.0, "yyyy-mm-dd", Epoch::Y1900), "2000-01-01");
        assert_eq!(moment(36526.0, "yyyy-mm-dd hh:mm", Epoch::Y1900), "2000-01-01 00:00");
        assert_eq!(moment(36526.75, "yyyy-mm-dd", Epoch::Y1900), "2000-01-01 18:00");
        assert_eq!(moment(36526.7500115741, "General", Epoch::Y1900), "2000-01-01 18:00:01");
        assert_eq!(moment(0.25, "hh:mm", Epoch::Y1900), "06:00");
    }
}
