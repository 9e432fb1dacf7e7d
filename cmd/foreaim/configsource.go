package main

import (
	"fmt"
	"slices"
	"time"

	"foreaim/cmd/foreaim/internal/fetch"
)

// How often an address may be asked. Elements change a few times a day, and
// whoever publishes them for nothing should not pay for more questions.
const (
	leastInterval = 30 * time.Minute
	mostInterval  = 30 * day
)

// source is an address of elements.
type source struct {
	url      string        // with or without {number}
	interval time.Duration // between two questions to it
}

// newSource makes a source of an address, with the usual interval.
func newSource(address string) (source, error) {
	if err := fetch.Check(address); err != nil {
		return source{}, wrong(hintOf(err), "%w", err)
	}
	return source{address, fetch.Usual().Interval}, nil
}

// configured returns the configured source of the same address, if there is one.
func (c config) configured(s source) source {
	if i := slices.IndexFunc(c.sources, func(own source) bool { return own.url == s.url }); i >= 0 {
		return c.sources[i]
	}
	return s
}

func (raw configFile) source(c *configCheck, i int) source {
	s, table := raw.Source[i], fmt.Sprintf("source[%d]", i+1)
	if s.URL == nil {
		c.add(table, "", "url is missing")
	}
	result := read(c, table+".url", s.URL, newSource)
	if s.Interval != nil {
		result.interval = c.duration(table+".interval", s.Interval, leastInterval, mostInterval)
	}
	return result
}
