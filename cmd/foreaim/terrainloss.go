package main

import (
	"errors"
	"fmt"
	"math"

	"foreaim/track"
	"foreaim/track/radio"
	"foreaim/track/terrain"
)

// The frequencies for which diffraction is worked out, MHz (terrain.Link).
const (
	lowestDiffractionMHz  = 30
	highestDiffractionMHz = 10000
)

// standingDB is what trees and houses may take off beyond the ground, which has
// none (common practice, no source).
const standingDB = 10.0

// leastPathKm is how near a transmitter may be for formulas of the far field.
const leastPathKm = 0.03

// pathLoss is the loss from a transmitter over the ground of elevation tiles: that
// of free space and of diffraction along the profile (terrain.Profile.Pass), and up
// to 10 dB more for trees and houses, which aren't in the ground. It is handed to
// radio.Transmitter.From in the place of radio.SmoothEarth, which takes over where
// there is no ground (g is nil) and at frequencies that diffraction isn't known
// for. The mast stands on the tiles' ground at its place, whatever height of the
// ground the transmitter's file tells. Errors: of the tiles; word them with
// ground.problem.
func pathLoss(g *ground) radio.PathLoss {
	if g == nil {
		return radio.SmoothEarth
	}
	return func(t radio.Transmitter, spot radio.Spot) (radio.Range, string, error) {
		if mhz := t.MiddleMHz(); mhz < lowestDiffractionMHz || mhz > highestDiffractionMHz {
			return radio.SmoothEarth(t, spot)
		}
		way, passage, err := wayFrom(g, t, spot)
		if errors.Is(err, track.ErrSamePlace) {
			return radio.SmoothEarth(t, spot)
		}
		if err != nil {
			return radio.Range{}, "", err
		}
		return lossOver(way, passage, t, spot), sayPassage(passage), nil
	}
}

// lossOver is the loss along a way of which it is known what it does to the wave.
func lossOver(way terrain.Profile, passage terrain.Passage, t radio.Transmitter, spot radio.Spot) radio.Range {
	loss := freeSpaceDB(way, t, spot) + passage.LossDB
	return radio.Range{Low: loss, High: loss + standingDB}
}

// spot is where the antenna is held: on the ground of the tiles or on that which
// was given, else at the site's height.
func (s sight) spot(site track.Site, groundM value[float64]) radio.Spot {
	if s.ground == nil {
		return radio.Spot{Site: site, GroundM: groundM.or(site.HeightM), AntennaM: usualAntennaM}
	}
	return radio.Spot{Site: site, GroundM: groundM.or(s.ground.GroundM), AntennaM: s.ground.AntennaM}
}

// wayFrom returns the ground from a spot to a transmitter, and what it does to the
// wave.
func wayFrom(g terrain.Ground, t radio.Transmitter, spot radio.Spot) (terrain.Profile, terrain.Passage, error) {
	from := terrain.Place{LatitudeDeg: spot.Site.LatitudeDeg, LongitudeDeg: spot.Site.LongitudeDeg}
	way, err := terrain.NewProfile(g, from, terrain.Place{LatitudeDeg: t.LatitudeDeg, LongitudeDeg: t.LongitudeDeg}, 0)
	if err != nil {
		return way, terrain.Passage{}, err
	}
	passage, err := way.Pass(linkOf(t, spot))
	return way, passage, err
}

// linkOf is the wave from a spot to a transmitter.
func linkOf(t radio.Transmitter, spot radio.Spot) terrain.Link {
	return terrain.Link{FrequencyMHz: t.MiddleMHz(), FromM: spot.AntennaM, ToM: t.MastM, Vertical: t.Polarisation == "v"}
}

// freeSpaceDB is the loss in free space along a way, from antenna to antenna.
func freeSpaceDB(way terrain.Profile, t radio.Transmitter, spot radio.Spot) float64 {
	last := len(way.GroundM) - 1
	up := (way.GroundM[last] + t.MastM - way.GroundM[0] - spot.AntennaM) / 1000
	return radio.FreeSpaceDB(t.MiddleMHz(), max(math.Hypot(way.LengthKm(), up), leastPathKm))
}

// sayPassage says what the ground does to a wave.
func sayPassage(p terrain.Passage) string {
	switch {
	case !p.LineOfSight:
		return fmt.Sprintf("behind ground that stands %.0f m into the line %s from here and takes %.0f dB off", -p.ClearanceM, sayAway(p.WorstKm*1000), p.LossDB)
	case p.FresnelShare < 0.6:
		return fmt.Sprintf("in line of sight, but the ground comes close to it %s from here and takes %.0f dB off", sayAway(p.WorstKm*1000), p.LossDB)
	}
	return "in line of sight over the ground"
}
