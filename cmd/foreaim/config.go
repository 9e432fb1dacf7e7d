package main

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"regexp"
	"strings"
	"time"

	"foreaim/track"
	"foreaim/track/north"
	"foreaim/track/outing"
	"foreaim/track/radio"

	"github.com/pelletier/go-toml/v2"
)

// config is what a person wrote down about themselves and their satellites.
// Everything is optional; the zero config is an empty file's.
type config struct {
	file string // where it was read; empty when there is none

	site       *track.Site // nil when not given
	gpsSource  string
	sensor     string // the source of a second receiver that tells where the boom points; empty: none
	landmarks  []north.Landmark
	fistDeg    float64 // 0 when not given
	beamwidth  beamwidth
	voice      []string // the command that speaks, in arguments; nil: none
	tones      []string // the command that plays tones; nil: none
	runs       []runConfig
	checks     []outing.Item // the checklist; nil: the usual one
	ear        outing.Ear    // zero: the usual one
	noiseWay   outing.Way    // of the noise test; empty: the usual one
	noiseDB    float64
	satellites []satelliteConfig
	sources    []source // of elements
	ground     groundConfig

	antenna      antennaConfig
	chains       []chainConfig
	environment  radio.Environment
	region       radio.Region
	transmitters string // a file; empty: none
}

// beamwidth is the antenna's width between the half-power points in degrees, in
// its two planes; 0 when not given.
type beamwidth struct{ eDeg, hDeg float64 }

// narrower is the one that an aim has to keep to.
func (b beamwidth) narrower() float64 { return min(b.eDeg, b.hDeg) }

// satelliteConfig is what is known about a satellite's beacon. Zero values were
// not given.
type satelliteConfig struct {
	name            string
	catalogueNumber int
	frequencyHz     float64
	period          time.Duration
	first           time.Time
	length          time.Duration
	tolerance       time.Duration
	signal          signalConfig
}

// configFile is the file's shape: the keys, as they are written.
type configFile struct {
	Site *struct {
		LatitudeDeg  *float64 `toml:"latitude_deg"`
		LongitudeDeg *float64 `toml:"longitude_deg"`
		HeightM      float64  `toml:"height_m"`
		Name         string   `toml:"name"`
	} `toml:"site"`
	GPS struct {
		Source string `toml:"source"`
		Sensor string `toml:"sensor"`
	} `toml:"gps"`
	Landmark []landmarkTable `toml:"landmark"`
	Fist     struct {
		Degrees *float64 `toml:"degrees"`
	} `toml:"fist"`
	Antenna antennaTable `toml:"antenna"`
	Voice   struct {
		Command *string `toml:"command"`
		Tones   *string `toml:"tones"`
	} `toml:"voice"`
	Run []struct {
		At      *string `toml:"at"`
		Command *string `toml:"command"`
		Timeout *string `toml:"timeout"`
	} `toml:"run"`
	Check []struct {
		Name      string  `toml:"name"`
		Before    *string `toml:"before"`
		Text      string  `toml:"text"`
		Check     string  `toml:"check"`
		Insist    bool    `toml:"insist"`
		UntilRise bool    `toml:"until_rise"`
	} `toml:"check"`
	Marks struct {
		Reaction       *string `toml:"reaction"`
		Scatter        *string `toml:"scatter"`
		WaterfallLeast *string `toml:"waterfall_least"`
		WaterfallMost  *string `toml:"waterfall_most"`
	} `toml:"marks"`
	Noise struct {
		Way *string  `toml:"way"`
		DB  *float64 `toml:"db"`
	} `toml:"noise"`
	Satellite []struct {
		Name            string   `toml:"name"`
		CatalogueNumber *int     `toml:"catalogue_number"`
		FrequencyHz     *float64 `toml:"frequency_hz"`
		Period          *string  `toml:"period"`
		First           any      `toml:"first"` // a time of TOML or a text
		Length          *string  `toml:"length"`
		Tolerance       *string  `toml:"tolerance"`
		signalTable
	} `toml:"satellite"`
	Source []struct {
		URL      *string `toml:"url"`
		Interval *string `toml:"interval"`
	} `toml:"source"`
	Chain        []chainTable `toml:"chain"`
	Environment  *string      `toml:"environment"`
	Region       *string      `toml:"region"`
	Transmitters *string      `toml:"transmitters"`
	groundTable
}

