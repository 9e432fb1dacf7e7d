package gps

import (
	"context"
	"testing"
	"testing/synctest"
	"time"
)

func TestFixed(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		r, err := Open(t.Context(), "fixed:57.27,-5.71,40", Options{})
		if err != nil {
			t.Fatal(err)
		}
		got := <-r.Reports()
		want := Fix{Received: time.Now(), LatitudeDeg: 57.27, LongitudeDeg: -5.71, AltitudeM: 40, AltitudeKnown: true, Quality: "fixed"}
		if got.State != Fixed || got.Fix != want || got.Source != "fixed:57.27,-5.71,40" || !got.Fix.Valid() {
			t.Errorf("report %+v, want state Fixed and %+v", got, want)
		}
		select {
		case more := <-r.Reports():
			t.Errorf("a second report: %+v", more)
		case <-time.After(time.Hour):
		}
		r.Close()
		if _, open := <-r.Reports(); open {
			t.Error("reports go on after Close")
		}
	})
}

func TestContextEndsFixed(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		ctx, cancel := context.WithCancel(context.Background())
		r, err := Open(ctx, "fixed:0,0", Options{})
		if err != nil {
			t.Fatal(err)
		}
		if got := <-r.Reports(); got.Fix.AltitudeKnown {
			t.Error("a height is known that nobody gave")
		}
		cancel()
		if _, open := <-r.Reports(); open {
			t.Error("reports go on after the context's end")
		}
	})
}
