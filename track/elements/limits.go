package elements

import "fmt"

// quantity is the range that one mean element may have.
type quantity struct {
	name     string
	min, max float64
	unit     string
}

// The ranges. An orbit of 18 turns a day would lie inside the Earth, one of
// 0.001 outside the Earth's hold; a TLE can't print an eccentricity beyond
// 0.9999999. The drag term of real objects stays far below its limit.
var (
	meanMotion   = quantity{"mean motion", 0.001, 18, "revolutions a day"}
	eccentricity = quantity{"eccentricity", 0, 0.9999999, ""}
	inclination  = quantity{"inclination", 0, 180, "degrees"}
	node         = quantity{"right ascension of the node", -360, 360, "degrees"}
	perigee      = quantity{"argument of perigee", -360, 360, "degrees"}
	anomaly      = quantity{"mean anomaly", -360, 360, "degrees"}
	drag         = quantity{"drag term", -100, 100, "per Earth radius"}
	motionDot    = quantity{"first derivative of the mean motion", -1e6, 1e6, "revolutions a day²"}
	motionDDot   = quantity{"second derivative of the mean motion", -1e6, 1e6, "revolutions a day³"}
)

// holds is false for NaN too.
func (q quantity) holds(v float64) bool { return v >= q.min && v <= q.max }

func (q quantity) want() string {
	text := fmt.Sprintf("%v to %v", q.min, q.max)
	if q.unit != "" {
		text += " " + q.unit
	}
	return text
}

// Check refuses a set whose numbers are outside the ranges that a reader holds
// them to, for sets that were not read but made.
func (s Set) Check() error {
	for _, c := range []struct {
		quantity
		value float64
	}{
		{meanMotion, s.MeanMotionRevPerDay},
		{eccentricity, s.Eccentricity},
		{inclination, s.InclinationDeg},
		{node, s.NodeDeg},
		{perigee, s.PerigeeDeg},
		{anomaly, s.AnomalyDeg},
		{drag, s.BStar},
		{motionDot, s.MeanMotionDot},
		{motionDDot, s.MeanMotionDDot},
	} {
		if !c.holds(c.value) {
			return fmt.Errorf("%s is %v, want %s", c.name, c.value, c.want())
		}
	}
	return nil
}

// turn brings an angle from -360 to 360 degrees into [0, 360).
func turn(deg float64) float64 {
	if deg < 0 {
		deg += 360
	}
	if deg >= 360 {
		deg -= 360
	}
	return deg
}
