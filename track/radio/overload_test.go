package radio

import (
	"math"
	"strings"
	"testing"

	"foreaim/track"
)

// bench is a receiver on a bench: one amplifier with the figures of the tables,
// and an antenna of 0 dBi all around at all frequencies, so that levels are
// those of the port.
func bench(t testing.TB, stages ...Stage) Link {
	t.Helper()
	p, err := ReadPattern(strings.NewReader("frequency_mhz,angle_deg,gain_dbi\n1,0,0\n1,180,0\n9999,0,0\n9999,180,0\n"), "p.csv")
	if err != nil {
		t.Fatal(err)
	}
	return Link{
		FrequencyHz: 437e6, PowerDBm: Exactly(30), Environment: QuietRural,
		Antenna: Antenna{GainDBi: Given(0), BeamwidthEDeg: 90, BeamwidthHDeg: 90, Pattern: p},
		Chain:   Chain{Stages: stages},
		Mode:    Mode{Name: "test", BandwidthHz: 10000},
	}
}

// amp is that amplifier.
func amp(ip3DBm float64) Stage {
	return Stage{Name: "amp", Kind: Preamplifier, GainDB: 20, NoiseFigureDB: Given(1), InputIP3DBm: Given(ip3DBm)}
}

// tone is a carrier that arrives at a level.
func tone(name string, mhz, levelDBm float64) Incoming { return wide(name, mhz, mhz, levelDBm) }

func wide(name string, low, high, levelDBm float64) Incoming {
	return Incoming{Transmitter: Transmitter{Name: name, LowMHz: low, HighMHz: high}, IsotropicDBm: Exactly(levelDBm)}
}

var up = track.Look{ElevationDeg: 60, RangeKm: 1000}

// strongest returns the one product of two sides that must agree.
func onlyProduct(t *testing.T, link Link, in ...Incoming) Product {
	t.Helper()
	o := NewSurroundings(link, in).At(up, 0)
	if len(o.Products) != 1 {
		t.Fatalf("%d products: %+v", len(o.Products), o.Products)
	}
	near(t, "sum of one product", o.ProductsDBm.High, o.Products[0].LevelDBm.High, 1e-9)
	return o.Products[0]
}

// Source: testdata/radio/overload_check.csv, L1 and L2 (J. Smith, Modern
// Communication Circuits, examples 3.13 and 3.14) and L6 to L12.
func TestThirdOrder(t *testing.T) {
	rows := reference(t, "overload_check.csv")
	value := func(id, quantity string) float64 { return published(t, rows, id, quantity, "value") }
	pair := func(ip3, one, other float64) float64 {
		p := onlyProduct(t, bench(t, amp(ip3)), tone("A", 447, one), tone("B", 457, other))
		if p.Words != "2 × A 447.000 MHz - B 457.000 MHz" || p.Order != 3 {
			t.Errorf("%+v", p)
		}
		return p.LevelDBm.High
	}
	near(t, "L1, below the tones", pair(20, 0, 0)-0, value("L1", "IM ratio dB"), 1e-9)
	// L2: tones that stand as far above the floor as the range is wide give
	// products on the floor.
	dynamic := value("L2", "dynamic range dB")
	near(t, "L2", pair(20, -123+dynamic, -123+dynamic), -123, 0.002)
	// L4, published: a range of 70 dB over a floor of -100 dBm takes 5 dBm.
	near(t, "L4", pair(published(t, rows, "L4", "IIP3 dBm", "value"), -100+70, -100+70), -100, 1e-9)
	for id, c := range map[string][2]float64{"L6": {10, -20}, "L7": {10, -25}, "L8": {10, -30}, "L9": {15, -15}, "L10": {17, -20}} {
		near(t, id, pair(c[0], c[1], c[1]), value(id, "input-referred IM3 dBm"), 1e-9)
	}
	near(t, "L11", pair(10, -20, -30), value("L11", "dBm"), 1e-9)
	near(t, "L11 other side", pair(10, -30, -20), -100, 1e-9)
	beat := onlyProduct(t, bench(t, amp(10)), tone("A", 447, -20), tone("B", 467, -20), tone("C", 477, -20))
	near(t, "L12 triple beat", beat.LevelDBm.Low, value("L12", "dBm"), 0.03) // 20·log 2 is 6.02, not 6
	if beat.Words != "A 447.000 MHz + B 467.000 MHz - C 477.000 MHz" {
		t.Errorf("%+v", beat)
	}
	// The third harmonic is 20·log 3 = 9.54 dB below 2f1 − f2.
	harmonic := onlyProduct(t, bench(t, amp(10)), tone("H", 437.0/3, -20))
	near(t, "third harmonic", harmonic.LevelDBm.High, -80-9.542, 0.001)
}

