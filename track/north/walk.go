package north

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"foreaim/track"
)

// WalkFix is one fix of a walk.
type WalkFix struct {
	At                        time.Time
	LatitudeDeg, LongitudeDeg float64
	HDOP                      float64 // 0: not known
}

// Walk is what a straight walk tells about the direction it went.
type Walk struct {
	BearingDeg float64 // the way walked, degrees from true north, [0, 360)
	LengthM    float64 // from the first fix to the last
	Duration   time.Duration

	// SigmaDeg is the standard uncertainty: the bearing is within it two times
	// of three. It is 180/√3 where the walk tells nothing yet.
	SigmaDeg float64

	// Enough: the bearing is as good as was asked for. Until then FurtherM is
	// how far to walk on, in metres, rounded up to tens.
	Enough   bool
	FurtherM float64
}

// What a walk must be for its bearing to be worked out at all. Common practice,
// no source.
const (
	leastWalkM     = 20.0
	leastWalkFixes = 10
	// A run longer than this is thinned.
	mostWalkFixes = 240
	// How far beside a straight line a walk may go, and how far back, as
	// multiples of the noise that is expected.
	walkAsideTimes, walkBackTimes = 3, 5
	// furthestWalkM is the most that is asked for at once.
	furthestWalkM = 300.0
)

// ErrWalk: the fixes are no straight walk; errors.Is.
var ErrWalk = errors.New("not a straight walk")

// WalkBearing works out the bearing of a straight walk from its fixes, earliest
// first, as good as wantDeg (over 0, standard uncertainty in degrees). A steady
// pace helps; standing still before or after does no harm.
//
// The noise of a receiver is the sum of a drift (first-order Gauss–Markov) and
// an unrelated part. How large and how slow it is shows in how the fixes stray
// to the sides of the line, for all that is faster than the walk. What is
// slower can't be seen: there it is taken to be about 3 m along each axis
// times HDOP, with a correlation time from 5 to 600 s. See walkModels. The
// uncertainty is right for that (64 to 76 % of simulated walks lie within it);
// a receiver with less noise than that gets one that is too wide, one with
// twice as much a slow drift gets one that is too narrow by about a third.
// Under that is no floor: what the eye adds in pointing back along the line
// comes with the reference.
//
// At a pole the bearing is counted from the meridian of the first fix.
func WalkBearing(fixes []WalkFix, wantDeg float64) (Walk, error) {
	if !(wantDeg > 0) {
		return Walk{}, fmt.Errorf("uncertainty to reach %v: want over 0 degrees", wantDeg)
	}
	way, err := newWalked(fixes)
	if err != nil {
		return Walk{}, err
	}
	w := Walk{SigmaDeg: unknownDeg}
	if way == nil {
		w.FurtherM = max(walkNeedsM(wantDeg), leastWalkM)
		return w, nil
	}
	w.LengthM, w.BearingDeg = way.ends()
	w.Duration = time.Duration(way.seconds() * float64(time.Second))
	if w.LengthM < leastWalkM || len(way.t) < leastWalkFixes {
		w.FurtherM = tens(max(walkNeedsM(wantDeg), leastWalkM) - w.LengthM)
		return w, nil
	}
	if err := way.straight(w.BearingDeg); err != nil {
		return Walk{}, err
	}
	fit := way.fit(w.BearingDeg * rad)
	w.BearingDeg, w.SigmaDeg = track.Wrap360(fit.bearing/rad), min(fit.sigma/rad, unknownDeg)
	w.Enough = w.SigmaDeg <= wantDeg
	if !w.Enough {
		w.FurtherM = fit.further(wantDeg*rad, w.LengthM)
	}
	return w, nil
}

// walkNeedsM is how long a walk must be when nothing is known of the noise.
// Simulated walks at 1.2 m/s reach 4.5° after 60 m and 2.1° after 120 m.
func walkNeedsM(wantDeg float64) float64 { return tens(60 * math.Pow(4.5/wantDeg, 0.9)) }

