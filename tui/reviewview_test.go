package tui

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"foreaim/track/outing"
	"foreaim/track/outing/review"
)

// earlyPass is a record that the simulation of package review has written: the
// satellite was 185 s early, which the simulation knows (testdata/README.md).
func earlyPass(t *testing.T) outing.Log {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "testdata", "outing", "review_early.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	log, err := outing.Read(file, "record")
	if err != nil || len(log.Faults) > 0 {
		t.Fatalf("%v %v", err, log.Faults)
	}
	return log
}

// evening is a story a while after that pass, with its satellite and record.
func evening(t *testing.T, change ...func(*outing.Log)) story {
	log := earlyPass(t)
	for _, f := range change {
		f(&log)
	}
	s := stories["before"]
	s.object.number = 99071
	s.at = time.Date(2026, 11, 25, 11, 40, 0, 0, time.UTC).Sub(start)
	s.object.epoch = start.Add(s.at - 30*time.Hour)
	s.change = func(c *Config) {
		c.Review = func(context.Context) (review.Review, error) {
			return review.Of([]outing.Log{log}, review.Settings{}), nil
		}
	}
	return s
}

// read is all that the view shows, from its first line to its last.
func read(t *testing.T, m *model) string {
	t.Helper()
	var all []string
	for n := 0; ; n++ {
		lines := strings.Split(m.page.plain(), "\n")
		lines = lines[1 : len(lines)-1]
		if n == 0 {
			all = append(all, lines...)
		} else {
			all = append(all, lines[len(lines)-1])
		}
		top := m.reviewing.top
		if press(t, m, "down"); m.reviewing.top == top {
			return strings.Join(all, "\n")
		}
		if n > 500 {
			t.Fatal("the text never ends")
		}
	}
}

// The screens were looked at before they were kept; what they say of the pass is
// what the simulation did, and what the command review says.
func TestReviewView(t *testing.T) {
	s := evening(t)
	for _, size := range [][2]int{{53, 20}, {80, 24}, {120, 40}} {
		m := picture(t, s, size[0], size[1])
		press(t, m, "z")
		if size[0] < 120 {
			golden(t, "review-"+sizeName(size), m.page.plain())
		}
		if n := attention(m.page); n > 7 || n < 1 {
			t.Errorf("%v: %d things ask for attention:\n%s", size, n, m.page.plain())
		}
		words := strings.Join(strings.Fields(read(t, m)), " ")
		for _, want := range []string{
			"Bursts: 23 expected, 3 heard, 20 silent", "elements or wrong object, with 99 %",
			"The satellite was 186 s early (68 %: -210 to -161 s).", "1. Fetch newer elements", "A sensor on the boom",
			"99 % elements or wrong object", "+ 3 heard of 23 listened to", "- the elements were 1.2 days old",
			"8 12:58:31 heard, good 31° off 1 dB", "23 13:06:01 silent",
		} {
			if !strings.Contains(words, want) {
				t.Errorf("%v: %q is not in the review:\n%s", size, want, words)
			}
		}
		press(t, m, "z")
		if m.showing != onPointing {
			t.Errorf("%v: z doesn't lead back", size)
		}
	}
}

// A page on and a page back is where it was, and the ends are ends.
func TestReviewScrolls(t *testing.T) {
	m := picture(t, evening(t), 53, 20)
	press(t, m, "z")
	first := m.page.plain()
	page := func(k tea.KeyType) { settle(t, m, tea.KeyMsg{Type: k}) }
	page(tea.KeyPgUp)
	press(t, m, "up")
	if m.page.plain() != first {
		t.Error("there is something above the first line")
	}
	last := strings.Split(first, "\n")[18]
	page(tea.KeyPgDown)
	if lines := strings.Split(m.page.plain(), "\n"); lines[1] != last {
		t.Errorf("a page further begins with %q, want what was the last line, %q", lines[1], last)
	}
	page(tea.KeyPgUp)
	if m.page.plain() != first {
		t.Error("a page on and a page back is elsewhere")
	}
	for range 40 {
		page(tea.KeyPgDown)
	}
	lines := strings.Split(m.page.plain(), "\n")
	if !strings.Contains(lines[18], "13:06:01") || strings.Contains(lines[0], "↓") || !strings.Contains(lines[0], "↑ more") {
		t.Errorf("the end isn't the last burst:\n%s", m.page.plain())
	}
}

