package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"

	"foreaim/track"
	"foreaim/track/terrain"
	"foreaim/tui"

	"github.com/spf13/pflag"
)

// usualAntennaM is how high above the ground an antenna is held (common practice,
// no source).
const usualAntennaM = 1.5

// groundFlags say what the ground around is like.
type groundFlags struct {
	folder   string // of elevation tiles; empty: that of the configuration, if any
	sea      bool   // where a tile is missing
	antennaM value[float64]
}

// groundTable is the same in the configuration, as it is written.
type groundTable struct {
	Terrain    *string  `toml:"terrain"`
	TerrainSea bool     `toml:"terrain_sea"`
	AntennaM   *float64 `toml:"antenna_m"`
}

// groundConfig is what follows from that. Zero values were not given.
type groundConfig struct {
	folder   string
	sea      bool
	antennaM float64
}

func (o *options) addTerrain(f *pflag.FlagSet) {
	o.ground = &groundFlags{antennaM: value[float64]{parse: numberWithin("a height above the ground looks like 1.5, in metres", 0, 1000), kind: "M"}}
	f.StringVar(&o.ground.folder, "terrain", "", "the ground is what the elevation tiles in the folder `DIR` tell")
	f.BoolVar(&o.ground.sea, "sea", false, "where there is no tile, there is sea")
	f.Var(&o.ground.antennaM, "antenna-height", "the antenna is so many metres above the ground (1.5 without it)")
}

func (raw configFile) ground(c *configCheck) groundConfig {
	return groundConfig{
		folder:   c.path("terrain", raw.Terrain),
		sea:      raw.TerrainSea,
		antennaM: c.number("antenna_m", raw.AntennaM, 0.1, 1000),
	}
}

// ground is the ground around, by a folder of elevation tiles.
type ground struct {
	*terrain.Tiles
	files    *usedFiles
	sea      bool
	antennaM float64
}

// openGround opens the folder of elevation tiles that is named, if any; nil: none
// is. It reads no tile yet.
func (o *options) openGround(c config) (*ground, error) {
	if o.ground == nil {
		return nil, nil
	}
	folder := o.ground.folder
	if folder == "" {
		folder = c.ground.folder
	}
	if folder == "" {
		return nil, nil
	}
	const hint = "name a folder of elevation tiles with --terrain DIR"
	info, err := os.Stat(folder)
	if err != nil {
		return nil, wrong(hint, "%w", err)
	}
	if !info.IsDir() {
		return nil, wrong(hint, "%s is not a folder", folder)
	}
	g := &ground{files: newUsedFiles(folder), sea: o.ground.sea || c.ground.sea, antennaM: o.antennaM(c)}
	g.Tiles = terrain.NewTiles(g.files, terrain.TilesOptions{MissingIsSea: g.sea})
	return g, nil
}

// antennaM is how high above the ground the antenna is.
func (o *options) antennaM(c config) float64 {
	switch {
	case o.ground != nil && o.ground.antennaM.given:
		return o.ground.antennaM.value
	case c.ground.antennaM != 0:
		return c.ground.antennaM
	}
	return usualAntennaM
}

func noGround() error {
	return wrong(`name a folder with --terrain DIR, or with terrain = "DIR" in the configuration; space and mapping agencies give elevation tiles away`,
		"there are no elevation tiles")
}

// problem says what is wrong with the ground, or with what was read beside it: a
// tile that is missing or bad is an input file that is. Without ground all is
// wrong with the other.
func (g *ground) problem(err error, beside string) error {
	if g == nil {
		return wrong("", "%s: %w", beside, err)
	}
	if missing, ok := errors.AsType[*terrain.MissingError](err); ok {
		return wrong(missing.Hint()+" (--sea)", "%s: %w", g.files.folder, err)
	}
	if fault, ok := errors.AsType[*terrain.VoidError](err); ok {
		return wrong(fault.Hint(), "%s: %w", g.files.folder, err)
	}
	if fault, ok := errors.AsType[*terrain.TileError](err); ok {
		return wrong(fault.Hint(), "%s: %w", g.files.folder, err)
	}
	if errors.Is(err, context.Canceled) {
		return err
	}
	return wrong("", "%s: %w", beside, err)
}

// surround is what may hide the sky, before it is known where that is looked at
// from.
type surround struct {
	byHand *terrain.Skyline // nil: none was written down
	ground *ground          // nil: none is known
}

func (o *options) openSurround(c config) (s surround, err error) {
	if s.byHand, err = o.readSkyline(c); err != nil {
		return s, err
	}
	s.ground, err = o.openGround(c)
	return s, err
}

// sight is what hides the sky of a site.
type sight struct {
	skyline *terrain.Skyline  // of the ground and by hand, the higher; nil: nothing is known to hide the sky
	ground  *terrain.Panorama // nil: no ground is known
	tiles   *ground           // nil likewise
}

// see looks around from a site.
func (sys system) see(ctx context.Context, around surround, site track.Site) (sight, error) {
	if around.ground == nil {
		return sight{skyline: around.byHand}, nil
	}
	p, err := sys.lookAround(ctx, around.ground, site)
	if err != nil {
		return sight{}, err
	}
	if unknown := sayUnknown(p); unknown != "" {
		sys.warn("%s within %.0f km: it hides nothing", unknown, p.ReachKm)
	}
	skyline := p.Skyline()
	if around.byHand != nil {
		skyline = skyline.Max(*around.byHand)
	}
	return sight{&skyline, &p, around.ground}, nil
}

// sayUnknown says how much of the ground around has no known height; empty where
// that is too little to matter.
func sayUnknown(p terrain.Panorama) string {
	share := p.UnknownShare()
	if share <= 0.005 {
		return ""
	}
	return fmt.Sprintf("%.0f %% of the ground unknown", 100*share)
}

// thinDeg is how far the hills of the screen, which are put into the record point
// by point, may be off: a fortieth of a fist.
const thinDeg = 0.25

// hideSky gives the screen what hides the sky: what was written down, and the hills
// as seen from the known site. Where that isn't known, or moves, the screen looks
// at the hills itself.
func (sys system) hideSky(ctx context.Context, around surround, screen *tui.Config) (err error) {
	if around.byHand != nil {
		screen.Skyline = *around.byHand
	}
	if around.ground == nil {
		return nil
	}
	screen.LookAround = func(ctx context.Context, site track.Site) (tui.Hills, error) {
		p, err := sys.lookAround(ctx, around.ground, site)
		return tui.Hills{Skyline: p.Skyline().Thin(thinDeg), Note: sayUnknown(p)}, err
	}
	if screen.SiteKnown {
		screen.Hills, err = screen.LookAround(ctx, screen.Site)
	}
	return err
}

// standAt is where the skyline of a site is worked out: to a ten-thousandth of a
// degree, 11 m, as a receiver never tells the same place twice.
func standAt(site track.Site) terrain.Place {
	round := func(deg float64) float64 { return math.Round(deg*1e4) / 1e4 }
	return terrain.Place{LatitudeDeg: round(site.LatitudeDeg), LongitudeDeg: round(site.LongitudeDeg)}
}
