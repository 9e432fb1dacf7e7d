package review

import "foreaim/track/elements"

// Settings are what the record doesn't hold: the antenna, the hand and the
// signal. The zero value of a field stands for its default.
type Settings struct {
	BeamwidthDeg float64 // between the half-power points; 50
	HandDeg      float64 // scatter of the hand at each hold, an axis; 8
	FadingDB     float64 // scatter of the strength from burst to burst; 5
	// MarginDB is expected at boresight and 1000 km, against hearing; 6, unless
	// MarginKnown.
	MarginDB      float64
	MarginKnown   bool
	MarginSigmaDB float64 // 4
	// Margin tells what is expected of a pass's signal, where that is known: MarginDB
	// and MarginSigmaDB in the place of those above. Nil: it is known of none.
	Margin func(Pass) (mean, sigma float64, known bool)
	// HeadingSigmaDeg is that of a facing whose record doesn't say; 15.
	HeadingSigmaDeg float64
	PassbandHz      float64 // half the band in which a burst is noticed; 3000
	// Group is what else may have been heard, that of the elements included or not.
	Group []elements.Set
}

func (s Settings) filled() Settings {
	for _, d := range []struct {
		value *float64
		or    float64
	}{
		{&s.BeamwidthDeg, 50}, {&s.HandDeg, 8}, {&s.FadingDB, 5}, {&s.MarginSigmaDB, 4},
		{&s.HeadingSigmaDeg, 15}, {&s.PassbandHz, 3000},
	} {
		if !(*d.value > 0) {
			*d.value = d.or
		}
	}
	if !s.MarginKnown {
		s.MarginDB = 6
	}
	return s
}
