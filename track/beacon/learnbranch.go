package beacon

import "math"

// branch appends what a mark can mean under a hypothesis.
func (s *search) branch(next []hypothesis, h hypothesis, i int, passFrom float64) []hypothesis {
	m := s.marks[i]
	sigma := m.sigma * h.scale
	from := math.Inf(-1) // of the bursts missed before this mark
	if h.anew {
		from = passFrom
	}
	if h.phased && h.fits > 0 {
		from = h.at + h.period/2
	}

	// A rate λ with the density β·exp(−βλ) gives n false marks in a time T
	// the density β·n!/(T+β)ⁿ⁺¹.
	wrong := h
	wrong.falseMarks++
	wrong.logWeight += math.Log(float64(wrong.falseMarks)) + s.falseLog
	wrong.wrong.set(i)
	next = append(next, wrong)

	heard := func(h hypothesis) {
		h.heard(s.slots(&h, from, h.at-h.period/2))
		next = append(next, h)
	}
	switch {
	case h.period == 0 && !h.phased:
		h.logWeight += s.unpaired
		h.at, h.varAt, h.phased = m.at, sigma*sigma, true
		next = append(next, h)
	case h.period == 0:
		return s.pair(next, h, m.at, sigma)
	case !h.phased:
		h.begin(m.at, sigma)
		heard(h)
	default:
		steps := math.Round((m.at - h.at) / h.period)
		_, variance := h.ahead(steps)
		reach := 4.5 * math.Sqrt(variance+sigma*sigma) / h.period
		if reach > mostSteps/2 {
			h.begin(m.at, sigma) // the phase is lost on the way
			heard(h)
			break
		}
		exact := (m.at - h.at) / h.period
		for k := math.Ceil(exact - reach); k <= exact+reach; k++ {
			if k < 1 && h.fits > 0 {
				continue // a burst is marked once
			}
			fitted := h
			fitted.fit(m.at, sigma, k)
			if fitted.period > 0 {
				heard(fitted)
			}
		}
	}
	return next
}

// pair appends what two marks D apart that both fit say of an unknown period:
// D/n, for any n. With every octave of periods equally likely beforehand, the
// phase uniform, and L the logarithm of the range, n has the density n/(D²·L).
func (s *search) pair(next []hypothesis, h hypothesis, mark, sigma float64) []hypothesis {
	apart := mark - h.at
	shortest, longest := max(1, 5*sigma), passGap.Seconds()
	if longest <= shortest {
		return next
	}
	logRange := math.Log(longest / shortest)
	first := h.at
	for n := max(1, math.Ceil(apart/longest)); apart/n >= shortest && n <= mostMissed; n++ {
		p := h
		p.logWeight += math.Log(n/(apart*apart*logRange)) - s.unpaired
		p.at, p.period = mark, apart/n
		p.varPeriod = (h.varAt + sigma*sigma) / (n * n)
		p.varAt, p.covar = sigma*sigma, sigma*sigma/n
		// The bursts before the first of the two as well.
		p.heard(s.slots(&p, math.Inf(-1), first-p.period/2))
		p.heard(s.slots(&p, first+p.period/2, mark-p.period/2))
		next = append(next, p)
	}
	return next
}
