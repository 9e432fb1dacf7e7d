package beacon

import "math"

// hypothesis is one story of how the marks came about: which are false, and how
// many periods lie between the others. Given that, what is known of phase and
// period is a normal distribution.
type hypothesis struct {
	logWeight float64

	// at is the start of the last burst that was marked (or published), in
	// seconds after the reference; valid when phased. period is in seconds, 0
	// while it is unknown. Then the covariance of the two, in s².
	at, period               float64
	varAt, covar, varPeriod  float64
	phased                   bool
	fits, missed, falseMarks int
	wrong                    bitset

	scale     float64 // of the stated scatter of the marks
	published bool    // the phase is from the published schedule
	anew      bool    // the phase starts anew in each pass
}

// bitset holds a bit for each mark.
type bitset [MaxMarks / 64]uint64

func (b *bitset) set(i int)      { b[i/64] |= 1 << (i % 64) }
func (b *bitset) has(i int) bool { return b[i/64]>>(i%64)&1 == 1 }

// ahead returns the start of the burst k periods after at, and its variance.
func (h *hypothesis) ahead(k float64) (at, variance float64) {
	return h.at + k*h.period, max(h.varAt+k*(2*h.covar+k*h.varPeriod), 0)
}

// fit takes a mark as that of the burst k periods after at: one step of a
// Kalman filter, after which at is that burst.
func (h *hypothesis) fit(mark, sigma, k float64) {
	at, variance := h.ahead(k)
	covar := h.covar + k*h.varPeriod
	total := variance + sigma*sigma
	off := mark - at
	h.logWeight -= off*off/(2*total) + 0.5*math.Log(2*math.Pi*total)
	gainAt, gainPeriod := variance/total, covar/total
	h.at = at + gainAt*off
	h.period += gainPeriod * off
	h.varPeriod = max(h.varPeriod-gainPeriod*covar, 0)
	h.varAt = gainAt * sigma * sigma
	h.covar = gainPeriod * sigma * sigma
}

// begin takes a mark as the first of a phase that could be any.
func (h *hypothesis) begin(mark, sigma float64) {
	h.logWeight -= math.Log(h.period)
	h.at, h.varAt, h.covar, h.phased = mark, sigma*sigma, 0, true
}

// heard counts a burst that was marked after some that were not. With h the
// unknown chance to mark a burst, uniform from 0 to 1, n marked and m missed
// have the probability ∫ hⁿ(1−h)ᵐ dh = n!·m!/(n+m+1)!.
func (h *hypothesis) heard(missed int) {
	h.miss(missed)
	h.logWeight += math.Log(float64(h.fits+1) / float64(h.fits+h.missed+2))
	h.fits++
}

// miss counts bursts that were not marked.
func (h *hypothesis) miss(missed int) {
	switch {
	case missed <= 0:
		return
	case missed > 20:
		h.logWeight -= logShare(h.fits, h.missed)
		h.missed += missed
		h.logWeight += logShare(h.fits, h.missed)
		return
	}
	product := 1.0
	for range missed {
		h.missed++
		product *= float64(h.missed) / float64(h.fits+h.missed+1)
	}
	h.logWeight += math.Log(product)
}

// logShare is the logarithm of n!·m!/(n+m+1)!.
func logShare(n, m int) float64 {
	a, _ := math.Lgamma(float64(n + 1))
	b, _ := math.Lgamma(float64(m + 1))
	c, _ := math.Lgamma(float64(n + m + 2))
	return a + b - c
}
