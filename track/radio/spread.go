package radio

import "slices"

// spread is the spectrum of a product of flat signals: their spectra convolved,
// which is how the sum of evenly spread numbers is distributed. Two equal ones
// and a third give 0.75/b at the middle.
type spread struct {
	middleMHz float64
	widths    []float64 // MHz, above 0
}

// newSpread leaves out widths that are next to nothing beside the widest: they
// would cancel in the sum below, and change nothing.
func newSpread(middleMHz float64, widthsMHz ...float64) spread {
	widest := slices.Max(widthsMHz)
	s := spread{middleMHz: middleMHz, widths: make([]float64, 0, 3)}
	for _, w := range widthsMHz {
		if w > widest/1000 {
			s.widths = append(s.widths, w)
		}
	}
	return s
}

// below returns the share that lies below a frequency.
func (s spread) below(mhz float64) float64 {
	n := len(s.widths)
	x := mhz - s.middleMHz
	if n == 0 {
		if x >= 0 {
			return 1
		}
		return 0
	}
	half, volume := 0.0, 1.0
	for i, w := range s.widths {
		half += w / 2
		volume *= w * float64(i+1)
	}
	switch {
	case x <= -half:
		return 0
	case x >= half:
		return 1
	}
	sum := 0.0
	for corner := range 1 << n { // of the box that the widths span
		at, sign := x, 1.0
		for i, w := range s.widths {
			if corner>>i&1 == 1 {
				at, sign = at-w/2, -sign
			} else {
				at += w / 2
			}
		}
		if at > 0 {
			power := sign
			for range n {
				power *= at
			}
			sum += power
		}
	}
	return min(1, max(0, sum/volume))
}

// reach returns the edges.
func (s spread) reach() (lowMHz, highMHz float64) {
	half := 0.0
	for _, w := range s.widths {
		half += w / 2
	}
	return s.middleMHz - half, s.middleMHz + half
}

// channel is the wanted one: in which noise is counted, and as far as Doppler
// moves it.
type channel struct{ lowMHz, highMHz, widthMHz float64 }

// dopplerShare is how far a low orbit's Doppler moves a signal: 7.5 km/s by the
// speed of light.
const dopplerShare = 2.5e-5

func (l Link) channel() channel {
	width := l.Mode.BandwidthHz / 1e6
	half := width/2 + l.MHz()*dopplerShare
	return channel{l.MHz() - half, l.MHz() + half, width}
}

// share returns how much of a spectrum falls on the channel at one time. What
// is narrow counts whole, as at some time of a pass Doppler brings it in.
func (c channel) share(s spread) float64 {
	share := s.below(c.highMHz) - s.below(c.lowMHz)
	low, high := s.reach()
	if window := c.highMHz - c.lowMHz; high-low > window {
		share *= c.widthMHz / window
	}
	return share
}

// touches says whether a spectrum from low to high lies on it at all.
func (c channel) touches(lowMHz, highMHz float64) bool {
	return lowMHz < c.highMHz && highMHz > c.lowMHz
}
