package radio

import (
	"slices"
	"strings"
	"testing"

	"foreaim/track"
)

// An invented outing in Region 1: a meadow, a mast 12 km to the north in line of
// sight with two television channels (8 MHz each, 24 and 32, of 400 kW e.r.p.),
// a beacon of half a watt on 437 MHz, right-handed, on a linear Yagi of 12 dBi;
// a preamplifier at the antenna, 1.5 dB of cable, a receiver.
//
// The numbers by hand, all for the two ends of what isn't known, in 15 kHz, were
// worked out on paper and with another program:
//
//	antenna noise at 45° over a quiet place     19.06 to 261.65 K
//	chain: F = 1.3052, 88.50 K; noise           -136.52 to -131.40 dBm
//	beacon: 27 + 12 − 145.26 − (1.76 to 4.76)   -111.02 to -108.02 dBm
//	mast: 86 + 2.15 − 107.98 and − 109.03       -19.83 and -20.88 dBm isotropic,
//	  each ± 5 dB by the unknown antenna
//	intercept: −5 dBm and 20 − 18.5 dBm         -5.877 dBm at the port
//	2·498 − 562 = 434 MHz, 24 MHz wide: 437 is 3 MHz off its middle:
//	  (0.75 − (3/8)²)/8 MHz                     -71.182 dB/Hz
//	product: 2·P1 + P2 + 2·5.877 + 3.010 − 71.182 + 41.761:
//	                                            -90.18 to -60.18 dBm
func meadow(t testing.TB) (Link, []Incoming) {
	t.Helper()
	link := Link{
		FrequencyHz: 437e6, PowerDBm: Exactly(27), SatellitePolarisation: RightCircular,
		Antenna: Antenna{GainDBi: Given(12), BeamwidthEDeg: 48, BeamwidthHDeg: 48, Polarisation: Linear},
		Chain: Chain{Name: "meadow", Stages: []Stage{
			{Name: "preamplifier", Kind: Preamplifier, GainDB: 20, NoiseFigureDB: Given(1), InputIP3DBm: Given(-5), FeedV: 5},
			{Name: "cable", Kind: Cable, GainDB: -1.5},
			{Name: "receiver", Kind: Receiver, NoiseFigureDB: Given(6), InputIP3DBm: Given(20), FullScaleDBm: Given(0)},
		}},
		Environment: QuietRural,
		Mode:        Mode{Name: "own", BandwidthHz: 15000, HearingSNRDB: Exactly(3), DecodingSNRDB: Exactly(12)},
	}
	if err := link.Check(); err != nil {
		t.Fatal(err)
	}
	spot := Spot{Site: track.Site{Name: "Ostvar meadow", LatitudeDeg: 58.3127, LongitudeDeg: 14.0864}, GroundM: 131, AntennaM: 2}
	text := columns +
		"Kvarn Hill,58.42046,14.0864,200,180,494,502,86,h\n" +
		"Kvarn Hill,58.42046,14.0864,200,180,558,566,86,h\n"
	masts, err := ReadTransmitters(strings.NewReader(text), "masts.csv")
	if err != nil {
		t.Fatal(err)
	}
	var all []Incoming
	for _, m := range masts {
		in, err := m.From(spot, func(tx Transmitter, _ Spot) (Range, string, error) {
			return Exactly(FreeSpaceDB(tx.MiddleMHz(), 12)), "in line of sight, as seen from the meadow", nil
		})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "distance", in.DistanceKm, 12, 0.01)
		all = append(all, in)
	}
	return link, all
}

var atPeak = track.Look{AzimuthDeg: 90, ElevationDeg: 45, RangeKm: 1000}

func TestOutingWithoutTheMast(t *testing.T) {
	link, _ := meadow(t)
	level := link.At(atPeak, 0)
	spans(t, "noise", level.NoiseDBm, -136.522, -131.396, 0.01)
	spans(t, "received", level.ReceivedDBm, -111.022, -108.022, 0.01)
	spans(t, "margin for hearing", level.HearingMarginDB, 20.374-3, 28.500-3, 0.02)
}

