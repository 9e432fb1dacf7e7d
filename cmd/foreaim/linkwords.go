package main

import (
	"fmt"
	"math"
	"strings"
	"time"

	"foreaim/track/radio"

	"github.com/charmbracelet/x/ansi"
)

// textColumns is how wide running text is.
const textColumns = 78

// letter names a chain in plot and table.
func letter(i int) string { return string(rune('a' + i%26)) }

func (sys system) printReception(t task, r reception) error {
	s, link := r.pass.satellite, r.chains[0].link
	var b strings.Builder
	when := "It is always up here."
	if !r.pass.AlwaysUp {
		when = sys.sayPass(t.site, r.pass)
	}
	b.WriteString(item("", title(s.orbit.Elements())+" over "+sayPlace(t.site)) + when + "\n\n")
	b.WriteString(item("beacon   ", fmt.Sprintf("%s MHz, %s dBm, antenna %s dBi towards you, polarisation %s; %s, %.0f Hz wide",
		sayMHz(link.FrequencyHz), link.PowerDBm, link.SatelliteGainDBi, orUnknown(link.SatellitePolarisation), link.Mode.Name, link.Mode.BandwidthHz)))
	b.WriteString(item("antenna  ", fmt.Sprintf("%s dBi, polarisation %s; lost by polarisation: %s dB",
		link.Antenna.WantedDBi(link.MHz(), 0), orUnknown(link.Antenna.Polarisation), link.SatellitePolarisation.LossDB(link.Antenna.Polarisation))))
	fmt.Fprintf(&b, "noise    environment %s\n", orUnknown(link.Environment))
	b.WriteString(item("needed   ", fmt.Sprintf("%s dB over the noise to hear it or see it, %s dB to decode it", link.Mode.HearingSNRDB, link.Mode.DecodingSNRDB)) + "\n")
	for i, c := range r.chains {
		cascade := c.link.Chain.Cascade(link.MHz())
		intercept := fmt.Sprintf("input intercept %s dBm", cascade.InputIP3DBm)
		if math.IsInf(cascade.InputIP3DBm.High, 1) {
			intercept = "nothing in it can be overloaded"
		}
		b.WriteString(item(letter(i)+"  ", fmt.Sprintf("%s: noise figure %s dB, %s", c.link.Chain.Name, cascade.NoiseFigureDB, intercept)))
	}
	b.WriteString("\n" + item("", "Margin for hearing, dB: "+r.plotWords()+" Below 0 nothing is heard.") + "\n")
	b.WriteString(r.plot(sys))
	b.WriteString("\n" + sys.marginTable(r) + "\n")
	for i, c := range r.chains {
		if c.loads != nil {
			b.WriteString(c.sayTransmitters(letter(i), i == 0, r))
		}
	}
	for _, note := range r.notes() {
		b.WriteString(item("", note))
	}
	_, err := fmt.Fprint(sys.stdout, b.String())
	return err
}

// orUnknown says a word that may not be known.
func orUnknown[T ~string](word T) string {
	if word == "" {
		return "unknown"
	}
	return string(word)
}

// marginTable is a table of each burst or, where their times aren't known, of
// the pass every so often.
func (sys system) marginTable(r reception) string {
	var times []time.Time
	for _, s := range r.samples {
		if s.known || !r.hasBursts {
			times = append(times, s.Time)
		}
	}
	day, sayTime := sys.clockColumn(times)
	headings := []string{">burst", day, "UTC", ">true", ">elevation", ">range km", ">path dB", ">comes in dBm"}
	for i := range r.chains {
		chain := ">" + letter(i) + ": "
		headings = append(headings, chain+"hear", chain+"decode")
		if r.incoming != nil {
			headings = append(headings, chain+"noise up")
		}
	}
	rows := newTable(headings...)
	rows.spare, rows.keys = []string{"UTC", ">path dB", ">range km"}, 2 // which burst, when
	for i, s := range r.samples {
		if r.hasBursts && !s.known {
			continue
		}
		burst := ""
		if s.known {
			burst = fmt.Sprint(s.burst)
		}
		row := []string{burst, sayTime(s.Time), sys.utcBeside(s.Time), sayTrue(s.AzimuthDeg), sayElevation(s.ElevationDeg),
			fmt.Sprintf("%.0f", s.RangeKm), fmt.Sprintf("%.1f", r.chains[0].levels[i].PathLossDB), r.chains[0].levels[i].ReceivedDBm.String()}
		for _, c := range r.chains {
			row = append(row, c.level(i).HearingMarginDB.String(), c.level(i).DecodingMarginDB.String())
			if c.loads != nil {
				row = append(row, c.loads[i].NoiseRiseDB.String())
			}
		}
		rows.add(row...)
	}
	return rows.String()
}

