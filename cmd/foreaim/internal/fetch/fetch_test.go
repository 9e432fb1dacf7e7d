package fetch

import (
	"errors"
	"io"
	"log"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

func quiet() *log.Logger { return log.New(io.Discard, "", 0) }

// An address is asked once in an interval, then only for news; what comes is
// handed over once.
func TestIntervalAndConditions(t *testing.T) {
	s := newServer(t, false, func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("ETag", `"7"`)
		w.Header().Set("Last-Modified", "Wed, 25 Nov 2026 06:00:00 GMT")
		if r.Header.Get("If-None-Match") == `"7"` && r.Header.Get("If-Modified-Since") != "" {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		io.WriteString(w, data)
	})
	b := newBench(t)
	for i, step := range []struct {
		after time.Duration
		whole bool
		want  Outcome
		asked int
		words string
	}{
		{0, false, Fetched, 1, "fetched, 32 bytes"},
		{40 * time.Minute, false, TooSoon, 1, "from the store, fetched 40 min ago"},
		{79*time.Minute + 59*time.Second, false, TooSoon, 1, "from the store, fetched 2 h 0 min ago"},
		{time.Second, false, Unchanged, 2, "unchanged at the server"},
		{time.Minute, true, TooSoon, 2, "from the store, fetched 60 s ago"},
		{2 * time.Hour, true, Fetched, 3, "fetched, 32 bytes"},
		{3 * time.Hour, false, Unchanged, 4, "unchanged at the server"},
		{-24 * time.Hour, false, Unchanged, 5, "unchanged at the server"}, // the clock was wrong before
	} {
		b.now, b.Whole = b.now.Add(step.after), step.whole
		got, err := b.fetch(t, s.URL+"/group")
		if err != nil {
			t.Fatal(err)
		}
		if words := got.Words(b.now); got.Outcome != step.want || s.count() != step.asked || words != step.words {
			t.Errorf("step %d: outcome %d, %q, asked %d times; want %d, %q, %d", i, got.Outcome, words, s.count(), step.want, step.words, step.asked)
		}
	}
	if !slices.Equal(b.got, []string{data, data}) {
		t.Errorf("handed over %q, want the data twice", b.got)
	}
	if agent := s.asked[0].Get("User-Agent"); agent != "foreaim/test" {
		t.Errorf("asked as %q", agent)
	}
	if _, err := b.fetch(t, s.URL+"/other"); err != nil || s.count() != 6 {
		t.Errorf("another address: %v, asked %d times, want 6", err, s.count())
	}
}

// What could not be used does not count as fetched.
func TestUnusableContent(t *testing.T) {
	s := newServer(t, false, func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("ETag", `"7"`)
		io.WriteString(w, data)
	})
	b, wrong := newBench(t), errors.New("line 1: no elements")
	_, err := b.Fetch(t.Context(), s.URL, func(io.Reader) error { return wrong })
	if !errors.Is(err, wrong) || !strings.Contains(err.Error(), "line 1: no elements") {
		t.Errorf("error %v, want %v", err, wrong)
	}
	b.now = b.now.Add(otherPause)
	if got, err := b.fetch(t, s.URL); err != nil || got.Outcome != Fetched || s.asked[1].Get("If-None-Match") != "" {
		t.Errorf("then: %+v, %v, asked with %v; want it fetched without condition", got, err, s.asked[1])
	}
}

// Ten at once ask the server once.
func TestManyAtOnce(t *testing.T) {
	s := newServer(t, false, func(w http.ResponseWriter, r *http.Request) { io.WriteString(w, data) })
	b := newBench(t)
	var running sync.WaitGroup
	for range 10 {
		running.Go(func() {
			if _, err := b.Fetch(t.Context(), s.URL, func(io.Reader) error { return nil }); err != nil {
				t.Error(err)
			}
		})
	}
	running.Wait()
	if s.count() != 1 {
		t.Errorf("asked %d times, want once", s.count())
	}
}

// Packed by the server, by the publisher, by both, or not although it says so:
// the same comes out.
func TestPacked(t *testing.T) {
	for name, answer := range map[string]struct{ encoding, body string }{
		"by the server":    {"gzip", packed(data)},
		"by the publisher": {"", packed(data)},
		"by both":          {"gzip", packed(packed(data))},
		"by nobody":        {"gzip", data},
		"not at all":       {"identity", data},
	} {
		s := newServer(t, false, func(w http.ResponseWriter, r *http.Request) {
			if r.Header.Get("Accept-Encoding") != "gzip" {
				t.Errorf("asked for %q", r.Header.Get("Accept-Encoding"))
			}
			if answer.encoding != "" {
				w.Header().Set("Content-Encoding", answer.encoding)
			}
			io.WriteString(w, answer.body)
		})
		b := newBench(t)
		var done, total int64
		b.Progress = func(d, t int64) { done, total = d, t }
		if _, err := b.fetch(t, s.URL); err != nil || !slices.Equal(b.got, []string{data}) {
			t.Errorf("packed %s: %q, %v", name, b.got, err)
		}
		if want := int64(len(answer.body)); done != want || total != want {
			t.Errorf("packed %s: progress said %d of %d, want %d", name, done, total, want)
		}
	}
}

// What is remembered and can't be read is as if nothing were remembered.
func TestDamagedMemory(t *testing.T) {
	s := newServer(t, false, func(w http.ResponseWriter, r *http.Request) { io.WriteString(w, data) })
	b := newBench(t)
	for i := range 2 {
		if got, err := b.fetch(t, s.URL); err != nil || got.Outcome != Fetched {
			t.Fatalf("fetch %d: %+v, %v", i, got, err)
		}
		files, err := filepath.Glob(filepath.Join(b.Folder, "fetch-*.json"))
		if err != nil || len(files) != 1 {
			t.Fatalf("remembered in %v, %v, want one file", files, err)
		}
		if err := os.WriteFile(files[0], []byte("{\"fetched\":\"never"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
