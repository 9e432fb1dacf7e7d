package tui

import "foreaim/track"

// Boom is a direction as a hand has it: against straight ahead and the horizon, in
// degrees.
type Boom struct{ RightDeg, UpDeg float64 }

// told returns where the boom is held: where the keys have turned it, or else by
// somebody who does what the screen says; nil where it says nothing that a hand can follow.
func (s *scene) told() *Boom {
	if s.hand != nil {
		return s.hand
	}
	h := s.aimed()
	if h == nil || !s.facing.known {
		return nil
	}
	return &Boom{RightDeg: track.TurnDeg(s.facing.deg, h.AzimuthDeg), UpDeg: h.ElevationDeg}
}

// tellSounds takes what the invented receiver lets hear.
func (s *scene) tellSounds(c Config) {
	if c.Sounds != nil {
		s.sounds = clean(c.Sounds(s.computer, s.told()))
	}
}
