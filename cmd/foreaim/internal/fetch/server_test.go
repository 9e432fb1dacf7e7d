package fetch

import (
	"bytes"
	"compress/gzip"
	"crypto/x509"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"
)

// data stands for elements: this package does not look into them.
const data = "GANNET\n1 70001U ...\n2 70001 ...\n"

func packed(text string) string {
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	io.WriteString(w, text)
	w.Close()
	return b.String()
}

// server plays one answer and keeps what it was asked.
type server struct {
	*httptest.Server
	mu    sync.Mutex
	asked []http.Header
}

func newServer(t *testing.T, secure bool, answer http.HandlerFunc) *server {
	s := &server{}
	handler := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.mu.Lock()
		s.asked = append(s.asked, r.Header.Clone())
		s.mu.Unlock()
		answer(w, r)
	})
	s.Server = httptest.NewUnstartedServer(handler)
	s.Config.ErrorLog = quiet()
	if secure {
		s.StartTLS()
	} else {
		s.Start()
	}
	t.Cleanup(s.Close)
	return s
}

func (s *server) count() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return len(s.asked)
}

// bench is a client with a clock that the test moves, and what it was handed.
type bench struct {
	*Client
	now time.Time
	got []string
}

func newBench(t *testing.T) *bench {
	b := &bench{Client: New(t.TempDir(), "foreaim/test"), now: time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)}
	b.Now = func() time.Time { return b.now }
	b.Limits.Silence, b.Limits.MaxBytes = 5*time.Second, 1000
	t.Cleanup(b.Client.Close)
	return b
}

// trust makes the client trust a test server's certificate.
func (b *bench) trust(s *server) {
	roots := x509.NewCertPool()
	roots.AddCert(s.Certificate())
	b.transport.TLSClientConfig.RootCAs = roots
}

func (b *bench) fetch(t *testing.T, address string) (Result, error) {
	return b.Fetch(t.Context(), address, func(r io.Reader) error {
		text, err := io.ReadAll(r)
		b.got = append(b.got, string(text))
		return err
	})
}

// wantFault checks an error's words, that it gives a way out, and that nothing
// was handed over.
func (b *bench) wantFault(t *testing.T, err error, words string) {
	t.Helper()
	var fault *Error
	switch {
	case !errors.As(err, &fault):
		t.Fatalf("error %v, want an *Error", err)
	case !strings.Contains(err.Error(), words):
		t.Errorf("error %q, want one with %q", err, words)
	case fault.Hint() == "":
		t.Errorf("error %q gives no way out", err)
	case len(b.got) > 0:
		t.Errorf("%q was handed over", b.got)
	}
}
