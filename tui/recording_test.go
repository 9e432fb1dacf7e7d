package tui

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"foreaim/gps"
	"foreaim/track/outing"
)

// file is a disk that may fail.
type file struct {
	bytes.Buffer
	full atomic.Bool
}

func (f *file) Write(p []byte) (int, error) {
	if f.full.Load() {
		return 0, errors.New("no space left on device")
	}
	return f.Buffer.Write(p)
}

func (f *file) Sync() error { return nil }

// diskRecorder writes at once, on the program's own goroutine: the tests read
// while that waits.
type diskRecorder struct {
	*outing.Writer
	disk file
}

func newDisk() *diskRecorder {
	d := new(diskRecorder)
	d.Writer = outing.NewWriter(&d.disk, false)
	return d
}

func (d *diskRecorder) Record(at time.Time, e outing.Entry) {
	_ = d.Append(outing.Record{At: at, Entry: e})
}

// state is what the record tells.
func (d *diskRecorder) state(t *testing.T) outing.State {
	t.Helper()
	return outing.Resume(d.log(t))
}

func (d *diskRecorder) log(t *testing.T) outing.Log {
	t.Helper()
	log, err := outing.Read(bytes.NewReader(d.disk.Bytes()), "record")
	if err != nil || len(log.Faults) > 0 {
		t.Fatalf("%v, faults %v in:\n%s", err, log.Faults, d.disk.String())
	}
	return log
}

// recorded is the usual story with a record.
func recorded(d *diskRecorder) story {
	s := stories["move"]
	s.change = func(c *Config) {
		c.Record, c.Start = d, outing.StartEntry{Outing: "20260610T095742Z"}
	}
	return s
}

// What the record tells is what was on the screen, and times are true times:
// the computer is 90 s slow.
func TestRecordedPass(t *testing.T) {
	d := newDisk()
	s := recorded(d)
	s.reports = stories["slow"].reports
	var tallied tally
	play(t, s, 80, 24, func(p *player) {
		feed := func(seconds int) {
			for range seconds {
				p.report(goodReport(p.now(), 90))
				p.wait(time.Second)
			}
		}
		p.miss("not recorded")
		feed(int(start.Add(-110 * time.Second).Sub(p.now().Add(90 * time.Second)).Seconds()))
		pressed := p.now().Add(90 * time.Second)
		p.press(" ", " ")
		p.want("Burst 6 heard, strong")
		feed(33)
		p.want("Burst 7 silent")
		p.press("n", "]", "f", "1", "7", "0", "\r", "t", "h", "u", "m", " ", "é", "\r")
		p.want("Noted: hum é")
		feed(28)
		p.press("u")
		feed(3)
		p.want("1 heard 1 silent")
		tallied = tallyOf(mustMarks(t, d))
		state := d.state(t)
		k := state.Marks[0]
		if off := k.At.Sub(pressed); off < 0 || off > 100*time.Millisecond {
			t.Errorf("the mark is made at %s, pressed at %s", k.At, pressed)
		}
		if want := start.Add(-113 * time.Second); !k.Origin.Start.Equal(want) || k.Held.Hold != 6 {
			t.Errorf("the mark is of the burst at %s in hold %d, want %s and 6", k.Origin.Start, k.Held.Hold, want)
		}
	})
	if tallied.heard != 1 || tallied.silent != 1 || !tallied.noise {
		t.Errorf("the record tells %+v, the screen 1 heard 1 silent and noise up", tallied)
	}
	state := d.state(t)
	if !state.Ended || state.Outing != "20260610T095742Z" {
		t.Errorf("ended %v, outing %q", state.Ended, state.Outing)
	}
	if len(state.Notes) != 1 || state.Notes[0].Text != "hum é" {
		t.Errorf("notes %v", state.Notes)
	}
	if state.Facing == nil || state.Facing.AzimuthDeg.Value != 170 || state.Facing.How != "typed" {
		t.Errorf("facing %+v, want 170 typed", state.Facing)
	}
	if state.Clock == nil || state.Clock.OffsetS.Value != 90 || state.Fix == nil || state.Fix.Satellites != 9 {
		t.Errorf("clock %+v, fix %+v", state.Clock, state.Fix)
	}
	if state.Pass == nil || state.Pass.Satellite != "LARKSPUR-2" || !state.Pass.Peak.Time.Equal(start.Round(time.Millisecond)) {
		t.Errorf("pass %+v, want LARKSPUR-2 with its peak at %s", state.Pass, start)
	}
	if state.Hold == nil || state.Hold.Number != 8 {
		t.Errorf("hold %+v, want 8, whose burst has just been", state.Hold)
	}
	if name, _ := state.Satellite(); name != "LARKSPUR-2" {
		t.Errorf("satellite %q", name)
	}
	var advised []int
	for _, r := range d.log(t).Records {
		if a, ok := r.Entry.(outing.AdviceEntry); ok {
			advised = append(advised, a.Number)
		}
	}
	if want := []int{6, 7, 8, 9}; !cmp.Equal(slices.Compact(advised), want) {
		t.Errorf("advised holds %v, want %v", advised, want)
	}
}

