package radio

import (
	"fmt"
	"strings"
)

// numbered writes steps, numbered.
func numbered(steps []string) []string {
	var lines []string
	for i, s := range steps {
		lines = append(lines, fold(fmt.Sprintf("%d. ", i+1), s, "   ")...)
	}
	return lines
}

const (
	placeStep      = "Put it between antenna and preamplifier, as near to the preamplifier as can be."
	compareStep    = "Look what it does before relying on it: levels with and without it, of what is wanted and of what isn't."
	offCaution     = "Switch the preamplifier's supply off before any plug is touched."
	receiveCaution = "For receiving only: never transmit through it."
)

// alike is a number of equal stubs that stand side by side.
type alike struct {
	Stub
	many int
}

func (n Notch) alike() []alike {
	var all []alike
	for _, s := range n.Stubs {
		if last := len(all) - 1; last >= 0 && all[last].Stub == s {
			all[last].many++
		} else {
			all = append(all, alike{s, 1})
		}
	}
	return all
}

// words names the notch.
func (n Notch) words() string {
	var parts []string
	for _, s := range n.alike() {
		text := s.Words()
		if s.many > 1 {
			text = "pair of " + strings.Replace(text, "stub", "stubs", 1)
		}
		parts = append(parts, fmt.Sprintf("%s, for %.1f MHz", text, s.NotchMHz))
	}
	return capital(fmt.Sprintf("%s; of cable: %s", strings.Join(parts, "; "), n.Cable.Name))
}

// capital writes the first letter large.
func capital(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

// spareMM is how much longer than its longest a stub is cut: it can be cut shorter
// but not longer (common practice).
const spareMM = 5.0

// Build tells how to make it, in lines of 76 columns at most.
func (n Notch) Build() []string {
	var steps []string
	for _, s := range n.alike() {
		mm, cut, end := s.LengthMM(n.Cable), "Cut a piece", "its far end"
		if s.many > 1 {
			cut, end = fmt.Sprintf("Cut %d pieces", s.many), "the far ends"
		}
		steps = append(steps, fmt.Sprintf(
			"%s for %.1f MHz (%s). In the end the length is about %.0f mm from the middle of the T-piece to the end of the shield, %.0f to %.0f mm by the cable's velocity factor of %.2f. The plug and half of the T-piece count, 15 to 20 mm together. Cut long, %.0f mm, and trim while measuring.",
			cut, s.NotchMHz, s.Words(), mm.Mid(), mm.Low, mm.High, n.Cable.VelocityFactor, mm.High+spareMM))
		if s.Shorted() {
			steps = append(steps, "Short "+end+": the inner conductor soldered to the whole shield, as close as can be.")
		} else {
			steps = append(steps, "Leave "+end+" open: the shield cut back by 1 mm so that nothing touches; sealed against rain when trimmed.")
		}
		trim := fmt.Sprintf("Trim it alone in the line until it takes most off at %.1f MHz, on an analyser or by the level of a steady signal there. 1 mm less moves it up by %.1f MHz.", s.NotchMHz, s.NotchMHz/mm.Mid())
		if s.many > 1 {
			trim = strings.Replace(trim, "it alone", "each alone", 1)
		}
		steps = append(steps, trim+" Take 1 mm at a time.")
	}
	if len(n.Stubs) > 1 {
		steps = append(steps, fmt.Sprintf("Put the T-pieces in the line, their middles %.0f mm apart, with the same cable between them.", n.SpacingMM()))
	}
	return numbered(append(steps, placeStep, compareStep))
}

// Cautions tells what it could do harm to.
func (n Notch) Cautions() []string {
	all := []string{offCaution, receiveCaution}
	if n.ShortsFeed() {
		all = append(all, "A shorted stub is a short circuit for direct current: on the cable that feeds a preamplifier it shorts the feed. Put it between antenna and preamplifier.")
	}
	return all
}

// words names the filter.
func (l *Ladder) words() string {
	edges := fmt.Sprintf("up to %.0f MHz", l.HighMHz)
	switch l.Form {
	case HighPass:
		edges = fmt.Sprintf("from %.0f MHz", l.LowMHz)
	case BandPass:
		edges = fmt.Sprintf("%.0f to %.0f MHz", l.LowMHz, l.HighMHz)
	}
	kind := string(l.Form) + " filter"
	if l.ResonatorNH > 0 {
		kind += " of coupled resonators"
	}
	return fmt.Sprintf("%s, %s of order %d, %.2f dB at its edges, %s", capital(kind), l.Shape, l.Order, l.EdgeDB, edges)
}

// Build tells how to make it, in lines of 76 columns at most: its parts from one
// end to the other, with the nearest preferred values.
func (l *Ladder) Build() []string {
	var steps []string
	for i, b := range l.Branches {
		where, between := "in the line", "in series"
		if b.Across {
			where, between = "across the line", "side by side"
		}
		var parts []string
		if b.CapacitancePF > 0 {
			parts = append(parts, fmt.Sprintf("C%d %s pF", i+1, capacitance(b.CapacitancePF)))
		}
		if b.InductanceNH > 0 {
			text := fmt.Sprintf("L%d %.1f nH (E24: %.3g)", i+1, b.InductanceNH, NearestE24(b.InductanceNH))
			if coil, err := WindCoil(b.InductanceNH); err == nil {
				text += ": " + coil.Words()
			}
			parts = append(parts, text)
		}
		if len(parts) < 2 {
			between = ""
		} else {
			between = ", " + between
		}
		steps = append(steps, fmt.Sprintf("Branch %d, %s%s: %s.", i+1, where, between, strings.Join(parts, " and ")))
	}
	if l.ResonatorNH > 0 {
		steps = append(steps, fmt.Sprintf("Tune each resonator to %.1f MHz by its coil, from one end to the other and again, until the wanted band comes through best; make a capacitor across the line one size smaller with a trimmer beside it where the coil's reach isn't enough.", l.middleMHz()))
	}
	return numbered(append(steps,
		"Build it in a row in a closed metal box, the parts with leads under 2 mm, neighbouring coils at right angles or screened from each other.",
		fmt.Sprintf("Capacitors within %.0f %%, of C0G ceramic; coils set to %.0f %% by squeezing and stretching them while measuring.", l.Parts.CapacitorTolerance*100, l.Parts.CoilTolerance*100),
		placeStep, compareStep))
}

// capacitance writes pF, naming the preferred value where it isn't one.
func capacitance(pf float64) string {
	near := NearestE24(pf)
	if near == pf {
		return fmt.Sprintf("%.3g", pf)
	}
	return fmt.Sprintf("%.2f (E24: %.3g)", pf, near)
}

// Cautions tells what it could do harm to.
func (l *Ladder) Cautions() []string {
	all := []string{offCaution, receiveCaution}
	switch l.Form {
	case LowPass:
		return append(all, "It lets direct current through: on the cable that feeds a preamplifier its capacitors have to bear the feed's voltage.")
	case HighPass:
		return append(all, "It lets no direct current through: behind it a preamplifier that is fed through the cable gets nothing.")
	}
	if l.ResonatorNH > 0 {
		return append(all, "It lets no direct current through: behind it a preamplifier that is fed through the cable gets nothing.")
	}
	return append(all, "Its coils are a short circuit for direct current: on the cable that feeds a preamplifier it shorts the feed. Put it between antenna and preamplifier.")
}