func TestReviewAtEverySize(t *testing.T) {
	for _, ascii := range []bool{false, true} {
		m := picture(t, evening(t), 80, 24, func(c *Config) { c.ASCII, c.Theme = ascii, "dark" })
		press(t, m, "z", "down", "down")
		for _, rows := range []int{1, 2, 3, 4, 5, 8, 20, 24, 40, 100} {
			for columns := 1; columns <= 130; columns += 3 {
				m.Update(tea.WindowSizeMsg{Width: columns, Height: rows})
				checkPicture(t, m.picture, columns, rows)
				if columns >= 10 && strings.TrimSpace(ansi.Strip(m.picture)) == "" {
					t.Errorf("nothing is shown at %d×%d", columns, rows)
				}
				if i := strings.IndexFunc(m.picture, func(r rune) bool { return r > 0x7e }); ascii && i >= 0 {
					t.Errorf("%d×%d: byte above 0x7e at %q", columns, rows, m.picture[i:])
				}
				if t.Failed() {
					t.Fatal(m.page.plain())
				}
			}
		}
	}
}

// Names and errors from outside drive no terminal, on any line of the review.
func TestReviewOfHostileRecord(t *testing.T) {
	const hostile = "MOTH\x1b[2J\u202e\r\nWING\a"
	s := evening(t, func(log *outing.Log) {
		for i, r := range log.Records {
			switch e := r.Entry.(type) {
			case outing.PassEntry:
				e.Satellite = hostile
				log.Records[i].Entry = e
			case outing.ElementsEntry:
				e.Satellite, e.Line1, e.Line2 = hostile, hostile, hostile
				log.Records[i].Entry = e
			case outing.FacingEntry:
				e.How = hostile
				log.Records[i].Entry = e
			}
		}
	})
	m := picture(t, s, 80, 24)
	press(t, m, "z")
	if text := read(t, m); !strings.Contains(text, "3 heard") || !strings.Contains(text, "the record has no elements that can be read") {
		t.Errorf("the pass is not reviewed as far as it can be:\n%s", text)
	}
	checkPicture(t, m.picture, 80, 24)
	m = picture(t, s, 80, 24, func(c *Config) {
		c.Review = func(context.Context) (review.Review, error) { return review.Review{}, errors.New(hostile + " is gone") }
	})
	press(t, m, "z")
	checkPicture(t, m.picture, 80, 24)
	if text := m.page.plain(); !strings.Contains(text, "The record can't be reviewed: MOTH[2J WING is gone") {
		t.Errorf("why there is no review is not said:\n%s", text)
	}
}

// It is of the chosen satellite's last pass that is over, and says so where there
// is none.
func TestReviewOfWhich(t *testing.T) {
	at := func(minutes int) (l review.Pass) {
		l.Set.Time = start.Add(time.Duration(minutes) * time.Minute)
		l.Rise.Time = l.Set.Time.Add(-10 * time.Minute)
		return l
	}
	own, foreign, unnamed := at(-30), at(-20), at(-40)
	own.Satellite, own.CatalogueNumber = "LARKSPUR-2", 90001
	foreign.Satellite, foreign.CatalogueNumber = "LARKSPUR-3", 90002
	unnamed.Satellite = "LARKSPUR-2"
	coming := at(20)
	coming.Satellite, coming.CatalogueNumber = "LARKSPUR-2", 90001
	for _, c := range []struct {
		passes []review.Pass
		want   string
	}{
		{[]review.Pass{unnamed, own, foreign, coming}, "REVIEW of LARKSPUR-2, 11:20:00 to 11:30:00"},
		{[]review.Pass{own, unnamed}, "REVIEW of LARKSPUR-2, 11:20:00 to 11:30:00"},
		{[]review.Pass{unnamed, foreign}, "REVIEW of LARKSPUR-2, 11:10:00 to 11:20:00"},
		{[]review.Pass{foreign, coming}, "No pass of LARKSPUR-2 is over yet"},
		{nil, "No pass of LARKSPUR-2 is over yet"},
	} {
		s := stories["move"]
		s.object.number = 90001
		m := picture(t, s, 80, 24, func(k *Config) {
			k.Review = func(context.Context) (review.Review, error) {
				return review.Review{Passes: slices.Clone(c.passes)}, nil
			}
		})
		press(t, m, "z")
		if text := m.page.plain(); !strings.Contains(text, c.want) {
			t.Errorf("%q is not in:\n%s", c.want, text)
		}
	}
	m := picture(t, stories["move"], 80, 24)
	press(t, m, "z")
	if m.showing != onPointing || !strings.Contains(m.page.plain(), "Nothing is recorded, so there is nothing to review") {
		t.Errorf("without a record:\n%s", m.page.plain())
	}
}

