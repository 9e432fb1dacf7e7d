package elements

import (
	"bytes"
	"fmt"
	"time"
)

// A TLE prints 1e-8 of a day, which is exactly 864 µs: whole numbers keep it
// exact where a float would be off by some nanoseconds.
const (
	tickNs      = 864_000     // nanoseconds in 1e-8 day
	ticksPerDay = 100_000_000 // 1e-8 day in a day
)

// Years that a TLE can print: 57 to 99 are 1957 to 1999, 00 to 56 are 2000 to
// 2056 (T. S. Kelso, Satellite Times, January 1998).
const (
	pivotYear   = 57
	firstYear   = 1957
	lastTLEYear = 2056
	lastOMMYear = 2199 // what a four-digit year may say; beyond it is a slip
)

func fullYear(two int) int {
	if two < pivotYear {
		return 2000 + two
	}
	return 1900 + two
}

// parseTLEEpoch reads YYDDD.DDDDDDDD, year and day of the year from 1. The day
// may be led by blanks.
func parseTLEEpoch(field []byte) (time.Time, bool) {
	if len(field) < 6 || field[5] != '.' {
		return time.Time{}, false
	}
	two, ok1 := digits(field[:2])
	day, ok2 := digits(bytes.TrimLeft(field[2:5], " "))
	fraction := bytes.TrimRight(field[6:], " ")
	ticks, ok3 := digits(fraction)
	year := fullYear(two)
	if !ok1 || !ok2 || !ok3 || len(fraction) > 8 || day < 1 || day > daysIn(year) {
		return time.Time{}, false
	}
	for range 8 - len(fraction) {
		ticks *= 10
	}
	return time.Date(year, 1, day, 0, 0, 0, 0, time.UTC).Add(time.Duration(ticks) * tickNs), true
}

// formatTLEEpoch writes t as YYDDD.DDDDDDDD, rounded to the nearest 864 µs.
func formatTLEEpoch(t time.Time) (string, error) {
	t = t.UTC()
	year := t.Year()
	if year < firstYear || year > lastTLEYear {
		return "", epochYearError(year)
	}
	start := time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC)
	ticks := (int64(t.Sub(start)) + tickNs/2) / tickNs
	day := ticks/ticksPerDay + 1
	if day > int64(daysIn(year)) { // rounded up into the new year
		year, day, ticks = year+1, 1, 0
		if year > lastTLEYear {
			return "", epochYearError(year)
		}
	}
	return fmt.Sprintf("%02d%03d.%08d", year%100, day, ticks%ticksPerDay), nil
}

func epochYearError(year int) error {
	return fmt.Errorf("epoch in the year %d does not fit a TLE, which goes from %d to %d", year, firstYear, lastTLEYear)
}

// parseOMMEpoch reads YYYY-MM-DDThh:mm:ss[.d...][Z] and YYYY-DDDThh:mm:ss[.d...][Z]
// (CCSDS 502.0-B-3, 7.5.10). Digits beyond the nanosecond are dropped. Second
// 60, a leap second, is read as the second after it.
func parseOMMEpoch(text []byte) (time.Time, bool) {
	text = bytes.TrimSuffix(text, []byte("Z"))
	date, clock, ok := bytes.Cut(text, []byte("T"))
	if !ok {
		return time.Time{}, false
	}
	year, month, day, ok := parseDate(date)
	if !ok {
		return time.Time{}, false
	}
	hour, minute, second, ns, ok := parseClock(clock)
	if !ok {
		return time.Time{}, false
	}
	t := time.Date(year, time.Month(month), day, hour, minute, second, ns, time.UTC)
	return t, t.Year() <= lastOMMYear
}

// formatOMMEpoch writes t as YYYY-MM-DDThh:mm:ss with six digits after the
// point, or nine where t has them.
func formatOMMEpoch(t time.Time) string {
	if t.Nanosecond()%1000 != 0 {
		return t.UTC().Format("2006-01-02T15:04:05.000000000")
	}
	return t.UTC().Format("2006-01-02T15:04:05.000000")
}

// parseDate reads YYYY-MM-DD, or YYYY-DDD as month 1 and that day.
func parseDate(text []byte) (year, month, day int, ok bool) {
	if (len(text) != 8 && len(text) != 10) || text[4] != '-' {
		return 0, 0, 0, false
	}
	year, ok1 := digits(text[:4])
	last := daysIn(year)
	month, ok2 := 1, true
	if len(text) == 10 {
		month, ok2 = digits(text[5:7])
		ok2 = ok2 && text[7] == '-' && month >= 1 && month <= 12
		last = time.Date(year, time.Month(month)+1, 0, 0, 0, 0, 0, time.UTC).Day()
		text = text[8:]
	} else {
		text = text[5:]
	}
	day, ok3 := digits(text)
	ok = ok1 && ok2 && ok3 && year >= firstYear && year <= lastOMMYear && day >= 1 && day <= last
	return year, month, day, ok
}

// parseClock reads hh:mm:ss[.d...].
func parseClock(text []byte) (hour, minute, second, ns int, ok bool) {
	if len(text) < 8 || text[2] != ':' || text[5] != ':' {
		return 0, 0, 0, 0, false
	}
	hour, ok1 := digits(text[:2])
	minute, ok2 := digits(text[3:5])
	second, ok3 := digits(text[6:8])
	leap := second == 60 && hour == 23 && minute == 59
	ok = ok1 && ok2 && ok3 && hour < 24 && minute < 60 && (second < 60 || leap)
	if len(text) == 8 {
		return hour, minute, second, 0, ok
	}
	fraction := text[9:]
	if text[8] != '.' || len(fraction) == 0 {
		return 0, 0, 0, 0, false
	}
	unit := 100_000_000
	for _, c := range fraction {
		if c < '0' || c > '9' {
			return 0, 0, 0, 0, false
		}
		ns += int(c-'0') * unit
		unit /= 10
	}
	return hour, minute, second, ns, ok
}

func daysIn(year int) int { return time.Date(year, 12, 31, 0, 0, 0, 0, time.UTC).YearDay() }
