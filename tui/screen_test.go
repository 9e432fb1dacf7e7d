package tui

import (
	"bytes"
	"context"
	"io"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/vt"

	"foreaim/gps"
)

// player is the whole program on a virtual terminal, in virtual time.
type player struct {
	t       *testing.T
	mu      sync.Mutex
	screen  *vt.Emulator
	bells   int
	rings   []time.Time // by the computer
	keys    *io.PipeWriter
	program *tea.Program
	reports chan gps.Report
	began   time.Time // of the virtual time
	at      time.Time // of the story, by the computer
	end     chan error
}

// Write is the terminal's side of the output.
func (p *player) Write(b []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.bells += bytes.Count(b, []byte{'\a'})
	return p.screen.Write(b)
}

func (p *player) ring() {
	_, _ = p.Write([]byte{'\a'})
	p.mu.Lock()
	defer p.mu.Unlock()
	p.rings = append(p.rings, p.now())
}

// now is the computer's clock.
func (p *player) now() time.Time { return p.at.Add(time.Since(p.began)) }

// few is a height without the window, which takes most of the time: for long
// stories of which little is looked at.
const few = 7

// play runs a story in virtual time and lets a function watch and press keys.
func play(t *testing.T, s story, columns, rows int, watch func(p *player)) {
	synctest.Test(t, func(t *testing.T) {
		input, keys := io.Pipe()
		p := &player{t: t, screen: vt.NewEmulator(columns, rows), keys: keys, began: time.Now(), at: s.clock(), end: make(chan error, 1)}
		config, targets := s.config(p.now)
		if s.reports != nil {
			p.reports = make(chan gps.Report, 1)
			config.Reports = p.reports
		}
		ctx, cancel := context.WithCancel(t.Context())
		defer cancel()
		m := newModel(ctx, config, targets, themes["dark"], p)
		go func() {
			p.end <- run(ctx, m, nil, tea.WithInput(input), tea.WithOutput(p), tea.WithoutSignalHandler(),
				func(q *tea.Program) { p.program = q })
		}()
		synctest.Wait()
		p.program.Send(tea.WindowSizeMsg{Width: columns, Height: rows})
		p.wait(time.Second)
		watch(p)
		p.program.Quit()
		p.wait(time.Second)
		_ = keys.Close()
		if err := <-p.end; err != nil {
			t.Error(err)
		}
		time.Sleep(time.Second) // the screen library's own goroutines end
	})
}

// wait lets virtual time pass.
func (p *player) wait(d time.Duration) {
	time.Sleep(d)
	synctest.Wait()
}

// report hands over a report as a receiver does: an unread one is replaced.
func (p *player) report(r gps.Report) {
	select {
	case <-p.reports:
	default:
	}
	p.reports <- r
}

// rung returns how often the bell has rung.
func (p *player) rung() int {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.bells
}

// text is what the screen shows.
func (p *player) text() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.screen.String()
}

// press types keys as a terminal sends them.
func (p *player) press(keys ...string) {
	for _, k := range keys {
		if _, err := io.WriteString(p.keys, k); err != nil {
			p.t.Fatal(err)
		}
		p.wait(200 * time.Millisecond)
	}
}

// want checks that the screen shows each text.
func (p *player) want(texts ...string) {
	p.t.Helper()
	for _, text := range texts {
		if !strings.Contains(p.text(), text) {
			p.t.Errorf("%q is not on the screen at %s:\n%s", text, p.now().Format("15:04:05.0"), p.text())
		}
	}
}

// miss checks that the screen does not show a text.
func (p *player) miss(text string) {
	p.t.Helper()
	if strings.Contains(p.text(), text) {
		p.t.Errorf("%q is on the screen at %s:\n%s", text, p.now().Format("15:04:05.0"), p.text())
	}
}
