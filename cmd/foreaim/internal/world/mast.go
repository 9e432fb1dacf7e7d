package world

import (
	"time"

	"foreaim/track/radio"
)

// What the mast does. Two paging carriers of one mast mix in the preamplifier:
// twice the lower one less the higher one is the second satellite's channel, and
// nobody else's.
const (
	// Drowned is the satellite, in the order of the passes from 0, that can't be
	// heard beside the mast with the preamplifier in.
	Drowned = 1
	// drownedDB is by how much the floor is up on its channel: at 2 km in line of
	// sight each carrier comes in at -33 dBm, and three times that, more twice the
	// intercept of -5 dBm, is 40 dB over the noise.
	drownedDB = 40.0
)

// Transmitters are the strong ones around the meadow.
func Transmitters() []radio.Transmitter {
	mast := radio.Transmitter{
		Name: "Kvarn Hill", LatitudeDeg: 58.3307, LongitudeDeg: 14.0864, GroundM: 150, MastM: 60,
		ERPDBm: radio.Given(57), Polarisation: "v",
	}
	low, high := mast, mast
	low.LowMHz, low.HighMHz = 450.8512, 450.8638
	high.LowMHz, high.HighMHz = 466.0687, 466.0813
	return []radio.Transmitter{low, high}
}

// Link is what the operator receives a satellite with, and how that sends.
func (w *World) Link(satellite int) (radio.Link, error) {
	mode, err := radio.FindMode("GMSK 9600")
	return radio.Link{
		FrequencyHz: w.Satellites[satellite].FrequencyHz, PowerDBm: radio.Exactly(27), SatellitePolarisation: radio.RightCircular,
		Antenna: radio.Antenna{GainDBi: radio.Given(11), BeamwidthEDeg: 48, BeamwidthHDeg: 48, Polarisation: radio.Linear},
		Chain: radio.Chain{Name: "meadow", Stages: []radio.Stage{
			{Name: "preamplifier", Kind: radio.Preamplifier, GainDB: 20, NoiseFigureDB: radio.Given(1), InputIP3DBm: radio.Given(-5), FeedV: 5},
			{Name: "cable", Kind: radio.Cable, GainDB: -1.5},
			{Name: "receiver", Kind: radio.Receiver, NoiseFigureDB: radio.Given(6), InputIP3DBm: radio.Given(20), FullScaleDBm: radio.Given(0)},
		}},
		Environment: radio.QuietRural,
		Mode:        mode,
	}, err
}

// Spot is where the antenna is held.
func (w *World) Spot() radio.Spot {
	return radio.Spot{Site: w.Site, GroundM: w.Site.HeightM - w.GeoidM, AntennaM: 1.5}
}

// drowns tells whether the mast raises the floor at a true time: the receiver is on
// the channel of the drowned satellite while that is up.
func (w *World) drowns(at time.Time) bool {
	look, err := w.Satellites[Drowned].Orbit.Look(w.Site, at)
	return err == nil && look.ElevationDeg > 0
}
