package main

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// The fields that each command promises. Other programs read them: a name that
// changes here breaks theirs.
var (
	lookFields = []string{"time", "azimuth_deg", "elevation_deg", "range_km"}
	passFields = []string{"satellite", "catalogue_number", "rise", "peak", "set", "duration_s", "bursts_expected",
		"time_error_sigma_s", "peak_error_sigma_deg"}
)

func TestJSONFields(t *testing.T) {
	beacon := []string{"--period", "1m", "--first", "2026-11-25T16:00:10Z", "--frequency", "436.215M"}
	emberling := with(emberling, "--from", "2026-11-25T19:00:00Z") // a good pass follows
	site := emberling[:4]
	for _, c := range []struct {
		args   []string
		path   []string // to the object that is looked at
		fields []string
	}{
		{with(site, "look", "--frequency", "436.215M"), []string{"0"},
			append([]string{"satellite", "catalogue_number", "range_rate_km_s", "sub_latitude_deg", "sub_longitude_deg",
				"altitude_km", "sunlit", "receive_hz"}, lookFields...)},
		{with(emberling, "passes", "--period", "30s"), []string{"0"}, passFields},
		{with(emberling, "passes", "--period", "30s"), []string{"0", "rise"}, lookFields},
		{with(emberling, "passes", "--period", "30s"), []string{"0", "peak"}, lookFields},
		{with(emberling, "passes", "--period", "30s"), []string{"0", "set"}, lookFields},
		{with(with(emberling, "bursts"), beacon...), nil, []string{"pass", "bursts"}},
		{with(with(emberling, "bursts"), beacon...), []string{"pass"}, passFields},
		{with(with(emberling, "bursts"), beacon...), []string{"bursts", "0"},
			append([]string{"number", "range_rate_km_s", "receive_hz"}, lookFields...)},
		{with(emberling, "bursts", "--period", "30s"), nil, []string{"pass", "bursts", "longest_wait_s"}},
		{[]string{"north", "--site", "58.3127,14.0864"}, nil, []string{"time", "declination_deg", "declination_uncertainty_deg",
			"annual_change_deg", "inclination_deg", "total_nt", "horizontal_nt", "north_nt", "east_nt", "down_nt", "model",
			"sun", "moon", "pole_star", "landmarks", "sights", "grid_convergence_deg", "grid_zone"}},
		{[]string{"north", "--site", "86,139", "--at", "2031-01-01T00:00:00Z"}, nil, []string{"time", "note", "sun", "moon", "pole_star", "landmarks", "sights"}},
		{[]string{"north", "--site", "58.3127,14.0864", "--at", "2026-11-25T10:00:00Z"}, []string{"sun"}, []string{"azimuth_deg", "elevation_deg", "shadow_azimuth_deg"}},
		{[]string{"north", "--site", "58.3127,14.0864"}, []string{"sun"}, []string{"azimuth_deg", "elevation_deg"}}, // it has set
		{[]string{"north", "--site", "58.3127,14.0864", "--landmark", "church=58.33,14.12,167"}, []string{"landmarks", "0"},
			[]string{"name", "true_deg", "magnetic_deg", "distance_km", "elevation_deg", "uncertainty_deg"}},
		{[]string{"north", "--site", "86,139", "--landmark", "church=86.1,139"}, []string{"landmarks", "0"},
			[]string{"name", "true_deg", "distance_km", "uncertainty_deg"}},
		{[]string{"north", "--site", "58.3127,14.0864", "--landmark", "here=58.3127,14.0864"}, []string{"landmarks", "0"}, []string{"name", "refusal"}},
		{[]string{"gps", "--source", "fixed:58.3127,14.0864,131"}, nil,
			[]string{"latitude_deg", "longitude_deg", "altitude_m", "quality", "satellites_used"}},
		{[]string{"elements", "list", "../../testdata/outing/launch.tle"}, []string{"0"}, []string{"satellite", "catalogue_number", "epoch",
			"age_days", "time_error_sigma_s", "designator", "format", "file", "mean_motion_rev_per_day", "eccentricity", "inclination_deg", "node_deg",
			"perigee_deg", "anomaly_deg", "bstar_per_earth_radius"}},
	} {
		var answer any
		runJSON(t, &answer, c.args...)
		for _, step := range c.path {
			switch v := answer.(type) {
			case []any:
				answer = v[0]
			case map[string]any:
				answer = v[step]
			}
		}
		object, ok := answer.(map[string]any)
		if !ok {
			t.Errorf("%v: no object at %v", c.args, c.path)
			continue
		}
		var got []string
		for field := range object {
			got = append(got, field)
		}
		slices.Sort(got)
		want := slices.Clone(c.fields)
		slices.Sort(want)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%v %v: want -, got +\n%s", c.args, c.path, diff)
		}
	}
}

// Every time is UTC with milliseconds.
func TestJSONTimes(t *testing.T) {
	_, stdout, _ := runHere(t, t.Context(), with(emberling, "passes", "--json")...)
	times := 0
	for line := range strings.Lines(stdout) {
		_, text, found := strings.Cut(strings.TrimSpace(line), `"time": "`)
		if !found {
			continue
		}
		times++
		text = strings.TrimRight(text, `",`)
		if _, err := time.Parse("2006-01-02T15:04:05.000Z", text); err != nil {
			t.Errorf("%q is not UTC with milliseconds", text)
		}
	}
	if times < 3 {
		t.Errorf("only %d times in %s", times, stdout)
	}
}

func TestJSONNumbers(t *testing.T) {
	type row struct {
		A *float64 `json:"a,omitempty"`
	}
	for x, want := range map[float64]string{
		math.Inf(1): `{}`, math.Inf(-1): `{}`, 1.23456: `{"a":1.2346}`, -0.00001: `{"a":0}`, 1e9: `{"a":1000000000}`,
	} {
		got, err := json.Marshal(row{number(x, 4)})
		if err != nil || string(got) != want {
			t.Errorf("%v is %s, %v, want %s", x, got, err, want)
		}
	}
	if number(math.NaN(), 4) != nil {
		t.Error("NaN reaches JSON")
	}
	if got := *azimuth(359.99999); got != 0 {
		t.Errorf("an azimuth of %v, want 0", got)
	}
	got, err := instant(time.Date(2026, 12, 31, 23, 59, 59, 999_600_000, time.FixedZone("", -3600))).MarshalJSON()
	if want := `"2027-01-01T01:00:00.000Z"`; err != nil || string(got) != want {
		t.Errorf("%s, %v, want %s", got, err, want)
	}
}