// mustMarks replays the marks of a record.
func mustMarks(t *testing.T, d *diskRecorder) *outing.Marks {
	t.Helper()
	state := d.state(t)
	marks := outing.NewMarks(outing.DefaultEar(), 0)
	if err := marks.Restore(state.Marks, state.Last); err != nil {
		t.Fatal(err)
	}
	return marks
}

// An outing that is cut off goes on with its facing and its marks; bursts in
// between were not listened to.
func TestTakenUpAgain(t *testing.T) {
	d := newDisk()
	play(t, recorded(d), 80, 24, func(p *player) {
		p.until(-110 * time.Second)
		p.press(" ", "]", "]")
	})
	before := d.state(t)
	s := recorded(d)
	s.at = -70 * time.Second
	change := s.change
	s.change = func(c *Config) { change(c); c.Resume = &before }
	play(t, s, 80, 24, func(p *player) {
		p.want("The outing is taken up again: 1 heard 0 silent", "TURN RIGHT °")
		p.until(-66 * time.Second)
		p.want("Burst 7 not listened to", "1 heard 0 silent 1 missed")
		p.until(-50 * time.Second)
		p.press(" ")
		p.want("Burst 8 heard", "2 heard 0 silent 1 missed")
	})
	after := d.state(t)
	if after.Facing == nil || after.Facing.AzimuthDeg.Value != 170 {
		t.Errorf("facing %+v, want 170", after.Facing)
	}
	if n := len(after.Marks); n != 3 {
		t.Errorf("%d marks, want 3: %+v", n, after.Marks)
	}
}

// A full disk stops nothing but the record, and the screen says so, and when it
// works again.
func TestRecordingStopped(t *testing.T) {
	d := newDisk()
	for _, size := range [][2]int{{80, 24}, {53, 20}} {
		d.disk.full.Store(false)
		play(t, recorded(d), size[0], size[1], func(p *player) {
			d.disk.full.Store(true)
			p.until(-110 * time.Second)
			p.press(" ")
			p.want("1 heard 0 silent")
			if !strings.Contains(p.text(), "Recording stopped") && !strings.Contains(p.text(), "RECORDING STOPPED") {
				t.Errorf("nothing is said of the record:\n%s", p.text())
			}
			d.disk.full.Store(false)
			p.press(" ")
			p.wait(time.Second)
			p.miss("Recording stopped")
			p.miss("RECORDING STOPPED")
		})
	}
	if n := len(d.state(t).Marks); n == 0 {
		t.Error("the marks made while the disk was full are lost")
	}
}

// Warnings come into the record as they begin and end, not with every second.
func TestRecordedWarnings(t *testing.T) {
	d := newDisk()
	s := recorded(d)
	s.reports = []gps.Report{goodReport(start.Add(s.at), 0)}
	play(t, s, 80, 24, func(p *player) {
		p.report(goodReport(p.now(), 0))
		p.wait(10 * time.Second)
		p.report(goodReport(p.now(), 0))
		p.wait(time.Second)
	})
	var got []outing.WarningEntry
	for _, r := range d.log(t).Records {
		if w, ok := r.Entry.(outing.WarningEntry); ok {
			got = append(got, w)
		}
	}
	want := []outing.WarningEntry{{Words: "GPS lost"}, {Words: "GPS lost", Over: true}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("warnings (- want, + got):\n%s", diff)
	}
}

// A note can be longer than the screen, and never carries control characters.
func TestNote(t *testing.T) {
	d := newDisk()
	s := recorded(d)
	m := picture(t, s, 53, 20)
	press(t, m, append([]string{"t"}, strings.Split(strings.Repeat("ab\x1b", 90), "")...)...)
	checkPicture(t, m.picture, 53, 20)
	press(t, m, "enter")
	notes := d.state(t).Notes
	if len(notes) != 1 || notes[0].Text != strings.Repeat("ab", 90) {
		t.Errorf("notes %q", notes)
	}
	m = picture(t, stories["move"], 80, 24)
	press(t, m, "t")
	if page := m.page.plain(); !strings.Contains(page, "no note can be kept") {
		t.Errorf("a note is asked for without a record:\n%s", page)
	}
}
