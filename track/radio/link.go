package radio

import (
	"fmt"
	"math"

	"foreaim/track"
)

// Link is a beacon and all there is to receive it.
type Link struct {
	FrequencyHz           float64
	PowerDBm              Range // 1 W is 30 dBm
	SatelliteGainDBi      Range // towards us; it may tumble
	SatellitePolarisation Polarisation
	Antenna               Antenna
	Chain                 Chain
	Environment           Environment
	Mode                  Mode
}

// Level is how a beacon arrives, all levels at the antenna's port.
type Level struct {
	PathLossDB       float64 // free space
	ReceivedDBm      Range
	NoiseDBm         Range // of sky, ground, people and chain, in the mode's bandwidth
	SNRDB            Range
	HearingMarginDB  Range // above what it takes to hear it; negative: short of it
	DecodingMarginDB Range
}

// MHz returns the frequency in MHz.
func (l Link) MHz() float64 { return l.FrequencyHz / 1e6 }

// Check names the first value that is out of range.
func (l Link) Check() error {
	for _, v := range []struct {
		name      string
		value     Range
		low, high float64
	}{
		{"frequency (Hz)", Exactly(l.FrequencyHz), 1e6, 1e11},
		{"power (dBm)", l.PowerDBm, -100, 100},
		{"satellite's gain (dBi)", l.SatelliteGainDBi, -60, 60},
		{"bandwidth (Hz)", Exactly(l.Mode.BandwidthHz), 1, 1e9},
		{"ratio for hearing (dB)", l.Mode.HearingSNRDB, -100, 100},
		{"ratio for decoding (dB)", l.Mode.DecodingSNRDB, -100, 100},
	} {
		if !(v.value.Low >= v.low && v.value.Low <= v.value.High && v.value.High <= v.high) { // refuses NaN too
			return fmt.Errorf("link: %s is %v to %v, want %v to %v", v.name, v.value.Low, v.value.High, v.low, v.high)
		}
	}
	if _, known := l.Environment.constants(); !known && l.Environment != "" {
		return fmt.Errorf("link: environment is %q, want %s, %s, %s, %s or nothing", l.Environment, City, Residential, Rural, QuietRural)
	}
	if err := l.Antenna.Check(); err != nil {
		return err
	}
	return l.Chain.Check()
}

// At returns the levels for an object in a direction and at a range (above 0
// km), with the antenna aimed offAimDeg beside it.
func (l Link) At(look track.Look, offAimDeg float64) Level {
	return l.Along([]track.Look{look}, offAimDeg)[0]
}

// Along does so for all of a pass.
func (l Link) Along(looks []track.Look, offAimDeg float64) []Level {
	fixed := l.PowerDBm.Plus(l.SatelliteGainDBi).Plus(l.Antenna.WantedDBi(l.MHz(), offAimDeg)).
		Minus(l.SatellitePolarisation.LossDB(l.Antenna.Polarisation))
	chain := l.chainK()
	levels := make([]Level, len(looks))
	for i, look := range looks {
		v := &levels[i]
		v.PathLossDB = FreeSpaceDB(l.MHz(), look.RangeKm)
		v.ReceivedDBm = fixed.Minus(Exactly(v.PathLossDB))
		v.NoiseDBm = l.noiseDBm(l.antennaK(look.ElevationDeg), chain)
		v.finish(l.Mode)
	}
	return levels
}

// finish works out what follows from signal and noise.
func (v *Level) finish(m Mode) {
	v.SNRDB = v.ReceivedDBm.Minus(v.NoiseDBm)
	v.HearingMarginDB = v.SNRDB.Minus(m.HearingSNRDB)
	v.DecodingMarginDB = v.SNRDB.Minus(m.DecodingSNRDB)
}

// antennaK is the noise that comes down from the antenna, aimed at an elevation.
func (l Link) antennaK(elevationDeg float64) Range {
	_, wide := l.Antenna.widths()
	return l.Environment.AntennaK(l.MHz(), elevationDeg, wide)
}

// chainK is the noise of the chain's own, at its input.
func (l Link) chainK() Range {
	var r Range
	for _, end := range sides {
		noise, _, _, _ := l.Chain.settle(end, l.MHz()).sum(l.MHz(), nil)
		if end == kindly {
			r.Low = noise
		} else {
			r.High = noise
		}
	}
	return r
}

func (l Link) noiseDBm(antennaK, chainK Range) Range {
	k := antennaK.Plus(chainK)
	return Range{ThermalNoiseDBm(k.Low, l.Mode.BandwidthHz), ThermalNoiseDBm(k.High, l.Mode.BandwidthHz)}
}

// Expected is what a link promises at boresight and 1000 km, against hearing,
// before anything was heard.
type Expected struct {
	MarginDB, SigmaDB float64 // mean and standard deviation
	// TwistUnknown: the loss by twist between two linear polarisations is not in
	// the margin and must be reckoned with apart.
	TwistUnknown bool
}

// expectedElevationDeg stands for all of a pass.
const expectedElevationDeg = 30.0

// Expected works it out: each thing that isn't known counts with the middle of
// its range and, as it has nothing to do with the others, adds its square.
// Ranges are read as the central 80 %.
func (l Link) Expected() Expected {
	const km = 1000
	e := Expected{TwistUnknown: l.SatellitePolarisation.TwistMatters(l.Antenna.Polarisation)}
	antenna, chain := l.antennaK(expectedElevationDeg), l.chainK()
	antennaK, chainK := math.Sqrt(antenna.Low*antenna.High), chain.Mid()
	parts := []Range{
		l.PowerDBm, l.SatelliteGainDBi, l.Antenna.WantedDBi(l.MHz(), 0),
		Range{}.Minus(l.Mode.HearingSNRDB),
	}
	if !e.TwistUnknown {
		parts = append(parts, Range{}.Minus(l.SatellitePolarisation.LossDB(l.Antenna.Polarisation)))
	}
	mean := -FreeSpaceDB(l.MHz(), km) - ThermalNoiseDBm(antennaK+chainK, l.Mode.BandwidthHz)
	// The noise's spread is that of each source with the other one typical.
	spread := []Range{
		l.noiseDBm(antenna, Exactly(chainK)),
		l.noiseDBm(Exactly(antennaK), chain),
	}
	for _, p := range parts {
		mean += p.Mid()
	}
	square := 0.0
	for _, r := range append(parts, spread...) {
		sigma := (r.High - r.Low) / sigmaShare
		square += sigma * sigma
	}
	e.MarginDB, e.SigmaDB = mean, math.Sqrt(square)
	return e
}
