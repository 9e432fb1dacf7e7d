package world

import (
	"fmt"
	"math/rand/v2"
	"time"

	"foreaim/track"
)

// northSigmaDeg is how wrong north is that somebody has from a map or from word,
// as a standard deviation (common practice, no source).
const northSigmaDeg = 14.0

// Beacons are weaker than in the demonstration, so that pointing matters.
const weakerDB, weakerSigmaDB = 5.0, 2.0

// Vary draws another truth: how late each satellite is, as likely as its elements
// make it, how wrong the operator's north is, how well the beacons come in, and how
// the satellites tumble.
func (w *World) Vary(seed uint64) error {
	random := rand.New(rand.NewPCG(seed, seed))
	for i := range w.Satellites {
		s := &w.Satellites[i]
		likely, err := track.LikelyError(s.Set, nil, w.Start.Add(5*time.Minute))
		if err != nil {
			return fmt.Errorf("how late %s may be: %w", s.Set.Name, err)
		}
		s.LateS = random.NormFloat64() * likely.SigmaS
	}
	w.BelievedDeg = track.Wrap360(w.FacingDeg + random.NormFloat64()*northSigmaDeg)
	w.weakerDB = weakerDB + random.NormFloat64()*weakerSigmaDB
	w.tumble = random.IntN(len(fades))
	return nil
}
