//! How long ago something was, as a person says it.

use jiff::Timestamp;

use crate::session_log::Moment;

const MINUTE: i64 = 60;
const HOUR: i64 = 60 * MINUTE;
const DAY: i64 = 24 * HOUR;

/// Says how long before now a time of a log was: `40 min ago`, `yesterday`, `on 2026-08-23`.
///
/// A time in the future, or one that no calendar has, is given as it stands.
pub fn ago(time: &str, now: &Moment) -> String {
    let date = time.get(..10).unwrap_or(time);
    let Ok(then) = time.parse::<Timestamp>() else { return date.to_owned() };
    let seconds = now.wall_ms / 1000 - then.as_second();
    let days = day(now.wall_ms / 1000, now.offset_minutes) - day(then.as_second(), now.offset_minutes);
    match (seconds, days) {
        (..-60, _) => format!("on {date}"),
        (..MINUTE, _) => "just now".to_owned(),
        (..HOUR, _) => format!("{} min ago", seconds / MINUTE),
        (_, 0) => format!("{} h ago", seconds / HOUR),
        (_, 1) => "yesterday".to_owned(),
        (_, 2..=30) => format!("{days} days ago"),
        _ => format!("on {date}"),
    }
}

/// Counts the days of the place where the clock hangs.
fn day(seconds: i64, offset_minutes: i32) -> i64 {
    (seconds + i64::from(offset_minutes) * MINUTE).div_euclid(DAY)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_is_told_as_a_person_tells_it() {
        let wall = "2026-08-23T14:15:02+02:00".parse::<Timestamp>().unwrap().as_millisecond();
        let now = Moment { wall_ms: wall, offset_minutes: 120, steady_ms: 0 };
        for (time, words) in [
            ("2026-08-23T14:15:00.000+02:00", "just now"),
            ("2026-08-23T13:35:02.000+02:00", "40 min ago"),
            ("2026-08-23T00:10:02.000+02:00", "14 h ago"),
            ("2026-08-22T23:50:00.000+02:00", "yesterday"),
            ("2026-08-19T09:00:00.000+02:00", "4 days ago"),
            ("2025-08-23T09:00:00.000+02:00", "on 2025-08-23"),
            ("2026-08-23T14:20:02.000+02:00", "on 2026-08-23"),
            ("nonsense", "nonsense"),
        ] {
            assert_eq!(ago(time, &now), words, "{time}");
        }
    }
}
