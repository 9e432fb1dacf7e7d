package radio

import (
	"embed"
	"fmt"
	"slices"
	"strings"

	"foreaim/track/internal/csvfile"
)

// Region is where one is, as far as channels go; empty is anywhere.
type Region string

// The regions whose channels are known.
const (
	Anywhere     Region = ""
	Region1      Region = "region 1" // ITU's: Europe, Africa, the Middle East, northern Asia
	NorthAmerica Region = "north america"
	Japan        Region = "japan"
	Australia    Region = "australia"
	NewZealand   Region = "new zealand"
)

// Regions returns the names that a configuration may give.
func Regions() []Region { return []Region{Region1, NorthAmerica, Japan, Australia, NewZealand} }

// codes are those of the tables' column regions.
var codes = map[Region]string{Region1: "r1", NorthAmerica: "na", Japan: "jp", Australia: "au", NewZealand: "nz"}

// allocation is a part of the spectrum with a use.
type allocation struct {
	name            string // of a channel its number
	lowMHz, highMHz float64
	where, state    string
	source, check   string
}

// raster is a table of channels.
type raster struct {
	what, plural string // "TV channel", "TV channels"
	channels     []allocation
}

// Plan is who may send where in a region.
type Plan struct {
	rasters  []raster
	services []allocation
}

//go:embed tables/*.csv
var tables embed.FS

// NewPlan returns that of a region; of Anywhere all that is known.
func NewPlan(region Region) (*Plan, error) {
	code, known := codes[region]
	if !known && region != Anywhere {
		var names []string
		for _, r := range Regions() {
			names = append(names, fmt.Sprintf("%q", r))
		}
		return nil, fmt.Errorf("region is %q, want %s or nothing", csvfile.Found(string(region)), strings.Join(names, ", "))
	}
	here := func(regions string) bool {
		return code == "" || regions == "all" || slices.Contains(strings.Fields(regions), code)
	}
	p := new(Plan)
	for _, load := range []struct {
		file    string
		columns []string
		row     func(*csvfile.Table)
	}{
		{"channels_tv.csv", []string{"channel", "low_mhz", "high_mhz", "region", "system", "state", "source", "check", "regions"}, p.television},
		{"channels_dab.csv", []string{"block", "centre_mhz", "low_mhz", "high_mhz", "source", "check", "regions"}, p.digitalRadio},
		{"bands_cellular.csv", []string{"band", "dl_low_mhz", "dl_high_mhz", "ul_low_mhz", "ul_high_mhz", "duplex", "source", "check", "regions"}, p.mobile},
		{"bands_services.csv", []string{"service", "low_mhz", "high_mhz", "region", "source", "check", "regions"}, p.service},
	} {
		f, err := tables.Open("tables/" + load.file)
		if err != nil {
			return nil, err
		}
		t := csvfile.Open(f, load.file, csvfile.Format{What: "a table of channels", Needs: load.columns, MaxBytes: 1 << 20})
		for t.Next() {
			if here(t.Text("regions")) {
				load.row(t)
			}
		}
		if err := t.Err(); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// read takes the cells that most tables have.
func (a allocation) read(t *csvfile.Table, low, high string) allocation {
	a.lowMHz, a.highMHz = t.Number(low, 0.001, 1e5), t.Number(high, 0.001, 1e5)
	a.source, a.check = t.Words("source"), t.Words("check")
	return a
}

func (p *Plan) television(t *csvfile.Table) {
	p.channel("TV channel", "TV channels", allocation{
		name: t.Words("channel"), where: t.Words("region"), state: t.Words("state"),
	}.read(t, "low_mhz", "high_mhz"))
}

func (p *Plan) digitalRadio(t *csvfile.Table) {
	p.channel("digital radio block", "digital radio blocks", allocation{
		name: t.Words("block"), where: "Band III", state: "in use",
	}.read(t, "low_mhz", "high_mhz"))
}

// channel adds one to the table of its kind and region.
func (p *Plan) channel(what, plural string, a allocation) {
	i := slices.IndexFunc(p.rasters, func(r raster) bool { return r.what == what && r.channels[0].where == a.where })
	if i < 0 {
		i = len(p.rasters)
		p.rasters = append(p.rasters, raster{what: what, plural: plural})
	}
	p.rasters[i].channels = append(p.rasters[i].channels, a)
}

func (p *Plan) mobile(t *csvfile.Table) {
	band := "band " + t.Words("band")
	p.services = append(p.services, allocation{name: "mobile telephone masts, " + band, state: "national use varies"}.read(t, "dl_low_mhz", "dl_high_mhz"))
	if t.Text("ul_low_mhz") != "" && t.Text("ul_low_mhz") != t.Text("dl_low_mhz") {
		p.services = append(p.services, allocation{name: "mobile telephones, " + band, state: "national use varies"}.read(t, "ul_low_mhz", "ul_high_mhz"))
	}
}

func (p *Plan) service(t *csvfile.Table) {
	p.services = append(p.services, allocation{name: t.Words("service"), where: t.Words("region")}.read(t, "low_mhz", "high_mhz"))
}
