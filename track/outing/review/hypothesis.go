package review

import "slices"

// hypothesis is the causes that were at work: none, one or two.
type hypothesis []Cause

// hypotheses returns all of them with what is believed of each before; the sum
// is 1.
func (l limits) hypotheses() (all []hypothesis, prior []float64) {
	// A cause that is only more of what is usual is likelier where much is usual.
	var odds [causeCount]float64
	late, heading, weak := l.tails()
	sum, pairs := 0.0, 0.0
	for c := range odds {
		odds[c] = 1
	}
	odds[Elements] += moreOdds * late
	odds[North] += moreOdds * heading
	odds[WeakLink] += moreOdds * weak
	for c := range odds {
		for d := range c {
			pairs += odds[c] * odds[d]
		}
		sum += odds[c]
	}
	all, prior = append(all, nil), append(prior, priorNone)
	for c := range odds {
		all, prior = append(all, hypothesis{Cause(c)}), append(prior, priorOne*odds[c]/sum)
		for d := range c {
			all, prior = append(all, hypothesis{Cause(d), Cause(c)}), append(prior, priorTwo*odds[c]*odds[d]/pairs)
		}
	}
	return all, prior
}

// moreOdds is by how much a cause gains that is certain to be usual.
const moreOdds = 3.0

// term is one way in which a hypothesis shows, with its share of all.
type term struct {
	hypothesis
	variant
	key   jointKey
	prior float64 // before the marks, but with all else; to a factor
	share float64
}

// terms weighs every way of every hypothesis; the shares add up to 1. It is empty
// where nothing explains what was marked.
func (w *weigher) terms() []term {
	all, prior := w.limits.hypotheses()
	offsets := w.offsets(w.coarse.late)
	byKind := map[sizesAndTuning]weights{}
	var terms []term
	total := 0.0
	for n, h := range all {
		p := prior[n]
		for c := range w.direct {
			if slices.Contains(h, Cause(c)) {
				p *= w.direct[c].with
			} else {
				p *= w.direct[c].without
			}
		}
		for _, v := range w.ways(h) {
			kind := sizesAndTuning{sizesOf(h), v.tuned}
			laid, ok := byKind[kind]
			if !ok {
				laid = w.laid(w.coarse, offsets, kind)
				byKind[kind] = laid
			}
			t := term{hypothesis: h, variant: v, key: w.coarse.key(v), prior: p * v.share}
			t.share = t.prior * w.coarse.sum(w.coarse.of(t.key), laid, nil, 0)
			total += t.share
			terms = append(terms, t)
		}
	}
	if !(total > 0) {
		return nil
	}
	for i := range terms {
		terms[i].share /= total
	}
	return terms
}

type sizesAndTuning struct {
	sizes
	tuned bool
}

// laid is what is believed before, with what the frequencies say.
func (w *weigher) laid(g *grid, o offsets, kind sizesAndTuning) weights {
	p := w.limits.priors(g, kind.sizes)
	by := o.likely[0]
	if kind.tuned {
		by = o.likely[1]
	}
	for i := range p.late {
		p.late[i] *= by[i]
	}
	return p
}

// ways returns the ways in which a hypothesis shows.
func (w *weigher) ways(h hypothesis) []variant {
	all := []variant{{share: 1}}
	for _, c := range h {
		var next []variant
		for _, v := range all {
			for _, o := range w.variants(c) {
				next = append(next, v.and(o))
			}
		}
		all = next
	}
	return all
}
