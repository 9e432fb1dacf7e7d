package gps

import (
	"context"
	"math/rand/v2"
	"testing"
	"testing/synctest"
	"time"
)

// sensorLines are a compass on the boom, a second of it. The first line is row
// N063 of testdata/nmea, the second invented.
const sensorLines = "$SDHDG,229.8,,,1.3,E*36\r\n$HCXDR,A,-12.5,D,PITCH,A,178.9,D,ROLL*02\r\n"

// A receiver on one serial line and a sensor on another; the sensor is pulled
// out and put back.
func TestSensorOnAPortOfItsOwn(t *testing.T) {
	t.Parallel()
	place, boom := newSocket(t), newSocket(t)
	random := rand.New(rand.NewPCG(5, 6))
	receiver := open(t, "serial://"+place.link+"?baud=115200")
	sensor := open(t, "serial://"+boom.link+"?baud=115200")
	both := Join(receiver, sensor)
	t.Cleanup(func() { both.Close() })
	defer keepSending(t, func(text string) error { return place.write(text, 115200, rand.New(rand.NewPCG(1, 2))) })()
	feed := func() (stop func()) {
		return keepSending(t, func(string) error { return boom.write(noise(random)+sensorLines, 115200, random) })
	}
	whole := func(r Report) bool {
		return r.State == Fixed && r.Heading.Fresh(time.Now()) && r.Heading.TrueKnown && r.Heading.RollKnown
	}

	stop := feed()
	got := await(t, both, 3*time.Second, "fix and heading", whole)
	h := *got.Heading
	if want := (Heading{
		Received: h.Received, TrueDeg: h.TrueDeg, TrueKnown: true, MagneticDeg: 229.8, MagneticKnown: true,
		PitchDeg: -12.5, PitchKnown: true, RollDeg: 178.9, RollKnown: true,
	}); h != want || h.TrueDeg < 231.09 || h.TrueDeg > 231.11 {
		t.Errorf("heading %+v, want %+v and 231.1 true", h, want)
	}
	if got.Source != "serial://"+place.link+"?baud=115200" || got.Sensor.Source != "serial://"+boom.link+"?baud=115200" {
		t.Errorf("sources %q and %q", got.Source, got.Sensor.Source)
	}
	stop()
	boom.unplug()
	got = await(t, both, 3*time.Second, "the sensor's loss", func(r Report) bool { return r.Sensor.State == Lost })
	if got.State != Fixed || got.Problem != "" || got.Sensor.Problem == "" || got.Heading == nil {
		t.Errorf("without the sensor: %+v, want a fix, no problem of the receiver's and the last heading", got)
	}
	boom.plug()
	defer feed()()
	await(t, both, 3*time.Second, "the sensor's return", func(r Report) bool { return r.Sensor.State != Lost && whole(r) })
}

// reports makes a receiver that says what a test tells it to.
func reports() (*Receiver, chan<- Report) {
	out := make(chan Report)
	_, cancel := context.WithCancel(context.Background())
	r := &Receiver{reports: out, cancel: cancel, done: make(chan struct{})}
	close(r.done)
	return r, out
}

func TestJoinedHeadings(t *testing.T) {
	own, boom := &Heading{TrueDeg: 10, TrueKnown: true}, &Heading{TrueDeg: 20, TrueKnown: true}
	for name, c := range map[string]struct {
		fix, sensor Report
		want        *Heading
		problem     string
	}{
		"the sensor's":           {Report{Heading: own}, Report{Heading: boom, State: Searching}, boom, ""},
		"lost, another":          {Report{Heading: own}, Report{Heading: boom, State: Lost, Problem: "gone"}, own, "gone"},
		"lost, no other":         {Report{}, Report{Heading: boom, State: Lost, Problem: "gone"}, boom, "gone"},
		"none yet":               {Report{}, Report{State: Searching, Sentences: wordless - 1}, nil, ""},
		"none at all":            {Report{Heading: own}, Report{State: Searching, Sentences: wordless}, own, "it sends sentences, but none says where it points"},
		"its position is no fix": {Report{}, Report{State: Fixed, Fix: Fix{Quality: "gps"}, Heading: boom}, boom, ""},
	} {
		got := joined(c.fix, c.sensor)
		if got.Heading != c.want || got.Sensor.Problem != c.problem || got.Sensor.State != c.sensor.State || got.Fix.Valid() || got.Problem != "" {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// The newest of each counts, an unread report doesn't hold anything up, and a
// joined receiver ends with the first.
func TestJoinEnds(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		first, fixes := reports()
		second, headings := reports()
		both := Join(first, second)
		fixes <- Report{Sentences: 1}
		headings <- Report{Heading: &Heading{TrueDeg: 30, TrueKnown: true}}
		close(headings) // the sensor's last word stays
		fixes <- Report{Sentences: 2}
		synctest.Wait()
		if got := <-both.Reports(); got.Sentences != 2 || got.Heading == nil || got.Heading.TrueDeg != 30 {
			t.Errorf("%+v, want the second report and the heading", got)
		}
		close(fixes)
		if _, open := <-both.Reports(); open {
			t.Error("reports go on after the receiver's end")
		}
		both.Close()
	})
	synctest.Test(t, func(t *testing.T) {
		first, err := Open(context.Background(), "fixed:57.27,-5.71,40", Options{})
		if err != nil {
			t.Fatal(err)
		}
		second, err := Open(context.Background(), "fixed:1,1", Options{})
		if err != nil {
			t.Fatal(err)
		}
		both := Join(first, second)
		synctest.Wait()
		if got := <-both.Reports(); got.Fix.LatitudeDeg != 57.27 || got.Sensor.Source != "fixed:1,1" {
			t.Errorf("%+v, want the first's place", got)
		}
		both.Close()
		for name, r := range map[string]*Receiver{"joined": both, "receiver": first, "sensor": second} {
			if _, open := <-r.Reports(); open {
				t.Errorf("%s: goes on after Close", name)
			}
		}
	})
}
