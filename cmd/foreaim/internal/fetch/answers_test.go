package fetch

import (
	"context"
	"errors"
	"io"
	"net/http"
	"strconv"
	"strings"
	"testing"
	"time"
)

// Every answer that is no content is told in words, and the server is left
// alone for as long as it fits, or as the server says.
func TestAnswersWithoutContent(t *testing.T) {
	status := func(code int, header ...string) http.HandlerFunc {
		return func(w http.ResponseWriter, r *http.Request) {
			for i := 0; i < len(header); i += 2 {
				w.Header().Set(header[i], header[i+1])
			}
			w.WriteHeader(code)
		}
	}
	body := func(kind, text string) http.HandlerFunc {
		return func(w http.ResponseWriter, r *http.Request) {
			w.Header().Set("Content-Type", kind)
			io.WriteString(w, text)
		}
	}
	for name, c := range map[string]struct {
		answer http.HandlerFunc
		words  string
		pause  time.Duration
	}{
		"401":             {status(401), "401 (Unauthorized): it wants a name and a password", refusedPause},
		"403":             {status(403), "403 (Forbidden): it does not want to serve you", refusedPause},
		"404":             {status(404), "404 (Not Found): there is nothing", refusedPause},
		"410":             {status(410), "410 (Gone): there is nothing", refusedPause},
		"407":             {status(407), "the proxy wants a name", refusedPause},
		"429":             {status(429), "429 (Too Many Requests): it was asked too often", 2 * time.Hour},
		"429 for a while": {status(429, "Retry-After", "600"), "asks to wait 10 min", 10 * time.Minute},
		"503 until":       {status(503, "Retry-After", "Wed, 25 Nov 2026 15:30:00 GMT"), "asks to wait 3 h 30 min", 210 * time.Minute},
		"503 for ever":    {status(503, "Retry-After", "2000000000"), "asks to wait 7 days", longestPause},
		"503 for nothing": {status(503, "Retry-After", "soon"), "503 (Service Unavailable): it has trouble", faultPause},
		"500":             {status(500), "500 (Internal Server Error)", faultPause},
		"206":             {status(206), "206 (Partial Content)", refusedPause},
		"999":             {status(999), "answers 999", faultPause},
		"304 unasked":     {status(304), "304 (Not Modified)", refusedPause},
		"204":             {status(204), "the answer is empty", refusedPause},
		"empty":           {body("text/plain", ""), "the answer is empty", refusedPause},
		"blank":           {body("text/plain", " \r\n\n"), "the answer is empty", refusedPause},
		"page":            {body("text/plain", "\n<!DOCTYPE html><html><title>Sign\x1b[31m  in</title>"), `a web page instead of elements, titled "Sign[31m in"`, otherPause},
		"page in XML":     {body("text/plain", `<?xml version="1.0"?><HTML>`), "a web page instead of elements", otherPause},
		"piece of page":   {body("text/html; charset=utf-8", "<p>No</p>"), "a web page instead of elements", otherPause},
		"large":           {body("text/plain", strings.Repeat("x", 1001)), "larger than 1.0 kB", refusedPause},
		"large unsaid":    {chunked(strings.Repeat("x", 1001)), "larger than 1.0 kB", refusedPause},
		"bomb":            {body("application/gzip", packed(strings.Repeat("x", 100_000))), "larger than 1.0 kB", refusedPause},
		"strange packing": {status(200, "Content-Encoding", "br"), `packed as "br"`, refusedPause},
	} {
		t.Run(name, func(t *testing.T) {
			s, b := newServer(t, false, c.answer), newBench(t)
			_, err := b.fetch(t, s.URL)
			b.wantFault(t, err, c.words)
			b.now = b.now.Add(c.pause - time.Second)
			_, err = b.fetch(t, s.URL)
			b.wantFault(t, err, "not asked again yet")
			if s.count() != 1 {
				t.Errorf("asked %d times within the pause, want once", s.count())
			}
			b.now = b.now.Add(time.Second)
			_, err = b.fetch(t, s.URL)
			b.wantFault(t, err, "")
			if s.count() != 2 {
				t.Errorf("asked %d times after the pause, want twice", s.count())
			}
		})
	}
}

