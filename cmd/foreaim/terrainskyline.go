package main

import (
	"fmt"
	"math"
	"strings"

	"foreaim/track"
	"foreaim/track/terrain"

	"github.com/spf13/cobra"
)

func newSkylineCommand(sys system) *cobra.Command {
	o := newOptions(sys)
	var csv *bool
	cmd := &cobra.Command{
		Use:   "skyline",
		Short: "work out which part of the sky the hills around hide",
		Long: `Work out from elevation tiles what the ground around hides of the sky: how high
it stands all around, and how far away that is. Trees and houses are not in the
ground: add what you wrote down with --skyline, the higher counts. With --csv it
is written as a file that --skyline reads.

Passes, bursts, link, point and the card take the same tiles. A skyline is
worked out once a site and kept in the platform's place for caches.`,
		Args: arguments(0, 0, ""),
		RunE: func(cmd *cobra.Command, _ []string) error {
			c, err := sys.configFor(cmd)
			if err != nil {
				return err
			}
			around, err := o.openSurround(c)
			if err == nil && around.ground == nil {
				err = noGround()
			}
			if err != nil {
				return err
			}
			here, err := sys.findPlace(cmd.Context(), o, c)
			if err != nil {
				return err
			}
			all, err := sys.see(cmd.Context(), around, here.site)
			switch {
			case err != nil:
				return err
			case *csv:
				return terrain.WriteSkyline(sys.stdout, all.skyline.Thin(csvDeg))
			case o.json:
				return printJSON(sys.stdout, newSkylineAnswer(here.site, all))
			}
			_, err = fmt.Fprint(sys.stdout, skylinePage(here.site, all, sys.drawsUnicode()))
			return err
		},
	}
	f := cmd.Flags()
	o.addSite(f)
	o.addSkyline(f)
	csv = f.Bool("csv", false, "write a file for --skyline")
	o.addJSON(f)
	cmd.MarkFlagsMutuallyExclusive("csv", "json")
	return cmd
}

// csvDeg is how far the written skyline may be off the one worked out.
const csvDeg = 0.02

// sectorDeg is how wide the sectors of the table are.
const sectorDeg = 22.5

// skylinePage is the skyline for people: a picture, and what is highest in every
// direction of the compass.
func skylinePage(site track.Site, all sight, unicode bool) string {
	g := all.ground
	text := sayPlace(site) + "\n" + item("", fmt.Sprintf("The ground is %.0f m above the sea, the antenna %s m above it. Looked at for %.0f km around.",
		g.GroundM, decimal(g.AntennaM), g.ReachKm))
	text += "\n" + skylinePicture(*all.skyline, unicode) + "\n"
	rows := newTable("towards", ">true", ">highest", ">away", ">its height m", "")
	for i := range int(360 / sectorDeg) {
		middle := float64(i) * sectorDeg
		top, ridge := highestIn(all, middle-sectorDeg/2, middle+sectorDeg/2)
		away, height, note := sayAway(ridge.DistanceM), fmt.Sprintf("%.0f", ridge.HeightM), ""
		if top.ElevationDeg > ridge.ElevationDeg+0.1 {
			away, height, note = "", "", "trees and houses"
		}
		rows.add(compassPoint(middle), sayTrue(top.AzimuthDeg), sayElevation(top.ElevationDeg), away, height, note)
	}
	return text + rows.String()
}

// highestIn returns the highest point of the skyline between two azimuths, and the
// crest of the ground there.
func highestIn(all sight, fromDeg, toDeg float64) (top terrain.Point, ridge terrain.Crest) {
	top.ElevationDeg = math.Inf(-1)
	for az := fromDeg; az < toDeg; az += 0.5 {
		if el := all.skyline.ElevationDeg(az); el > top.ElevationDeg {
			top = terrain.Point{AzimuthDeg: track.Wrap360(az), ElevationDeg: el}
		}
	}
	return top, crestAt(*all.ground, top.AzimuthDeg)
}

