package track

import "math"

// The search may only skip a time in which the object can't cross the minimum
// elevation. These bounds hold for any orbit that changes slowly against the
// ellipse it is on now; the slack below covers what moves within the twelve
// hours that are skipped at most (J2's short-period terms, drag, moon and sun).
const (
	maxSkip     = 12 * 3600
	planeRate   = 4e-6  // turning of the orbit's plane, rad/s: 20° a day
	angleSlack  = 0.002 // rad
	rateSlack   = 1.02
	radiusSlack = 1.005
)

// ellipse is the orbit that an object is on now, with slack.
type ellipse struct {
	normal    Vector  // unit
	highestKm float64 // apogee radius, with slack
	rate      float64 // greatest angular rate, rad/s
	periodS   float64
	// acceleration bounds |acceleration| against the turning Earth, km/s²;
	// whirl bounds speed²/distance from the site, the same unit.
	acceleration, whirl float64
}

func (s *search) ellipse(state State) ellipse {
	n := cross(state.PositionKm, state.VelocityKmS)
	momentum := norm(n)
	r := norm(state.PositionKm)
	axis := 1 / (2/r - dot(state.VelocityKmS, state.VelocityKmS)/sgp4MuKm3S2)
	p := momentum * momentum / sgp4MuKm3S2
	ecc := math.Sqrt(math.Max(0, 1-p/axis))
	perigee := p / (1 + ecc)
	e := ellipse{
		normal:    scale(n, 1/momentum),
		highestKm: axis * (1 + ecc) * radiusSlack,
		rate:      rateSlack * momentum / (perigee * perigee),
		periodS:   2 * math.Pi * math.Sqrt(axis*axis*axis/sgp4MuKm3S2),
	}
	speed := momentum/perigee + earthRate*e.highestKm
	e.acceleration = rateSlack*sgp4MuKm3S2/(perigee*perigee) + 2*earthRate*speed + earthRate*earthRate*e.highestKm
	e.whirl = rateSlack * speed * speed / math.Max(perigee/radiusSlack-s.radiusKm, 50)
	return e
}

// wait returns a time in seconds in which an object that is now below the
// minimum elevation stays below it.
func (s *search) wait(g glance) float64 {
	e := s.ellipse(g.state)

	// The margin's second derivative is at most bend.
	bend := e.acceleration * (1 + math.Abs(s.sinMin))
	if s.sinMin < 0 {
		bend -= s.sinMin * e.whirl
	}
	root := math.Sqrt(g.marginRate*g.marginRate - 2*bend*g.margin)
	var wait float64
	if g.marginRate > 0 {
		wait = -2 * g.margin / (g.marginRate + root)
	} else {
		wait = (root - g.marginRate) / bend
	}

	// An object that is up stands within this angle of the site's vertical,
	// seen from the centre. The vertical misses the centre by asideKm.
	reach := math.Acos(math.Min(1, s.upKm*math.Cos(s.minimum)/(e.highestKm+s.asideKm))) - s.minimum
	reach += s.asideKm/s.radiusKm + angleSlack
	toVertical := math.Acos(math.Max(-1, math.Min(1, dot(g.state.PositionKm, g.up)/norm(g.state.PositionKm))))
	wait = math.Max(wait, (toVertical-reach)/(e.rate+s.siteRate))

	// So does the orbit's plane,
	turn := s.siteRate + planeRate
	out := math.Asin(math.Min(1, math.Abs(dot(g.up, e.normal))))
	wait = math.Max(wait, (out-reach)/turn)

	// and so does the object from the vertical's projection on the plane,
	// whose turning is bounded while the vertical stays away from the normal.
	if furthest := reach + turn*e.periodS; furthest < 1.4 {
		projection := turn / math.Cos(furthest)
		forward := cross(e.normal, g.state.PositionKm)
		ahead := math.Atan2(dot(g.up, forward), dot(g.up, g.state.PositionKm))
		if ahead < 0 {
			ahead += 2 * math.Pi
		}
		wait = math.Max(wait, math.Min((ahead-reach)/(e.rate+projection), (2*math.Pi-reach-ahead)/projection))
	}
	return math.Min(wait, maxSkip)
}

// stay returns a time in seconds in which an object that is now above the
// minimum elevation stays above it; direction 1 forwards, -1 backwards. It is
// kept under a third of a radian of the orbit, so that no peak is stepped over.
func (s *search) stay(g glance, direction float64) float64 {
	e := s.ellipse(g.state)
	bend := e.acceleration * (1 + math.Abs(s.sinMin))
	if s.sinMin > 0 {
		bend += s.sinMin * e.whirl
	}
	rate := direction * g.marginRate
	root := math.Sqrt(rate*rate + 2*bend*g.margin)
	var stay float64
	if rate < 0 {
		stay = 2 * g.margin / (root - rate)
	} else {
		stay = (root + rate) / bend
	}
	r2 := dot(g.state.PositionKm, g.state.PositionKm)
	momentum := norm(cross(g.state.PositionKm, g.state.VelocityKmS))
	return math.Min(stay, math.Min(0.33*r2/momentum, 900))
}