// loadConfig reads the configuration that the command line names or else the
// usual one, which may be missing.
func (sys system) loadConfig(named string) (config, error) {
	file := named
	if file == "" {
		file = sys.configFile
	}
	f, err := openFile(file, `"foreaim help config" shows what may be in it`)
	switch {
	case errors.Is(err, fs.ErrNotExist) && named == "":
		return config{}, nil
	case err != nil:
		return config{}, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxConfig+1))
	switch {
	case err != nil:
		return config{}, wrong("", "%w", err)
	case len(data) > maxConfig:
		return config{}, wrong("", "%s: more than %d MiB: not a configuration", file, maxConfig>>20)
	}
	return parseConfig(file, data)
}

// maxConfig is more bytes than anybody writes by hand.
const maxConfig = 1 << 20

// parseConfig reads a configuration. Unknown keys and impossible values are
// errors that say where.
func parseConfig(file string, data []byte) (config, error) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")) // some editors begin a file with it
	where := findKeys(data)
	var raw configFile
	decoder := toml.NewDecoder(bytes.NewReader(data)).DisallowUnknownFields()
	if err := decoder.Decode(&raw); err != nil {
		return config{}, tomlError(file, err)
	}
	check := &configCheck{file: file, where: where}
	c := raw.check(check)
	c.file = file
	return c, errors.Join(check.errs...)
}

// wrongKind is how the TOML reader words a value of the wrong kind, in terms of
// this program's insides.
var wrongKind = regexp.MustCompile(`cannot decode TOML (.+) into struct field .* of type \*?(\w+)$`)

// tomlError words the library's errors as ours. Of several unknown keys each
// gets its own line.
func tomlError(file string, err error) error {
	var unknown *toml.StrictMissingError
	if errors.As(err, &unknown) {
		var errs []error
		for _, e := range unknown.Errors {
			line, column := e.Position()
			key := e.Key()
			errs = append(errs, wrong(knownKeys(key), "%s:%d:%d: unknown key %q",
				file, line, column, strings.Join(key, ".")))
		}
		return errors.Join(errs...)
	}
	var decode *toml.DecodeError
	if errors.As(err, &decode) {
		line, column := decode.Position()
		if kinds := wrongKind.FindStringSubmatch(decode.Error()); kinds != nil {
			want := "a number"
			switch kinds[2] {
			case "string":
				want = "a text in quotes"
			case "bool":
				want = "true or false"
			}
			return wrong("", "%s:%d:%d: %s: this is a value of the kind %s, want %s",
				file, line, column, strings.Join(decode.Key(), "."), kinds[1], want)
		}
		return wrong("", "%s:%d:%d: %s", file, line, column, strings.TrimPrefix(decode.Error(), "toml: "))
	}
	return wrong("", "%s: %w", file, err)
}

// entry finds what is known about an object: by its number or, where one of the
// two has none, by its name.
func (c config) entry(name string, number int) (satelliteConfig, bool) {
	for _, s := range c.satellites {
		if s.catalogueNumber != 0 && s.catalogueNumber == number {
			return s, true
		}
	}
	for _, s := range c.satellites {
		if (s.catalogueNumber == 0 || number == 0) && sameName(s.name, name) {
			return s, true
		}
	}
	return satelliteConfig{}, false
}

// sameName compares names without regard to case and spaces.
func sameName(a, b string) bool {
	return a != "" && strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}
