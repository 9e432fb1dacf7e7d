package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"foreaim/track"
	"foreaim/track/radio"
	"foreaim/track/terrain"

	"github.com/spf13/cobra"
)

func newProfileCommand(sys system) *cobra.Command {
	o, l := newOptions(sys), newLinkFlags()
	mast := value[float64]{parse: numberWithin("a height above the ground looks like 60", 0, 3000), kind: "M"}
	cmd := &cobra.Command{
		Use:   "profile NAME|LAT,LON",
		Short: "show the ground towards a transmitter, and what it takes off",
		Long: `Show the ground between here and a transmitter: whether it is in sight, how much
room the wave has, and what the ground takes off it. The transmitter is one of
--transmitters, by any part of its name that fits one only, or a place; then
--frequency tells what it sends on.`,
		Args: arguments(1, 1, "the name of a transmitter, or its place"),
		RunE: func(cmd *cobra.Command, args []string) error {
			c, err := sys.configFor(cmd)
			if err != nil {
				return err
			}
			g, err := o.openGround(c)
			if err == nil && g == nil {
				err = noGround()
			}
			if err != nil {
				return err
			}
			to, err := c.transmitterNamed(args[0], l, o.frequencyHz, mast)
			if err != nil {
				return err
			}
			here, err := sys.findPlace(cmd.Context(), o, c)
			if err != nil {
				return err
			}
			v, err := newVista(g, here.site, to)
			if err != nil {
				return err
			}
			if o.json {
				return printJSON(sys.stdout, v.answer())
			}
			_, err = fmt.Fprint(sys.stdout, v.page(sys.drawsUnicode()))
			return err
		},
	}
	f := cmd.Flags()
	o.addSite(f)
	o.addTerrain(f)
	f.StringVar(&l.transmitters, "transmitters", "", "the strong transmitters around are in the CSV `FILE`")
	f.Var(&o.frequencyHz, "frequency", "it sends on this, as 490M or in Hz")
	f.Var(&mast, "mast", "its antenna is so many metres above the ground (30 without it, for a place)")
	o.addJSON(f)
	return cmd
}

// usualMastM is the height of a transmitter's antenna that nobody told.
const usualMastM = 30

// transmitterNamed finds a transmitter by its name, or makes one of a place.
func (c config) transmitterNamed(text string, l *linkFlags, hz, mastM value[float64]) (radio.Transmitter, error) {
	if site, err := track.ParseSite(text); err == nil && strings.Contains(text, ",") {
		if !hz.given {
			return radio.Transmitter{}, wrong("add --frequency 490M", "what is sent from %s is unknown", plain(text))
		}
		mhz := hz.value / 1e6
		return radio.Transmitter{
			Name: plain(text), LatitudeDeg: site.LatitudeDeg, LongitudeDeg: site.LongitudeDeg,
			MastM: mastM.or(usualMastM), LowMHz: mhz, HighMHz: mhz,
		}, nil
	}
	all, file, err := c.transmittersNamed(l)
	if err != nil {
		return radio.Transmitter{}, err
	}
	if file == "" {
		return radio.Transmitter{}, wrong("name a CSV file with --transmitters FILE, or a place as 54.31,-9.87", "there are no transmitters to find %q in", plain(text))
	}
	t, err := chooseTransmitter(all, text)
	if err != nil {
		return t, wrong("", "%s: %w", file, err)
	}
	if hz.given {
		t.LowMHz, t.HighMHz = hz.value/1e6, hz.value/1e6
	}
	t.MastM = mastM.or(t.MastM)
	return t, nil
}

// transmittersNamed reads those that flag or configuration name; none where none
// are named.
func (c config) transmittersNamed(f *linkFlags) (all []radio.Transmitter, file string, err error) {
	if file = cmp.Or(f.transmitters, c.transmitters); file == "" {
		return nil, "", nil
	}
	all, err = readFile(file, "name a CSV file with --transmitters FILE", radio.ReadTransmitters)
	return all, file, err
}

// chooseTransmitter finds the one transmitter whose name is text, or has it in it.
func chooseTransmitter(all []radio.Transmitter, text string) (radio.Transmitter, error) {
	var found []radio.Transmitter
	var names []string
	for _, t := range all {
		if sameName(t.Name, text) {
			return t, nil
		}
		// One mast may send on several frequencies.
		if strings.Contains(strings.ToLower(t.Name), strings.ToLower(text)) && !slices.Contains(names, t.Name) {
			found = append(found, t)
			names = append(names, t.Name)
		}
	}
	switch len(found) {
	case 0:
		return radio.Transmitter{}, fmt.Errorf("no transmitter has %q in its name", plain(text))
	case 1:
		return found[0], nil
	}
	return radio.Transmitter{}, fmt.Errorf("%q may be %s", plain(text), strings.Join(names, " or "))
}

// vista is the ground towards a transmitter.
type vista struct {
	site    track.Site
	spot    radio.Spot
	to      radio.Transmitter
	way     terrain.Profile
	passage terrain.Passage
	section []terrain.SectionPoint
	freeDB  float64
	in      radio.Incoming
}

