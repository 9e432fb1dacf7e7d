package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// The times that make sense here: from the first satellite to the end of what
// two-digit years of element sets can reach.
const (
	firstYear = 1957
	lastYear  = 2100
)

const (
	day         = 24 * time.Hour
	longestSpan = 366 * day
)

// parseTime reads a moment: RFC 3339 ("2026-11-25T18:40:00Z"), a local date and
// time ("2026-11-25 18:40", also with T between them), a local date for its first
// moment ("2026-11-25"), a local time of the day of now ("18:40"), or "now".
// Seconds are optional.
func parseTime(text string, now time.Time, local *time.Location) (time.Time, error) {
	const hint = `times look like 2026-11-25T18:40:00Z, 2026-11-25T18:40 (local), 2026-11-25 (local midnight), 18:40 (local, today) or now`
	text = strings.TrimSpace(text)
	if strings.EqualFold(text, "now") {
		return now, nil
	}
	t, err := time.Parse(time.RFC3339, text)
	if err != nil {
		t, err = time.Parse("2006-01-02T15:04Z07:00", text) // without seconds
	}
	if err != nil {
		t, err = parseLocalTime(text, now, local)
	}
	if err != nil {
		return time.Time{}, wrong(hint, "%q is not a time", text)
	}
	if t.UTC().Year() < firstYear || t.UTC().Year() > lastYear {
		return time.Time{}, wrong("", "%q is outside the years %d to %d", text, firstYear, lastYear)
	}
	return t, nil
}

func parseLocalTime(text string, now time.Time, local *time.Location) (t time.Time, err error) {
	today := now.In(local).Format("2006-01-02 ")
	for _, clock := range []string{"15:04:05", "15:04"} {
		for _, candidate := range []string{text, strings.Replace(text, "T", " ", 1), today + text} {
			if t, err = time.ParseInLocation("2006-01-02 "+clock, candidate, local); err == nil {
				return t, nil
			}
		}
	}
	return time.ParseInLocation(time.DateOnly, text, local)
}

// parseDuration reads a span of time: Go's form with days, as "90m", "1.5s" or
// "10d", "1d12h". It is positive and at most a year.
func parseDuration(text string) (time.Duration, error) {
	const hint = "durations look like 30s, 90m, 1h30m or 10d, without a space, and are more than nothing"
	d, err := parseDays(strings.TrimSpace(text))
	switch {
	case err != nil:
		return 0, wrong(hint, "%q is not a duration", text)
	case d <= 0:
		return 0, wrong(hint, "%q is not more than nothing", text)
	case d > longestSpan:
		return 0, wrong("", "%q is more than a year", text)
	}
	return d, nil
}

func parseDays(text string) (time.Duration, error) {
	before, after, found := strings.Cut(text, "d")
	if !found {
		return time.ParseDuration(text)
	}
	days, err := strconv.ParseFloat(before, 64)
	if err != nil || math.IsNaN(days) {
		return 0, fmt.Errorf("%q days", before)
	}
	days = max(-1000, min(days, 1000)) // more is too much as well
	d := time.Duration(math.Round(days * float64(day)))
	if after == "" {
		return d, nil
	}
	rest, err := time.ParseDuration(after)
	if err != nil || rest < 0 || days < 0 {
		return 0, fmt.Errorf("%q after the days", after)
	}
	return d + min(rest, 2*longestSpan), nil
}

// sayDuration says a span as parseDuration reads it: "90d", "1d12h", "2m", "1.5s".
func sayDuration(d time.Duration) string {
	if d < 0 {
		return "-" + sayDuration(-d)
	}
	days := ""
	if d >= day {
		days = fmt.Sprintf("%dd", d/day)
		if d %= day; d == 0 {
			return days
		}
	}
	text := d.String()
	if strings.HasSuffix(text, "m0s") {
		text = strings.TrimSuffix(text, "0s")
	}
	if strings.HasSuffix(text, "h0m") {
		text = strings.TrimSuffix(text, "0m")
	}
	return days + text
}

// localTime says a moment as people here read it, with its zone.
func (sys system) localTime(t time.Time) string {
	return t.Round(time.Second).In(sys.local).Format("2006-01-02 15:04:05 MST")
}

// clockColumn is the heading of a column of local times and how its cells say
// one: the day and the zone stand in the heading where all have the same.
func (sys system) clockColumn(times []time.Time) (heading string, say func(time.Time) string) {
	clock := func(t time.Time, form string) string { return t.Round(time.Second).In(sys.local).Format(form) }
	heading = "local time"
	for i, t := range times {
		day := clock(t, "2006-01-02 MST")
		if i > 0 && day != heading {
			return "local time", sys.localTime
		}
		heading = day
	}
	return heading, func(t time.Time) string { return clock(t, time.TimeOnly) }
}

// utcTime says a moment in UTC; without the date where the local one is the
// same, as it stands beside it.
func (sys system) utcTime(t time.Time) string {
	t = t.Round(time.Second)
	if t.In(sys.local).Format(time.DateOnly) == t.UTC().Format(time.DateOnly) {
		return t.UTC().Format(time.TimeOnly)
	}
	return t.UTC().Format(time.DateTime)
}

// utcBeside is utcTime for a table, empty where the local time is UTC.
func (sys system) utcBeside(t time.Time) string {
	if sys.readsUTC(t) {
		return ""
	}
	return sys.utcTime(t)
}

// bothTimes says a moment in local time and, unless that is it, in UTC.
func (sys system) bothTimes(t time.Time) string {
	said := sys.localTime(t)
	if sys.readsUTC(t) {
		return said
	}
	return said + " (" + sys.utcTime(t) + " UTC)"
}

// readsUTC tells whether people here read UTC.
func (sys system) readsUTC(t time.Time) bool {
	name, offset := t.In(sys.local).Zone()
	return name == "UTC" && offset == 0
}

// minutes says a span of a pass: "9m05s".
func minutes(d time.Duration) string {
	s := int(math.Round(d.Seconds()))
	if s >= 3600 {
		return fmt.Sprintf("%dh%02dm", s/3600, s%3600/60)
	}
	return fmt.Sprintf("%dm%02ds", s/60, s%60)
}
