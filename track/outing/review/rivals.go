package review

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"foreaim/track"
	"foreaim/track/elements"
)

// Object is one that may have been heard.
type Object struct {
	Name            string
	CatalogueNumber int
	Probability     float64
}

// mostRivals is how many objects are weighed, each at about the cost of a review.
const mostRivals = 60

// rival is another object of the group that may have been heard: a weigher with its
// orbit.
type rival struct {
	*weigher
	set elements.Set
}

// findRivals takes the objects of the group that were up when something was heard.
// Silence alone doesn't tell objects apart.
func (w *weigher) findRivals() {
	p := w.pass
	if p.Count(Heard) == 0 {
		return
	}
	own := *p.Elements
	own.Name = p.Satellite // a record's lines have no name
	for _, set := range w.settings.Group {
		if set.SameObject(own) {
			continue
		}
		if r := w.rival(set); r != nil {
			w.rivals = append(w.rivals, r)
		}
	}
	if n := len(w.rivals); n > mostRivals {
		p.Missing = append(p.Missing, fmt.Sprintf("%d objects of the group were up, more than %d: they are not weighed", n, mostRivals))
		w.rivals = nil
	}
	if len(w.rivals) > 0 {
		w.limits.wrongObject = rivalShare + outsideGroup
	}
}

// rival is nil where the object can't be computed, or wasn't up.
func (w *weigher) rival(set elements.Set) *rival {
	orbit, err := track.NewOrbit(set)
	if err != nil {
		return nil
	}
	likely, err := track.LikelyError(set, nil, w.pass.Peak.Time)
	if err != nil {
		return nil
	}
	own := *w
	own.orbit, own.rivals = orbit, nil
	own.limits.lateSigma = math.Max(0.1, math.Min(600, likely.SigmaS))
	late := lateAxis(own.limits.lateSigma).upTo(3.5 * own.limits.lateSigma)
	if !own.up(late) {
		return nil
	}
	own.dopplerHz = own.doppler()
	own.coarse = own.grid(late, headingAxis())
	return &rival{&own, set}
}

// up tells whether the object was above the horizon at a burst that was heard.
func (w *weigher) up(late axis) bool {
	return slices.ContainsFunc(w.looked, func(b Burst) bool {
		return b.Outcome == Heard && slices.ContainsFunc(late.at, func(x float64) bool {
			l, err := w.orbit.LookLate(*w.pass.Site, b.Time, x)
			return err == nil && l.ElevationDeg > 0
		})
	})
}

// rivalTerms weighs the ways in which another object of the group was heard, alone
// or with a second cause. All are as likely before; each is late as is usual. Of the
// object of the elements they say nothing.
func (w *weigher) rivalTerms(h believed, prior float64, own likelihoods) (terms []term) {
	if len(w.rivals) == 0 || !slices.Contains(h.hypothesis, Elements) {
		return nil
	}
	rest := slices.DeleteFunc(slices.Clone(h.hypothesis), func(c Cause) bool { return c == Elements })
	usual := h.sizes
	usual.anyLate = true
	prior *= rivalShare * (1 - h.sizes.late.usual) / float64(len(w.rivals))
	for _, r := range w.rivals {
		l := r.likelihoods()
		share := prior * math.Exp(l.offsets.scale-own.offsets.scale)
		for _, v := range r.ways(rest, usual) {
			v.rival = r
			t := term{hypothesis: h.hypothesis, sizes: h.sizes, variant: v, key: w.coarse.key(variant{audible: never})}
			t.share = share * v.share * l.of(r.coarse.key(v), sizesAndTuning{usual, v.tuned})
			if none := own.of(t.key, sizesAndTuning{h.sizes, false}); none > 0 {
				t.tuned, t.prior = false, t.share/none
			}
			terms = append(terms, t)
		}
	}
	return terms
}

// objects are those of the group, the likeliest first.
func (w *weigher) objects(terms []term) []Object {
	if len(w.rivals) == 0 {
		return nil
	}
	all := []Object{{w.pass.Satellite, w.pass.CatalogueNumber, w.pass.Estimates.ObjectProbability}}
	for _, r := range w.rivals {
		o := Object{Name: cmp.Or(r.set.Name, fmt.Sprint("object ", r.set.CatalogueNumber)), CatalogueNumber: r.set.CatalogueNumber}
		for _, t := range terms {
			if t.rival == r {
				o.Probability += t.share
			}
		}
		all = append(all, o)
	}
	slices.SortStableFunc(all, func(a, b Object) int { return cmp.Compare(b.Probability, a.Probability) })
	return all
}

// another returns the object of the group that was likelier heard than that of the
// elements.
func (p *Pass) another() (o Object, ok bool) {
	if len(p.Objects) == 0 {
		return o, false
	}
	o = p.Objects[0]
	return o, o.CatalogueNumber != p.CatalogueNumber || o.Name != p.Satellite
}
