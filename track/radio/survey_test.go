package radio

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"foreaim/track/internal/testtable"
	"foreaim/track/radio/internal/invent"
)

// surveyed works a survey out.
func surveyed(t *testing.T, a Asked, csv string) Survey {
	t.Helper()
	var err error
	if a.Seen, err = ReadSeen(strings.NewReader(csv), "s.csv"); err != nil {
		t.Fatal(err)
	}
	if a.Plan, err = NewPlan(Region1); err != nil {
		t.Fatal(err)
	}
	s, err := NewSurvey(a)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The outing of outing_test.go again, this time from levels read at the antenna's
// port: -19.83 and -20.88 dBm, good to 3 dB. By hand as there: 2·P1 + P2 +
// 2·5.877 + 3.010 − 71.182 + 41.761 = -75.18 dBm, three times 3 dB either way; on
// the preamplifier -17.31 dBm, headroom -5 − 9.636 − 10.5 + 17.31 dB, 3 either way.
func TestSurveyOfCalibratedPeaks(t *testing.T) {
	link, _ := meadow(t)
	s := surveyed(t, Asked{Link: link, Look: atPeak, Evidence: Evidence{Noise: "up"}},
		"low_mhz,high_mhz,level_dbm\n494,502,-19.83\n558,566,-20.88\n")
	if s.Overload == nil || len(s.Products) == 0 || s.Products[0].Words != "2 × TV channel 24 494.0 to 502.0 MHz - TV channel 32 558.0 to 566.0 MHz" {
		t.Fatalf("%+v", s.Products)
	}
	spans(t, "product", s.Products[0].LevelDBm, -75.18-9, -75.18+9, 0.02)
	spans(t, "headroom", s.Overload.Stages[0].HeadroomDB, -25.136+17.31-3, -25.136+17.31+3, 0.01)
	if s.Cause.Cause != "" && s.Cause.Cause != Saturation && s.Cause.Cause != MixedProduct {
		t.Errorf("%+v", s.Cause)
	}
	i := slices.IndexFunc(s.Remedies, func(r Remedy) bool { return r.Kind == NoPreamp })
	if i < 0 || s.Remedies[i].Verdict == NoHelp {
		t.Errorf("%+v", s.Remedies)
	}
	if slices.ContainsFunc(s.Remedies, func(r Remedy) bool { return r.Kind == FurtherAway || r.Kind == OtherPass }) {
		t.Error("advice by a place that nobody knows")
	}
	// Read behind 10 dB they were as strong; and a known mast is named.
	_, masts := meadow(t)
	behind := surveyed(t, Asked{Link: link, Look: atPeak, Known: masts},
		"low_mhz,high_mhz,level_dbm,attenuator_db\n494,502,-29.83,10\n558,566,-30.88,10\n")
	spans(t, "product", behind.Products[0].LevelDBm, -75.18-9, -75.18+9, 0.02)
	if behind.Products[0].Words != "2 × Kvarn Hill 494.0 to 502.0 MHz - Kvarn Hill 558.0 to 566.0 MHz" {
		t.Error(behind.Products[0].Words)
	}
	// The same levels, relative: nothing may be reckoned from them.
	s = surveyed(t, Asked{Link: link, Look: atPeak}, "low_mhz,high_mhz,level_db\n494,502,-19.83\n558,566,-20.88\n")
	if s.Overload != nil || len(s.Remedies) > 0 || !strings.Contains(strings.Join(s.Notes, " "), "Levels are relative") || s.Products[0].LevelDBm != (Range{}) {
		t.Errorf("%+v", s)
	}
}

// Signals read by eye, with and without 10 dB: what is on the channel fell by
// three times as much.
func TestSurveyOfPaddedPeaks(t *testing.T) {
	s := surveyed(t, Asked{Link: Link{FrequencyHz: 437e6, Mode: Mode{BandwidthHz: 15000}}, Evidence: Evidence{Noise: "up"}},
		"low_mhz,high_mhz,level_db,attenuator_db\n494,502,-20,0\n558,566,-21,\n437,437,-80,\n494,502,-30,10\n558,566,-31,10\n437,437,-109,10\n")
	if len(s.Signals) != 3 || s.Signals[2].Drop.Order != 3 || s.Cause.Cause != MixedProduct {
		t.Errorf("%+v", s)
	}
	text := strings.Join(s.Lines(), "\n")
	if !strings.Contains(text, "437.000 MHz, -80 dB: not on the air") || !strings.Contains(text, "by 2 × TV channel 24 494.0 to 502.0 MHz - TV channel 32 558.0 to") {
		t.Error(text)
	}
}

// Of the pairs of television channels whose product is known to fall on 437 MHz
// (or into 435 to 438 MHz) each is found, and of pairs not in that table none.
// The table was worked out apart from this project (testdata/radio).
func TestSurveyNamesMixingChannels(t *testing.T) {
	mixes := map[string]bool{}
	for _, row := range reference(t, "im_channel_pairs.csv") {
		if row["region"] == "R1-UHF8" && row["product"] == "2*f1-f2" && number(t, row["product_low_mhz"]) < 436.9 && number(t, row["product_high_mhz"]) > 437.1 {
			mixes[row["ch_f1"]+" "+row["ch_f2"]] = true
		}
	}
	if len(mixes) < 20 {
		t.Fatalf("only %d pairs", len(mixes))
	}
	for f1 := 21; f1 <= 48; f1++ {
		for f2 := f1 + 1; f2 <= 48; f2++ {
			low1, low2 := 470+8*(f1-21), 470+8*(f2-21)
			s := surveyed(t, Asked{Link: Link{FrequencyHz: 437e6, Mode: Mode{BandwidthHz: 15000}}},
				fmt.Sprintf("low_mhz,high_mhz,level_db\n%d,%d,-20\n%d,%d,-22\n", low1, low1+8, low2, low2+8))
			want := fmt.Sprintf("2 × TV channel %d %d.0 to %d.0 MHz - TV channel %d", f1, low1, low1+8, f2)
			found := slices.ContainsFunc(s.Products, func(p Product) bool { return strings.HasPrefix(p.Words, want) })
			if found != mixes[fmt.Sprintf("%d %d", f1, f2)] {
				t.Errorf("channels %d and %d: %v, products %+v", f1, f2, found, s.Products)
			}
		}
	}
}

// Each pair of that table, in either region and of second or third order, is found
// to mix onto the band that it says.
func TestSurveyNamesAllMixingChannels(t *testing.T) {
	edges := map[string]map[string][2]float64{}
	for name, region := range map[string]Region{"R1-UHF8": Region1, "NA": NorthAmerica} {
		plan, err := NewPlan(region)
		if err != nil {
			t.Fatal(err)
		}
		edges[name] = map[string][2]float64{}
		for _, r := range plan.rasters {
			for _, c := range r.channels {
				if r.what == "TV channel" && (name == "NA" || c.lowMHz >= 470) {
					edges[name][c.name] = [2]float64{c.lowMHz, c.highMHz}
				}
			}
		}
	}
	rows := reference(t, "im_channel_pairs.csv")
	for _, row := range rows {
		var low, high float64
		if n, err := fmt.Sscanf(row["hits_band_mhz"], "%f-%f", &low, &high); n != 2 || err != nil {
			t.Fatal(row)
		}
		middle := (max(low, number(t, row["product_low_mhz"])) + min(high, number(t, row["product_high_mhz"]))) / 2
		f1, f2 := edges[row["region"]][row["ch_f1"]], edges[row["region"]][row["ch_f2"]]
		s := surveyed(t, Asked{Link: Link{FrequencyHz: middle * 1e6, Mode: Mode{BandwidthHz: 15000}}},
			fmt.Sprintf("low_mhz,high_mhz,level_db\n%v,%v,-20\n%v,%v,-22\n", f1[0], f1[1], f2[0], f2[1]))
		one, other := Transmitter{LowMHz: f1[0], HighMHz: f1[1]}.Band(), Transmitter{LowMHz: f2[0], HighMHz: f2[1]}.Band()
		is := func(p Product) bool {
			first, last, minus := strings.Cut(p.Words, " - ")
			if row["product"] == "f1+f2" {
				first, last, minus = strings.Cut(p.Words, " + ")
			}
			switch row["product"] {
			case "2*f1-f2":
				return minus && p.Order == 3 && strings.HasPrefix(first, "2 × ") && strings.HasSuffix(first, one) && strings.HasSuffix(last, other)
			default: // a sum or a difference, told in either order
				return minus && p.Order == 2 && (strings.HasSuffix(first, one) && strings.HasSuffix(last, other) || strings.HasSuffix(first, other) && strings.HasSuffix(last, one))
			}
		}
		i := slices.IndexFunc(s.Products, is)
		if i < 0 {
			t.Errorf("%v: %+v", row, s.Products)
			continue
		}
		near(t, "from", s.Products[i].LowMHz, number(t, row["product_low_mhz"]), 1e-6)
		near(t, "to", s.Products[i].HighMHz, number(t, row["product_high_mhz"]), 1e-6)
	}
	if len(rows) != 86 {
		t.Errorf("%d pairs", len(rows))
	}
}

// A sweep with three adjacent channels and another one, and the same behind 15 dB,
// where what they make on 437 MHz, 2·506 − 562 = 450 ± 28, falls by three times as
// much.
func TestSurveyOfSweeps(t *testing.T) {
	var csv strings.Builder
	csv.WriteString("frequency_mhz,level_db,attenuator_db\n")
	r := rand.New(rand.NewPCG(6, 6))
	for _, pad := range []float64{0, 15} {
		for mhz := 420.0; mhz < 620; mhz += 0.2 {
			level := -95.0
			switch {
			case mhz > 494.2 && mhz < 517.8:
				level = -40 - pad
			case mhz > 558.2 && mhz < 565.8:
				level = -42 - pad
			case mhz > 431 && mhz < 443:
				level = max(-95, -70-3*pad)
			}
			fmt.Fprintf(&csv, "%.1f,%.2f,%.0f\n", mhz, invent.Noisy(r, level, 40), pad)
		}
	}
	s := surveyed(t, Asked{Link: Link{FrequencyHz: 437e6, Mode: Mode{BandwidthHz: 15000}}, Evidence: Evidence{Noise: "up"}}, csv.String())
	if len(s.Signals) != 3 || s.Signals[0].Candidates[0].Words != "TV channels 24 to 26, 3 adjacent" || s.Signals[0].Drop.Origin != FromOutside || s.Signals[2].Drop.Origin != InReceiver {
		t.Fatalf("%+v", s.Signals)
	}
	if s.Cause.Cause != MixedProduct || len(s.Cause.Guilty) == 0 || !strings.Contains(s.Cause.Guilty[0], "TV channels 24 to 26") {
		t.Errorf("%+v", s.Cause)
	}
	text := strings.Join(s.Lines(), "\n")
	for _, want := range []string{
		"Signals seen, the strongest first (dB)\n  494.3 to 517.9 MHz", "TV channels 24 to 26, 3 adjacent", "dB: not on the air\n", "Cause: a product of strong signals on the channel (9", "Levels are relative",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

// However odd what was seen, no line is too long or holds what can't be shown,
// and what isn't known is said to be so.
func TestSurveyLines(t *testing.T) {
	link, masts := meadow(t)
	masts[0].Name = strings.Repeat("x", 200)
	r := rand.New(rand.NewPCG(1, 1))
	for i := range 40 {
		a := Asked{Link: link, Look: atPeak}
		if i%2 == 0 {
			a.Known = masts
		}
		csv := "low_mhz,high_mhz,level_dbm\n494,502,-20\n"
		if c := invent.NewCase(r); i > 0 && c.Survey != "" {
			csv = c.Survey
			a.Evidence = Evidence{Noise: c.Noise, TurnAway: c.TurnAway, Weaken: c.Weaken, TooMuch: c.TooMuch}
		}
		s := surveyed(t, a, csv)
		lines := s.Lines()
		for _, line := range lines {
			if utf8.RuneCountInString(line) > lineColumns || !testtable.Printable(line) || strings.Contains(line, "NaN") {
				t.Errorf("%q", line)
			}
		}
		if !slices.ContainsFunc(lines, func(l string) bool { return strings.HasPrefix(l, "Cause: ") }) {
			t.Errorf("no cause in %q", lines)
		}
	}
	nothing := surveyed(t, Asked{Link: link}, "frequency_mhz,level_db\n437,1\n")
	if nothing.Cause.Cause != "" || !strings.HasPrefix(nothing.Cause.Do, "Can't tell; do this next. ") || nothing.Lines()[0] != "No signal stands out of the noise." {
		t.Errorf("%q", nothing.Lines())
	}
	if _, err := NewSurvey(Asked{}); err == nil || !strings.Contains(err.Error(), "the wanted frequency is 0 Hz") {
		t.Error(err)
	}
}

func BenchmarkSurveyOfTwoSweeps(b *testing.B) {
	r := rand.New(rand.NewPCG(5, 5))
	c := invent.NewCase(r)
	for c.Survey == "" || !c.Clear {
		c = invent.NewCase(r)
	}
	seen, err := ReadSeen(strings.NewReader(c.Survey), "s.csv")
	if err != nil {
		b.Fatal(err)
	}
	plan, err := NewPlan(Anywhere)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := NewSurvey(Asked{Seen: seen, Plan: plan, Link: Link{FrequencyHz: 437e6, Mode: Mode{BandwidthHz: 15000}}}); err != nil {
			b.Fatal(err)
		}
	}
}
