package terrain

import (
	"context"
	"errors"
	"fmt"
	"math"
)

// Emitter is a transmitter as the ground sees it.
type Emitter struct {
	Name string
	Place
	MastM        float64 // of its antenna above ground, 0 to 3000
	FrequencyMHz float64 // 30 to 10000
	Vertical     bool    // polarisation
}

// Search compares places: which hide the emitters and still see the sky. The
// functions are called by several goroutines at once.
type Search struct {
	Ground   Ground
	Emitters []Emitter
	// LevelDBm returns the power that a receiver gets from an emitter, by its number,
	// over a distance, from a true bearing as seen from the receiver, with the loss
	// of the ground over free space. Needed if there are emitters.
	LevelDBm func(emitter int, distanceKm, bearingDeg, lossDB float64) float64
	// FloorDBm is the receiver's own noise: what is well under it does no harm.
	FloorDBm float64
	// SkyShare returns what remains of the passes over a skyline, 0 to 1; nil: the
	// share of the sky that is over it.
	SkyShare func(site Place, s Skyline) float64
	View     View                  // of the full skylines; Workers counts for the whole search
	Full     int                   // how many places get one, the best; 0: 50
	StepM    float64               // along profiles; 0: DefaultStepM
	Progress func(done, total int) // may be nil; never called twice at once
}

// The look around by which all places are screened.
const (
	screenAzimuths = 24
	screenReachKm  = 15
	fullSkylines   = 50
)

// Run screens all candidates by profiles to every emitter and a rough look around,
// and looks closely around at the best. It returns them best first. When the
// context ends or a tile is missing it returns what it has, with the error.
func (s Search) Run(ctx context.Context, candidates []Candidate) ([]Standing, error) {
	view, err := s.View.withDefaults()
	if err != nil {
		return nil, err
	}
	if err := s.check(candidates); err != nil {
		return nil, err
	}
	if s.Full <= 0 {
		s.Full = fullSkylines
	}
	full := min(s.Full, len(candidates))
	w := work{ctx: ctx, workers: view.Workers, total: len(candidates) + full, progress: s.Progress}
	view.Workers = 1
	rough := View{Azimuths: screenAzimuths, ReachKm: min(screenReachKm, view.ReachKm), EarthKm: view.EarthKm, Workers: 1}

	all := make([]Standing, len(candidates))
	done := make([]bool, len(candidates))
	err = w.each(len(candidates), func(ctx context.Context, i int, p *profiler) error {
		all[i].Candidate = candidates[i]
		if err := s.screen(ctx, &all[i], p, rough); err != nil {
			return err
		}
		done[i] = true
		return nil
	})
	found := all[:0]
	for i := range all {
		if done[i] {
			found = append(found, all[i])
		}
	}
	sortStandings(found)
	if err != nil {
		return found, err
	}
	err = w.each(full, func(ctx context.Context, i int, _ *profiler) error {
		if found[i].Unknown != nil {
			return nil
		}
		p, err := LookAround(ctx, s.Ground, found[i].Place, found[i].AntennaM, view)
		if err != nil {
			return err
		}
		found[i].Panorama = &p
		s.judge(&found[i], p)
		return nil
	})
	// Only places that were looked at alike are put in order among each other.
	sortStandings(found[:full])
	return found, err
}

// check refuses what would fail at every place.
func (s Search) check(candidates []Candidate) error {
	if len(candidates) > maxCandidates {
		return fmt.Errorf("%d places are too many, want %d at most", len(candidates), maxCandidates)
	}
	if len(s.Emitters) > 0 && s.LevelDBm == nil {
		return errors.New("a search with emitters and no way to tell their levels")
	}
	for _, c := range candidates {
		if err := c.check(); err != nil {
			return fmt.Errorf("place %q: %w", c.Name, err)
		}
		if !(c.AntennaM >= 0 && c.AntennaM <= 1000) {
			return fmt.Errorf("place %q: antenna %v m above ground is outside 0 to 1000", c.Name, c.AntennaM)
		}
	}
	for _, e := range s.Emitters {
		if err := e.check(); err != nil {
			return fmt.Errorf("transmitter %q: %w", e.Name, err)
		}
		if _, err := (Link{FrequencyMHz: e.FrequencyMHz, ToM: e.MastM}).withDefaults(); err != nil {
			return fmt.Errorf("transmitter %q: %w", e.Name, err)
		}
	}
	return nil
}

// screen judges one place roughly.
func (s Search) screen(ctx context.Context, at *Standing, p *profiler, rough View) error {
	sum := 0.0 // mW
	for i, e := range s.Emitters {
		err := p.read(s.Ground, at.Place, e.Place, s.StepM)
		var passage Passage
		if err == nil {
			passage, err = p.Pass(Link{FrequencyMHz: e.FrequencyMHz, FromM: at.AntennaM, ToM: e.MastM, Vertical: e.Vertical, EarthKm: rough.EarthKm})
		}
		if err != nil {
			return at.unknown(fmt.Errorf("from %q to transmitter %q: %w", at.Name, e.Name, err))
		}
		level := s.LevelDBm(i, p.LengthKm(), p.BearingDeg, passage.LossDB)
		at.Emitters = append(at.Emitters, Reception{i, p.LengthKm(), p.BearingDeg, level, passage})
		sum += math.Pow(10, level/10)
	}
	at.TotalDBm = 10 * math.Log10(sum)
	view, err := LookAround(ctx, s.Ground, at.Place, at.AntennaM, rough)
	if err != nil {
		return at.unknown(fmt.Errorf("around %q: %w", at.Name, err))
	}
	at.GroundM = view.GroundM
	s.judge(at, view)
	return nil
}