// tens rounds up to tens of metres, at least 10 and at most furthestWalkM.
func tens(m float64) float64 { return min(max(math.Ceil(m/10)*10, 10), furthestWalkM) }

// walked is a walk in metres east and north of its first fix and seconds since.
type walked struct {
	t, east, north []float64
	noiseM         float64 // expected along each axis
}

// newWalked is nil when there are no two fixes.
func newWalked(fixes []WalkFix) (*walked, error) {
	if len(fixes) < 2 {
		return nil, nil
	}
	w := &walked{}
	var hdop []float64
	step := (len(fixes) + mostWalkFixes - 1) / mostWalkFixes
	origin := track.Site{LatitudeDeg: fixes[0].LatitudeDeg, LongitudeDeg: fixes[0].LongitudeDeg}
	for i, f := range fixes {
		at := track.Site{LatitudeDeg: f.LatitudeDeg, LongitudeDeg: f.LongitudeDeg}
		if err := at.Check(); err != nil {
			return nil, fmt.Errorf("fix %d of the walk: %w", i+1, err)
		}
		if f.HDOP != 0 && !(f.HDOP > 0 && f.HDOP < 100) {
			return nil, fmt.Errorf("fix %d of the walk: HDOP %v is not within 0 to 100", i+1, f.HDOP)
		}
		if i > 0 && !f.At.After(fixes[i-1].At) {
			return nil, fmt.Errorf("fix %d of the walk: its time is not after the one before", i+1)
		}
		if (len(fixes)-1-i)%step != 0 { // the last one is kept
			continue
		}
		if f.HDOP > 0 {
			hdop = append(hdop, f.HDOP)
		}
		azimuth, elevation, km := origin.Direction(at)
		sin, cos := math.Sincos(azimuth * rad)
		flat := km * 1000 * math.Cos(elevation*rad)
		w.t = append(w.t, f.At.Sub(fixes[0].At).Seconds())
		w.east, w.north = append(w.east, flat*sin), append(w.north, flat*cos)
	}
	w.noiseM = walkNoiseM
	if len(hdop) > 0 {
		slices.Sort(hdop)
		w.noiseM *= max(1, hdop[len(hdop)/2])
	}
	return w, nil
}

func (w *walked) seconds() float64 { return w.t[len(w.t)-1] - w.t[0] }

// ends returns distance and bearing in degrees from the first fix to the last.
func (w *walked) ends() (lengthM, bearingDeg float64) {
	last := len(w.t) - 1
	e, n := w.east[last]-w.east[0], w.north[last]-w.north[0]
	return math.Hypot(e, n), track.Wrap360(math.Atan2(e, n) / rad)
}

// along returns how far a fix is along a bearing and to the right of it.
func (w *walked) along(i int, sin, cos float64) (ahead, right float64) {
	return w.east[i]*sin + w.north[i]*cos, w.east[i]*cos - w.north[i]*sin
}

// straight refuses a walk that went to the side or came back by more than noise
// explains.
func (w *walked) straight(bearingDeg float64) error {
	sin, cos := math.Sincos(bearingDeg * rad)
	squares, furthest, back := 0.0, math.Inf(-1), 0.0
	for i := range w.t {
		ahead, right := w.along(i, sin, cos)
		squares += right * right
		furthest = max(furthest, ahead)
		back = max(back, furthest-ahead)
	}
	switch aside := math.Sqrt(squares / float64(len(w.t))); {
	case aside > walkAsideTimes*w.noiseM:
		return fmt.Errorf("%w: it strays %.0f m from a line; walk towards one thing far away", ErrWalk, aside)
	case back > walkBackTimes*w.noiseM:
		return fmt.Errorf("%w: it turns back by %.0f m; start again where you turned", ErrWalk, back)
	}
	return nil
}
