package review

import (
	"math"
	"math/bits"
	"slices"
)

// hypothesis is the causes that were at work: none, one or two.
type hypothesis []Cause

// believed is a hypothesis with what is believed of it before.
type believed struct {
	hypothesis
	prior float64 // the sum over all hypotheses is 1
	sizes sizes
}

// hypotheses returns all of them. A cause is a mistake, all of them as likely, one
// or two at once; or else an error that is usual and happens to be large, be there a
// mistake or not.
func (l limits) hypotheses() (all []believed) {
	add := func(causes ...Cause) {
		h := hypothesis(causes)
		b := believed{hypothesis: h}
		b.prior, b.sizes = l.believe(h)
		all = append(all, b)
	}
	add()
	for c := Cause(0); c < causeCount; c++ {
		add(c)
		for d := Cause(0); d < c; d++ {
			add(d, c)
		}
	}
	sum := 0.0
	for _, b := range all {
		sum += b.prior
	}
	for i := range all {
		all[i].prior /= sum
	}
	return all
}

// believe goes through what of a hypothesis is a mistake; the rest is usual. It
// returns how likely all of that is together, and which part of each size is usual.
func (l limits) believe(h hypothesis) (prior float64, s sizes) {
	tails := l.tails()
	var usual [causeCount]float64
	for mask := range 1 << len(h) {
		p := [...]float64{priorNone, priorOne / float64(causeCount), priorTwo / float64(causeCount*(causeCount-1)/2)}[bits.OnesCount(uint(mask))]
		for i, c := range h {
			if mask>>i&1 == 0 {
				p *= tails[c]
			}
		}
		for i, c := range h {
			if mask>>i&1 == 0 {
				usual[c] += p
			}
		}
		prior += p
	}
	of := func(c Cause) size {
		return size{slices.Contains(h, c), usual[c] / math.Max(prior, 1e-300)}
	}
	s = sizes{late: of(Elements), heading: of(North), weak: of(WeakLink)}
	for c, tail := range tails {
		if !slices.Contains(h, Cause(c)) {
			prior *= 1 - tail
		}
	}
	return prior, s
}

// term is one way in which a hypothesis shows, with its share of all.
type term struct {
	hypothesis
	sizes
	variant
	key   jointKey
	prior float64 // before the marks, but with all else; to a factor
	share float64
}

// terms weighs every way of every hypothesis; the shares add up to 1. It is empty
// where nothing explains what was marked.
func (w *weigher) terms() []term {
	l := w.likelihoods()
	var terms []term
	for _, h := range w.limits.hypotheses() {
		p := h.prior
		for c := range w.direct {
			if slices.Contains(h.hypothesis, Cause(c)) {
				p *= w.direct[c].with
			} else {
				p *= w.direct[c].without
			}
		}
		for _, v := range w.ways(h.hypothesis, h.sizes) {
			t := term{hypothesis: h.hypothesis, sizes: h.sizes, variant: v, key: w.coarse.key(v), prior: p * v.share}
			t.share = t.prior * l.of(t.key, sizesAndTuning{h.sizes, v.tuned})
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
func (w *weigher) ways(h hypothesis, s sizes) []variant {
	all := []variant{{share: 1}}
	for _, c := range h {
		var next []variant
		for _, v := range all {
			for _, o := range w.variants(c, s) {
				next = append(next, v.and(o))
			}
		}
		all = next
	}
	return all
}
