//go:build unix

package main

import (
	"context"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"foreaim/cmd/foreaim/internal/world"

	"github.com/creack/pty"
)

// plug puts a receiver behind a path: a new pseudo-terminal that sends, cut at
// random places and with garbage between, what the invented receiver says at
// true times. The returned function pulls it out.
func plug(t *testing.T, w *world.World, truth func() time.Time, path string) (unplug func()) {
	t.Helper()
	receiver, port, err := pty.Open()
	if err != nil {
		t.Fatal(err)
	}
	_ = os.Remove(path)
	if err := os.Symlink(port.Name(), path); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		_ = world.Receiver{World: w, Truth: truth, Speed: 1}.Feed(ctx, &cutter{receiver, rand.New(rand.NewPCG(3, 4))})
	}()
	return func() {
		stop()
		<-ended
		receiver.Close()
		port.Close()
		_ = os.Remove(path)
	}
}

// cutter writes in pieces, with binary garbage before each text.
type cutter struct {
	to     *os.File
	random *rand.Rand
}

func (c *cutter) Write(p []byte) (int, error) {
	noise := []byte{0, 0xb5, 0x62, '$', 0xff, 'G', '\n'}
	rest := append(noise[:c.random.IntN(len(noise))], p...)
	for len(rest) > 0 {
		n := 1 + c.random.IntN(len(rest))
		if _, err := c.to.Write(rest[:n]); err != nil {
			return 0, err
		}
		rest = rest[n:]
		time.Sleep(time.Duration(c.random.IntN(8)) * time.Millisecond)
	}
	return len(p), nil
}

// The whole way with the real program: a serial port, pulled out and put back
// in mid-pass. The screen says so, heals by itself, and goes on pointing
// meanwhile.
func TestReceiverUnpluggedInMidPass(t *testing.T) {
	w, err := world.New(context.Background(), time.Now())
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	elements := writeElements(t, w.Satellites[0].Set)
	port := filepath.Join(folder, "receiver")
	unplug := plug(t, w, time.Now, port)
	term := inTerminal(t, 80, 24, "--elements", elements, "--source", "serial://"+port, "--facing", "105",
		"--frequency", "436.215M", "--period", "30s", "--first", w.Satellites[0].Schedule.First.Format(time.RFC3339))
	term.await("BURST", "fix 11")

	unplug()
	screen := term.await("GPS LOST")
	for _, still := range []string{"BURST", "UP", "Now "} {
		if !strings.Contains(screen, still) {
			t.Errorf("without the receiver %q is gone from\n%s", still, screen)
		}
	}
	unplug = plug(t, w, time.Now, port)
	defer unplug()
	term.await("BURST", "fix 11")
	term.press("q")
	if status := term.ended(); status != "0" {
		t.Errorf("exit status %s", status)
	}
}
