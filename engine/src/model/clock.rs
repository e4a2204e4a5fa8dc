//! Local times and the instants behind them.
//!
//! Arithmetic is done on instants. With a time zone they are in UTC, so that a night on which the clock changes has its
//! true length; without one, local times are taken as they are.

use chrono::{FixedOffset, LocalResult, NaiveDateTime, Offset, TimeZone};
use chrono_tz::Tz;

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

    /// The local time of an instant, as the tables have it.
    pub fn shown(&self, instant: NaiveDateTime) -> String {
        self.local(instant).format("%Y-%m-%d %H:%M").to_string()
    }
}
