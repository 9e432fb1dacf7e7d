package gps

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"
)

// row is one row of testdata/nmea/nmea_sentences.csv; see testdata/README.md
// for its sources.
type row struct {
	id, sentence, expect, kind, clock, date, latitude, longitude, valid string
	values                                                              map[string]string
}

func table(t testing.TB) (rows []row) {
	file, err := os.Open("../testdata/nmea/nmea_sentences.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	records, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range records[1:] {
		values := map[string]string{}
		for pair := range strings.SplitSeq(r[11], ";") {
			key, value, _ := strings.Cut(pair, "=")
			values[key] = value
		}
		rows = append(rows, row{r[0], r[1], r[2], r[5], r[6], r[7], r[8], r[9], r[10], values})
	}
	if len(rows) != 101 {
		t.Fatalf("%d rows, want 101", len(rows))
	}
	return rows
}

// readRow sends a row through splitter and reader and gives the last line's
// meaning.
func readRow(r row) (s sentence, err error) {
	reader := newReader()
	for _, line := range split([]byte(r.sentence+"\r\n"), nil) {
		s, err = reader.read([]byte(line))
	}
	return s, err
}

func TestSentencesOfTheTable(t *testing.T) {
	refusals := map[string]error{
		"no_checksum": errCut, "reject_truncated": errCut,
		"reject_checksum": errChecksum, "reject_field": errField,
	}
	for _, r := range table(t) {
		s, err := readRow(r)
		if want := refusals[r.expect]; want != nil || err != nil {
			if !errors.Is(err, want) || want == nil {
				t.Errorf("%s %s: error %v, want %v", r.id, r.expect, err, want)
			}
			continue
		}
		if layout(r.kind) == "" {
			if s.kind != "" || s.position || s.timeKnown {
				t.Errorf("%s: %s isn't read, got %+v", r.id, r.kind, s)
			}
			continue
		}
		if s.kind != r.kind {
			t.Errorf("%s: kind %q, want %q", r.id, s.kind, r.kind)
		}
		checkTime(t, r, s)
		checkPosition(t, r, s)
		checkHeading(t, r, s)
	}
}

// checkTime compares time and date with the table.
func checkTime(t *testing.T, r row, s sentence) {
	want, known := time.Duration(0), r.clock != ""
	if known {
		part := strings.Split(r.clock, ":")
		seconds, _ := strconv.ParseFloat(part[2], 64)
		want, _ = time.ParseDuration(part[0] + "h" + part[1] + "m")
		want += time.Duration(math.Round(seconds*1000)) * time.Millisecond
	}
	if s.timeKnown != known || s.timeOfDay != want {
		t.Errorf("%s: time %v %v, want %v %v", r.id, s.timeOfDay, s.timeKnown, want, known)
	}
	date := ""
	if !s.date.IsZero() {
		date = s.date.Format(time.DateOnly)
	}
	if date != r.date {
		t.Errorf("%s: date %q, want %q", r.id, date, r.date)
	}
}

// checkPosition compares position, validity, height, satellites and dilution
// with the table.
func checkPosition(t *testing.T, r row, s sentence) {
	if s.position != (r.latitude != "") {
		t.Errorf("%s: position %v, want %q", r.id, s.position, r.latitude)
	}
	if s.position {
		same(t, r.id+" latitude", s.latitudeDeg, r.latitude, 1e-8)
		same(t, r.id+" longitude", s.longitudeDeg, r.longitude, 1e-8)
	}
	switch r.kind {
	case "GGA", "RMC", "GLL", "GNS":
		valid := map[string]string{none: "no", simulated: "simulated"}[s.quality]
		if valid == "" {
			valid = "yes"
		}
		if valid != r.valid {
			t.Errorf("%s: quality %q, want valid %q", r.id, s.quality, r.valid)
		}
	case "GSA":
		same(t, r.id+" fix", float64(s.dimensions), r.values["fix"], 0)
	}
	if r.kind != "GGA" && r.kind != "GNS" {
		return
	}
	if s.altitudeKnown != (r.values["alt_msl_m"] != "") || s.geoidKnown != (r.values["geoid_sep_m"] != "") {
		t.Errorf("%s: height known %v, geoid %v", r.id, s.altitudeKnown, s.geoidKnown)
	}
	if s.altitudeKnown {
		same(t, r.id+" height", s.altitudeM, r.values["alt_msl_m"], 0)
	}
	if s.geoidKnown {
		same(t, r.id+" geoid", s.geoidM, r.values["geoid_sep_m"], 0)
	}
	satellites, hdop := r.values["sats"], r.values["hdop"]
	if satellites == "" {
		satellites = "-1"
	}
	if hdop == "" || hdop == "99.99" {
		hdop = "0"
	}
	same(t, r.id+" satellites", float64(s.satellites), satellites, 0)
	same(t, r.id+" dilution", s.hdop, hdop, 0)
}

