//! Dates and times as people and spreadsheets write them.

use super::grid::Epoch;
use chrono::{Datelike, FixedOffset, NaiveDate, NaiveDateTime, TimeDelta};

/// How the dates of a study's tables are written, beside the year-first form that is always understood.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Dates {
    /// Year first only.
    #[default]
    YearFirst,
    /// In this form of a day.
    Day(&'static str),
    /// As the number of days that a spreadsheet counts.
    Serial(Epoch),
}

/// The words for `dates:`.
pub const DATES: [(&str, Dates); 6] = [
    ("YYYY-MM-DD", Dates::YearFirst),
    ("DD.MM.YYYY", Dates::Day("%d.%m.%Y")),
    ("DD/MM/YYYY", Dates::Day("%d/%m/%Y")),
    ("MM/DD/YYYY", Dates::Day("%m/%d/%Y")),
    ("serial-1900", Dates::Serial(Epoch::Y1900)),
    ("serial-1904", Dates::Serial(Epoch::Y1904)),
];

const YEAR_FIRST: &str = "%Y-%m-%d";
const TIMES: [&str; 6] = [" %H:%M", "T%H:%M", " %H:%M:%S", "T%H:%M:%S", " %I:%M %p", " %I:%M:%S %p"];

/// A local date and time, with its offset from UTC where one stands behind it.
pub fn date_time(text: &str, dates: Dates) -> Option<(NaiveDateTime, Option<FixedOffset>)> {
    if let Some(moment) = usual(text.as_bytes()) {
        return Some((moment, None));
    }
    if let Some(moment) = serial(text, dates) {
        return Some((moment, None));
    }
    let (time, offset) = match text.rsplit_once(' ') {
        Some((time, offset)) if offset.starts_with(['+', '-']) => (time.trim(), Some(offset.parse().ok()?)),
        _ => (text, None),
    };
    let in_form = |day: &str| {
        TIMES.iter().find_map(|form| NaiveDateTime::parse_from_str(time, &format!("{day}{form}")).ok())
    };
    days(dates).find_map(in_form).filter(|t| of_our_time(t.date())).map(|t| (t, offset))
}

/// `2027-03-09 22:40`, to which nearly all times of a long table come: read digit by digit, as the forms below would read it.
fn usual(text: &[u8]) -> Option<NaiveDateTime> {
    let &[y1, y2, y3, y4, b'-', m1, m2, b'-', d1, d2, b' ' | b'T', h1, h2, b':', n1, n2] = text else {
        return None;
    };
    let number = |digits: &[u8]| {
        let digit = |sum: Option<u32>, b: &u8| Some(sum? * 10 + char::from(*b).to_digit(10)?);
        digits.iter().fold(Some(0), digit)
    };
    let date =
        NaiveDate::from_ymd_opt(number(&[y1, y2, y3, y4])? as i32, number(&[m1, m2])?, number(&[d1, d2])?);
    date.filter(|date| of_our_time(*date))?.and_hms_opt(number(&[h1, h2])?, number(&[n1, n2])?, 0)
}

/// A date alone.
pub fn date(text: &str, dates: Dates) -> Option<NaiveDate> {
    let written = days(dates).find_map(|day| NaiveDate::parse_from_str(text, day).ok());
    let counted = || serial(text, dates).filter(|_| !text.contains('.')).map(|moment| moment.date());
    written.filter(|date| of_our_time(*date)).or_else(counted)
}

/// The settings under which a text could be read, as `dates: DD/MM/YYYY`; several where its day and month could change
/// places. A date alone is one only where `day_suffices`.
pub fn other_forms(text: &str, day_suffices: bool) -> Vec<String> {
    let fits =
        |dates: Dates| date_time(text, dates).is_some() || (day_suffices && date(text, dates).is_some());
    let days = DATES.iter().filter(|(_, dates)| matches!(dates, Dates::Day(_)) && fits(*dates));
    days.map(|(word, _)| format!("`dates: {word}`")).collect()
}

fn days(dates: Dates) -> impl Iterator<Item = &'static str> {
    let own = if let Dates::Day(form) = dates { Some(form) } else { None };
    [YEAR_FIRST].into_iter().chain(own)
}

