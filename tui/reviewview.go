package tui

import (
	"fmt"
	"math"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track/outing/review"
)

// reviewing is the view of what happened in the last pass, and what leads to it.
type reviewing struct {
	under  passUnderWay
	ended  bool // a pass, which is to be told
	busy   bool // a command reviews the record
	again  bool // the record has grown since it began
	known  *review.Review
	failed string // why there is none; empty while there is one, or none was asked for
	top    int
}

// passUnderWay is the pass that is stood through; zero: none.
type passUnderWay struct {
	target int // number, from 1
	set    time.Time
}

// reviewedMsg is the review of the record.
type reviewedMsg struct {
	review review.Review
	err    error
}

// reviewKeys are the key to the view and those on it.
func reviewKeys() []binding {
	on := func(words, short string, keys, names []string, do func(m *model) tea.Cmd) binding {
		return binding{Key{string(onReview), keys, words}, short, names, do, nil}
	}
	list := func(s ...string) []string { return s }
	return []binding{
		on("one line up", "", list("↑", "k"), list("up", "k"), scrollReview(-1, 0)),
		on("one line down", "↑ ↓ scroll", list("↓", "j"), list("down", "j"), scrollReview(1, 0)),
		on("one page up", "", list("PageUp"), list("pgup"), scrollReview(0, -1)),
		on("one page down", "", list("PageDown", "Space"), list("pgdown", " "), scrollReview(0, 1)),
		on("back to pointing", "Esc back", list("Esc", "z"), list("esc", "z"), show(onPointing)),
	}
}

// openReviewKey is the key for the review, where there is a record of what
// happened.
func openReviewKey() binding {
	b := binding{
		Key: Key{string(onPointing), []string{"z"}, "what happened in the last pass, and what to change"}, names: []string{"z"},
		do: (*model).openReview,
	}
	b.off = func(m *model) string {
		if m.config.Review == nil {
			return "nothing is recorded, so there is nothing to review"
		}
		return ""
	}
	return b
}

// openReview shows the view and reviews the record as it is by now.
func (m *model) openReview() tea.Cmd {
	r := &m.reviewing
	m.showing, r.top, r.ended = onReview, 0, false
	if r.busy {
		r.again = true
		return nil
	}
	return m.startReview()
}

func (m *model) startReview() tea.Cmd {
	m.reviewing.busy, m.reviewing.again = true, false
	ctx, ask := m.tracker.ctx, m.config.Review
	return guard(func() tea.Msg {
		answer, err := ask(ctx)
		return reviewedMsg{answer, err}
	})
}

// reviewed takes the review, and asks again where the record has grown.
func (m *model) reviewed(msg reviewedMsg) tea.Cmd {
	r := &m.reviewing
	r.busy, r.known, r.failed = false, &msg.review, ""
	if msg.err != nil {
		r.known, r.failed = nil, wayOut(msg.err)
	}
	if r.again {
		return m.startReview()
	}
	return nil
}

// watchReview tells once, after a pass that was stood through has set, that its
// review can be seen. It waits for the message before to be read.
func (m *model) watchReview() {
	r, s := &m.reviewing, &m.scene
	if m.config.Review == nil {
		return
	}
	if r.under.target != s.number {
		r.under, r.ended = passUnderWay{}, false
	}
	switch p := s.pass; {
	case p != nil && !p.AlwaysUp && !s.now.Before(p.Rise.Time) && s.now.Before(p.Set.Time):
		r.under, r.ended = passUnderWay{s.number, p.Set.Time}, false
	case !r.under.set.IsZero() && !s.now.Before(r.under.set):
		r.under.set, r.ended = time.Time{}, true
	}
	read := m.message == "" || !s.computer.Before(m.until)
	if r.ended && read && m.showing == onPointing && !m.entry.open && !m.noise.asking() {
		r.ended = false
		m.insist("Pass over: z shows what happened")
	}
}

// scrollReview moves the text, by lines and by pages.
func scrollReview(lines, pages int) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd {
		m.reviewing.top = max(0, m.reviewing.top+lines+pages*max(reviewRows(m.rows)-1, 1))
		return nil
	}
}

// reviewRows is how many lines of text a screen holds below the bar and above the
// keys.
func reviewRows(rows int) int {
	if rows > 3 {
		return rows - 2
	}
	return max(rows-1, 0)
}

