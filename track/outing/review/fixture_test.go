package review_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// The records that other tests read are those that the simulation writes.
func TestRecordedOutings(t *testing.T) {
	for name, w := range map[string]*world{"review_early.jsonl": newWorld(t, 5), "review_shifted.jsonl": shifted(t)} {
		file := filepath.Join("..", "..", "..", "testdata", "outing", name)
		want := w.play(t)
		if os.Getenv("UPDATE_RECORDS") != "" {
			if err := os.WriteFile(file, want, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		got, err := os.ReadFile(file)
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not what the simulation writes (UPDATE_RECORDS=1 puts it right): %v", name, err)
		}
	}
}

// shifted is an outing with the beacon off schedule, a sensor on the boom, and the
// noise marked as up.
func shifted(t *testing.T) *world {
	for n := uint64(0); ; n++ {
		if w := newWorld(t, n); w.shift > 0 && w.sensor && len(w.faults) == 1 {
			w.noiseMarked = true
			return w
		}
	}
}
