package track

// hermite is the cubic on [0, 1] with given values and slopes at its ends.
type hermite struct{ p0, p1, v0, v1 float64 }

func (h hermite) value(f float64) float64 {
	d := h.p1 - h.p0
	return h.p0 + f*(h.v0+f*(3*d-2*h.v0-h.v1+f*(h.v0+h.v1-2*d)))
}

func (h hermite) slope(f float64) float64 {
	d := h.p1 - h.p0
	return h.v0 + f*(2*(3*d-2*h.v0-h.v1)+f*3*(h.v0+h.v1-2*d))
}

// root returns where the value is 0, given that the ends have different signs
// (bisection: the slopes may mislead near a grazing end).
func (h hermite) root() float64 {
	low, high := 0.0, 1.0
	for range 40 {
		mid := (low + high) / 2
		if (h.value(mid) < 0) == (h.p0 < 0) {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}