func TestOutingDrowned(t *testing.T) {
	link, masts := meadow(t)
	o := NewSurroundings(link, masts).At(atPeak, 0)
	if o.Products[0].Words != "2 × Kvarn Hill 494.0 to 502.0 MHz - Kvarn Hill 558.0 to 566.0 MHz" {
		t.Errorf("%+v", o.Products)
	}
	spans(t, "the product", o.Products[0].LevelDBm, -90.184, -60.184, 0.01)
	spans(t, "on the preamplifier", o.Stages[0].TotalDBm, -22.309, -12.309, 0.01)
	// Compression 9.64 dB below the intercept, digital peaks 10.5 dB above the mean.
	spans(t, "its headroom", o.Stages[0].HeadroomDB, -5-9.636-10.5+12.309, -5-9.636-10.5+22.309, 0.01)
	// At best: -108.02 dBm over -90.18 dBm.
	near(t, "margin at best", o.Level.HearingMarginDB.High, -108.022+90.184-3, 0.02)
	// Into the receiver: -19.83 ± 5 + 18.5 dBm and 10.5 dB of peaks, over 0 dBm.
	worst := NewSurroundings(link, masts).Severities(atPeak)[0]
	spans(t, "room of the stronger one", worst.RoomDB, -14.174, -4.174, 0.01)
	if worst.Words != "overloads the chain by itself" || worst.LowMHz != 494 {
		t.Errorf("%+v", worst)
	}
}

func TestOutingRemedies(t *testing.T) {
	link, masts := meadow(t)
	s := NewSurroundings(link, masts)
	a := s.Advise(atPeak, 0)
	remedy := func(kind RemedyKind) Remedy {
		i := slices.IndexFunc(a.Remedies, func(r Remedy) bool { return r.Kind == kind })
		if i < 0 {
			t.Fatalf("no remedy %q in %+v", kind, a.Remedies)
		}
		return a.Remedies[i]
	}

	// Without the preamplifier: F 7.5 dB, 1340.8 K; intercept 21.5 dBm, so the
	// product falls to -144.94 … -114.94 dBm; noise -125.51 … -124.79 dBm.
	bare := remedy(NoPreamp)
	spans(t, "no preamplifier", bare.HearingMarginDB, 0.490, 14.432, 0.05)
	if bare.Verdict != Enough || a.Remedies[0].Kind != NoPreamp || !strings.Contains(a.Words, "at the least cost: no preamplifier") {
		t.Errorf("%s %+v", a.Words, a.Remedies)
	}
	if !strings.Contains(bare.Caution, "supply off before any plug") || !strings.Contains(bare.Caution, "puts 5 V into") {
		t.Error(bare.Caution)
	}

	// A filter: the product has to fall from -60.18 to -137.26 dBm, which is 1 dB
	// over noise of -131.40 dBm: 77.08/3 = 25.7 dB. With 26 dB and a loss of 0.5
	// to 3 dB in the wanted band: 13.41 to 23.95 dB.
	filter := remedy(FilterFirst)
	spans(t, "filter", filter.HearingMarginDB, 13.405, 23.946, 0.05)
	if filter.Verdict != Enough || !strings.Contains(filter.Words, "takes off 26 dB at 494.0 to 502.0 MHz, 558.0 to 566.0 MHz") {
		t.Errorf("%+v", filter)
	}

	// With a loss of 16 dB: noise of 261.65 K and F = 39.81·1.3052, -115.07 dBm;
	// product -138.18 + 16 = -122.18 dBm; together -114.30 dBm, so the margin is
	// -111.02 + 114.30 − 3 = 0.27 dB. With 16.5 dB it is -0.23 dB.
	if !strings.Contains(filter.Words, "16.0 dB would still leave a margin") {
		t.Error(filter.Words)
	}

	// A hill that takes 26 dB off leaves a rise of 1 dB at most, and no loss.
	hill := remedy(BehindHill)
	near(t, "behind a hill", hill.HearingMarginDB.Low, 20.374-3-1, 0.2)
	if !strings.Contains(hill.Words, "takes 26 dB off") || hill.Caution != placeCaution {
		t.Errorf("%+v", hill)
	}
	// In free space 26 dB are twenty times the distance, 239 km; the Earth's bend
	// cuts that short, but not under its horizon, 4.12·(√249 + √2) = 70.8 km, by
	// much.
	far := remedy(FurtherAway)
	if km := number(t, strings.Fields(strings.TrimPrefix(far.Words, "Go "))[0]); km < 40 || km > 110 || far.HearingMarginDB != hill.HearingMarginDB {
		t.Errorf("%+v", far)
	}

	// The antenna at 498 MHz isn't known, so nothing may depend on where it points.
	if s.Directed() || slices.ContainsFunc(a.Remedies, func(r Remedy) bool { return r.Kind == OtherPass }) {
		t.Errorf("advice by direction from an unknown antenna: %+v", a.Remedies)
	}
	turned := atPeak
	turned.AzimuthDeg = 0
	if there := s.At(turned, 0); there.ProductsDBm != a.Now.ProductsDBm {
		t.Errorf("products %v facing the mast, %v beside it", there.ProductsDBm, a.Now.ProductsDBm)
	}
	for i, r := range a.Remedies[1:] {
		if slices.Index(verdicts, a.Remedies[i].Verdict) > slices.Index(verdicts, r.Verdict) {
			t.Errorf("%s (%s) before %s (%s)", a.Remedies[i].Kind, a.Remedies[i].Verdict, r.Kind, r.Verdict)
		}
	}
}

