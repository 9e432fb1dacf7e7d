package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"foreaim/track/radio"
)

// page is the comparison for people: a table and the reasons.
func (c *comparison) page(sys system, all []study, shown int) string {
	set := c.satellite.orbit.Elements()
	text := item("", fmt.Sprintf("%s from %s to %s", title(set), sys.bothTimes(c.window.from), sys.bothTimes(c.window.to))) + "\n"
	if len(all) == 0 {
		return text + "No place was looked at.\n"
	}
	sky := newTable(">", "site", "latitude", "longitude", ">ground m", ">in sight", ">passes", ">bursts")
	heard := newTable(">", "site", ">strongest dBm", ">room dB", ">noise up dB", ">to hear dB")
	sky.keys, heard.keys = 2, 2
	var reasons strings.Builder
	for i, s := range all[:min(shown, len(all))] {
		rank := fmt.Sprint(i + 1)
		sky.add(append([]string{rank, s.Name}, s.skyRow()...)...)
		if s.heard != nil {
			heard.add(append([]string{rank, s.Name}, s.heard.row()...)...)
		}
		reasons.WriteString(item(rank+" ", s.Name+": "+strings.Join(s.reasons(), " ")))
	}
	text += sky.String() + "\n"
	if len(heard.rows) > 0 {
		text += heard.String() + "\n"
	}
	text += reasons.String()
	if left := len(all) - shown; left > 0 {
		text += fmt.Sprintf("\n%d more were looked at; --show, --json or --geojson tells of them.\n", left)
	}
	notes := "In sight: of the time that it is up."
	if c.link != nil {
		notes += " To hear: the margin in the middle of the passes."
	}
	if len(c.transmitters) > 0 {
		notes += " Room: how far the transmitters together stay below what the receiver bears."
	}
	return text + "\n" + item("", notes+" Trees and houses are not in the ground.")
}

// skyRow tells where a place is and what is in sight from it.
func (s study) skyRow() []string {
	row := []string{degrees(s.LatitudeDeg, 4, "N", "S"), degrees(s.LongitudeDeg, 4, "E", "W"), "", "", "", ""}
	if s.Unknown != nil {
		return row
	}
	row[2], row[3] = fmt.Sprintf("%.0f", s.GroundM), percent(s.SkyShare)
	if s.screened {
		return row
	}
	row[4] = fmt.Sprint(len(s.passes))
	if least, most := burstsJSON(s); least != nil {
		row[5] = fmt.Sprint(*least)
		if *most != *least {
			row[5] = fmt.Sprintf("%d-%d", *least, *most)
		}
	}
	return row
}

// row tells what is left of a beacon.
func (h *leftOver) row() []string {
	row := []string{"", "", "", h.marginDB.String()}
	if len(h.effects) > 0 {
		row[0], row[2] = h.effects[0].PortDBm.String(), h.riseDB.String()
		if !math.IsInf(h.roomDB.Mid(), 0) {
			row[1] = h.roomDB.String()
		}
	}
	return row
}

func percent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }

// reasons say in sentences why a place stands where it does.
func (s study) reasons() []string {
	if s.Unknown != nil {
		return []string{"It can't be judged: " + plain(s.Unknown.Error()) + "."}
	}
	all := []string{s.skyReason()}
	if s.heard != nil && len(s.heard.effects) > 0 {
		all = append(all, s.heard.reasons(s)...)
	}
	if s.screened {
		all = append(all, "Its sky was judged by the nearer ground only.")
	}
	return all
}

// skyReason says what hills take off the passes.
func (s study) skyReason() string {
	lost := 1 - s.SkyShare
	switch {
	case lost < 0.005:
		return "Hills hide nothing of the passes."
	case s.Panorama == nil:
		return fmt.Sprintf("Hills hide %s of the time that it is up.", percent(lost))
	}
	highest := s.Panorama.Crests[0]
	for _, c := range s.Panorama.Crests {
		if c.ElevationDeg > highest.ElevationDeg {
			highest = c
		}
	}
	return fmt.Sprintf("Hills hide %s of the time that it is up; the highest stands %s up in the %s, %s away.",
		percent(lost), sayElevation(highest.ElevationDeg), compassPoint(highest.AzimuthDeg), sayAway(highest.DistanceM))
}

// named is how many transmitters are named one by one.
const named = 3

// reasons say what the transmitters do.
func (h *leftOver) reasons(s study) (all []string) {
	hidden := 0
	for _, e := range s.Emitters {
		if !e.LineOfSight {
			hidden++
		}
	}
	switch n := len(s.Emitters); {
	case n == 2 && hidden == n:
		all = append(all, "The ground hides both transmitters.")
	case n > 1 && hidden == n:
		all = append(all, fmt.Sprintf("The ground hides all %d transmitters.", n))
	case n > 1 && hidden > 0:
		all = append(all, fmt.Sprintf("The ground hides %d of %d transmitters.", hidden, n))
	}
	for i, m := range h.masts() {
		if i == named || i > 0 && m.Words == harmless {
			break
		}
		what := m.Name
		if m.carriers > 1 {
			what += fmt.Sprintf(" with %d carriers", m.carriers)
		}
		all = append(all, fmt.Sprintf("%s, %s towards %.0f°, %s: %s dBm, %s.",
			what, sayAway(m.DistanceKm*1000), m.BearingDeg, m.PathWords, m.PortDBm, m.Words))
	}
	return append(all, h.outcome())
}

// mast is the strongest of the carriers of one mast that do the same.
type mast struct {
	radio.Severity
	carriers int
}

// masts puts carriers of one mast together, the strongest first.
func (h *leftOver) masts() (all []mast) {
	for _, e := range h.effects {
		i := slices.IndexFunc(all, func(m mast) bool { return m.Name == e.Name && m.Words == e.Words })
		if i < 0 {
			all = append(all, mast{Severity: e})
			i = len(all) - 1
		}
		all[i].carriers++
	}
	return all
}

// harmless is how radio.Severity words a transmitter that does nothing.
const harmless = "harmless"

// outcome says what is left of the margin.
func (h *leftOver) outcome() string {
	they := "They take"
	if len(h.effects) == 1 {
		they = "It takes"
	}
	if lost := h.quietDB.Minus(h.marginDB).Mid(); lost < 0.5 {
		return they + " nothing off the beacon."
	}
	lost := radio.Range{Low: max(h.quietDB.Low-h.marginDB.Low, 0), High: max(h.quietDB.High-h.marginDB.High, 0)}
	if lost.Low > lost.High {
		lost.Low, lost.High = lost.High, lost.Low
	}
	return fmt.Sprintf("%s %s dB off the beacon.", they, lost)
}

// worth is what orders the places, for programs; nil: nothing of the sky is left,
// or it isn't known.
func (s study) worth() *float64 {
	if math.IsInf(s.WorthDB, 0) {
		return nil
	}
	return number(s.WorthDB, 2)
}
