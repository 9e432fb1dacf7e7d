package radio

import (
	"fmt"
	"math"

	"foreaim/track"
	"foreaim/track/internal/diffraction"
)

// Spot is where the antenna is held.
type Spot struct {
	Site     track.Site
	GroundM  float64 // above mean sea level, as the transmitters' (not the ellipsoid)
	AntennaM float64 // above ground
}

// PathLoss tells the loss between isotropic antennas from a transmitter to a
// spot, in dB, and how it is known, in words for people. SmoothEarth is one;
// one that knows the terrain may stand in its place.
type PathLoss func(t Transmitter, spot Spot) (lossDB Range, words string, err error)

// Incoming is a transmitter as it arrives at a spot.
type Incoming struct {
	Transmitter
	BearingDeg   float64 // from true north
	DistanceKm   float64
	ElevationDeg float64 // of the mast's top, with the usual bending in air, no hills
	PathLossDB   Range
	PathWords    string
	IsotropicDBm Range // what an antenna of 0 dBi takes in

	heightsM [2]float64 // of mast and spot above a smooth Earth
	measured bool       // IsotropicDBm was measured at the antenna's port: its gain is in it
}

// leastKm is how near a transmitter may be for the formulas of the far field.
const leastKm = 0.03

// clutterDB is what hills, houses and trees may take off beyond a smooth Earth,
// where nobody has looked: by the curves of ITU-R P.1546-6 up to 26 dB in half of
// all places, 10 m above the ground; lower down it is more.
const clutterDB = 30.0

// From returns how a transmitter arrives. A nil path is SmoothEarth.
func (t Transmitter) From(spot Spot, path PathLoss) (Incoming, error) {
	if path == nil {
		path = SmoothEarth
	}
	bearing, metres, err := spot.Site.Bearing(t.site())
	if err != nil {
		return Incoming{}, fmt.Errorf("transmitter %q: %w", t.Name, err)
	}
	in := Incoming{Transmitter: t, BearingDeg: bearing, DistanceKm: metres / 1e3}
	rise := (t.GroundM + t.MastM - spot.GroundM - spot.AntennaM) / metres
	in.ElevationDeg = math.Atan(rise-in.DistanceKm/(2*diffraction.StandardRadiusKm)) * 180 / math.Pi
	if in.PathLossDB, in.PathWords, err = path(t, spot); err != nil {
		return Incoming{}, fmt.Errorf("transmitter %q: %w", t.Name, err)
	}
	in.heightsM[0], in.heightsM[1] = t.heights(spot)
	erp := t.ERPDBm.or(unknownERP)
	in.IsotropicDBm = Range{EIRPDBm(erp.Low), EIRPDBm(erp.High)}.Minus(in.PathLossDB)
	return in, nil
}

// SmoothEarth is the loss in free space and, near and beyond the horizon, that
// of a smooth Earth (ITU-R P.526, see diffraction.SmoothPath), its surface at
// the lower of the two grounds. Hills, houses and trees may take off up to 30 dB
// more, see clutterDB. Up to 50 km nothing makes it less but a reflection; far
// beyond the horizon, where little arrives, the air scatters more than this tells
// (by P.1546-6 up to 20 dB at 100 km).
func SmoothEarth(t Transmitter, spot Spot) (Range, string, error) {
	_, metres, err := spot.Site.Bearing(t.site())
	if err != nil {
		return Range{}, "", err
	}
	km := max(metres/1e3, leastKm)
	h1, h2 := t.heights(spot)
	loss := smoothEarthDB(t, h1, h2, km)
	words := "in line of sight over a smooth Earth"
	if km > diffraction.HorizonKm(h1, h2, diffraction.StandardRadiusKm) {
		words = "beyond the horizon of a smooth Earth"
	}
	return Range{loss, loss + clutterDB}, words + "; hills, houses and trees may take off up to 30 dB more", nil
}

// heights returns those of mast and antenna above the lower of the two grounds.
func (t Transmitter) heights(spot Spot) (mastM, antennaM float64) {
	base := min(t.GroundM, spot.GroundM)
	return t.GroundM - base + t.MastM, spot.GroundM - base + spot.AntennaM
}

// smoothEarthDB returns the loss for heights above a smooth Earth.
func smoothEarthDB(t Transmitter, height1M, height2M, km float64) float64 {
	return FreeSpaceDB(t.MiddleMHz(), math.Hypot(km, (height1M-height2M)/1e3)) + diffraction.SmoothPath{
		FrequencyMHz: t.MiddleMHz(), DistanceKm: km, Height1M: height1M, Height2M: height2M,
		EarthRadiusKm: diffraction.StandardRadiusKm, Vertical: t.Polarisation == "v",
	}.LossDB()
}
