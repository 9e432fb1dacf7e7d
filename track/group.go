package track

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"foreaim/track/elements"
)

// OfLaunch returns whether a set is of a launch, given by the beginning of an
// international designator: "2026-014" takes 2026-014A and 2026-014AB, but not
// 2026-0141. Letter case is free. An empty prefix takes every set.
func OfLaunch(set elements.Set, prefix string) bool {
	if prefix == "" {
		return true
	}
	id := set.Designator
	if len(id) < len(prefix) || !strings.EqualFold(id[:len(prefix)], prefix) {
		return false
	}
	isDigit := func(c byte) bool { return c >= '0' && c <= '9' }
	rest := id[len(prefix):]
	return rest == "" || !isDigit(rest[0]) || !isDigit(prefix[len(prefix)-1])
}

// Member is one object of a group beside a pass of the reference.
type Member struct {
	Set elements.Set
	// Pass is the object's pass of the same time; nil where it has none.
	Pass *Pass
	// RisesAfter and PeaksAfter are how much later than the reference it rises
	// and peaks over the site; negative: earlier. 0 without a pass.
	RisesAfter, PeaksAfter time.Duration
	// Err says why nothing could be computed; nil otherwise.
	Err error
}

// ErrNoRise: the reference does not rise and set, so that nothing can come
// before or after it.
var ErrNoRise = errors.New("the pass has no rise to compare with")

// AlongPass returns where the objects of a group are beside a pass of a
// reference object: for each of them its pass over the same site and horizon
// whose peak is nearest to that of the reference, within half a revolution.
// Members come in the order in which they rise, then those that don't pass,
// then those that can't be computed; sets of the reference itself are left out.
// Give one set an object (see elements.Newest).
func AlongPass(ctx context.Context, reference *Orbit, pass Pass, group []elements.Set, site Site, horizon Horizon) ([]Member, error) {
	if pass.AlwaysUp {
		return nil, fmt.Errorf("%s: %w: it is always up", label(reference.set), ErrNoRise)
	}
	half := seconds(reference.periodS / 2)
	var members []Member
	for _, set := range group {
		if set.SameObject(reference.set) {
			continue
		}
		m, err := alongside(ctx, set, pass, half, site, horizon)
		if err != nil {
			return nil, err
		}
		members = append(members, m)
	}
	slices.SortStableFunc(members, func(a, b Member) int {
		return cmp.Or(cmp.Compare(a.rank(), b.rank()), cmp.Compare(a.RisesAfter, b.RisesAfter))
	})
	return members, nil
}

// alongside finds the pass of one object; its error is ctx's.
func alongside(ctx context.Context, set elements.Set, pass Pass, half time.Duration, site Site, horizon Horizon) (Member, error) {
	m := Member{Set: set}
	o, err := NewOrbit(set)
	var found []Pass
	if err == nil {
		found, err = o.PassesOver(ctx, site, pass.Peak.Time.Add(-half), pass.Peak.Time.Add(half), horizon)
	}
	if ctx.Err() != nil {
		return m, ctx.Err()
	}
	away := func(p Pass) time.Duration { return p.Peak.Time.Sub(pass.Peak.Time).Abs() }
	for _, p := range found {
		if away(p) <= half && (m.Pass == nil || away(p) < away(*m.Pass)) {
			m.Pass = &p
		}
	}
	if m.Pass == nil {
		m.Err = err
		return m, nil
	}
	m.RisesAfter, m.PeaksAfter = m.Pass.Rise.Time.Sub(pass.Rise.Time), m.Pass.Peak.Time.Sub(pass.Peak.Time)
	if m.Pass.AlwaysUp {
		m.RisesAfter, m.PeaksAfter = 0, 0
	}
	return m, nil
}

// rank orders what passes before what does not.
func (m Member) rank() int {
	switch {
	case m.Err != nil:
		return 2
	case m.Pass == nil || m.Pass.AlwaysUp:
		return 1
	}
	return 0
}

// Words says it in one sentence, with the reference by name: "OBJECT F rises
// 3 min 10 s after OBJECT A and peaks at 45°".
func (m Member) Words(reference elements.Set) string {
	name, other := label(m.Set), label(reference)
	switch {
	case m.Err != nil:
		return m.Err.Error()
	case m.Pass == nil:
		return name + " does not pass within half a revolution of " + other
	case m.Pass.AlwaysUp:
		return name + " is always up"
	}
	when := "together with"
	if s := math.Round(m.RisesAfter.Seconds()); s > 0 {
		when = secondsInWords(s) + " after"
	} else if s < 0 {
		when = secondsInWords(-s) + " before"
	}
	return fmt.Sprintf("%s rises %s %s and peaks at %.0f°", name, when, other, m.Pass.Peak.ElevationDeg)
}
