package fetch

import (
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"
)

func serve(w http.ResponseWriter, r *http.Request) { io.WriteString(w, data) }

// Redirects are followed a few times, to https too, but never from https to
// http.
func TestRedirects(t *testing.T) {
	plain, secure := newServer(t, false, serve), newServer(t, true, serve)
	to := func(address string) http.HandlerFunc {
		return func(w http.ResponseWriter, r *http.Request) { http.Redirect(w, r, address, http.StatusFound) }
	}
	for name, c := range map[string]struct {
		secure bool
		answer http.HandlerFunc
		words  string // of the error; empty: it is fetched
	}{
		"http to http":   {false, to(plain.URL), ""},
		"http to https":  {false, to(secure.URL), ""},
		"https to https": {true, to(secure.URL), ""},
		"https to http":  {true, to(plain.URL), "sends from https to http"},
		"to a file":      {false, to("file:///etc/hostname"), "no answer"},
		"round":          {false, func(w http.ResponseWriter, r *http.Request) { to(r.URL.Path+"x")(w, r) }, "without end"},
		"four times": {false, func(w http.ResponseWriter, r *http.Request) {
			if len(r.URL.Path) > len("/xxxx") {
				serve(w, r)
				return
			}
			to(r.URL.Path+"x")(w, r)
		}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			b, before := newBench(t), plain.count()
			s := newServer(t, c.secure, c.answer)
			b.trust(secure) // all test servers have one certificate
			_, err := b.fetch(t, s.URL+"/")
			switch {
			case c.words != "":
				b.wantFault(t, err, c.words)
				if plain.count() != before || s.count() > 6 {
					t.Errorf("asked on: %d and %d times", plain.count()-before, s.count())
				}
			case err != nil || len(b.got) != 1:
				t.Errorf("%q, %v", b.got, err)
			}
		})
	}
}

// Each kind of trouble before the first byte has its own words.
func TestNoConnection(t *testing.T) {
	secure, plain := newServer(t, true, serve), newServer(t, false, serve)
	closed, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	closed.Close()
	trusting := func(b *bench) { b.trust(secure) }
	for _, c := range []struct {
		address, words string
		prepare        func(*bench)
	}{
		{"http://" + closed.Addr().String(), "the connection is refused", nil},
		{"http://elements.invalid/", "the name elements.invalid is not known", nil},
		{secure.URL, "not signed by anybody", nil},
		{strings.Replace(secure.URL, "127.0.0.1", "localhost", 1), "for another host", trusting},
		{strings.Replace(plain.URL, "http:", "https:", 1), "does not speak TLS", trusting},
		{secure.URL, "expired or not valid yet", func(b *bench) {
			b.trust(secure)
			b.transport.TLSClientConfig.Time = func() time.Time { return secure.Certificate().NotAfter.Add(time.Hour) }
		}},
	} {
		b := newBench(t)
		if c.prepare != nil {
			c.prepare(b)
		}
		_, err := b.fetch(t, c.address)
		b.wantFault(t, err, c.words)
	}
}
