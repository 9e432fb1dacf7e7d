package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"foreaim/track"
	"foreaim/track/terrain"

	"github.com/spf13/cobra"
)

// siteFlags say which places are compared.
type siteFlags struct {
	around   value[terrain.Place]
	radiusM  value[float64]
	gridM    value[float64]
	show     value[int]
	geojson  bool
	lowest   value[float64]
	link     *linkFlags
	*options // ground and satellite
}

// The usual search, and how many places are shown.
const (
	usualRadiusM = 10000
	usualGridM   = 500
	usualShow    = 10
	// usualSitesSpan is how far ahead passes are compared: enough for a low object
	// to pass on all sides.
	usualSitesSpan = 3 * day
)

func newSitesCommand(sys system) *cobra.Command {
	s := &siteFlags{
		around:  value[terrain.Place]{parse: parsePlace, kind: "LAT,LON"},
		radiusM: value[float64]{parse: parseDistance, kind: "DISTANCE"},
		gridM:   value[float64]{parse: parseDistance, kind: "DISTANCE"},
		show:    value[int]{parse: parseCount, kind: "N"},
		lowest:  value[float64]{parse: parseElevation, kind: "DEG"},
		link:    newLinkFlags(), options: newOptions(sys),
	}
	cmd := &cobra.Command{
		Use:   "sites SITES.csv [SAT] | sites --around LAT,LON [SAT]",
		Short: "compare places to receive at: sky, transmitters, what is left",
		Long: `Compare places by the ground of elevation tiles: how much of the coming passes
is in sight, how strong the transmitters arrive over the hills, and what that
leaves of the beacon. The best stands first, with the reasons.

The file has the columns name,latitude_deg,longitude_deg,antenna_m.
With --around a grid of places is searched for ones that hide the transmitters
and still see the passes: all are screened, and of the best 50 the full skyline
is worked out. Ctrl-C ends that and keeps what was found.`,
		Args: arguments(0, 2, ""),
		RunE: func(cmd *cobra.Command, args []string) error {
			names, err := s.satelliteNamed(args)
			if err != nil {
				return err
			}
			c, err := sys.prepareComparison(cmd, s, names)
			if err != nil {
				return err
			}
			places, err := s.places(args, c.config)
			if err != nil {
				return err
			}
			return sys.compare(cmd.Context(), c, s, places)
		},
	}
	f := cmd.Flags()
	f.Var(&s.around, "around", "search around this place instead of reading a file")
	f.Var(&s.radiusM, "radius", "search so far around (10km without it)")
	f.Var(&s.gridM, "grid", "a place every so often (500m without it)")
	f.Var(&s.show, "show", "so many places in the table (10 without it)")
	s.addTerrain(f)
	s.addElements(f)
	s.addSpan(f, "compare passes from this time (now without it)", "for this long (3d without it)")
	f.Var(&s.lowest, "min-elevation", "only what is above this elevation (0 without it)")
	s.addFrequency(f)
	s.addBeacon(f)
	s.link.add(f)
	s.addJSON(f)
	f.BoolVar(&s.geojson, "geojson", false, "print GeoJSON for a map")
	cmd.MarkFlagsMutuallyExclusive("json", "geojson")
	return cmd
}

// satelliteNamed takes the satellite out of the arguments; none: the only one.
func (s *siteFlags) satelliteNamed(args []string) ([]string, error) {
	switch {
	case s.around.given && len(args) > 1:
		return nil, wrong("a file of sites and --around don't go together", "there is no use for %q", plain(args[1]))
	case s.around.given:
		return args, nil
	case len(args) == 0:
		return nil, wrong("name a CSV file of sites, or search with --around LAT,LON", "there are no places to compare")
	}
	return args[1:], nil
}

// places are the ones to compare.
func (s *siteFlags) places(args []string, c config) ([]terrain.Candidate, error) {
	if s.around.given {
		all, err := terrain.CandidatesAround(s.around.value, s.radiusM.or(usualRadiusM)/1000, s.gridM.or(usualGridM), s.antennaM(c))
		if err != nil {
			return nil, wrong("", "%w", err)
		}
		return all, nil
	}
	all, err := readFile(args[0], "name a CSV file of sites, or search with --around LAT,LON", terrain.ReadCandidates)
	if err == nil && len(all) == 0 {
		err = wrong("", "%s: there is no site in it", args[0])
	}
	return all, err
}

// compare searches the places and prints what it found.
func (sys system) compare(ctx context.Context, c *comparison, s *siteFlags, places []terrain.Candidate) error {
	search, err := c.search()
	if err != nil {
		return err
	}
	shown := s.show.or(usualShow)
	line := sys.newProgress()
	search.Progress = func(done, total int) { line.tell(fmt.Sprintf("%d of %d places looked at", done, total)) }
	found, stopped := search.Run(ctx, places)
	line.clear()
	if err := c.fault(); err != nil {
		return err
	}
	if stopped != nil && !errors.Is(stopped, context.Canceled) {
		return c.ground.problem(stopped, "sites")
	}
	studies, err := c.study(context.WithoutCancel(ctx), found, shown)
	if err != nil {
		return err
	}
	if stopped != nil {
		sys.note("stopped after %d of %d places, %d of them with their full skyline; these are the best", len(found), len(places), lookedAround(studies))
	}
	switch {
	case s.geojson:
		err = printJSON(sys.stdout, newMap(studies))
	case s.json:
		err = printJSON(sys.stdout, newStudiesJSON(studies))
	default:
		_, err = fmt.Fprint(sys.stdout, c.page(sys, studies, shown))
	}
	return errors.Join(err, stopped)
}

// lookedAround counts the places whose full skyline is known.
func lookedAround(all []study) (n int) {
	for _, s := range all {
		if s.Panorama != nil {
			n++
		}
	}
	return n
}

func parsePlace(text string) (terrain.Place, error) {
	site, err := parseSite(text)
	return terrain.Place{LatitudeDeg: site.LatitudeDeg, LongitudeDeg: site.LongitudeDeg}, err
}

// parseDistance reads a distance in metres.
func parseDistance(text string) (float64, error) {
	number, scale := text, 0.0
	if cut, ok := strings.CutSuffix(text, "km"); ok {
		number, scale = cut, 1000
	} else if cut, ok := strings.CutSuffix(text, "m"); ok {
		number, scale = cut, 1
	}
	x, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	if err != nil || !(x*scale > 0 && x*scale <= 1e6) {
		return 0, wrong("distances look like 500m or 10km", "%q is not a distance", text)
	}
	return x * scale, nil
}

func parseCount(text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		return 0, wrong("", "%q is not a number from 1", text)
	}
	return n, nil
}

// timeSpan is the time in which passes are compared.
type timeSpan struct{ from, to time.Time }

// standingAt is a place as passes are worked out for it: the difference between its
// height above the sea and above the ellipsoid makes no difference.
func standingAt(at terrain.Standing) track.Site {
	return track.Site{Name: at.Name, LatitudeDeg: at.LatitudeDeg, LongitudeDeg: at.LongitudeDeg, HeightM: at.GroundM + at.AntennaM}
}
