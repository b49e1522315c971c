//! Where the time comes from, and how it is written.

use std::fmt::Write as _;
use std::time::Instant;

use jiff::Timestamp;
use jiff::tz::{Offset, TimeZone};

/// One look at the clocks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Moment {
    /// Wall clock: milliseconds since 1970-01-01T00:00:00Z. A claim, nothing more: it may be set wrong.
    pub wall_ms: i64,
    /// Local time minus UTC, in minutes.
    pub offset_minutes: i32,
    /// Milliseconds of a clock that never goes back and also counts while the machine sleeps.
    pub steady_ms: u64,
}

impl Moment {
    /// Writes the wall clock as RFC 3339 with milliseconds and local offset: `2026-08-23T14:15:02.114+02:00`.
    ///
    /// A time outside the years 0 to 9999 cannot be written so and is given as the start of 1970.
    pub fn rfc3339(&self) -> String {
        let offset = Offset::from_seconds(self.offset_minutes.saturating_mul(60)).unwrap_or(Offset::UTC);
        let mut text = self.civil_text(offset, "-", ":", "T");
        let minutes = offset.seconds() / 60;
        let sign = if minutes < 0 { '-' } else { '+' };
        let (hours, rest) = (minutes.abs() / 60, minutes.abs() % 60);
        // Writing to a String cannot fail.
        let _ = write!(text, ".{:03}{sign}{hours:02}:{rest:02}", self.wall_ms.rem_euclid(1000));
        text
    }

    /// Writes the wall clock in UTC as a file name can hold it: `20260823T121502Z`.
    pub(super) fn file_stamp(&self) -> String {
        self.civil_text(Offset::UTC, "", "", "T") + "Z"
    }

    fn civil_text(&self, offset: Offset, dash: &str, colon: &str, middle: &str) -> String {
        let stamp = Timestamp::from_millisecond(self.wall_ms).unwrap_or(Timestamp::UNIX_EPOCH);
        let mut at = offset.to_datetime(stamp);
        if !(0..=9999).contains(&at.year()) {
            at = Offset::UTC.to_datetime(Timestamp::UNIX_EPOCH);
        }
        format!(
            "{:04}{dash}{:02}{dash}{:02}{middle}{:02}{colon}{:02}{colon}{:02}",
            at.year(),
            at.month(),
            at.day(),
            at.hour(),
            at.minute(),
            at.second()
        )
    }
}

/// Tells the time. The log asks it once for each event.
pub trait Clock: Send {
    /// Looks at the wall clock and the steady clock.
    fn now(&mut self) -> Moment;

    /// Looks without counting as a look: a fixed clock stays where it is.
    fn glance(&mut self) -> Moment {
        self.now()
    }
}

/// The machine's own clocks and time zone.
#[derive(Debug)]
pub struct SystemClock {
    zone: TimeZone,
    began: Instant,
}

impl SystemClock {
    /// Takes the machine's clocks; the time zone is read once, now.
    pub fn new() -> Self {
        Self { zone: TimeZone::system(), began: Instant::now() }
    }
}

impl Default for SystemClock {
    fn default() -> Self {
        Self::new()
    }
}

impl Clock for SystemClock {
    fn now(&mut self) -> Moment {
        let stamp = Timestamp::now();
        let offset = self.zone.to_offset(stamp);
        Moment {
            wall_ms: stamp.as_millisecond(),
            offset_minutes: offset.seconds() / 60,
            steady_ms: milliseconds_since_boot()
                .unwrap_or_else(|| u64::try_from(self.began.elapsed().as_millis()).unwrap_or(u64::MAX)),
        }
    }
}

/// Reads the clock that also counts while the machine sleeps; `None` where the system has none.
#[cfg(target_os = "linux")]
fn milliseconds_since_boot() -> Option<u64> {
    let time = rustix::time::clock_gettime(rustix::time::ClockId::Boottime);
    let seconds = u64::try_from(time.tv_sec).ok()?;
    let milliseconds = u64::try_from(time.tv_nsec / 1_000_000).ok()?;
    seconds.checked_mul(1000)?.checked_add(milliseconds)
}

