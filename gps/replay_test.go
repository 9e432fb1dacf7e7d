package gps

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/synctest"
	"time"
)

// recording writes a file of sentences at moments after a first one.
func recording(t *testing.T, from time.Time, seconds ...int) string {
	t.Helper()
	var text strings.Builder
	for _, s := range seconds {
		text.WriteString(second(from.Add(time.Duration(s) * time.Second)))
	}
	path := filepath.Join(t.TempDir(), "outing.nmea")
	if err := os.WriteFile(path, []byte(strings.TrimSpace(text.String())), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestReplayKeepsItsPace(t *testing.T) {
	midnight := time.Date(2027, 3, 5, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		name    string
		seconds []int
		rate    string
		takes   time.Duration
	}{
		{"real time", []int{0, 1, 2, 3, 10}, "1", 10 * time.Second},
		{"rate left out", []int{0, 1, 2}, "", 2 * time.Second},
		{"four times", []int{0, 1, 2, 3, 10}, "4", 2500 * time.Millisecond},
		{"slowly", []int{0, 1}, "0.1", 10 * time.Second},
		{"at once", []int{0, 1, 2, 3, 10}, "0", 0},
		{"past midnight", []int{-2, -1, 0, 1}, "1", 3 * time.Second},
		{"a cut in the recording", []int{0, 1, 7200, 7201}, "1", 3 * time.Second},
		{"backwards", []int{5, 6, 0, 1}, "1", 2 * time.Second},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := recording(t, midnight, c.seconds...)
			synctest.Test(t, func(t *testing.T) {
				url := "file://" + filepath.ToSlash(path)
				if c.rate != "" {
					url += "?rate=" + c.rate
				}
				begun := time.Now()
				r, err := Open(t.Context(), url, Options{})
				if err != nil {
					t.Fatal(err)
				}
				got := await(t, r, time.Hour, "end", is(Ended))
				if took := time.Since(begun); took != c.takes {
					t.Errorf("took %v, want %v", took, c.takes)
				}
				// The last line has no line end.
				if got.Sentences != 2*len(c.seconds) || !got.Fix.Valid() {
					t.Errorf("%d sentences, fix %+v, want %d and the last fix", got.Sentences, got.Fix, 2*len(c.seconds))
				}
				if c.rate != "" && c.rate != "1" && got.Clock.Known {
					t.Errorf("clock %+v from a recording that isn't played in real time", got.Clock)
				}
				r.Close()
			})
		})
	}
}

func TestReplayCanBeClosed(t *testing.T) {
	path := recording(t, time.Date(2027, 3, 5, 0, 0, 0, 0, time.UTC), 0, 1, 30)
	synctest.Test(t, func(t *testing.T) {
		r, err := Open(t.Context(), "file://"+filepath.ToSlash(path), Options{})
		if err != nil {
			t.Fatal(err)
		}
		time.Sleep(5 * time.Second)
		begun := time.Now()
		r.Close()
		if took := time.Since(begun); took != 0 {
			t.Errorf("closing took %v", took)
		}
	})
}

func TestReplayWithoutFile(t *testing.T) {
	t.Chdir(t.TempDir())
	for url, want := range map[string]string{
		"file:none.nmea":       "open none.nmea: ",
		"file:///no/such/file": "open /no/such/file: ",
		"file:.":               "open .: is a folder",
	} {
		r, err := Open(t.Context(), url, Options{})
		var e *Error
		if r != nil || !errors.As(err, &e) || errors.Is(err, ErrURL) || !strings.HasPrefix(e.What, want) || e.Hint == "" {
			t.Errorf("%s: %v, want %q and a hint", url, err, want)
		}
	}
}
