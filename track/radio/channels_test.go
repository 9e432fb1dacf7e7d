package radio

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"

	"foreaim/track/internal/testtable"
)

// In the table of every region each channel, and each run of two to four adjacent
// ones, is named as such, and no other of as many channels that fits worse comes
// before it: by a signal that fills it, and by one that leaves 2.5 % of a channel
// empty on either side.
// Tables: 47 CFR 73.603, GE06, national plans, ETSI EN 300 401 (see tables/).
func TestAdjacentChannelsOfEveryRegion(t *testing.T) {
	type channel struct {
		name      string
		low, high float64
	}
	type table struct {
		region   Region
		what     string
		channels []channel
	}
	read := func(row map[string]string, name string) channel {
		return channel{row[name], number(t, row["low_mhz"]), number(t, row["high_mhz"])}
	}
	groups := map[string]*table{}
	regions := map[string]Region{"North America": NorthAmerica, "Japan": Japan, "Australia": Australia, "New Zealand": NewZealand}
	for _, row := range testtable.Rows(t, "tables/channels_tv.csv") {
		where := row["region"]
		g := groups[where]
		if g == nil {
			region, named := regions[where]
			if !named {
				region = Region1
			}
			g = &table{region: region, what: "TV channel"}
			groups[where] = g
		}
		g.channels = append(g.channels, read(row, "channel"))
	}
	blocks := &table{region: Region1, what: "digital radio block"}
	groups["Band III"] = blocks
	for _, row := range testtable.Rows(t, "tables/channels_dab.csv") {
		blocks.channels = append(blocks.channels, read(row, "block"))
	}
	if len(groups) != 8 {
		t.Fatalf("%d tables", len(groups))
	}
	named := 0
	for where, g := range groups {
		plan, err := NewPlan(g.region)
		if err != nil {
			t.Fatal(err)
		}
		for i := range g.channels {
			for n := 1; n <= 4 && i+n <= len(g.channels); n++ {
				run := g.channels[i : i+n]
				broken := false
				for k := 1; k < n; k++ {
					broken = broken || run[k].low-run[k-1].high > 0.5
				}
				if broken {
					continue
				}
				low, high := run[0].low, run[n-1].high
				want := g.what + " " + run[0].name
				if n > 1 {
					want = fmt.Sprintf("%ss %s to %s, %d adjacent", g.what, run[0].name, run[n-1].name, n)
				}
				for _, empty := range []float64{0, 0.025 * (run[0].high - low)} {
					all := plan.Identify(Band{LowMHz: low + empty, HighMHz: high - empty}, 0.05, nil)
					at := slices.IndexFunc(all, func(c Candidate) bool { return c.Words == want && c.Where == where })
					if at < 0 {
						t.Fatalf("%s: %v to %v MHz is not %s but %+v", where, low, high, want, all)
					}
					// The same edges may be others' too, and those of one that is in use come first.
					c := all[at]
					if c.Adjacent() != (n > 1) || c.Fit != EdgesFit || all[0].Fit != EdgesFit || all[0].rank() == c.rank() && len(all[0].Channels) >= n && all[0].Words != want && all[0].off() > c.off() {
						t.Errorf("%s: %v to %v MHz: %+v comes first", where, low, high, all[0])
					}
					named++
				}
			}
		}
	}
	if named < 1500 {
		t.Errorf("only %d runs were tried", named)
	}
}

// The tables of channels follow the rules that they are published with: 47 CFR
// 73.603; GE06, 470 MHz and 8 MHz a channel from 21 on, Band III from 174 MHz in 7
// or 8 MHz; Japan, 470 MHz and 6 MHz from 13 on; ETSI EN 300 401, blocks of 1.536
// MHz, those of one channel 1.712 MHz apart, but for the middle of the thirteenth.
func TestChannelsFollowTheirRules(t *testing.T) {
	plan, err := NewPlan(Anywhere)
	if err != nil {
		t.Fatal(err)
	}
	rules := map[string]func(channel float64) (lowMHz, widthMHz float64){
		"North America": func(n float64) (float64, float64) {
			switch {
			case n <= 4:
				return 54 + 6*(n-2), 6
			case n <= 6:
				return 76 + 6*(n-5), 6
			case n <= 13:
				return 174 + 6*(n-7), 6
			}
			return 470 + 6*(n-14), 6
		},
		"Region 1":                          func(n float64) (float64, float64) { return 470 + 8*(n-21), 8 },
		"Region 1 (7 MHz raster)":           func(n float64) (float64, float64) { return 174 + 7*(n-5), 7 },
		"Region 1 (8 MHz raster countries)": func(n float64) (float64, float64) { return 174 + 8*(n-6), 8 },
		"Japan":                             func(n float64) (float64, float64) { return 470 + 6*(n-13), 6 },
	}
	checked := map[string]int{}
	for _, r := range plan.rasters {
		where := r.channels[0].where
		for i, c := range r.channels {
			if where == "Band III" {
				checked[where]++
				near(t, c.name+" is wide", c.highMHz-c.lowMHz, 1.536, 1e-9)
				if i > 0 && c.name != "13D" && c.name[:len(c.name)-1] == r.channels[i-1].name[:len(r.channels[i-1].name)-1] {
					near(t, c.name+" after the one before", c.lowMHz-r.channels[i-1].lowMHz, 1.712, 1e-6)
				}
				continue
			}
			rule, there := rules[strings.Split(where, ", ")[0]]
			n, err := strconv.ParseFloat(c.name, 64)
			if !there || err != nil || where == "Japan" && n < 13 {
				continue
			}
			checked[where]++
			low, width := rule(n)
			near(t, where+" "+c.name+" begins", c.lowMHz, low, 1e-6)
			near(t, where+" "+c.name+" is wide", c.highMHz-c.lowMHz, width, 1e-6)
		}
	}
	want := map[string]int{"North America": 50, "Region 1": 49, "Region 1 (7 MHz raster)": 8, "Region 1 (8 MHz raster countries)": 7, "Japan": 40, "Band III": 38}
	if !maps.Equal(checked, want) {
		t.Errorf("%v, want %v", checked, want)
	}
}