// notes say what the numbers rest on.
func (r reception) notes() []string {
	link := r.chains[0].link
	notes := []string{"The antenna is taken to point at the satellite; by half its beamwidth beside it 3 dB are lost, more further out."}
	if link.SatellitePolarisation.TwistMatters(link.Antenna.Polarisation) {
		notes = append(notes, "Two linear antennas, or unknown ones: turning yours about its boom may gain or lose 20 dB. Turn it, and listen.")
	}
	if link.Chain.Name == noChain.Name {
		notes = append(notes, "No chain is known, so the receiver alone is reckoned with, and hardly known either: write your own down as [[chain]].")
	}
	if r.incoming == nil {
		notes = append(notes, "No strong transmitters are known (--transmitters FILE), so none are reckoned with.")
	}
	return notes
}

// sayTransmitters says what the transmitters do to a chain where it is worst and
// what helps.
func (c received) sayTransmitters(letter string, inFull bool, r reception) string {
	var b strings.Builder
	where := r.samples[c.worst].Look
	b.WriteString(item(letter+"  ", c.advice.Words))
	now := c.advice.Now
	if now.NoiseRiseDB.High >= 0.5 && len(now.Products) > 0 {
		b.WriteString(item("   ", fmt.Sprintf("Most noise is made of %s, %s dBm in the channel.", now.Products[0].Words, now.Products[0].LevelDBm)))
	}
	if !inFull {
		return b.String() + "\n"
	}
	rows := newTable("transmitter", "MHz", ">true", ">km", ">up", ">at the port dBm", "what it does")
	rows.wraps = true
	for _, s := range radio.NewSurroundings(c.link, r.incoming).Severities(where) {
		rows.add(s.Name, strings.TrimSuffix(s.Band(), " MHz"), sayTrue(s.BearingDeg), fmt.Sprintf("%.1f", s.DistanceKm), sayElevation(s.ElevationDeg), s.PortDBm.String(), s.Words)
	}
	b.WriteString("\n" + rows.String() + "\n")
	for _, l := range now.Stages {
		b.WriteString(item("", fmt.Sprintf("%s: %s dBm in all, headroom %s dB: %s", l.Name, l.TotalDBm, l.HeadroomDB, l.Words())))
	}
	if !now.Directed {
		b.WriteString(item("", "The antenna's gain at these frequencies isn't known in any direction, so nothing here depends on where it points."))
	}
	return b.String() + "\n" + sayRemedies(c.advice.Remedies)
}

// sayRemedies lists what to change, best first, with what each would bring and
// what it may harm.
func sayRemedies(remedies []radio.Remedy) string {
	if len(remedies) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString("What to change, best first, with the margin for hearing then:\n")
	cautions := map[string]bool{}
	var said []string
	for i, r := range remedies {
		b.WriteString(item(fmt.Sprintf("%2d. ", i+1), fmt.Sprintf("%s Then %s dB: %s.", r.Words, r.HearingMarginDB, r.Verdict)))
		if r.Caution != "" && !cautions[r.Caution] {
			cautions[r.Caution] = true
			said = append(said, r.Caution)
		}
	}
	for _, caution := range said {
		b.WriteString(item("    ", "Caution: "+caution))
	}
	return b.String() + "\n"
}

// item says something as one of a list: behind its mark, all further lines below
// the first word. Lines end between words only, never at a minus.
func item(mark, text string) string {
	var b strings.Builder
	line, indent := mark, strings.Repeat(" ", ansi.StringWidth(mark))
	for i, word := range strings.Fields(plain(text)) {
		switch {
		case i == 0:
			line += word
		case ansi.StringWidth(line)+1+ansi.StringWidth(word) > textColumns:
			b.WriteString(line + "\n")
			line = indent + word
		default:
			line += " " + word
		}
	}
	return b.String() + line + "\n"
}
