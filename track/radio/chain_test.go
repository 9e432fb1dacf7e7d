package radio

import (
	"math"
	"strings"
	"testing"
)

// published returns the value of a row of a table with columns id and quantity.
func published(t *testing.T, rows []map[string]string, id, quantity, column string) float64 {
	t.Helper()
	for _, row := range rows {
		if row["id"] == id && row["quantity"] == quantity && row[column] != "" {
			return number(t, row[column])
		}
	}
	t.Fatalf("no %s of %s", quantity, id)
	return 0
}

func amplifier(gainDB, noiseFigureDB float64) Stage {
	return Stage{Kind: Preamplifier, GainDB: gainDB, NoiseFigureDB: Given(noiseFigureDB), InputIP3DBm: Given(100)}
}

// feeder is a cable at 290 K by its loss as a ratio.
func feeder(loss float64) Stage { return Stage{Kind: Cable, GainDB: -decibels(loss)} }

// Source: testdata/radio/noise_cascade_check.csv, with the published values of
// J. Smith, Modern Communication Circuits, and of a textbook on satellite
// communications.
func TestCascadeNoise(t *testing.T) {
	rows := reference(t, "noise_cascade_check.csv")
	kelvin := func(k float64) float64 { return NoiseFigureDB(k) }
	value := func(id, quantity, column string) float64 { return published(t, rows, id, quantity, column) }
	noise := func(stages ...Stage) Cascade { return Chain{Stages: stages}.Cascade(437) }

	n1 := noise(amplifier(15, 9), amplifier(0, 20))
	near(t, "N1 figure, published", n1.NoiseFigureDB.Low, value("N1", "overall noise figure", "published"), 0.005)
	near(t, "N1 temperature", n1.TemperatureK.Low, value("N1", "overall noise temperature", "computed"), 0.1)

	n2 := noise(amplifier(30, kelvin(20)), amplifier(10, kelvin(360)), amplifier(15, kelvin(1000)))
	near(t, "N2 factor, published", ratio(n2.NoiseFigureDB.Low), value("N2", "overall noise factor", "published"), 0.001)
	near(t, "N2 temperature", n2.TemperatureK.High, value("N2", "overall noise temperature", "computed"), 0.001)

	l3 := ratio(2.5)
	near(t, "N3 feeder at the receiver's input", noise(feeder(l3)).TemperatureK.Low/l3, value("N3", "feeder contribution", "published"), 0.05)
	near(t, "N3 antenna", 50/l3, value("N3", "antenna contribution", "published"), 0.05)

	l5 := 1.12
	n5 := noise(feeder(l5), amplifier(60, kelvin(140)), amplifier(0, kelvin(10000)))
	near(t, "N5 system", (60+n5.TemperatureK.Low)/l5, value("N5", "system temperature at LNA input", "published"), 0.005)

	near(t, "N5 figure of merit", 60-0.5-decibels((60+n5.TemperatureK.Low)/l5), value("N5", "G/T", "published"), 0.05)

	// N4: a feeder at 300 K, so its figure is not its loss.
	l4 := 1.413 // as rounded there
	warm := Stage{Kind: Cable, GainDB: -decibels(l4), NoiseFigureDB: Given(kelvin(300 * (l4 - 1)))}
	near(t, "N4a", 50+noise(amplifier(0, kelvin(50))).TemperatureK.Low, value("N4a", "system temperature at receiver input", "published"), 1e-9)
	near(t, "N4b", (50+noise(warm, amplifier(0, kelvin(50))).TemperatureK.Low)/l4, value("N4b", "system temperature at receiver input", "published"), 0.002)

	// Values from memory, recomputed: a preamplifier before and behind its cable.
	first := noise(amplifier(50, kelvin(150)), feeder(ratio(5)), amplifier(0, 12))
	last := noise(feeder(ratio(5)), amplifier(50, kelvin(150)), amplifier(0, 12))
	near(t, "N6a", 35+first.TemperatureK.Low, value("N6a", "system temperature at antenna terminals (LNA before feeder)", "computed"), 0.005)
	near(t, "N6b", 35+last.TemperatureK.Low, value("N6b", "system temperature at antenna terminals (LNA after feeder)", "computed"), 0.05)

	cable, lna, sdr := Stage{Kind: Cable, GainDB: -1.5}, amplifier(20, 1), amplifier(0, 6)
	band := Stage{Kind: Filter, GainDB: -1}
	for id, stages := range map[string][]Stage{"N7a": {cable, sdr}, "N7b": {lna, cable, sdr}, "N7c": {cable, lna, sdr}, "N7d": {band, lna, cable, sdr}} {
		near(t, id, noise(stages...).NoiseFigureDB.High, value(id, "noise figure", "computed"), 1e-4)
		near(t, id, noise(stages...).TemperatureK.Low, value(id, "noise temperature", "computed"), 0.005)
	}
}