/// A year of two digits is none.
fn of_our_time(date: NaiveDate) -> bool {
    (1900..10_000).contains(&date.year())
}

/// The moment that a spreadsheet's count of days stands for, to the second.
pub fn serial(text: &str, dates: Dates) -> Option<NaiveDateTime> {
    let Dates::Serial(epoch) = dates else { return None };
    let days: f64 = text.parse().ok()?;
    // Serials before 61 lie in the weeks of which a spreadsheet knows a day too many; 2,958,466 is the year 10000.
    if !(61.0..2_958_466.0).contains(&days) {
        return None;
    }
    let (year, month, day) = match epoch {
        Epoch::Y1900 => (1899, 12, 30),
        Epoch::Y1904 => (1904, 1, 1),
    };
    let midnight = NaiveDate::from_ymd_opt(year, month, day)?.and_hms_opt(0, 0, 0)?;
    midnight.checked_add_signed(TimeDelta::seconds((days * 86_400.0).round() as i64))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str, dates: Dates) -> Option<String> {
        date_time(text, dates).map(|(t, _)| t.format("%Y-%m-%d %H:%M:%S").to_string())
    }

    /// The two ways of reading the usual form agree, on what is no time too.
    #[test]
    fn the_usual_form_is_read_as_the_forms_read_it() {
        for text in [
            "2027-03-09 22:40",
            "2027-03-09T22:40",
            "2028-02-29 00:00",
            "2027-02-29 00:00",
            "2027-13-09 22:40",
            "2027-03-09 24:00",
            "2027-03-09 22:60",
            "1899-12-31 23:59",
            "2o27-03-09 22:40",
        ] {
            let by_form = TIMES
                .iter()
                .find_map(|form| NaiveDateTime::parse_from_str(text, &format!("{YEAR_FIRST}{form}")).ok());
            assert_eq!(usual(text.as_bytes()), by_form.filter(|t| of_our_time(t.date())), "{text}");
        }
    }

    #[test]
    fn the_year_stands_first_unless_the_study_says_otherwise() {
        assert_eq!(shown("2027-03-09 22:40", Dates::YearFirst).as_deref(), Some("2027-03-09 22:40:00"));
        assert_eq!(shown("09.03.2027 22:40", Dates::YearFirst), None);
        assert_eq!(shown("09.03.2027 22:40", Dates::Day("%d.%m.%Y")).as_deref(), Some("2027-03-09 22:40:00"));
        assert_eq!(shown("9/3/2027 22:40", Dates::Day("%d/%m/%Y")).as_deref(), Some("2027-03-09 22:40:00"));
        assert_eq!(
            shown("3/9/2027 10:40 PM", Dates::Day("%m/%d/%Y")).as_deref(),
            Some("2027-03-09 22:40:00")
        );
        assert_eq!(shown("202'-03-09 22:40", Dates::YearFirst), None);
        assert_eq!(shown("09.03.27 22:40", Dates::Day("%d.%m.%Y")), None);
        assert_eq!(other_forms("09.03.2027 22:40", false), ["`dates: DD.MM.YYYY`"]);
        assert_eq!(other_forms("9/3/2027 22:40", false), ["`dates: DD/MM/YYYY`", "`dates: MM/DD/YYYY`"]);
        assert_eq!(other_forms("yesterday", true), [""; 0]);
    }

    /// ECMA-376, part 1, 18.17.4.2 and 18.17.4.3: in the 1900 system 1 January 2000 is 36526, in the 1904 system 35064
    /// (recalled); the two differ by 1462 days.
    #[test]
    fn serials_count_days_from_either_epoch() {
        let (old, new) = (Dates::Serial(Epoch::Y1900), Dates::Serial(Epoch::Y1904));
        assert_eq!(shown("36526", old).as_deref(), Some("2000-01-01 00:00:00"));
        assert_eq!(shown("35064.25", new).as_deref(), Some("2000-01-01 06:00:00"));
        assert_eq!(shown("61", old).as_deref(), Some("1900-03-01 00:00:00"));
        assert_eq!(shown("60", old), None);
        assert_eq!(date("36526", old), NaiveDate::from_ymd_opt(2000, 1, 1));
    }
}