// Source: overload_check.csv, L13; a second harmonic is 6 dB less.
func TestSecondOrder(t *testing.T) {
	with := amp(60)
	with.InputIP2DBm = Given(40)
	p := onlyProduct(t, bench(t, with), tone("TV", 537, -20), tone("FM", 100, -20))
	near(t, "L13", p.LevelDBm.High, published(t, reference(t, "overload_check.csv"), "L13", "dBm", "value"), 1e-9)
	p = onlyProduct(t, bench(t, with), tone("H", 218.5, -20))
	near(t, "second harmonic", p.LevelDBm.High, -80-6.0206, 0.001)

	// Without an intercept it can be named only, and raises nothing.
	o := NewSurroundings(bench(t, amp(60)), []Incoming{tone("TV", 537, -20), tone("FM", 100, -20)}).At(up, 0)
	if words := NewSurroundings(bench(t, amp(60)), []Incoming{tone("TV", 537, -20), tone("FM", 100, -20)}).Advise(up, 0).Words; !strings.Contains(words, "do no harm here. Not reckoned with, as no second-order intercept is given: TV 537.000 MHz - FM") {
		t.Error(words)
	}
	if len(o.Products) != 0 || len(o.Unmeasured) != 1 || o.Unmeasured[0].Words != "TV 537.000 MHz - FM 100.000 MHz" || !math.IsInf(o.ProductsDBm.High, -1) {
		t.Errorf("%+v", o)
	}
}

// Source: overload_check.csv, L14 to L18: loss of gain beside carriers of a total.
func TestGainLoss(t *testing.T) {
	rows := reference(t, "overload_check.csv")
	for _, row := range rows {
		if strings.HasPrefix(row["description"], "small-signal gain with one CW") {
			level := number(t, strings.TrimSuffix(strings.Split(strings.TrimPrefix(row["inputs"], "Pblk="), ";")[0], " dBm"))
			near(t, row["inputs"], GainLossDB(level, 10-cubicDB), -number(t, row["value"]), 1e-4)
			o := NewSurroundings(bench(t, amp(10)), []Incoming{tone("blocker", 600, level)}).At(up, 0)
			spans(t, "the same by the chain", o.GainLossDB, -number(t, row["value"]), -number(t, row["value"]), 1e-4)
		}
	}
	// L15, and L16 for the total of several.
	one := published(t, rows, "L15", "dBm", "value")
	near(t, "L15", GainLossDB(one, 10-cubicDB), 1, 1e-3)
	five := tone("n", 600, one-decibels(5))
	o := NewSurroundings(bench(t, amp(10)), []Incoming{five, five, five, five, five}).At(up, 0)
	near(t, "L16", o.GainLossDB.High, 1, 1e-3)
	near(t, "L17", SumDBm(-20, -20, -20, -20, -20), published(t, rows, "L17", "dBm", "value"), 1e-4)
	near(t, "L18", SumDBm(-12, -18, -25, -30, -30, -33), published(t, rows, "L18", "dBm", "value"), 1e-4)
	near(t, "far beyond", GainLossDB(30, 0), mostLostDB, 0)
	near(t, "nothing", GainLossDB(math.Inf(-1), 0), 0, 0)
}

