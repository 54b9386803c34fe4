//! Moments and days as entries carry them.

use std::fmt;

use compact_str::CompactString;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::Offset;

/// The forms of a moment: with the offset that the clock on the wall had, or in UTC.
const FORM: &str = "0000-00-00T00:00:00";

/// A moment, to the second, with the offset from UTC at which it was written (RFC 3339).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moment {
    seconds: i64,
    text: CompactString,
}

impl Moment {
    /// The moment that a text is; `None` for any other form, a fraction of a second among them.
    pub fn parse(text: &str) -> Option<Self> {
        let (time, offset) = text.split_at_checked(FORM.len())?;
        let is_time = time
            .bytes()
            .zip(FORM.bytes())
            .all(|(byte, form)| match form {
                b'0' => byte.is_ascii_digit(),
                other => byte == other,
            });
        let is_offset = match offset.as_bytes() {
            b"Z" => true,
            [b'+' | b'-', h1, h2, b':', m1, m2] => {
                let is_hour = matches!(h1, b'0' | b'1') || (*h1 == b'2' && *h2 < b'4');
                is_hour
                    && (b'0'..=b'5').contains(m1)
                    && [h2, m2].iter().all(|it| it.is_ascii_digit())
            }
            _ => false,
        };
        let at: Timestamp = (is_time && is_offset).then(|| text.parse().ok())??;
        // A leap second is read as the second before it; written back it would be another text.
        (!time.ends_with(":60")).then(|| Self {
            seconds: at.as_second(),
            text: text.into(),
        })
    }

    /// The moment of so many seconds since 1970 in UTC, written at an offset in seconds; `None` out of
    /// the calendar.
    pub fn at(seconds: i64, offset: i32) -> Option<Self> {
        let offset = Offset::from_seconds(offset - offset % 60).ok()?;
        let at = Timestamp::from_second(seconds).ok()?;
        Some(Self {
            seconds,
            text: at.display_with_offset(offset).to_string().into(),
        })
    }

    /// The first moment of 1970 in UTC, for a clock that is out of the calendar: it is seen at once.
    pub const fn epoch() -> Self {
        Self {
            seconds: 0,
            text: CompactString::const_new("1970-01-01T00:00:00+00:00"),
        }
    }

    /// Seconds since 1970 in UTC: what moments are compared by.
    pub const fn seconds(&self) -> i64 {
        self.seconds
    }

    /// The day on the wall where it was written.
    pub fn day(&self) -> Option<Day> {
        Day::parse(self.text.get(..10)?)
    }

    /// Seconds from this moment to a later one; negative where that is earlier.
    pub const fn until(&self, other: &Self) -> i64 {
        other.seconds.saturating_sub(self.seconds)
    }

    /// The moment of a time of the day such as `22:10`, on the wall where this one was written: the last one that is
    /// not later than this, or the next one that is. `None` for any other text.
    pub fn at_clock(&self, clock: &str, is_to_come: bool) -> Option<Self> {
        const DAY: i64 = 86_400;
        let (hours, minutes) = clock.split_once(':')?;
        let number = |text: &str, below: i64| {
            let is_plain =
                matches!(text.len(), 1 | 2) && text.bytes().all(|it| it.is_ascii_digit());
            let number: i64 = text.parse().ok().filter(|_| is_plain)?;
            (number < below).then_some(number)
        };
        let (hours, minutes) = (number(hours, 24)?, number(minutes, 60)?);
        let offset = self.offset()?;
        let local = self.seconds + i64::from(offset);
        let midnight = local - local.rem_euclid(DAY);
        let at = midnight + hours * 3600 + minutes * 60;
        let at = match is_to_come {
            false if at > local => at - DAY,
            true if at <= local => at + DAY,
            _ => at,
        };
        Self::at(at - i64::from(offset), offset)
    }

    /// Seconds by which the clock on the wall was ahead of UTC.
    fn offset(&self) -> Option<i32> {
        let offset = self.text.get(FORM.len()..)?;
        let Some((hours, minutes)) = offset.get(1..)?.split_once(':') else {
            return Some(0);
        };
        let seconds = hours.parse::<i32>().ok()? * 3600 + minutes.parse::<i32>().ok()? * 60;
        Some(if offset.starts_with('-') {
            -seconds
        } else {
            seconds
        })
    }

    /// The day on the wall where it was written, as text.
    pub fn date(&self) -> &str {
        self.text.get(..10).unwrap_or_default()
    }

    /// The hours and minutes on the wall where it was written.
    pub fn clock(&self) -> &str {
        self.text.get(11..16).unwrap_or_default()
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.text)
    }
}

/// A day of the calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Day(Date);

impl Day {
    /// The day that a text such as `2026-03-01` is.
    pub fn parse(text: &str) -> Option<Self> {
        let is_plain = text.len() == 10 && text.bytes().all(|b| b.is_ascii_digit() || b == b'-');
        is_plain.then(|| text.parse().ok().map(Self))?
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::{Day, Moment};

    #[test]
    fn a_moment_is_read_to_the_second_with_its_offset() {
        let read = |text| Moment::parse(text).map(|it| it.seconds());
        // Seconds since 1970 as `date -d 2026-03-01T02:05:00Z +%s` gives them.
        assert_eq!(read("2026-03-01T03:05:00+01:00"), Some(1_772_330_700));
        assert_eq!(read("2026-03-01T02:05:00Z"), Some(1_772_330_700));
        for text in [
            "2026-03-01T03:05:00",
            "2026-03-01 03:05:00+01:00",
            "2026-03-01T03:05+01:00",
            "2026-03-01T03:05:00.5+01:00",
            "2026-02-30T03:05:00+01:00",
            "2026-03-01T24:00:00+01:00",
            "2026-03-01T03:05:60+01:00",
            "2026-03-01T03:05:00+0100",
            "2026-03-01T03:05:00+01:00[Europe/Oslo]",
            "",
        ] {
            assert_eq!(read(text), None, "{text}");
        }
    }

    #[test]
    fn a_moment_is_written_at_its_offset_and_has_a_day_there() {
        let late = Moment::at(1_772_330_700, -7 * 3600).expect("a moment");
        assert_eq!(late.to_string(), "2026-02-28T19:05:00-07:00");
        assert_eq!(late.day(), Day::parse("2026-02-28"));
        assert_eq!(late.clock(), "19:05");
        assert_eq!(Moment::parse(&late.to_string()), Some(late.clone()));
        let clock = |text, is_to_come| late.at_clock(text, is_to_come).map(|it| it.to_string());
        assert_eq!(
            clock("18:50", false).as_deref(),
            Some("2026-02-28T18:50:00-07:00")
        );
        assert_eq!(
            clock("19:06", false).as_deref(),
            Some("2026-02-27T19:06:00-07:00")
        );
        assert_eq!(
            clock("6:00", true).as_deref(),
            Some("2026-03-01T06:00:00-07:00")
        );
        assert_eq!((clock("24:00", false), clock("7:5x", false)), (None, None));
        assert_eq!(Day::parse("2026-02-29"), None);
        assert_eq!(Day::parse("2026-2-9"), None);
    }
}