// checkHeading compares headings with the table.
func checkHeading(t *testing.T, r row, s sentence) {
	wantTrue, wantMagnetic := r.values["heading_true_deg"], r.values["heading_magnetic_deg"]
	if r.kind == "HDG" {
		wantTrue, wantMagnetic = r.values["derived_true_deg"], r.values["derived_magnetic_deg"]
	}
	if r.valid == "simulated" {
		wantTrue = ""
	}
	h := s.heading
	if h.TrueKnown != (wantTrue != "") || h.MagneticKnown != (wantMagnetic != "") {
		t.Errorf("%s: heading %+v, want true %q magnetic %q", r.id, h, wantTrue, wantMagnetic)
		return
	}
	if h.TrueKnown {
		same(t, r.id+" true heading", h.TrueDeg, wantTrue, 1e-9)
	}
	if h.MagneticKnown {
		same(t, r.id+" magnetic heading", h.MagneticDeg, wantMagnetic, 1e-9)
	}
}

func same(t *testing.T, name string, got float64, text string, tolerance float64) {
	t.Helper()
	want, err := strconv.ParseFloat(text, 64)
	if err != nil || !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9f, want %s", name, got, text)
	}
}

// summed adds start and checksum to the text of a sentence.
func summed(body string) string {
	var sum byte
	for i := range len(body) {
		sum ^= body[i]
	}
	const hex = "0123456789ABCDEF"
	return "$" + body + "*" + string([]byte{hex[sum>>4], hex[sum&15]})
}

// Numbers that strconv reads and no receiver means; and forms that real
// receivers have and the library refuses. All invented.
func TestSentenceFields(t *testing.T) {
	for body, want := range map[string]error{
		"GPGGA,101530.00,NaN,N,01131.0000,E,1,08,0.9,545.4,M,46.9,M,,":     errField,
		"GPGGA,101530.00,48e2,N,01131.0000,E,1,08,0.9,545.4,M,46.9,M,,":    errField,
		"GPGGA,101530.00,-4807.0,N,01131.0000,E,1,08,0.9,545.4,M,46.9,M,,": errField,
		"GPGGA,101530.00,4807.0,N,18000.1,E,1,08,0.9,545.4,M,46.9,M,,":     errField,
		"GPGGA,101530.00,4807.0,N,01131.0000,E,1,08,Inf,545.4,M,46.9,M,,":  errField,
		"GPGGA,101530.00,4807.0,N,01131.0000,E,1,08,0.9,545.4,F,46.9,M,,":  errField,
		"GPGGA,101530.00,4807.0,N,01131.0000,E,1,08,0.9,545.4,M,460.9,M,,": errField,
		"GPGGA,101575.00,4807.0,N,01131.0000,E,1,08,0.9,545.4,M,46.9,M,,":  errField,
		"GPRMC,101530.00,A,4807.0380,N,01131.0000,E,0.0,,310226,,,A":       errField,
		"GPTXT,01,01,02,\x1b[2J":                                        errField,
		"HCHDG,10.0,,,1.0,":                                             errField,
		"GPRMC,101530.00,A,48\x0107,N,01131,E,":                         errField,
		"GPRMC,101530.00,A,4807.0380,N,01131.0000,E,x,y,221126,z,Q,A,Q": nil, // fields not read
		"GPRMC,,V,,N,,E,,,,,,N":                                         nil, // letters kept
		"GPGGA,101530,4807.0,N,01131.0,E,7":                             nil,
		"GPZDA,000000.00,00,00,0000,,":                                  nil,
		"GPHDT,274.07":                                                  nil,
		"PUBX,00,whatever":                                              nil,
	} {
		if _, err := newReader().read([]byte(summed(body))); !errors.Is(err, want) || (want == nil) != (err == nil) {
			t.Errorf("%s: %v, want %v", body, err, want)
		}
	}
}

func TestQualityWords(t *testing.T) {
	for body, want := range map[string]string{
		"GPGGA,,4807.0,N,01131.0,E,2": differential, "GPGGA,,4807.0,N,01131.0,E,5": rtk,
		"GPGGA,,4807.0,N,01131.0,E,6": estimated, "GPGGA,,4807.0,N,01131.0,E,7": entered,
		"GPGGA,,4807.0,N,01131.0,E,9": plain, "GPGGA,,4807.0,N,01131.0,E,": none,
		"GNGNS,,4807.0,N,01131.0,E,NFA": rtk, "GNGNS,,4807.0,N,01131.0,E,SA": simulated,
		"GNGNS,,4807.0,N,01131.0,E,AD": differential, "GNGNS,,4807.0,N,01131.0,E,M": entered,
		"GPRMC,,A,4807.0,N,01131.0,E,,,,,,E": estimated, "GPRMC,,A,4807.0,N,01131.0,E,,,,,,N": none,
		"GPRMC,,V,4807.0,N,01131.0,E,,,,,,A": none, "GPRMC,,A,4807.0,N,01131.0,E": plain,
	} {
		s, err := newReader().read([]byte(summed(body)))
		if err != nil || s.quality != want {
			t.Errorf("%s: %q, %v, want %q", body, s.quality, err, want)
		}
	}
}