// compassPoint names one of sixteen directions.
func compassPoint(deg float64) string {
	names := strings.Fields("N NNE NE ENE E ESE SE SSE S SSW SW WSW W WNW NW NNW")
	return names[int(math.Round(track.Wrap360(deg)/sectorDeg))%len(names)]
}

// The picture of a skyline: a column every 5° of azimuth as in the window, so that
// south is in the middle, and as many rows as the highest needs at most.
const (
	pictureColumns = 72
	pictureRows    = 10
)

// skylinePicture draws a skyline. A row is as many degrees as it takes.
func skylinePicture(s terrain.Skyline, unicode bool) string {
	_, highest := s.RangeDeg()
	perRow := 90.0 / pictureRows
	for _, step := range []float64{0.5, 1, 2, 5} {
		if highest <= step*pictureRows {
			perRow = step
			break
		}
	}
	heights := make([]float64, pictureColumns)
	for i := range heights {
		middle := (float64(i) + 0.5) * 360 / pictureColumns
		heights[i] = s.ElevationDeg(middle)
		for az := middle - 2.5; az < middle+2.5; az += 0.5 {
			heights[i] = max(heights[i], s.ElevationDeg(az))
		}
	}
	var b strings.Builder
	for row := pictureRows - 1; row >= 0; row-- {
		if perRow*float64(row) > max(highest, 0) && row > 0 {
			continue
		}
		line := make([]rune, pictureColumns)
		for i, h := range heights {
			line[i] = filled((h-perRow*float64(row))/perRow, unicode)
		}
		b.WriteString(strings.TrimRight(fmt.Sprintf("%5s %s", decimal(perRow*float64(row)), string(line)), " ") + "\n")
	}
	b.WriteString("      N                 E                 S                 W\n")
	return b.String()
}

// filled is a cell that is filled up to a share of its height.
func filled(share float64, unicode bool) rune {
	switch {
	case share < 0.25:
		return ' '
	case !unicode && share < 0.75:
		return '.'
	case !unicode:
		return '#'
	case share < 0.75:
		return '▄'
	}
	return '█'
}

// skylineAnswer is the skyline for programs.
type skylineAnswer struct {
	LatitudeDeg  *float64    `json:"latitude_deg"`
	LongitudeDeg *float64    `json:"longitude_deg"`
	GroundM      *float64    `json:"ground_m"` // above mean sea level
	AntennaM     *float64    `json:"antenna_m"`
	ReachKm      *float64    `json:"reach_km"`
	UnknownShare *float64    `json:"unknown_share"` // of the ground within reach
	Skyline      []crestJSON `json:"skyline"`
}

// crestJSON is one direction. Where trees or houses are higher than the ground it
// has no distance and no height.
type crestJSON struct {
	AzimuthDeg   *float64 `json:"azimuth_deg"`
	ElevationDeg *float64 `json:"elevation_deg"`
	DistanceKm   *float64 `json:"distance_km,omitempty"`
	HeightM      *float64 `json:"height_m,omitempty"`
}

func newSkylineAnswer(site track.Site, all sight) skylineAnswer {
	g := all.ground
	a := skylineAnswer{
		number(site.LatitudeDeg, 6), number(site.LongitudeDeg, 6), number(g.GroundM, 1), number(g.AntennaM, 2),
		number(g.ReachKm, kmDecimals), number(g.UnknownShare(), 4), nil,
	}
	for _, c := range g.Crests {
		row := crestJSON{azimuth(c.AzimuthDeg), number(all.skyline.ElevationDeg(c.AzimuthDeg), degDecimals),
			number(c.DistanceM/1000, kmDecimals), number(c.HeightM, 1)}
		if all.skyline.ElevationDeg(c.AzimuthDeg) > max(c.ElevationDeg, terrain.LowestDeg) {
			row.DistanceKm, row.HeightM = nil, nil
		}
		a.Skyline = append(a.Skyline, row)
	}
	return a
}
