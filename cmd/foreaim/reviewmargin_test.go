package main

import (
	"math"
	"os"
	"path/filepath"
	"testing"
)

// The review of a satellite that the configuration knows expects of its signal what
// the link promises, unless --margin says it: advise and rehearse do the same.
func TestReviewExpectsPromisedMargin(t *testing.T) {
	file := filepath.Join(t.TempDir(), "config.toml")
	const known = `[antenna]
beamwidth_deg = 50
gain_dbi = 10
polarisation = "right"
[[satellite]]
name = "EMBERLING"
catalogue_number = 99071
frequency_hz = 437100000
power_dbm = 43
polarisation = "right"
mode = "GMSK 9600"
`
	if err := os.WriteFile(file, []byte(known), 0o600); err != nil {
		t.Fatal(err)
	}
	margin := func(args ...string) float64 {
		var answer struct {
			Passes []struct {
				MarginDB float64 `json:"margin_db"`
			}
		}
		runJSON(t, &answer, append([]string{"review", earlyRecord}, args...)...)
		return answer.Passes[0].MarginDB
	}
	usual, promised := margin(), margin("--config", file)
	if promised < usual+4 {
		t.Errorf("20 W are found to come in with %.1f dB, without a configuration with %.1f dB", promised, usual)
	}
	if told := margin("--config", file, "--margin", "6"); math.Abs(told-usual) > 1e-9 {
		t.Errorf("told 6 dB, found are %.1f dB, want %.1f dB", told, usual)
	}
	if far := margin("--margin", "90"); !(far > 10) {
		t.Errorf("told 90 dB, found are %.1f dB", far)
	}
}
