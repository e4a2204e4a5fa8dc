//! What is wrong with a text that should be a date and time, and what would be right.

use super::moment::{Dates, other_forms};
use chrono::{Datelike, Days, NaiveDate};

/// What is wrong, and what to do about it.
type Slip = (String, String);

/// The form that is always understood.
const USUAL: &str = "write it as 2027-03-09 22:40";

/// Finds the slip in a text that is no moment; `day_suffices` where a date alone would have been one.
pub fn slip(text: &str, dates: Dates, day_suffices: bool) -> Slip {
    let (day, time) = parted(text);
    let time_alone = day.is_empty().then(|| {
        (format!("`{text}` has no date"), format!("write the day before the time, as 2027-03-09 {text}"))
    });
    let parts = numbers(day, ['-', '.', '/']).filter(|parts| parts.len() == 3);
    let year = parts.as_ref().and_then(|parts| short_year(text, parts));
    let date = parts.and_then(|parts| in_order(&parts, dates));
    let found = time_alone.or(year).or_else(|| impossible_day(date?)).or_else(|| {
        let known = date.map(|(year, month, day)| (year as i32, month, day));
        let known = known.and_then(|(year, month, day)| NaiveDate::from_ymd_opt(year, month, day));
        match time {
            "" => known.filter(|_| !day_suffices).map(|day| {
                (format!("`{text}` has no time of day"), format!("write the time behind it, as {day} 07:05"))
            }),
            time => impossible_time(text, time, known),
        }
    });
    found.unwrap_or_else(|| another_form(text, day_suffices))
}

/// The day and the time of a text; one of them is empty where it is not there.
fn parted(text: &str) -> (&str, &str) {
    match text.split_once([' ', 'T']) {
        Some((day, time)) => (day, time.trim()),
        None if numbers(text, [':', ':', ':']).is_some_and(|parts| parts.len() > 1) => ("", text),
        None => (text, ""),
    }
}

/// The numbers between separators; `None` where there is anything else.
fn numbers(text: &str, separators: [char; 3]) -> Option<Vec<&str>> {
    let parts: Vec<&str> = text.split(separators).collect();
    let is_number = |part: &&str| (1..=4).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
    parts.iter().all(is_number).then_some(parts)
}

fn short_year(text: &str, parts: &[&str]) -> Option<Slip> {
    parts.iter().all(|part| part.len() < 3).then(|| {
        (
            format!("the year in `{text}` does not have four digits"),
            "write all four, as 2027; 2027-03-09 22:40 is always understood".to_owned(),
        )
    })
}

/// Year, month and day, where the text or the study says which is which.
fn in_order(parts: &[&str], dates: Dates) -> Option<(u32, u32, u32)> {
    let numbers: Vec<u32> = parts.iter().filter_map(|part| part.parse().ok()).collect();
    let &[first, second, third] = numbers.as_slice() else { return None };
    match dates {
        _ if parts[0].len() == 4 => Some((first, second, third)),
        Dates::Day(form) if form.starts_with("%m") => Some((third, first, second)),
        Dates::Day(_) => Some((third, second, first)),
        _ => None,
    }
}

fn impossible_day((year, month, day): (u32, u32, u32)) -> Option<Slip> {
    let help = "check the date".to_owned();
    let Some(first) = NaiveDate::from_ymd_opt(year as i32, month, 1) else {
        return Some((format!("there is no month {month}"), help));
    };
    let days = u32::from(first.num_days_in_month());
    (!(1..=days).contains(&day))
        .then(|| (format!("{} has {days} days, and no day {day}", first.format("%B %Y")), help))
}

