package main

import (
	"errors"
	"fmt"
	"time"

	"foreaim/cmd/foreaim/internal/runner"
	"foreaim/track/outing"
)

// What a configuration says about a pass: what is run, checked and marked.

const (
	// runTimeout is what a command of the user's own gets that names no
	// time-out; runLongest is enough for a recorder that runs all day.
	runTimeout = 10 * time.Second
	runLongest = 24 * time.Hour
	// longestEar is the longest delay between a burst and its mark.
	longestEar = time.Minute
	// quickestEar keeps "by hand" apart from "nothing said".
	quickestEar = 100 * time.Millisecond
	// padDB is the attenuator of the noise test where only its way is given.
	padDB = 10
)

// runConfig is a command of the user's own and the time of the pass at which it
// is run.
type runConfig struct {
	at      outing.Moment
	command []string // the program and its arguments
	timeout time.Duration
}

func (raw configFile) run(c *configCheck, i int) runConfig {
	const command = `a command looks like "arecord -d 600 pass.wav"; it runs without a shell`
	r := raw.Run[i]
	table := fmt.Sprintf("run[%d]", i+1)
	if r.At == nil {
		c.add(table, "", "at is missing, the time of the pass")
	}
	if r.Command == nil {
		c.add(table, "", "command is missing")
	}
	result := runConfig{
		at:      read(c, table+".at", r.At, outing.ParseMoment),
		command: read(c, table+".command", r.Command, commandLike(command)),
		timeout: c.duration(table+".timeout", r.Timeout, quickestEar, runLongest),
	}
	if r.Timeout == nil {
		result.timeout = runTimeout
	}
	return result
}

// items returns the checklist; nil where none is given.
func (raw configFile) items(c *configCheck) []outing.Item {
	if raw.Check == nil {
		return nil
	}
	items := []outing.Item{} // an empty list is one too
	for i, k := range raw.Check {
		items = append(items, outing.Item{
			Name: k.Name, Text: k.Text, Check: outing.Fact(k.Check), Insist: k.Insist, UntilRise: k.UntilRise,
			Before: c.duration(fmt.Sprintf("check[%d].before", i+1), k.Before, 0, time.Hour),
		})
	}
	if fault, ok := errors.AsType[*outing.ItemError](outing.CheckItems(items)); ok {
		key := fmt.Sprintf("check[%d]", len(items)) // of a list that is too long, its end
		if fault.Item >= 0 {
			key = fmt.Sprintf("check[%d].%s", fault.Item+1, fault.Field)
		}
		c.add(key, "", "%s", fault.What)
	}
	return items
}

// ear is how late a mark comes; the zero Ear where nothing is given.
func (raw configFile) ear(c *configCheck) outing.Ear {
	m := raw.Marks
	if m.Reaction == nil && m.Scatter == nil && m.WaterfallLeast == nil && m.WaterfallMost == nil {
		return outing.Ear{}
	}
	e := outing.DefaultEar()
	if m.Reaction != nil {
		e.Reaction = c.duration("marks.reaction", m.Reaction, quickestEar, longestEar)
	}
	if m.Scatter != nil {
		e.Scatter = c.duration("marks.scatter", m.Scatter, 0, longestEar)
	}
	e.WaterfallLeast = c.duration("marks.waterfall_least", m.WaterfallLeast, 0, longestEar)
	e.WaterfallMost = c.duration("marks.waterfall_most", m.WaterfallMost, 0, longestEar)
	if e.WaterfallMost < e.WaterfallLeast {
		c.add("marks.waterfall_most", "", "%v is less than waterfall_least, %v", e.WaterfallMost, e.WaterfallLeast)
	}
	return e
}

// noise is how the noise test weakens what comes in; zero where nothing is
// given.
func (raw configFile) noise(c *configCheck) (way outing.Way, db float64) {
	n := raw.Noise
	if n.Way == nil && n.DB == nil {
		return "", 0
	}
	way, most := outing.Pad, 20.0
	if n.Way != nil {
		switch way = outing.Way(*n.Way); way {
		case outing.Pad:
		case outing.Bypass:
			most = 60
			if n.DB == nil {
				c.add("noise", "", "db is missing, the gain of the preamplifier that is bypassed")
			}
		default:
			c.add("noise.way", "", "%q is not attenuator or bypass", plain(*n.Way))
		}
	}
	if n.DB == nil {
		return way, padDB
	}
	return way, c.number("noise.db", n.DB, 1, most)
}

// duration checks a length of time against its range and returns it, or 0.
func (c *configCheck) duration(key string, text *string, low, high time.Duration) time.Duration {
	if text == nil {
		return 0
	}
	d, err := parseDays(*text)
	switch {
	case err != nil:
		c.add(key, "durations look like 0.8s or 1m30s, without a space", "%q is not a duration", plain(*text))
	case d < low || d > high:
		c.add(key, "", "%v is not within %v to %v", d, low, high)
	default:
		return d
	}
	return 0
}

// commandLike returns a reader of commands that knows what one looks like.
func commandLike(hint string) func(text string) ([]string, error) {
	return func(text string) ([]string, error) {
		args, err := runner.Split(text)
		if err != nil {
			return nil, wrong(hint, "%w", err)
		}
		return args, nil
	}
}
