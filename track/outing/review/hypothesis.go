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
	l := w.likelihoods()
	var terms []term
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
			t := term{hypothesis: h, variant: v, key: w.coarse.key(v), prior: p * v.share}
			t.share = t.prior * l.of(t.key, sizesAndTuning{sizesOf(h), v.tuned})
			terms = append(terms, t)
		}
		terms = append(terms, w.rivalTerms(h, p, l)...)
	}
	total := 0.0
	for _, t := range terms {
		total += t.share
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

// likelihoods are those of the coarse grid.
type likelihoods struct {
	*weigher
	offsets offsets
	byKind  map[sizesAndTuning]weights
}

func (w *weigher) likelihoods() likelihoods {
	return likelihoods{w, w.offsets(w.coarse.late), map[sizesAndTuning]weights{}}
}

// of returns one, averaged over what is believed before of the errors.
func (l likelihoods) of(key jointKey, kind sizesAndTuning) float64 {
	laid, ok := l.byKind[kind]
	if !ok {
		laid = l.laid(l.coarse, l.offsets, kind)
		l.byKind[kind] = laid
	}
	return l.coarse.sum(l.coarse.of(key), laid, nil, 0)
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