// N8: with 20 dB of external noise, fa + fr − 1 counts, and a better receiver
// gains next to nothing. Published: e.m.f. of 1.56 and 1.60 µV at 50 ohms.
func TestExternalNoiseCounts(t *testing.T) {
	rows := reference(t, "noise_cascade_check.csv")
	for id, nf := range map[string]float64{"N8a": 4, "N8b": 10} {
		k := ratio(20)*t0 + Temperature(nf) // fa·T0 + T0·(fr − 1)
		watts := ratio(ThermalNoiseDBm(k, 3000)+10) / 1000
		near(t, id, math.Sqrt(4*50*watts)*1e6, published(t, rows, id, "minimum detectable e.m.f.", "computed"), 1e-3)
		near(t, id+" published", math.Sqrt(4*50*watts)*1e6, published(t, rows, id, "minimum detectable e.m.f.", "published"), 0.02)
	}
}

// Source: testdata/radio/overload_check.csv, L3 (published: -4.1 dBm) and L5 (L.
// Besser and R. Gilmore, vol. 1, p. 135: inputs; results worked out).
func TestCascadeIntercept(t *testing.T) {
	rows := reference(t, "overload_check.csv")
	stage := func(gain, ip3 float64) Stage {
		return Stage{Kind: Preamplifier, GainDB: gain, InputIP3DBm: Given(ip3), NoiseFigureDB: Given(1)}
	}
	l3 := Chain{Stages: []Stage{stage(20, 0), {Kind: Filter, GainDB: -3}, stage(0, 15)}}.Cascade(437)
	// The table halves the power in the filter where 3 dB is 0.501.
	near(t, "L3", l3.InputIP3DBm.Low, published(t, rows, "L3", "cascade IIP3 dBm", "value"), 0.007)

	six := Chain{Stages: []Stage{
		{Kind: Filter, GainDB: -2.5},
		{Kind: Preamplifier, GainDB: 15.3, NoiseFigureDB: Given(1.4), InputIP3DBm: Given(23 - 15.3)},
		{Kind: Filter, GainDB: -2.5},
		{Kind: Preamplifier, GainDB: 14.5, NoiseFigureDB: Given(7.8), InputIP3DBm: Given(22 - 14.5)},
		{Kind: Filter, GainDB: -8},
		{Kind: Receiver, GainDB: 35, NoiseFigureDB: Given(6.4), InputIP3DBm: Given(4 - 35)},
	}}.Cascade(900)
	near(t, "L5 noise figure", six.NoiseFigureDB.High, published(t, rows, "L5", "noise figure dB", "value"), 1e-4)
	near(t, "L5 intercept", six.InputIP3DBm.High, published(t, rows, "L5", "IIP3 dBm", "value"), 1e-4)
	near(t, "L5 gain", six.GainDB, published(t, rows, "L5", "gain dB", "value"), 1e-9)
}

// What the data sheet doesn't say is a range, and a wider one never promises less.
func TestUnknownFiguresAreRanges(t *testing.T) {
	known := Chain{Stages: []Stage{{Kind: Preamplifier, GainDB: 20, NoiseFigureDB: Given(1), InputIP3DBm: Given(10)}, {Kind: Receiver, NoiseFigureDB: Given(6), FullScaleDBm: Given(-30)}}}
	unknown := Chain{Stages: []Stage{{Kind: Preamplifier, GainDB: 20}, {Kind: Receiver}}}
	k, u := known.Cascade(437), unknown.Cascade(437)
	if !k.NoiseFigureDB.Known() || u.NoiseFigureDB.Known() || !(u.NoiseFigureDB.Low < k.NoiseFigureDB.Low && u.NoiseFigureDB.High > k.NoiseFigureDB.High) {
		t.Errorf("noise figure %v known and %v unknown", k.NoiseFigureDB, u.NoiseFigureDB)
	}
	if !(u.InputIP3DBm.Low < k.InputIP3DBm.Low && u.InputIP3DBm.High > k.InputIP3DBm.High) {
		t.Errorf("intercept %v known and %v unknown", k.InputIP3DBm, u.InputIP3DBm)
	}
	// The compression of a memoryless cubic: overload_check.csv, L14.
	near(t, "compression by the intercept", known.Without(Receiver).Cascade(437).InputP1dBDBm.Low,
		published(t, reference(t, "overload_check.csv"), "L14", "dBm", "value"), 1e-3)
}