#[cfg(not(target_os = "linux"))]
fn milliseconds_since_boot() -> Option<u64> {
    None
}

/// A clock for tests and sample logs: it starts where it is told and goes on by the same step at each look.
#[derive(Debug, Clone)]
pub struct FixedClock {
    next: Moment,
    step_ms: i64,
}

impl FixedClock {
    /// Starts at a moment and goes on by `step_ms` milliseconds at each look, on both clocks.
    pub const fn new(start: Moment, step_ms: u32) -> Self {
        Self { next: start, step_ms: step_ms as i64 }
    }

    /// Reads the start from an RFC 3339 text, as in `SETWRIGHT_TEST_CLOCK=2026-08-23T14:15:02+02:00`; one second a look.
    ///
    /// # Errors
    /// Says what the text should look like.
    pub fn parse(text: &str) -> Result<Self, String> {
        let wrong = |_| format!("\"{text}\" is not a time such as 2026-08-23T14:15:02+02:00");
        let pieces = jiff::fmt::temporal::DateTimeParser::new().parse_pieces(text).map_err(wrong)?;
        let offset = pieces.to_numeric_offset().unwrap_or(Offset::UTC);
        let stamp: Timestamp = text.parse().map_err(wrong)?;
        let start = Moment { wall_ms: stamp.as_millisecond(), offset_minutes: offset.seconds() / 60, steady_ms: 0 };
        Ok(Self::new(start, 1000))
    }

    /// Moves the wall clock alone, as a person or a time server does.
    pub const fn set_wall(&mut self, by_ms: i64) {
        self.next.wall_ms = self.next.wall_ms.saturating_add(by_ms);
    }
}

impl Clock for FixedClock {
    fn now(&mut self) -> Moment {
        let moment = self.next;
        self.next.wall_ms = moment.wall_ms.saturating_add(self.step_ms);
        self.next.steady_ms = moment.steady_ms.saturating_add_signed(self.step_ms);
        moment
    }

    fn glance(&mut self) -> Moment {
        self.next
    }
}

/// Gives the whole minutes from one time of a log to a later one; 0 when it is not later, or no time.
pub fn minutes_between(one: &str, other: &str) -> u64 {
    let (Ok(one), Ok(other)) = (one.parse::<Timestamp>(), other.parse::<Timestamp>()) else { return 0 };
    let minutes = other.as_millisecond().saturating_sub(one.as_millisecond()) / 60_000;
    u64::try_from(minutes).unwrap_or(0)
}

/// Tells whether one time of the log, of the right shape, is before another. A time that no calendar has is before
/// none.
pub(super) fn is_before(one: &str, other: &str) -> bool {
    // With the same offset the digits alone decide.
    if let (Some((digits, offset)), Some((other_digits, other_offset))) =
        (one.split_at_checked(23), other.split_at_checked(23))
        && offset == other_offset
    {
        return digits < other_digits;
    }
    match (one.parse::<Timestamp>(), other.parse::<Timestamp>()) {
        (Ok(one), Ok(other)) => one < other,
        _ => false,
    }
}

/// Tells whether a text has the shape `2026-08-23T14:15:02.114+02:00` (or `Z`), whatever time it names.
pub(super) fn has_time_shape(text: &str) -> bool {
    const SHAPE: &[u8] = b"0000-00-00T00:00:00.000";
    const OFFSET: &[u8] = b"+00:00";
    let Some((stamp, offset)) = text.as_bytes().split_at_checked(SHAPE.len()) else { return false };
    let fits = |text: &[u8], shape: &[u8]| {
        text.len() == shape.len()
            && text.iter().zip(shape).all(|(have, want)| match want {
                b'0' => have.is_ascii_digit(),
                b'+' => matches!(have, b'+' | b'-'),
                other => have == other,
            })
    };
    fits(stamp, SHAPE) && (offset == b"Z" || fits(offset, OFFSET))
}
