//go:build unix

package runner

import (
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"foreaim/track/aim"
)

func TestTonesThroughACommand(t *testing.T) {
	file := filepath.Join(t.TempDir(), "sound")
	for _, c := range []struct {
		args  []string
		check func(t *testing.T)
	}{
		{[]string{"sh", "-c", `printf %s "$1" >"$0"`, file, "{tone}"}, func(t *testing.T) {
			if got, _ := os.ReadFile(file); string(got) != "right,up" {
				t.Errorf("got %q", got)
			}
		}},
		{[]string{"sh", "-c", `cat >"$0"`, file}, func(t *testing.T) {
			if got, want := wavSeconds(t, file), 0.44+0.4+0.36; math.Abs(got-want) > 0.001 {
				t.Errorf("%g s of sound, want %g s", got, want)
			}
		}},
	} {
		played := make(chan Spoken, 1)
		tones := NewTones(c.args, func(s Spoken) { played <- s })
		tones.Play(nil, time.Now().Add(time.Hour), true)
		tones.Play([]aim.Tone{aim.ToneRight, aim.ToneUp}, time.Now().Add(time.Hour), true)
		if got := <-played; got.Text != "right,up" || got.Err != nil || tones.Problem() != "" {
			t.Errorf("%+v, problem %q", got, tones.Problem())
		}
		tones.Close()
		c.check(t)
	}
}