// With a table of the antenna the beam can be kept away: here it takes in 25 dB
// less away from its axis, three times which is 75 dB of the product.
func TestOutingWithAKnownAntenna(t *testing.T) {
	link, masts := meadow(t)
	var err error
	link.Antenna.Pattern, err = ReadPattern(strings.NewReader("frequency_mhz,angle_deg,gain_dbi\n"+
		"490,0,0\n490,30,0\n490,60,-25\n490,180,-25\n570,0,0\n570,30,0\n570,60,-25\n570,180,-25\n"), "p.csv")
	if err != nil {
		t.Fatal(err)
	}
	s := NewSurroundings(link, masts)
	towards := atPeak
	towards.AzimuthDeg, towards.ElevationDeg = 0, 20
	at, beside := s.At(towards, 0), s.At(atPeak, 0)
	// In the middle of the unknown range: 0 dBi.
	spans(t, "towards the mast", at.ProductsDBm, -75.184, -75.184, 0.01)
	spans(t, "beside it", beside.ProductsDBm, -75.184-75, -75.184-75, 0.01)
	a := s.Advise(towards, 0)
	i := slices.IndexFunc(a.Remedies, func(r Remedy) bool { return r.Kind == OtherPass })
	if i < 0 || a.Remedies[i].Verdict != Enough || !strings.Contains(a.Remedies[i].Words, "azimuths of 60 to 300 degrees") {
		t.Errorf("%+v", a.Remedies)
	}
}

// One channel alone makes no product here. No remedy is enough when the beacon is too weak anyway.
func TestHonestVerdicts(t *testing.T) {
	link, masts := meadow(t)
	quiet := NewSurroundings(link, masts[:1]).Advise(atPeak, 0)
	if len(quiet.Remedies) != 0 || quiet.Words != "Strong transmitters do no harm here." {
		t.Errorf("%+v", quiet)
	}
	link.PowerDBm = Exactly(-9.8)
	weak := NewSurroundings(link, masts).Advise(atPeak, 0)
	if !strings.Contains(weak.Words, "None of these is enough: even without the transmitters 11 dB are missing") {
		t.Error(weak.Words) // 27 + 9.8 − 25.5 = 11.3
	}
	for _, r := range weak.Remedies {
		if r.Verdict == Enough || r.Verdict == MayDo {
			t.Errorf("%+v", r)
		}
	}
	// A transmitter beside the wanted frequency can't be filtered away.
	link.PowerDBm = Exactly(27)
	near := masts[0]
	near.LowMHz, near.HighMHz = 437.2, 438.4
	beside := NewSurroundings(link, []Incoming{near}).Advise(atPeak, 0)
	i := slices.IndexFunc(beside.Remedies, func(r Remedy) bool { return r.Kind == FilterFirst })
	if i < 0 || !strings.Contains(beside.Remedies[i].Words, "too near the wanted frequency for a filter") || beside.Remedies[i].Verdict == Enough {
		t.Errorf("%+v", beside.Remedies)
	}
}
