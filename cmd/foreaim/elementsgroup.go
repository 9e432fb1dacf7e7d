package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"time"

	"foreaim/track"
	"foreaim/track/elements"

	"github.com/spf13/cobra"
)

func newElementsGroupCommand(sys system) *cobra.Command {
	o := newOptions(sys)
	lowest := value[float64]{parse: parseElevation, kind: "DEG"}
	var reference string
	cmd := &cobra.Command{
		Use:   "group [PREFIX|FILE]",
		Short: "list how far apart the objects of a launch come over a site",
		Long: `List how the objects of a launch follow each other over the site in one pass of
one of them, the pass under way or next. A launch is the beginning of an
international designator, such as 2026-014, among the objects of the store, or a
file of elements. The object to compare with is --reference, or the one that the
configuration names, or else the first.`,
		Args: arguments(0, 1, ""),
		RunE: func(cmd *cobra.Command, args []string) error {
			c, err := sys.configFor(cmd)
			if err != nil {
				return err
			}
			g, err := sys.readGroup(o, c, args, reference)
			if err != nil {
				return err
			}
			around, err := o.openSurround(c)
			if err != nil {
				return err
			}
			here, err := sys.findPlace(cmd.Context(), o, c)
			if err != nil {
				return err
			}
			from, err := o.passFrom(here.now)
			if err != nil {
				return err
			}
			t := task{place: here, config: c, satellites: []satellite{g.reference}}
			if t.sight, err = sys.see(cmd.Context(), around, here.site); err != nil {
				return err
			}
			return sys.printGroup(cmd.Context(), t, o, g, from, lowest)
		},
	}
	f := cmd.Flags()
	o.addElements(f)
	o.addSite(f)
	f.StringVar(&reference, "reference", "", "compare with this object, `SAT`")
	o.addNextPass(f)
	f.Var(&lowest, "min-elevation", "only what is above this elevation (0 without it)")
	o.addSkyline(f)
	o.addJSON(f)
	return cmd
}

// group is the objects of a launch, and the one to compare them with.
type group struct {
	members   []elements.Set
	reference satellite
	library   *library
}

func (sys system) readGroup(o *options, c config, args []string, reference string) (g group, err error) {
	paths, prefix := o.elements, ""
	if len(args) > 0 {
		prefix = args[0]
		if _, err := os.Stat(prefix); err == nil {
			paths, prefix = append(paths, prefix), ""
		}
	}
	if len(paths) == 0 && prefix == "" {
		return g, wrong("name the beginning of its designator, such as 2026-014, or a file", "which launch?")
	}
	l, err := sys.openLibrary(paths)
	if err != nil {
		return g, err
	}
	all, err := l.newest()
	if err != nil {
		return g, err
	}
	for _, set := range all {
		if track.OfLaunch(set, prefix) {
			g.members = append(g.members, set)
		}
	}
	if len(g.members) == 0 {
		return g, wrong("designators look like 2026-014B; elements of a launch may lack them in the first days: name a file then",
			"no object's designator begins with %q, and there is no such file", plain(prefix))
	}
	set, err := c.referenceOf(g.members, reference)
	if err != nil {
		return g, err
	}
	if g.reference, err = newSatellite(set, o, c); err != nil {
		return g, err
	}
	g.reference.history, g.library = l.history(set), l
	return g, nil
}

// referenceOf chooses the object to compare with.
func (c config) referenceOf(members []elements.Set, named string) (elements.Set, error) {
	if named != "" {
		set, err := elements.Choose(members, named)
		if err != nil {
			return set, notChosen(err, nil)
		}
		return set, nil
	}
	for _, set := range members {
		if _, ok := c.entry(set.Name, set.CatalogueNumber); ok {
			return set, nil
		}
	}
	return members[0], nil
}

// memberJSON is one object of the group beside the reference's pass.
type memberJSON struct {
	Satellite       string    `json:"satellite"`
	CatalogueNumber int       `json:"catalogue_number"`
	Designator      string    `json:"designator,omitempty"`
	RisesAfterS     *float64  `json:"rises_after_s,omitempty"`
	PeaksAfterS     *float64  `json:"peaks_after_s,omitempty"`
	Rise            *lookJSON `json:"rise,omitempty"`
	Peak            *lookJSON `json:"peak,omitempty"`
	TimeErrorSigmaS *float64  `json:"time_error_sigma_s,omitempty"`
	Note            string    `json:"note,omitempty"` // why there is no pass
}

type groupAnswer struct {
	Pass    passAnswer   `json:"pass"` // of the reference
	Members []memberJSON `json:"members"`
}

func (sys system) printGroup(ctx context.Context, t task, o *options, g group, from time.Time, lowest value[float64]) error {
	pass, err := nextPass(ctx, t, from, o.span, lowest)
	if err != nil {
		return err
	}
	members, err := track.AlongPass(ctx, g.reference.orbit, pass.Pass, g.members, t.site, t.horizon(lowest.value))
	switch {
	case errors.Is(err, track.ErrNoRise):
		return failed("compare with another one: --reference SAT", "%w", err)
	case err != nil:
		return err
	}
	if o.json {
		answer := groupAnswer{Members: []memberJSON{}}
		if answer.Pass, err = newPassAnswer(t.site, pass); err != nil {
			return err
		}
		for _, m := range members {
			answer.Members = append(answer.Members, g.memberJSON(m))
		}
		return printJSON(sys.stdout, answer)
	}
	reference := g.reference.orbit.Elements()
	text := item("", title(reference)+" over "+sayPlace(t.site)) + sys.sayLikely(g.reference, from) + "\n" + sys.sayPass(t.site, pass) + "\n\n"
	for _, m := range members {
		words := m.Words(reference)
		if s := g.sigmaS(m); s > 0 {
			words += " (give or take " + sayLate(s) + ")"
		}
		text += item("", words+".")
	}
	if len(members) == 0 {
		text += "There is no other object in this group.\n"
	}
	_, err = fmt.Fprint(sys.stdout, text)
	return err
}

func (g group) memberJSON(m track.Member) memberJSON {
	answer := memberJSON{Satellite: name(m.Set), CatalogueNumber: m.Set.CatalogueNumber, Designator: plain(m.Set.Designator)}
	if m.Pass == nil || m.Pass.AlwaysUp {
		answer.Note = plain(m.Words(g.reference.orbit.Elements()))
		return answer
	}
	rise, peak := newLookJSON(m.Pass.Rise), newLookJSON(m.Pass.Peak)
	answer.Rise, answer.Peak = &rise, &peak
	answer.RisesAfterS, answer.PeaksAfterS = number(m.RisesAfter.Seconds(), 3), number(m.PeaksAfter.Seconds(), 3)
	answer.TimeErrorSigmaS = number(g.sigmaS(m), 2)
	return answer
}

// sigmaS is how late or early a member may be at its peak; 0 where it has none.
func (g group) sigmaS(m track.Member) float64 {
	if m.Pass == nil {
		return 0
	}
	l, err := track.LikelyError(m.Set, g.library.history(m.Set), m.Pass.Peak.Time)
	if err != nil {
		return 0
	}
	return l.SigmaS
}