// chunked sends a text without saying how long it is.
func chunked(text string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		w.(http.Flusher).Flush()
		io.WriteString(w, text)
	}
}

// Data is not taken for a page because a server calls it one.
func TestDataCalledAPage(t *testing.T) {
	s := newServer(t, false, func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html")
		io.WriteString(w, data)
	})
	if got, err := newBench(t).fetch(t, s.URL); err != nil || got.Outcome != Fetched {
		t.Errorf("%+v, %v", got, err)
	}
}

// Slow and broken answers are told apart. They cost the server little, so that
// it may be asked again at once.
func TestSlowAndBroken(t *testing.T) {
	stall := func(w http.ResponseWriter, r *http.Request) {
		w.(http.Flusher).Flush()
		<-r.Context().Done()
	}
	hangUp := func(w http.ResponseWriter) {
		connection, _, err := w.(http.Hijacker).Hijack()
		if err == nil {
			connection.Close()
		}
	}
	for name, c := range map[string]struct {
		answer http.HandlerFunc
		words  string
	}{
		"silent": {func(w http.ResponseWriter, r *http.Request) { <-r.Context().Done() }, "no answer within"},
		"silent after a while": {func(w http.ResponseWriter, r *http.Request) {
			w.Header().Set("Content-Length", "500")
			io.WriteString(w, data)
			stall(w, r)
		}, "the answer stopped after 32 bytes of 500 bytes"},
		"a byte now and then": {func(w http.ResponseWriter, r *http.Request) {
			for r.Context().Err() == nil {
				io.WriteString(w, "x")
				w.(http.Flusher).Flush()
				time.Sleep(20 * time.Millisecond)
			}
		}, "not finished within"},
		"broken off": {func(w http.ResponseWriter, r *http.Request) {
			w.Header().Set("Content-Length", strconv.Itoa(500))
			io.WriteString(w, data)
			w.(http.Flusher).Flush()
			hangUp(w)
		}, "the answer broke off after 32 bytes of 500 bytes"},
		"broken off in chunks": {func(w http.ResponseWriter, r *http.Request) {
			io.WriteString(w, data)
			w.(http.Flusher).Flush()
			hangUp(w)
		}, "the answer broke off after 32 bytes"},
		"packed and cut": {func(w http.ResponseWriter, r *http.Request) {
			io.WriteString(w, packed(data)[:20])
		}, "the answer broke off after 20 bytes"},
		"packed and damaged": {func(w http.ResponseWriter, r *http.Request) {
			text := []byte(packed(data))
			text[len(text)-7] ^= 1 // in the sum at the end
			w.Write(text)
		}, "the packed answer is damaged"},
		"hung up": {func(w http.ResponseWriter, r *http.Request) { hangUp(w) }, "no answer"},
		"no HTTP": {func(w http.ResponseWriter, r *http.Request) {
			connection, _, err := w.(http.Hijacker).Hijack()
			if err == nil {
				io.WriteString(connection, "220 ready\r\n\r\n")
				connection.Close()
			}
		}, "no answer"},
	} {
		t.Run(name, func(t *testing.T) {
			s, b := newServer(t, false, c.answer), newBench(t)
			b.Limits.Silence, b.Limits.Whole = 200*time.Millisecond, 400*time.Millisecond
			for range 2 {
				_, err := b.fetch(t, s.URL)
				b.wantFault(t, err, c.words)
			}
			if s.count() < 2 {
				t.Errorf("asked %d times, want twice", s.count())
			}
		})
	}
}

// Whoever called can break a fetch off, and gets the reason back.
func TestCancelled(t *testing.T) {
	asked := make(chan bool)
	s := newServer(t, false, func(w http.ResponseWriter, r *http.Request) {
		close(asked)
		<-r.Context().Done()
	})
	ctx, cancel := context.WithCancel(t.Context())
	go func() {
		<-asked
		cancel()
	}()
	_, err := newBench(t).Fetch(ctx, s.URL, func(io.Reader) error { return nil })
	if !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want %v", err, context.Canceled)
	}
}