// After the set it is said once that z shows what happened, and only to who was
// there; a slow review stops no frame.
func TestReviewIsOffered(t *testing.T) {
	const offer = "Pass over: z shows what happened"
	asked := 0
	s := stories["last"] // the usual pass sets 5 s later
	s.change = func(c *Config) {
		c.Review = func(ctx context.Context) (review.Review, error) {
			asked++
			p := review.Pass{Satellite: "LARKSPUR-2"}
			p.Rise.Time, p.Set.Time = start.Add(-5*time.Minute), start.Add(280*time.Second)
			select {
			case <-ctx.Done():
			case <-time.After(3 * time.Second):
			}
			return review.Review{Passes: []review.Pass{p}}, ctx.Err()
		}
	}
	play(t, s, 80, 24, func(p *player) {
		p.wait(3 * time.Second)
		p.miss(offer)
		p.wait(5 * time.Second)
		p.want("PASS OVER", offer)
		p.press("z")
		p.miss(offer)
		p.want("Reviewing the record …")
		before := p.text()
		p.wait(time.Second)
		if p.text() == before { // the time goes on
			t.Error("the screen stands still while the record is reviewed")
		}
		p.press("z", "z") // back, and asked once more
		p.wait(8 * time.Second)
		p.want("REVIEW of LARKSPUR-2", "Bursts: 0 expected, 0 heard", "No verdict")
		p.press("\x1b")
		p.wait(2 * time.Minute)
		p.miss(offer)
		p.want("NEXT PASS")
		if asked != 2 {
			t.Errorf("asked for a review %d times, want one after the other", asked)
		}
	})
	// Nobody presses a key: it goes by itself, and does not come again.
	play(t, s, 53, 20, func(p *player) {
		p.wait(8 * time.Second)
		p.want(offer)
		p.wait(time.Minute)
		p.miss(offer)
		p.wait(time.Minute)
		p.miss(offer)
	})
	late := s
	late.at = 20 * time.Minute // long after it
	play(t, late, 80, few, func(p *player) {
		p.wait(5 * time.Second)
		p.miss(offer)
	})
	s.change = nil
	play(t, s, 80, 24, func(p *player) {
		p.wait(8 * time.Second)
		p.miss(offer)
	})
}

// With the offer on the screen no more than seven things ask for attention.
func TestReviewOfferIsOfSeven(t *testing.T) {
	s := stories["last"]
	s.change = func(c *Config) {
		c.Review = func(context.Context) (review.Review, error) { return review.Review{}, nil }
	}
	for _, size := range [][2]int{{53, 20}, {80, 24}, {120, 40}} {
		now := s.clock()
		m := picture(t, s, size[0], size[1], func(c *Config) { c.Now = func() time.Time { return now } })
		now = start.Add(282 * time.Second)
		resize(t, m, size) // looks anew
		if !strings.Contains(m.page.plain(), "z shows what happened") {
			t.Errorf("%v: no offer:\n%s", size, m.page.plain())
		}
		if n := attention(m.page); n > 7 {
			t.Errorf("%v: %d things ask for attention:\n%s", size, n, m.page.plain())
		}
	}
}
