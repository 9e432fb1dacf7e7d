package radio

import (
	"cmp"
	"io"
	"slices"

	"foreaim/track/internal/csvfile"
)

// Setting is how the receiver was set, and the antenna held, when something was
// seen.
type Setting struct {
	AzimuthDeg   Figure  // from true north
	AttenuatorDB float64 // in front of everything; 0: none
	Preamplifier string  // in, out, or nothing where it isn't told
}

// Peak is a strong signal that somebody saw.
type Peak struct {
	Setting
	LowMHz, HighMHz float64 // what it occupies
	Level           float64 // of all of it: dBm or dB, see Seen
}

// Point is one of a spectrum: the level around a frequency, in dBm or dB.
type Point struct{ MHz, Level float64 }

// Sweep is a spectrum taken at one setting, by rising frequency.
type Sweep struct {
	Setting
	Points []Point
}

// Seen is what somebody saw on the receiver: peaks, or sweeps.
type Seen struct {
	// Absolute levels are dBm at the antenna's port, or behind the attenuator where
	// there is one. The others are dB against nothing that is known, but the same
	// for all at the same gain.
	Absolute bool
	Peaks    []Peak
	Sweeps   []Sweep // one a setting, in the order of the file
}

const maxSeenFile = 64 << 20 // bytes

// What a level may be: the whole range of receivers, and their scales.
const leastLevel, mostLevel = -300, 300

// ReadSeen reads what was seen as CSV. Signals have the columns low_mhz and
// high_mhz, a spectrum frequency_mhz; both level_dbm or level_db, and there may
// be azimuth_deg, attenuator_db (0 to 60) and preamplifier (in or out), whose
// cells may be empty. Rows may be in any order; those of a spectrum with the same
// setting are one sweep. The name of the file is for the error, a *FileError: the
// first.
func ReadSeen(r io.Reader, file string) (Seen, error) {
	t := csvfile.Open(r, file, csvfile.Format{
		What:     "a file of signals or a spectrum",
		Needs:    []string{"frequency_mhz|low_mhz", "level_db|level_dbm"},
		May:      []string{"high_mhz", "azimuth_deg", "attenuator_db", "preamplifier"},
		MaxBytes: maxSeenFile,
	})
	seen := Seen{Absolute: t.Has("level_dbm")}
	if t.Has("frequency_mhz") {
		seen.Sweeps = readSweeps(t, seen.column())
	} else {
		seen.Peaks = readPeaks(t, seen.column())
	}
	if err := t.Err(); err != nil {
		return Seen{}, err
	}
	return seen, nil
}

// column is where the levels are.
func (s Seen) column() string {
	if s.Absolute {
		return "level_dbm"
	}
	return "level_db"
}

// Unit is that of the levels, for people.
func (s Seen) Unit() string {
	if s.Absolute {
		return "dBm"
	}
	return "dB"
}

func readPeaks(t *csvfile.Table, level string) []Peak {
	var all []Peak
	for t.Next() {
		if !t.Has("high_mhz") {
			t.Fail("low_mhz", "signals have low_mhz and high_mhz, a spectrum has frequency_mhz", `column "high_mhz" is missing`)
		}
		p := Peak{
			Setting: readSetting(t),
			LowMHz:  t.Number("low_mhz", 0.001, 1e5),
			HighMHz: t.Number("high_mhz", 0.001, 1e5),
			Level:   t.Number(level, leastLevel, mostLevel),
		}
		if p.HighMHz < p.LowMHz {
			t.Fail("high_mhz", "", "high_mhz is %v, below low_mhz, %v", p.HighMHz, p.LowMHz)
		}
		all = append(all, p)
		if len(all) > maxPeaks {
			t.Fail("low_mhz", "leave the weaker ones out", "more than %d signals", maxPeaks)
		}
	}
	return all
}

func readSweeps(t *csvfile.Table, level string) []Sweep {
	type place struct {
		sweep int
		mhz   float64
	}
	var all []Sweep
	lines := map[place]int{}
	for t.Next() {
		if t.Has("high_mhz") {
			t.Fail("high_mhz", "signals have low_mhz and high_mhz, a spectrum has frequency_mhz", `"high_mhz" is of no use beside "frequency_mhz"`)
		}
		set := readSetting(t)
		p := Point{t.Number("frequency_mhz", 0.001, 1e5), t.Number(level, leastLevel, mostLevel)}
		at := slices.IndexFunc(all, func(s Sweep) bool { return s.Setting == set })
		if at < 0 {
			at = len(all)
			all = append(all, Sweep{Setting: set})
		}
		if len(all) > maxSweeps {
			t.Fail("frequency_mhz", "a file for each day or place", "more than %d settings of antenna and receiver", maxSweeps)
		}
		if line, there := lines[place{at, p.MHz}]; there {
			t.Fail("frequency_mhz", "keep one, or the mean of both", "%v MHz at the same setting is in line %d already", p.MHz, line)
		}
		lines[place{at, p.MHz}] = t.Line()
		all[at].Points = append(all[at].Points, p)
	}
	for _, s := range all {
		slices.SortFunc(s.Points, func(a, b Point) int { return cmp.Compare(a.MHz, b.MHz) })
	}
	return all
}

// maxSweeps and maxPeaks are more than anybody takes at one place.
const (
	maxSweeps = 100
	maxPeaks  = 2000
)

func readSetting(t *csvfile.Table) Setting {
	var s Setting
	s.AzimuthDeg.Value, s.AzimuthDeg.Known = t.Maybe("azimuth_deg", 0, 360)
	s.AttenuatorDB, _ = t.Maybe("attenuator_db", 0, 60)
	s.Preamplifier = t.Choice("preamplifier", "in", "out", "")
	return s
}