// passOf returns the last pass of the satellite that is over; nil: none.
func (r *reviewing) passOf(s *scene) *review.Pass {
	if r.known == nil || s.stage == noTarget {
		return nil
	}
	var last *review.Pass
	for i := range r.known.Passes {
		p := &r.known.Passes[i]
		over := !p.Set.Time.IsZero() && !s.now.Before(p.Set.Time)
		if over && s.target.is(clean(p.Satellite), p.CatalogueNumber) && (last == nil || !p.Set.Time.Before(last.Set.Time)) {
			last = p
		}
	}
	return last
}

// draw draws the view.
func (r *reviewing) draw(c *canvas, s *scene, footer []string) {
	name := s.target.Name
	title := []string{"REVIEW of " + name, "REVIEW"}
	lines := r.missing(c, s)
	if p := r.passOf(s); p != nil && !r.busy {
		rise, set := s.clockTime(p.Rise.Time), s.clockTime(p.Set.Time)
		title = []string{
			fmt.Sprintf("REVIEW of %s, %s to %s, highest %d°", name, rise, set, whole(p.Peak.ElevationDeg)),
			fmt.Sprintf("REVIEW of %s, %s to %s", name, rise, set),
			fmt.Sprintf("REVIEW, %s to %s", rise, set), "REVIEW",
		}
		lines = reviewLines(c, s, p)
	}
	rows := reviewRows(c.rows)
	r.top = max(0, min(r.top, len(lines)-rows))
	more := ""
	switch above, below := r.top > 0, r.top+rows < len(lines); {
	case above && below:
		more = c.glyphs.say("↑ ↓ more")
	case above:
		more = c.glyphs.say("↑ more")
	case below:
		more = c.glyphs.say("↓ more")
	}
	if cells(more)+12 > c.columns {
		more = ""
	}
	c.text(1, 0, block, c.fit(c.columns-3-cells(more), title...))
	c.right(c.columns-1, 0, block, more)
	c.bar(0, 0, c.columns, block)
	for y := 0; y < rows && r.top+y < len(lines); y++ {
		c.text(1, 1+y, lines[r.top+y].i, lines[r.top+y].text)
	}
	if c.rows > 3 {
		drawFooter(c, c.rows-1, s, footer)
	}
}

// missing says why there is no review to show.
func (r *reviewing) missing(c *canvas, s *scene) []inkedLine {
	words := "No pass of " + s.target.Name + " is over yet. Its review is here when it has set; foreaim review reviews the record of an outing later, too."
	switch {
	case r.busy:
		words = "Reviewing the record …"
	case r.failed != "":
		words = "The record can't be reviewed: " + r.failed
	case s.stage == noTarget:
		words = "There is no satellite"
	}
	return c.paragraph(nil, plain, "", words)
}

// reviewLines is the text about a pass: what was heard, what was wrong, what to
// change, how it is known, and the bursts.
func reviewLines(c *canvas, s *scene, p *review.Pass) []inkedLine {
	lines := c.paragraph(nil, plain, "", capital(p.Counts()))
	for _, section := range p.Sections() {
		lines = append(lines, inkedLine{})
		if section.Title != "" {
			lines = c.paragraph(lines, strong, "", section.Title)
		}
		for i, l := range section.Lines {
			how := plain
			if section.Title == "" && i == 0 {
				how = strong
			}
			lines = c.paragraph(lines, how, l.Lead, l.Text)
		}
	}
	if len(p.Bursts) == 0 {
		return lines
	}
	lines = append(lines, inkedLine{})
	lines = c.paragraph(lines, strong, "", "Bursts: how far from the satellite the boom was, how strong it came there")
	for _, b := range p.Bursts {
		lines = append(lines, inkedLine{c.fit(c.columns-2, reviewBurst(s, b)), plain})
	}
	return lines
}

// reviewBurst is a line of the bursts.
func reviewBurst(s *scene, b review.Burst) string {
	became := string(b.Outcome)
	if b.Strength != "" {
		became += ", " + string(b.Strength)
	}
	off, margin := "", ""
	if b.AimErrorDeg.Known {
		off = fmt.Sprintf("%.0f° off", b.AimErrorDeg.Value)
	}
	if b.MarginDB.Known {
		margin = fmt.Sprintf("%.0f dB", math.Round(b.MarginDB.Value)+0)
	}
	return strings.TrimRight(fmt.Sprintf("%3d  %s  %-13s %8s %7s", b.Number, s.clockTime(b.Time), clean(became), off, margin), " ")
}