// Source: overload_check.csv, L26: two flat carriers of 6 MHz at -20 dBm; the
// table's simulation agrees to 0.02 dB. The middle of the product's density.
func TestNoiseLikeProducts(t *testing.T) {
	rows := reference(t, "overload_check.csv")
	density := published(t, rows, "L26", "dBm/Hz", "value")
	p := onlyProduct(t, bench(t, amp(10)), wide("A", 454, 460, -20), wide("B", 474, 480, -20))
	near(t, "density", p.LevelDBm.High-decibels(10000), density, 0.01)
	if p.LowMHz != 437-9 || p.HighMHz != 437+9 {
		t.Errorf("%+v", p)
	}
	// The rise over a receiver at 290 K with 1 dB, in any bandwidth.
	near(t, "rise", decibels(1+ratio(density-(-173.9752+1))), published(t, rows, "L26", "dB", "value"), 0.001)
}

// Source: overload_check.csv, L19: peaks of equal steady carriers over their mean.
// So many that they are like noise peak as digital signals do.
func TestPeaksOfSteadyCarriers(t *testing.T) {
	headroom := func(n int) float64 {
		var in []Incoming
		for range n {
			in = append(in, tone("n", 600, -30-decibels(float64(n))))
		}
		return NewSurroundings(bench(t, amp(10)), in).At(up, 0).Stages[0].HeadroomDB.High
	}
	near(t, "L19", headroom(1)-headroom(8), published(t, reference(t, "overload_check.csv"), "L19", "dB", "value"), 1e-3)
	near(t, "very many", headroom(1)-headroom(100), noisyPeakDB, 1e-6)
}

// Source: overload_check.csv, L20: what a filter has to take off so that peaks stay
// 5 dB below compression; digital ones of 10 dB there, of 10.5 dB here.
func TestHeadroom(t *testing.T) {
	weak := amp(30)
	weak.InputP1dBDBm = Given(-1)
	o := NewSurroundings(bench(t, weak), []Incoming{wide("TV", 600, 608, -10)}).At(up, 0)
	near(t, "L20", 5-o.Stages[0].HeadroomDB.Low, published(t, reference(t, "overload_check.csv"), "L20", "dB", "value")+noisyPeakDB-10, 1e-9)
}

// Source: overload_check.csv, L21 and L22: tones whose product is as strong as the
// noise, and what a filter has to take off stronger ones.
func TestProductAtTheNoise(t *testing.T) {
	rows := reference(t, "overload_check.csv")
	noise := ThermalNoiseDBm(t0, 9600) + 1
	for what, level := range map[string]float64{"L21": published(t, rows, "L21", "dBm", "value"), "L22": -20 - published(t, rows, "L22", "dB", "value")} {
		near(t, what, onlyProduct(t, bench(t, amp(10)), tone("A", 447, level), tone("B", 457, level)).LevelDBm.High, noise, 0.002)
	}
}

// Source: overload_check.csv, L23: by how much the noise rises.
func TestNoiseRise(t *testing.T) {
	n := 0
	for _, row := range reference(t, "overload_check.csv") {
		if row["id"] != "L23" {
			continue
		}
		n++
		over := number(t, strings.TrimSuffix(strings.TrimPrefix(row["inputs"], "X="), " dB"))
		noise := NewSurroundings(bench(t, amp(10)), nil).At(up, 0).Before.NoiseDBm.High
		o := NewSurroundings(bench(t, amp(10)), []Incoming{tone("on it", 437, noise+over)}).At(up, 0)
		near(t, row["inputs"], o.NoiseRiseDB.Low, number(t, row["value"]), 1e-4)
	}
	if n != 6 {
		t.Errorf("%d rows", n)
	}
}

