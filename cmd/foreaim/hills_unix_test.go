//go:build unix

package main

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"foreaim/cmd/foreaim/internal/world"
)

// With a receiver alone the ridge by the meadow comes into the skyline with the
// first fix, and anew a kilometre further off; without the neighbouring tiles it is
// said that it is left out, and what to do. The crest is 300 m high and 2 km, then
// 3 km away: seen from 1.5 m it stands atan(298.5/2000) = 8.5° and 5.7° high.
func TestHillsFromTheReceiver(t *testing.T) {
	t.Parallel()
	w, err := world.New(t.Context(), time.Now())
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	tiles, port := filepath.Join(folder, "tiles"), filepath.Join(folder, "receiver")
	if err := writeTiles(tiles, ridgeByMeadow(), [2]int{58, 14}); err != nil {
		t.Fatal(err)
	}
	unplug := plug(t, w, time.Now, port)
	args := []string{"--elements", writeElements(t, w.Satellites[0].Set), "--source", "serial://" + port, "--facing", "90", "--silent",
		"--no-record", "--terrain", tiles}
	env := []string{"XDG_CACHE_HOME=" + filepath.Join(folder, "cache"), "XDG_CONFIG_HOME=" + folder}
	p := onPty(t, env, append(args, "--sea")...)
	defer p.kill()
	p.awaitText("Hills in the skyline: up to 8° in the east")
	if kept, _ := filepath.Glob(filepath.Join(folder, "cache", "foreaim", "skylines", "*.json")); len(kept) == 0 {
		t.Error("the skyline isn't kept for the next time")
	}
	p.press("k")
	p.awaitText("Skyline: what hides the sky (")
	p.press("\x1b")
	unplug()
	p.awaitText("GPS LOST")
	further := *w
	further.Site.LongitudeDeg -= 1 / 58.64
	unplug = plug(t, &further, time.Now, port)
	p.awaitText("Hills in the skyline: up to 6° in the east")
	p.press("q")
	unplug()

	unplug = plug(t, w, time.Now, port)
	defer unplug()
	q := onPty(t, env, args...)
	defer q.kill()
	q.awaitText("Hills are left out of the skyline")
	q.press("k")
	q.await("the way out", func(screen string) bool {
		return strings.Contains(screen, "Hills are left out: ") && strings.Contains(screen, "(--sea)")
	})
}
