package main

import (
	"fmt"
	"strconv"
	"time"

	"foreaim/track"
)

// maxNumber is the highest catalogue number, of nine digits.
const maxNumber = 999_999_999

// configCheck collects what is wrong with a configuration's values.
type configCheck struct {
	file  string
	where keyPositions
	errs  []error
}

// add reports a key's value; the place is the key's or, where that isn't
// written, its table's.
func (c *configCheck) add(key, hint, format string, args ...any) {
	c.errs = append(c.errs, wrong(hint, "%s: %s: %s", c.where.place(c.file, key), key, fmt.Sprintf(format, args...)))
}

// number checks a value against its range and returns it, or 0.
func (c *configCheck) number(key string, value *float64, low, high float64) float64 {
	if value == nil {
		return 0
	}
	if !(*value >= low && *value <= high) {
		c.add(key, "", "%s is not within %s to %s", decimal(*value), decimal(low), decimal(high))
		return 0
	}
	return *value
}

// decimal is a number as a person writes it.
func decimal(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// read checks a text with a parser of the command line's.
func read[T any](c *configCheck, key string, text *string, parse func(string) (T, error)) (result T) {
	if text == nil {
		return result
	}
	result, err := parse(*text)
	if err != nil {
		c.add(key, hintOf(err), "%v", err)
	}
	return result
}

// check turns the file's shape into the configuration.
func (raw configFile) check(c *configCheck) config {
	result := config{
		gpsSource: plain(raw.GPS.Source),
		sensor:    plain(raw.GPS.Sensor),
		landmarks: landmarksOf(c, raw.Landmark),
		fistDeg:   c.number("fist.degrees", raw.Fist.Degrees, 2, 30),
		beamwidth: raw.beamwidth(c),
		voice:     read(c, "voice.command", raw.Voice.Command, commandLike(`a command that speaks looks like "espeak-ng -s 160 {text}"`)),
		tones:     read(c, "voice.tones", raw.Voice.Tones, commandLike(`a command that plays looks like "aplay -q" or "beeper {tone}"`)),
		checks:    raw.items(c),
		ear:       raw.ear(c),
		ground:    raw.ground(c),

		antenna:      raw.antenna(c),
		environment:  read(c, "environment", raw.Environment, parseEnvironment),
		region:       read(c, "region", raw.Region, parseRegion),
		transmitters: c.path("transmitters", raw.Transmitters),
	}
	result.site = raw.site(c)
	result.noiseWay, result.noiseDB = raw.noise(c)
	for i := range raw.Run {
		result.runs = append(result.runs, raw.run(c, i))
	}
	for i := range raw.Satellite {
		result.satellites = append(result.satellites, raw.satellite(c, i))
	}
	for i := range raw.Source {
		result.sources = append(result.sources, raw.source(c, i))
	}
	for i := range raw.Chain {
		result.chains = append(result.chains, raw.chain(c, i, result.chains))
	}
	return result
}

func (raw configFile) site(c *configCheck) *track.Site {
	s := raw.Site
	if s == nil {
		return nil
	}
	if s.LatitudeDeg == nil {
		c.add("site", "", "latitude_deg is missing")
	}
	if s.LongitudeDeg == nil {
		c.add("site", "", "longitude_deg is missing")
	}
	return &track.Site{
		Name:         plain(s.Name),
		LatitudeDeg:  c.number("site.latitude_deg", s.LatitudeDeg, -90, 90),
		LongitudeDeg: c.number("site.longitude_deg", s.LongitudeDeg, -180, 180),
		HeightM:      c.number("site.height_m", &s.HeightM, -500, 10000),
	}
}

func (raw configFile) beamwidth(c *configCheck) beamwidth {
	a := raw.Antenna
	if a.BeamwidthDeg != nil && (a.BeamwidthEDeg != nil || a.BeamwidthHDeg != nil) {
		c.add("antenna.beamwidth_deg", "", "either this or beamwidth_e_deg and beamwidth_h_deg, not both")
	}
	if both := c.number("antenna.beamwidth_deg", a.BeamwidthDeg, 1, 180); both != 0 {
		return beamwidth{both, both}
	}
	e := c.number("antenna.beamwidth_e_deg", a.BeamwidthEDeg, 1, 180)
	h := c.number("antenna.beamwidth_h_deg", a.BeamwidthHDeg, 1, 180)
	if (a.BeamwidthEDeg == nil) != (a.BeamwidthHDeg == nil) {
		c.add("antenna", "", "beamwidth_e_deg and beamwidth_h_deg go together")
	}
	return beamwidth{e, h}
}

func (raw configFile) satellite(c *configCheck, i int) satelliteConfig {
	s := raw.Satellite[i]
	key := func(name string) string { return fmt.Sprintf("satellite[%d].%s", i+1, name) }
	result := satelliteConfig{
		name:        plain(s.Name),
		frequencyHz: c.number(key("frequency_hz"), s.FrequencyHz, lowestHz, highestHz),
		period:      read(c, key("period"), s.Period, parsePeriod),
		length:      read(c, key("length"), s.Length, parseDuration),
		tolerance:   read(c, key("tolerance"), s.Tolerance, parseDuration),
		first:       c.moment(key("first"), s.First),
		signal:      raw.signal(c, i),
	}
	if s.CatalogueNumber != nil {
		number := float64(*s.CatalogueNumber)
		result.catalogueNumber = int(c.number(key("catalogue_number"), &number, 1, maxNumber))
	}
	if result.name == "" && s.CatalogueNumber == nil {
		c.add(fmt.Sprintf("satellite[%d]", i+1), "", "name or catalogue_number is missing")
	}
	if result.length > 0 && result.period > 0 && result.length >= result.period {
		c.add(key("length"), "", "a burst of %s doesn't fit a period of %s", sayDuration(result.length), sayDuration(result.period))
	}
	return result
}

// moment reads a time of TOML's own or a text; both need their zone.
func (c *configCheck) moment(key string, value any) time.Time {
	const hint = "times look like 2026-11-25T18:40:00Z"
	switch v := value.(type) {
	case nil:
		return time.Time{}
	case time.Time:
		return v
	case string:
		t, err := time.Parse(time.RFC3339, v)
		if err != nil || t.UTC().Year() < firstYear || t.UTC().Year() > lastYear {
			c.add(key, hint, "%q is not a time with its zone", v)
		}
		return t
	}
	c.add(key, hint, "%v has no zone or is not a time", value)
	return time.Time{}
}
