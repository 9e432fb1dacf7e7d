package aim

import "time"

// Tone is a signal where there is no voice.
type Tone string

// The tones.
const (
	ToneLeft  Tone = "left"
	ToneRight Tone = "right"
	ToneUp    Tone = "up"
	ToneDown  Tone = "down"
	ToneHold  Tone = "hold"
	ToneBurst Tone = "burst"
)

// AllTones lists the tones.
func AllTones() []Tone {
	return []Tone{ToneLeft, ToneRight, ToneUp, ToneDown, ToneHold, ToneBurst}
}

const (
	// bellShort lies between two bells of a quick group: many terminals ring
	// once for bells that are closer than a tenth of a second (common practice,
	// no source).
	bellShort = 200 * time.Millisecond
	bellLong  = 600 * time.Millisecond
	// bellPause lies between the patterns of two tones.
	bellPause = time.Second
)

// bells are the gaps between a tone's bells: one bell holds, two go left, three
// go right, four are a burst; up ends slowly, down begins slowly.
func (t Tone) bells() []time.Duration {
	switch t {
	case ToneLeft:
		return []time.Duration{bellShort}
	case ToneRight:
		return []time.Duration{bellShort, bellShort}
	case ToneUp:
		return []time.Duration{bellShort, bellLong}
	case ToneDown:
		return []time.Duration{bellLong, bellShort}
	case ToneBurst:
		return []time.Duration{bellShort, bellShort, bellShort}
	default:
		return nil
	}
}

// Bells gives the moments at which to ring a bell for the tones one after
// another, counted from the first.
func Bells(tones ...Tone) []time.Duration {
	var at time.Duration
	var all []time.Duration
	for i, t := range tones {
		if i > 0 {
			at += bellPause
		}
		all = append(all, at)
		for _, gap := range t.bells() {
			at += gap
			all = append(all, at)
		}
	}
	return all
}

// Tones says the step in tones: along the ground first, then up; hold for a
// step too small for a hand.
func (s Step) Tones(fistDeg float64) []Tone {
	var tones []Tone
	switch turn := RoundTurn(s.TurnDeg); {
	case turn > 0:
		tones = append(tones, ToneRight)
	case turn < 0:
		tones = append(tones, ToneLeft)
	}
	if Fists(s.UpDeg, fistDeg) != "" {
		tones = append(tones, heightTone(s.UpDeg))
	}
	if len(tones) == 0 {
		return []Tone{ToneHold}
	}
	return tones
}

// StepTones says the way from one hold to the next in tones; near the zenith,
// where left and right mean nothing, up or down only.
func StepTones(from, to Direction, fistDeg float64) []Tone {
	if from.Overhead() || to.Overhead() {
		return []Tone{heightTone(to.ElevationDeg - from.ElevationDeg)}
	}
	return from.StepTo(to).Tones(fistDeg)
}

func heightTone(deg float64) Tone {
	if deg < 0 {
		return ToneDown
	}
	return ToneUp
}
