package main

import (
	"context"
	"fmt"
	"math"
	"time"

	"foreaim/gps"
	"foreaim/track"
)

// fixWait is how long a command waits for the receiver to know where it is.
const fixWait = 10 * time.Second

// settleWait is how much longer it waits for the height and the clock, which may
// come some sentences after the position.
const settleWait = 2 * time.Second

const siteHint = "say where you are: --site LAT,LON, or [site] or [gps] in the configuration"

func noSite() error { return wrong(siteHint, "there is no site") }

// place is where the antenna is and what time it really is there.
type place struct {
	site  track.Site
	now   time.Time
	clock gps.Clock // how wrong the computer's is; unknown without a receiver
}

// findPlace finds the site: the one given, else the receiver's, else the
// configured one.
func (sys system) findPlace(ctx context.Context, o *options, c config) (place, error) {
	if o.site.given {
		return place{site: o.site.value, now: sys.now()}, nil
	}
	if c.gpsSource != "" {
		p, err := sys.placeFromReceiver(ctx, c.gpsSource)
		if err == nil || ctx.Err() != nil {
			return p, err
		}
		if c.site == nil {
			return place{}, err
		}
		sys.warn("%v; the site of the configuration is used", err)
	}
	if c.site == nil {
		return place{}, noSite()
	}
	return place{site: *c.site, now: sys.now()}, nil
}

// placeFromReceiver waits for the receiver's first fix, and corrects the
// computer's clock by it.
func (sys system) placeFromReceiver(ctx context.Context, source string) (place, error) {
	wait, cancel := context.WithTimeout(ctx, fixWait)
	defer cancel()
	receiver, err := gps.Open(wait, source, gps.Options{Now: sys.now})
	if err != nil {
		return place{}, receiverProblem(source, err)
	}
	defer receiver.Close()
	var (
		best    gps.Report // the newest with a fix
		settled <-chan time.Time
		told    bool
		problem string
	)
	for {
		select {
		case <-wait.Done():
			if ctx.Err() != nil {
				return place{}, ctx.Err()
			}
			if best.Fix.Valid() {
				return sys.placeOf(best), nil
			}
			if problem != "" {
				problem = ": " + problem
			}
			return place{}, fmt.Errorf("no fix from %s within %v%s", source, fixWait, problem)
		case <-settled:
			return sys.placeOf(best), nil
		case r, open := <-receiver.Reports():
			if r.Fix.Valid() {
				best = r
				if complete(r) {
					return sys.placeOf(r), nil
				}
				if settled == nil {
					settled = time.After(settleWait)
				}
			}
			if !open || r.State == gps.Ended {
				if best.Fix.Valid() {
					return sys.placeOf(best), nil
				}
				return place{}, fmt.Errorf("no fix from %s", source)
			}
			problem = r.Problem
			if !told && !best.Fix.Valid() {
				told = true
				sys.note("waiting for a fix from %s, %v at most", source, fixWait)
			}
		}
	}
}

// complete tells that nothing more is to be waited for.
func complete(r gps.Report) bool {
	return r.Fix.Quality == "fixed" || r.Fix.AltitudeKnown && r.Clock.Known
}

// placeOf takes the site and the time from a report. A height that isn't known
// is taken as 0, which costs a hundredth of a degree at most.
func (sys system) placeOf(r gps.Report) place {
	p := place{
		site:  track.Site{LatitudeDeg: r.Fix.LatitudeDeg, LongitudeDeg: r.Fix.LongitudeDeg},
		now:   r.Clock.Correct(sys.now()),
		clock: r.Clock,
	}
	if r.Fix.AltitudeKnown {
		p.site.HeightM = r.Fix.AltitudeM
	}
	if r.Clock.Known && math.Abs(r.Clock.OffsetS) >= 1 {
		sys.warn("%s; the receiver's time is used", sayClock(r.Clock))
	}
	return p
}

// sayPlace names a site for people: degrees with their hemisphere.
func sayPlace(s track.Site) string {
	text := fmt.Sprintf("%s %s, %.0f m", degrees(s.LatitudeDeg, 4, "N", "S"), degrees(s.LongitudeDeg, 4, "E", "W"), s.HeightM)
	if s.Name != "" {
		text = s.Name + ", " + text
	}
	return text
}

// degrees says an angle with its side.
func degrees(deg float64, decimals int, positive, negative string) string {
	if deg < 0 {
		return fmt.Sprintf("%.*f° %s", decimals, -deg, negative)
	}
	return fmt.Sprintf("%.*f° %s", decimals, deg, positive)
}