// Source: testdata/radio/overload_typicals.csv, common practice: between what and
// what a figure is that isn't known.
func TestUnknownFigures(t *testing.T) {
	rows := reference(t, "overload_typicals.csv")
	row := func(item, parameter string) Range {
		for _, r := range rows {
			if r["item"] == item && r["parameter"] == parameter {
				return Range{number(t, r["low"]), number(t, r["high"])}
			}
		}
		t.Fatalf("no %s of %s", parameter, item)
		return Range{}
	}
	span := func(s Stage, of func(figures) float64) Range {
		a, b := of(s.assumed(unkind, 437)), of(s.assumed(kindly, 437))
		return Range{min(a, b), max(a, b)}
	}
	noise := func(f figures) float64 { return f.noiseFigureDB }
	lna, radio := Stage{Kind: Preamplifier, GainDB: 20}, Stage{Kind: Receiver}
	for what, c := range map[string]struct{ got, want Range }{
		"a preamplifier's noise":     {span(lna, noise), row("broadband LNA", "noise figure")},
		"its intercept":              {span(lna, func(f figures) float64 { return f.ip3 + 20 }), row("broadband LNA", "output IP3")},
		"a receiver's noise":         {span(radio, noise), row("portable 8-bit SDR", "noise figure at maximum gain")},
		"what overloads it at least": {Exactly(radio.assumed(unkind, 437).fullScaleDBm), Exactly(row("portable 8-bit SDR", "input level that overloads at maximum gain").Low)},
		"and at most":                {Exactly(radio.assumed(kindly, 437).fullScaleDBm), Exactly(row("portable 8-bit SDR", "input level that overloads at minimum gain").High)},
		"a filter's loss":            {filterLossDB, row("small cavity or helical band-pass filter", "insertion loss")},
	} {
		spans(t, what, c.got, c.want.Low, c.want.High, 1e-9)
	}
	if ofdm := row("peak-to-average: OFDM (DVB-T, LTE/NR downlink)", "PAPR 0.01 %"); noisyPeakDB < ofdm.Low || noisyPeakDB > ofdm.High {
		t.Errorf("peaks of %v dB, want %v", noisyPeakDB, ofdm)
	}
}

// Source: overload_check.csv, L27.
func TestReciprocalMixing(t *testing.T) {
	radio := Stage{Kind: Receiver, NoiseFigureDB: Given(6), InputIP3DBm: Given(60), FullScaleDBm: Given(10), PhaseNoiseDBcHz: Given(-120)}
	o := NewSurroundings(bench(t, radio), []Incoming{tone("near", 436, -20)}).At(up, 0)
	spans(t, "L27", o.MixingDBm, -100, -100, 1e-9)
	near(t, "the table", o.MixingDBm.High, published(t, reference(t, "overload_check.csv"), "L27", "dBm", "value"), 1e-9)
	// An amplifier without noise of its own phase in front changes nothing.
	first := Stage{Kind: Preamplifier, GainDB: 15, NoiseFigureDB: Given(1), InputIP3DBm: Given(60)}
	o = NewSurroundings(bench(t, first, radio), []Incoming{tone("near", 436, -20)}).At(up, 0)
	spans(t, "behind an amplifier", o.MixingDBm, -100, -100, 1e-9)
}

// Source: overload_check.csv, L28: what a pad before the amplifier tells apart.
func TestPadTellsTheReceiversOwnProducts(t *testing.T) {
	rows := reference(t, "overload_check.csv")
	n := 0
	for _, row := range rows {
		if row["id"] != "L28" {
			continue
		}
		n++
		pad := number(t, strings.TrimSuffix(strings.TrimPrefix(row["inputs"], "A="), " dB"))
		// The source is at 290 K, so a pad leaves thermal noise as it is:
		// products 20 dB above it, at the amplifier's input.
		noise := ThermalNoiseDBm(t0, 10000) + 1
		level := (noise + 20 + 2*10) / 3
		made := func(padDB float64) float64 {
			p := onlyProduct(t, bench(t, Stage{Kind: Attenuator, GainDB: -padDB}, amp(10)), tone("A", 447, level), tone("B", 457, level))
			return ratio(p.LevelDBm.High - padDB) // at the amplifier's input
		}
		got := decibels((ratio(noise) + made(pad)) / (ratio(noise) + made(0)))
		near(t, row["inputs"], got, number(t, row["value"]), 0.001)
	}
	if n != 3 {
		t.Errorf("%d rows", n)
	}
}