func newVista(g *ground, site track.Site, to radio.Transmitter) (v vista, err error) {
	v = vista{site: site, to: to, spot: radio.Spot{Site: site, AntennaM: g.antennaM}}
	if v.way, v.passage, err = wayFrom(g, to, v.spot); err != nil {
		return v, g.problem(err, "the ground towards "+to.Name)
	}
	v.spot.GroundM = v.way.GroundM[0]
	if v.section, err = v.way.Section(linkOf(to, v.spot)); err != nil {
		return v, failed("", "%w", err)
	}
	v.freeDB = freeSpaceDB(v.way, to, v.spot)
	known := func(t radio.Transmitter, spot radio.Spot) (radio.Range, string, error) {
		return lossOver(v.way, v.passage, t, spot), sayPassage(v.passage), nil
	}
	if v.in, err = to.From(v.spot, known); err != nil {
		return v, g.problem(err, "the ground towards "+to.Name)
	}
	return v, nil
}

// page is the vista for people.
func (v vista) page(unicode bool) string {
	text := fmt.Sprintf("%s from %s\n", v.to.Name, sayPlace(v.site))
	text += item("", fmt.Sprintf("%.1f km away towards %s true, %s, its antenna %s m above the ground, yours %s m.",
		v.way.LengthKm(), sayTrue(v.way.BearingDeg), v.to.Band(), decimal(v.to.MastM), decimal(v.spot.AntennaM)))
	text += item("", sentence(v.in.PathWords)) + "\n" + v.picture(unicode) + "\n"
	rows := newTable("", ">", "")
	rows.wraps = true
	rows.add("free space", fmt.Sprintf("%.1f dB", v.freeDB), "")
	rows.add("the ground", fmt.Sprintf("%.1f dB", v.passage.LossDB), "delta-Bullington, ITU-R P.526")
	rows.add("both", fmt.Sprintf("%.1f dB", v.freeDB+v.passage.LossDB), fmt.Sprintf("trees and houses may take off up to %.0f dB more (common practice)", standingDB))
	rows.add("room", fmt.Sprintf("%.2f", v.passage.FresnelShare), "radii of the first Fresnel zone between ground and line, at the worst place; 0.6 is enough")
	rows.add("highest towards it", sayElevation(v.passage.FromElevationDeg), "")
	if v.to.ERPDBm.Known {
		rows.add("arrives with", v.in.IsotropicDBm.String()+" dBm", "at an antenna of 0 dBi")
	}
	_, table, _ := strings.Cut(rows.String(), "\n") // without headings
	return text + table
}

// vistaAnswer is the vista for programs.
type vistaAnswer struct {
	Transmitter     string             `json:"transmitter"`
	DistanceKm      *float64           `json:"distance_km"`
	BearingDeg      *float64           `json:"bearing_deg"`
	FrequencyMHz    *float64           `json:"frequency_mhz"`
	LineOfSight     bool               `json:"line_of_sight"`
	FresnelShare    *float64           `json:"fresnel_share"`
	ClearanceM      *float64           `json:"clearance_m"`
	WorstKm         *float64           `json:"worst_km"`
	FreeSpaceDB     *float64           `json:"free_space_db"`
	GroundDB        *float64           `json:"ground_db"`
	ElevationDeg    *float64           `json:"elevation_deg"`
	IsotropicLowDBm *float64           `json:"isotropic_low_dbm,omitempty"`
	IsotropicHiDBm  *float64           `json:"isotropic_high_dbm,omitempty"`
	Profile         []profilePointJSON `json:"profile"`
}

type profilePointJSON struct {
	DistanceKm *float64 `json:"distance_km"`
	GroundM    *float64 `json:"ground_m"` // above mean sea level
}

func (v vista) answer() vistaAnswer {
	a := vistaAnswer{
		Transmitter: v.to.Name, DistanceKm: number(v.way.LengthKm(), kmDecimals), BearingDeg: azimuth(v.way.BearingDeg),
		FrequencyMHz: number(v.to.MiddleMHz(), 6), LineOfSight: v.passage.LineOfSight,
		FresnelShare: number(v.passage.FresnelShare, 3), ClearanceM: number(v.passage.ClearanceM, 1), WorstKm: number(v.passage.WorstKm, kmDecimals),
		FreeSpaceDB: number(v.freeDB, 2), GroundDB: number(v.passage.LossDB, 2), ElevationDeg: number(v.passage.FromElevationDeg, degDecimals),
	}
	if v.to.ERPDBm.Known {
		a.IsotropicLowDBm, a.IsotropicHiDBm = number(v.in.IsotropicDBm.Low, 1), number(v.in.IsotropicDBm.High, 1)
	}
	for i, km := range v.way.DistanceKm {
		a.Profile = append(a.Profile, profilePointJSON{number(km, kmDecimals), number(v.way.GroundM[i], 1)})
	}
	return a
}
