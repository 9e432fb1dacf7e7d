package main

import (
	"bytes"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"sync/atomic"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// publisher is a server of elements for scripts; it counts what it is asked.
type publisher struct {
	*httptest.Server
	asked atomic.Int32
}

// publish starts a publisher for a script, which finds its address in
// PUBLISHER.
func publish(env *testscript.Env) {
	p := &publisher{}
	launch := func() []byte {
		content, err := os.ReadFile(filepath.Join(env.WorkDir, "outing", "launch.tle"))
		if err != nil {
			panic(err)
		}
		return content
	}
	mux := http.NewServeMux()
	mux.HandleFunc("/launch.tle", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("ETag", `"launch"`)
		http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(launch()))
	})
	// The second of two lines each of three objects is the third, sixth, ninth line.
	mux.HandleFunc("/object", func(w http.ResponseWriter, r *http.Request) {
		lines := bytes.SplitAfter(launch(), []byte("\n"))
		for i := 1; i+1 < len(lines); i += 3 {
			if string(lines[i][2:7]) == r.FormValue("number") {
				w.Write(bytes.Join(lines[i-1:i+2], nil))
				return
			}
		}
		http.NotFound(w, r)
	})
	mux.HandleFunc("/page", func(w http.ResponseWriter, _ *http.Request) {
		fmt.Fprint(w, "<!DOCTYPE html><html><title>Sign in</title></html>")
	})
	mux.HandleFunc("/half.tle", func(w http.ResponseWriter, _ *http.Request) {
		content := launch()
		w.Write(content[:len(content)-30])
	})
	mux.HandleFunc("/busy", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Retry-After", "3600")
		w.WriteHeader(http.StatusTooManyRequests)
	})
	p.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		p.asked.Add(1)
		mux.ServeHTTP(w, r)
	}))
	env.Defer(p.Close)
	env.Setenv("PUBLISHER", p.URL)
	env.Values["publisher"] = p
}

// asked is a command of scripts: so many questions reached the publisher.
func asked(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: asked COUNT")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	if got := int(ts.Value("publisher").(*publisher).asked.Load()); got != want {
		ts.Fatalf("the publisher was asked %d times, want %d", got, want)
	}
}