/// What is wrong with the time of a text; `day` is its date, where that could be read.
fn impossible_time(text: &str, time: &str, day: Option<NaiveDate>) -> Option<Slip> {
    let clock = time.split(' ').next().unwrap_or(time);
    let parts: Vec<u32> =
        numbers(clock, [':', ':', ':'])?.iter().filter_map(|part| part.parse().ok()).collect();
    let help = || "check the time".to_owned();
    match parts.as_slice() {
        [24, 0] | [24, 0, 0] => {
            let next = day.and_then(|day| day.checked_add_days(Days::new(1)));
            let help = match next {
                Some(next) => format!("write {next} 00:00"),
                None => "write 00:00 of the next day".to_owned(),
            };
            Some((format!("`{text}` is 00:00 of the next day"), help))
        }
        [hour, _, ..] if *hour > 23 => {
            Some((format!("a day has the hours 00 to 23, and no hour {hour}"), help()))
        }
        [_, minute, ..] if *minute > 59 => {
            Some((format!("an hour has the minutes 00 to 59, and no minute {minute}"), help()))
        }
        [_] if day.is_some() && clock.len() > 2 => Some((
            format!("the time in `{text}` has no colon"),
            "write a colon between hours and minutes, as 07:05".to_owned(),
        )),
        _ => None,
    }
}

/// A date in a form that the study could name, or no date at all.
fn another_form(text: &str, day_suffices: bool) -> Slip {
    let message = format!("`{text}` is not a date and time");
    let forms = other_forms(text, day_suffices);
    match forms.is_empty() {
        true => (message, USUAL.to_owned()),
        false => {
            let forms = forms.join(" or ");
            (message, format!("{USUAL}, or say under `tables` in the study how dates are written: {forms}"))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const GERMAN: Dates = Dates::Day("%d.%m.%Y");

    fn told(text: &str, dates: Dates) -> String {
        let (message, help) = slip(text, dates, false);
        format!("{message}: {help}")
    }

    #[test]
    fn the_part_that_is_missing_is_named() {
        let usual = |text| told(text, Dates::YearFirst);
        assert_eq!(
            usual("2027-03-09"),
            "`2027-03-09` has no time of day: write the time behind it, as 2027-03-09 07:05"
        );
        assert_eq!(
            told("09.03.2027", GERMAN),
            "`09.03.2027` has no time of day: write the time behind it, as 2027-03-09 07:05"
        );
        assert_eq!(usual("07:05"), "`07:05` has no date: write the day before the time, as 2027-03-09 07:05");
        assert!(usual("9.3.27 07:05").starts_with("the year in `9.3.27 07:05` does not have four digits: "));
        assert!(usual("2027-03-09 0705").starts_with("the time in `2027-03-09 0705` has no colon: "));
    }

    #[test]
    fn the_part_that_cannot_be_is_named() {
        let usual = |text| told(text, Dates::YearFirst);
        assert_eq!(usual("2027-02-30 07:05"), "February 2027 has 28 days, and no day 30: check the date");
        assert_eq!(
            told("30.02.2028 07:05", GERMAN),
            "February 2028 has 29 days, and no day 30: check the date"
        );
        assert_eq!(usual("2027-13-09 07:05"), "there is no month 13: check the date");
        assert_eq!(
            usual("2027-03-09 07:60"),
            "an hour has the minutes 00 to 59, and no minute 60: check the time"
        );
        assert_eq!(usual("2027-03-09 25:10"), "a day has the hours 00 to 23, and no hour 25: check the time");
    }

    #[test]
    fn midnight_at_the_end_of_a_day_is_that_of_the_next() {
        let said = "`2027-12-31 24:00` is 00:00 of the next day: write 2028-01-01 00:00";
        assert_eq!(told("2027-12-31 24:00", Dates::YearFirst), said);
        assert!(told("31.12.2027 24:00", Dates::YearFirst).ends_with("write 00:00 of the next day"));
        assert!(told("31.12.2027 24:00", GERMAN).ends_with("write 2028-01-01 00:00"));
    }

    #[test]
    fn a_setting_is_proposed_only_where_it_would_help() {
        assert!(told("09.03.2027 22:40", Dates::YearFirst).ends_with("`dates: DD.MM.YYYY`"));
        assert!(!told("09.03.2027", Dates::YearFirst).contains("dates:"), "the time would still be missing");
        assert!(slip("09.03.2027", Dates::YearFirst, true).1.ends_with("`dates: DD.MM.YYYY`"));
        assert_eq!(told("yesterday", GERMAN), format!("`yesterday` is not a date and time: {USUAL}"));
    }
}
