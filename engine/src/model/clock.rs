//! Local times and the instants behind them.
//!
//! Arithmetic is done on instants. With a time zone they are in UTC, so that a night on which the clock changes has its
//! true length; without one, local times are taken as they are.

use chrono::{Duration, FixedOffset, LocalResult, NaiveDateTime, Offset, TimeZone, Utc};
use chrono_tz::Tz;
use serde::Serialize;

/// The clock on the wall of a study.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Clock {
    /// Its time zone, where the study names one.
    pub zone: Option<Tz>,
}

/// Why a local time is no instant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoInstant {
    /// The clock showed it twice; the two offsets from UTC, earlier instant first.
    Twice(String, String),
    /// The clock was put forward over it.
    Never,
    /// The offset written beside it does not belong to it; those that do.
    WrongOffset(String),
    /// An offset stands beside it, but the study names no time zone.
    OffsetWithoutZone,
}

impl Clock {
    /// The instant of a local time, which may have its offset from UTC beside it.
    pub fn instant(
        &self,
        local: NaiveDateTime,
        offset: Option<FixedOffset>,
    ) -> Result<NaiveDateTime, NoInstant> {
        let Some(zone) = self.zone else {
            return if offset.is_none() { Ok(local) } else { Err(NoInstant::OffsetWithoutZone) };
        };
        match (zone.from_local_datetime(&local), offset) {
            (LocalResult::None, _) => Err(NoInstant::Never),
            (LocalResult::Single(at), None) => Ok(at.naive_utc()),
            (LocalResult::Ambiguous(first, second), None) => {
                Err(NoInstant::Twice(first.offset().fix().to_string(), second.offset().fix().to_string()))
            }
            (possible, Some(offset)) => {
                let known: Vec<_> = [possible.earliest(), possible.latest()].into_iter().flatten().collect();
                let fitting = known.iter().find(|at| at.offset().fix() == offset);
                let offsets = || known.iter().map(|at| at.offset().fix().to_string()).collect::<Vec<_>>();
                fitting.map(|at| at.naive_utc()).ok_or_else(|| {
                    let mut offsets = offsets();
                    offsets.dedup();
                    NoInstant::WrongOffset(offsets.join(" or "))
                })
            }
        }
    }

    /// The local time of an instant.
    pub fn local(&self, instant: NaiveDateTime) -> NaiveDateTime {
        self.zone.map_or(instant, |zone| zone.from_utc_datetime(&instant).naive_local())
    }

    /// The local time of an instant, as the tables have it; in an hour that the clock shows twice with its offset from UTC.
    pub fn shown(&self, instant: NaiveDateTime) -> String {
        self.written(instant, "%Y-%m-%d %H:%M")
    }

    /// The same without the day.
    pub fn time_shown(&self, instant: NaiveDateTime) -> String {
        self.written(instant, "%H:%M")
    }

    fn written(&self, instant: NaiveDateTime, form: &str) -> String {
        let local = self.local(instant);
        let shown = local.format(form).to_string();
        match self.zone.map(|zone| zone.from_local_datetime(&local)) {
            Some(LocalResult::Ambiguous(..)) => format!("{shown} {}", self.offset(instant)),
            _ => shown,
        }
    }

    /// The offset from UTC at an instant, as `+01:00`; without a time zone that of UTC itself.
    fn offset(&self, instant: NaiveDateTime) -> FixedOffset {
        let utc = Utc.fix();
        self.zone.map_or(utc, |zone| zone.from_utc_datetime(&instant).offset().fix())
    }

    /// Where the clock is put forward or back from `start` to `end`, to the minute.
    pub fn changes(&self, start: NaiveDateTime, end: NaiveDateTime) -> Vec<ClockChange> {
        if self.offset(start) == self.offset(end) {
            return Vec::new();
        }
        let minutes = 1..=(end - start).num_minutes();
        let change = |minute: i64| {
            let [before, after] = [minute - 1, minute].map(|m| self.offset(start + Duration::minutes(m)));
            let forward = f64::from(after.local_minus_utc() - before.local_minus_utc()) / 60.0;
            (before != after).then(|| ClockChange {
                minutes: minute as f64,
                forward_minutes: forward,
                before: before.to_string(),
                after: after.to_string(),
            })
        };
        minutes.filter_map(change).collect()
    }
}

/// A change of the clock within a shift.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClockChange {
    /// Minutes from the start of the shift.
    pub minutes: f64,
    /// By how many minutes it is put forward; negative where it is put back.
    pub forward_minutes: f64,
    /// The offset from UTC before it, as `+02:00`.
    pub before: String,
    /// The offset after it.
    pub after: String,
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::NaiveDate;

    /// In the European Union clocks go back by an hour at 01:00 UTC on the last Sunday of October (Directive 2000/84/EC), in 2027 the 31st.
    #[test]
    fn the_hour_shown_twice_has_its_offset_and_the_change_its_place() {
        let clock = Clock { zone: Some(chrono_tz::Europe::Berlin) };
        let utc = |day, hour, minute| {
            NaiveDate::from_ymd_opt(2027, 10, day).unwrap().and_hms_opt(hour, minute, 0).unwrap()
        };
        assert_eq!(clock.shown(utc(30, 23, 59)), "2027-10-31 01:59");
        assert_eq!(clock.shown(utc(31, 0, 30)), "2027-10-31 02:30 +02:00");
        assert_eq!(clock.shown(utc(31, 1, 30)), "2027-10-31 02:30 +01:00");
        assert_eq!(clock.time_shown(utc(31, 2, 0)), "03:00");
        let change = |start, end| clock.changes(start, end);
        let back = ClockChange {
            minutes: 300.0,
            forward_minutes: -60.0,
            before: "+02:00".into(),
            after: "+01:00".into(),
        };
        assert_eq!(change(utc(30, 20, 0), utc(31, 5, 0)), [back]);
        assert_eq!(change(utc(30, 4, 0), utc(30, 12, 0)), []);
        assert_eq!(Clock::default().changes(utc(30, 20, 0), utc(31, 5, 0)), []);
    }
}