// A carrier in the channel itself is no product, and a filter takes none of it.
func TestDirect(t *testing.T) {
	o := NewSurroundings(bench(t, amp(10)), []Incoming{tone("on it", 437.001, -110), wide("over it", 436, 438, -90)}).At(up, 0)
	// −110 dBm whole, and of −90 dBm over 2 MHz a share of 10 kHz: −113.01.
	near(t, "direct", o.DirectDBm.High, SumDBm(-110, -113.0103), 1e-3)
}

// What isn't known of transmitter, antenna and receiver is a range, and no
// direction matters; the level without transmitters lies within.
func TestOverloadUnderIgnorance(t *testing.T) {
	l := beacon()
	l.Chain.Stages = []Stage{{Kind: Preamplifier, GainDB: 20}, {Kind: Receiver}}
	in := wide("TV", 470, 478, -40)
	in.IsotropicDBm = Range{-60, -20}
	s := NewSurroundings(l, []Incoming{in, wide("TV 2", 502, 510, -40)})
	o := s.At(up, 0)
	if s.Directed() || o.Directed {
		t.Error("the direction matters, though nobody knows how")
	}
	if o.Stages[0].TotalDBm.Known() || o.Stages[0].HeadroomDB.Known() || o.NoiseRiseDB.High-o.NoiseRiseDB.Low < 10 {
		t.Errorf("false precision: %+v", o)
	}
	if o.Level.HearingMarginDB.High > o.Before.HearingMarginDB.High+1e-9 || o.Level.HearingMarginDB.Low > o.Before.HearingMarginDB.Low+1e-9 {
		t.Errorf("better with transmitters: %+v after %+v", o.Level, o.Before)
	}
	none := NewSurroundings(l, nil).At(up, 0)
	spans(t, "nobody around", none.NoiseRiseDB, 0, 0, 0)
	spans(t, "nor any less margin", none.Level.HearingMarginDB, none.Before.HearingMarginDB.Low, none.Before.HearingMarginDB.High, 1e-9)
}

// Two hundred transmitters along a pass of ten minutes in steps of a second.
func benchmarkOverload(b *testing.B, link Link) {
	var in []Incoming
	for i := range 200 {
		low := 470 + 8*float64(i%30)
		if i%4 == 0 {
			low = 88 + float64(i)/10
		}
		t := wide("TV", low, low+7.6, -45-float64(i%37))
		if i%4 == 0 {
			t.HighMHz = low + 0.2
		}
		t.BearingDeg = float64(i * 7 % 360)
		in = append(in, t)
	}
	looks := make([]track.Look, 600)
	for s := range looks {
		looks[s] = track.Look{AzimuthDeg: float64(s) * 0.3, ElevationDeg: 60 * math.Sin(float64(s)/600*math.Pi), RangeKm: 900}
	}
	for b.Loop() {
		if all := NewSurroundings(link, in).Along(looks, 0); math.IsNaN(all[599].NoiseRiseDB.High) {
			b.Fatal(all[599])
		}
	}
}

func BenchmarkOverloadAlongPass(b *testing.B) { benchmarkOverload(b, beacon()) }

// With a table of the antenna every second is different.
func BenchmarkOverloadAlongPassByDirection(b *testing.B) {
	l := beacon()
	l.Antenna.Pattern = bench(b).Antenna.Pattern
	benchmarkOverload(b, l)
}
