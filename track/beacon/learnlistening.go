package beacon

import (
	"cmp"
	"math"
	"slices"
)

// window is a time of listening, in seconds after the reference.
type window struct{ from, to float64 }

// listen joins the intervals, or takes the passes from first to last mark.
func (s *search) listen(listened []Interval) {
	for _, l := range listened {
		s.windows = append(s.windows, window{sinceS(s.ref, l.From), sinceS(s.ref, l.To)})
	}
	if len(listened) == 0 {
		for i, m := range s.marks {
			if i == 0 || m.newPass {
				s.windows = append(s.windows, window{m.at, m.at})
			}
			s.windows[len(s.windows)-1].to = m.at
		}
	}
	slices.SortFunc(s.windows, func(a, b window) int { return cmp.Compare(a.from, b.from) })
	joined := s.windows[:0]
	for _, w := range s.windows {
		if n := len(joined); n > 0 && w.from <= joined[n-1].to {
			joined[n-1].to = max(joined[n-1].to, w.to)
			continue
		}
		joined = append(joined, w)
	}
	s.windows = joined
	for _, w := range s.windows {
		s.listened += w.to - w.from
	}
}

// slots counts the bursts of a hypothesis that start within [from, to] and
// while somebody listened.
func (s *search) slots(h *hypothesis, from, to float64) int {
	n := 0
	for _, w := range s.windows {
		a, b := max(w.from, from), min(w.to, to)
		if b < a {
			continue
		}
		if !h.phased {
			n += int((b - a) / h.period)
			continue
		}
		n += max(0, int(math.Floor((b-h.at)/h.period)-math.Ceil((a-h.at)/h.period))+1)
	}
	return n
}