func TestChainIsChanged(t *testing.T) {
	c := Chain{Name: "long", Stages: []Stage{{Kind: Cable, GainDB: -1}, {Kind: Preamplifier, GainDB: 20}, {Kind: Receiver}}}
	if got := c.Without(Preamplifier); got.Has(Preamplifier) || len(got.Stages) != 2 || !c.Has(Preamplifier) {
		t.Errorf("without: %+v of %+v", got, c)
	}
	if got := c.Before(Preamplifier, Stage{Kind: Filter}); got.Stages[1].Kind != Filter || got.Stages[2].Kind != Preamplifier || len(c.Stages) != 3 {
		t.Errorf("before: %+v", got)
	}
	if got := c.Before(Attenuator, Stage{Kind: Attenuator, GainDB: -10}); got.Stages[0].Kind != Attenuator || len(got.Stages) != 4 {
		t.Errorf("at the port: %+v", got)
	}
}

// The three chains of noise_cascade_check.csv, N7a to c, out of one.
func TestVariants(t *testing.T) {
	rows := reference(t, "noise_cascade_check.csv")
	cable, lna, sdr := Stage{Kind: Cable, GainDB: -1.5}, amplifier(20, 1), amplifier(0, 6)
	sdr.Kind = Receiver
	for _, c := range []struct {
		stages []Stage
		names  string
		ids    [3]string
	}{
		{[]Stage{lna, cable, sdr}, "c/c, no preamplifier/c, preamplifier behind the cable", [3]string{"N7b", "N7a", "N7c"}},
		{[]Stage{cable, lna, sdr}, "c/c, no preamplifier/c, preamplifier before the cable", [3]string{"N7c", "N7a", "N7b"}},
	} {
		var names []string
		for i, v := range (Chain{Name: "c", Stages: c.stages}).Variants() {
			names = append(names, v.Name)
			near(t, v.Name, v.Cascade(437).NoiseFigureDB.Low, published(t, rows, c.ids[i], "noise figure", "computed"), 1e-4)
		}
		if got := strings.Join(names, "/"); got != c.names {
			t.Error(got)
		}
	}
	if got := (Chain{Stages: []Stage{sdr}}).Variants(); len(got) != 1 {
		t.Errorf("a receiver alone: %+v", got)
	}
}

func TestChainRefuses(t *testing.T) {
	for _, c := range []struct {
		stage Stage
		want  string
	}{
		{Stage{Kind: "tube"}, `chain "c", stage 1: kind is "tube", want cable, filter`},
		{Stage{Kind: Cable, GainDB: 1}, "a loss is negative"},
		{Stage{Kind: Filter, InputIP3DBm: Given(3)}, "can't be overloaded"},
		{Stage{Kind: Receiver, NoiseFigureDB: Given(-1)}, "noise figure (dB) is -1, want 0 to 60"},
		{Stage{Kind: Receiver, GainDB: math.NaN()}, "gain (dB) is NaN"},
	} {
		err := Chain{Name: "c", Stages: []Stage{c.stage}}.Check()
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v, want %q", c.stage, err, c.want)
		}
	}
	if err := (Chain{Stages: []Stage{{Kind: Cable, GainDB: -1}, {Kind: Receiver}}}).Check(); err != nil {
		t.Error(err)
	}
}

// Source: overload_check.csv, L24 (W. Kester, MT-001: 6.02 N + 1.76) and L25. A
// converter's noise counts like any other of its stage.
func TestConverter(t *testing.T) {
	rows := reference(t, "overload_check.csv")
	near(t, "L24", ConverterDB(8), published(t, rows, "L24", "dB", "value"), 0.01)
	near(t, "L25", ConverterNoiseDBm(0, 8, 2.4e6, 2.4e6)-ConverterNoiseDBm(0, 8, 2.4e6, 1e4), published(t, rows, "L25", "dB", "value"), 1e-3)

	quiet := Stage{Kind: Receiver, NoiseFigureDB: Given(6), FullScaleDBm: Given(-10)}
	coarse := quiet
	coarse.Bits, coarse.SampleHz = 7, 2.4e6
	extra := Chain{Stages: []Stage{coarse}}.Cascade(437).TemperatureK.Low - Chain{Stages: []Stage{quiet}}.Cascade(437).TemperatureK.Low
	// −10 − (42.14 + 1.76) − 63.80 = −117.70 dBm/Hz; less k: 10^(80.9/10) K.
	near(t, "in dB over k", decibels(extra), -117.70-30+228.599, 0.01)
}
