package main

import (
	"fmt"
	"strings"
	"time"

	"foreaim/track"
	"foreaim/track/aim"

	"github.com/charmbracelet/x/ansi"
)

// heardBlank is the place to write in what was heard; it is drawn out to the
// edge of the page.
const heardBlank = "______"

// stepWidth and sweepStepWidth are the columns for the step's words that the
// others leave even with numbers and frequencies of more digits, with and
// without the times of the bursts.
const (
	stepWidth      = 30
	sweepStepWidth = 26
)

// holds are the rows of the holds, as many as the room of so many lines takes,
// and a line that tells what is left out.
func (c card) holds(plan aim.Plan, from time.Time, room int) []string {
	ahead := plan.Holds
	for len(ahead) > 0 && !ahead[0].Until.After(from) {
		ahead = ahead[1:]
	}
	if len(ahead) == 0 {
		return []string{"No burst starts in this pass, or in what is left of it.",
			"The next one that is higher: --min-elevation 10"}
	}
	blocks := make([][][]string, len(ahead))
	for i := range ahead {
		blocks[i] = c.hold(plan, ahead, i)
	}
	shown := fit(blocks, room-1) // the headings take a line
	rows := newTable(">no", c.zone(), ">true", ">mag", ">el", ">fists", "step", ">MHz", "heard")
	rows.gap = " "
	for _, block := range blocks[:shown] {
		for _, cells := range block {
			rows.add(cells...)
		}
	}
	lines := splitLines(rows.String())
	for i, line := range lines {
		if strings.HasSuffix(line, heardBlank) {
			lines[i] += strings.Repeat("_", max(0, pageWidth-len(ascii(line))))
		}
	}
	if shown < len(ahead) {
		lines = append(lines, c.leftOut(plan, ahead, shown))
	}
	return lines
}

// fit tells how many blocks of lines the room takes, with a line for what is
// left out when it isn't enough for all.
func fit(blocks [][][]string, room int) int {
	used, shown := 0, 0
	for i, block := range blocks {
		used += len(block)
		if used > room {
			return shown
		}
		if used < room {
			shown = i + 1
		}
	}
	return len(blocks)
}

// hold words one hold: a row, and further ones where the step's words are long.
func (c card) hold(plan aim.Plan, holds []aim.Hold, i int) [][]string {
	h, width := holds[i], stepWidth
	at, hidden := c.clockTime(h.At), c.pass.IsHidden(h.At)
	if !plan.BurstsKnown {
		width = sweepStepWidth
		hidden = c.pass.hiddenFor(h.Ready, h.Until)
		// A hold is much shorter than an hour: its end does without.
		at = c.clockTime(h.Ready) + "-" + strings.SplitN(c.clockTime(h.Until), ":", 2)[1]
	}
	step := "start"
	switch {
	case h.Overhead():
		step = h.OverheadWords()
	case i > 0:
		step = holds[i-1].StepTo(h.Direction).Words(c.fistDeg)
	}
	receive := ""
	if hz := c.pass.frequencyHz; hz > 0 {
		receive = fmt.Sprintf("%.4f", track.ReceiveHz(hz, h.Look.RangeRateKmS)/1e6)
	}
	heard := heardBlank
	if hidden { // behind the skyline
		heard = "hidden"
	}
	// Its numbers are degrees, as those of the columns before it.
	words := splitLines(ansi.Wordwrap(ascii(strings.ReplaceAll(step, "°", "")), width, ""))
	row := append([]string{fmt.Sprint(h.Number), at}, c.direction(h.AzimuthDeg, h.ElevationDeg)...)
	rows := [][]string{append(row, words[0], receive, heard)}
	for _, more := range words[1:] {
		rows = append(rows, []string{"", "", "", "", "", "", more, "", ""})
	}
	return rows
}

// leftOut tells of the holds that the page has no room for. A plan may end
// before a long pass does; then the schedule knows how many bursts remain.
func (c card) leftOut(plan aim.Plan, holds []aim.Hold, shown int) string {
	first := holds[shown]
	count := len(holds) - shown
	if s := c.pass.schedule; plan.BurstsKnown {
		count = s.Next(c.pass.Set.Time).Number - s.Next(first.At).Number
	}
	return fmt.Sprintf("The page is full: %d more from no %d at %s on are left out.", count, first.Number, c.clockTime(first.Ready))
}