// What lies in a service's range, what is known to be there, and an edge that the
// sweep cuts off.
func TestIdentifyOthers(t *testing.T) {
	plan, err := NewPlan(Region1)
	if err != nil {
		t.Fatal(err)
	}
	words := func(all []Candidate) string {
		var b strings.Builder
		for _, c := range all {
			fmt.Fprintf(&b, "%s (%s); ", c.Words, c.Fit)
		}
		return b.String()
	}
	masts := []Transmitter{
		{Name: "Kvarn Hill", LowMHz: 494, HighMHz: 502}, {Name: "Lake", LowMHz: 502, HighMHz: 510}, {Name: "Far", LowMHz: 600, HighMHz: 608},
	}
	for _, c := range []struct {
		name      string
		band      Band
		has, lack []string
	}{
		{"mobile masts, 3GPP TS 36.101 band 20", Band{LowMHz: 801, HighMHz: 811}, []string{"mobile telephone masts, band B20/n20 (lies within)"}, []string{"FM broadcast"}},
		{"FM, GE84", Band{LowMHz: 98.1, HighMHz: 98.3}, []string{"FM broadcast (lies within)"}, []string{"TV"}},
		{"a known mast", Band{LowMHz: 494.2, HighMHz: 501.8}, []string{"Kvarn Hill, 494.0 to 502.0 MHz (edges fit); TV channel 24 (edges fit)"}, []string{"Lake", "Far"}},
		{"two known masts", Band{LowMHz: 494.2, HighMHz: 509.8}, []string{"TV channels 24 to 25, 2 adjacent (edges fit); Kvarn Hill, 494.0 to 502.0 MHz (part of it); Lake"}, []string{"Far"}},
		{"cut off", Band{LowMHz: 497, HighMHz: 509.9, OpenLow: true}, []string{"TV channels 24 to 25, 2 adjacent (edges fit)"}, []string{"23 to"}},
		{"no channel's edges", Band{LowMHz: 498, HighMHz: 506}, []string{"TV UHF (lies within)"}, []string{"TV channel"}},
		{"digital radio, 7B of EN 300 401", Band{LowMHz: 189.9, HighMHz: 191.4}, []string{"digital radio block 7B (edges fit)"}, []string{"TV channel"}},
	} {
		got := words(plan.Identify(c.band, 0.1, masts))
		for _, want := range c.has {
			if !strings.Contains(got, want) {
				t.Errorf("%s: %s\nwant %s", c.name, got, want)
			}
		}
		for _, not := range c.lack {
			if strings.Contains(got, not) {
				t.Errorf("%s: %s\nwithout %s", c.name, got, not)
			}
		}
	}
	cleared := plan.Identify(Band{LowMHz: 790.2, HighMHz: 797.8}, 0.1, nil)
	if len(cleared) == 0 || !strings.HasPrefix(cleared[0].State, "historical") || cleared[0].Words != "TV channel 61" {
		t.Errorf("%+v", cleared)
	}
}

func TestPlans(t *testing.T) {
	if _, err := NewPlan("mars\x1b"); err == nil || err.Error() != `region is "mars", want "region 1", "north america", "japan", "australia", "new zealand" or nothing` {
		t.Error(err)
	}
	everywhere, err := NewPlan(Anywhere)
	if err != nil {
		t.Fatal(err)
	}
	if len(everywhere.rasters) != 8 {
		t.Errorf("%d tables of channels", len(everywhere.rasters))
	}
	for _, region := range Regions() {
		plan, err := NewPlan(region)
		if err != nil || len(plan.rasters) == 0 || len(plan.services) < 20 || len(plan.services) >= len(everywhere.services) {
			t.Errorf("%s: %v", region, err)
		}
	}
}
