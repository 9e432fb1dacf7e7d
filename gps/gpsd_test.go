package gps

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"net"
	"strings"
	"testing"
	"testing/synctest"
	"time"
)

// standIn speaks as gpsd does: it takes one connection after another, waits for
// the watch command and then lets each say its piece.
func standIn(t *testing.T, pieces ...func(net.Conn)) (url string) {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	done := make(chan struct{})
	t.Cleanup(func() { listener.Close(); <-done })
	go func() {
		defer close(done)
		for _, piece := range pieces {
			conn, err := listener.Accept()
			if err != nil {
				return
			}
			command, _ := bufio.NewReader(conn).ReadString('\n')
			if !strings.HasPrefix(command, `?WATCH={"enable":true,"json":true`) {
				t.Errorf("the first command is %q, want a watch", command)
			}
			piece(conn)
			conn.Close()
		}
	}()
	return "gpsd://" + listener.Addr().String()
}

// The forms are those of gpsd 3.22 (Debian), the values are invented.
func TestGpsdFix(t *testing.T) {
	now := time.Now().UTC().Truncate(time.Second)
	stamp := now.Format("2006-01-02T15:04:05.000Z")
	release := make(chan struct{})
	say := func(conn net.Conn) {
		fmt.Fprintf(conn, `{"class":"VERSION","release":"3.22","rev":"3.22","proto_major":3,"proto_minor":14}`+"\r\n")
		fmt.Fprintf(conn, `{"class":"DEVICES","devices":[{"class":"DEVICE","path":"/dev/pts/1"}]}`+"\r\n")
		fmt.Fprintf(conn, `{"class":"FUTURE","lat":0}`+"\n"+`{"class":"SKY","hdop":1.6,"uSat":8}`+"\n")
		fmt.Fprintf(conn, `{"class":"RAW","x":"%s"}`+"\n", strings.Repeat("x", 3*gpsdLine)) // too long: left out
		fmt.Fprintf(conn, `{"class":"ATT","heading":231.5,"mheading":-127,"pitch":-4.5,"roll":178}`+"\n")
		fmt.Fprintf(conn, `{"class":"TPV","mode":3,"status":2,"time":%q,"lat":57.27,"lon":-5.71,"altHAE":95.0,"altMSL":40.0,"alt":40.0,"geoidSep":55.0}`+"\n", stamp)
		<-release
	}
	r := open(t, standIn(t, say, func(conn net.Conn) {
		fmt.Fprintf(conn, `{"class":"TPV","mode":2,"time":%q,"lat":57.2701,"lon":-5.71}`+"\n", stamp)
		<-t.Context().Done()
	}))
	got := await(t, r, 3*time.Second, "fix", is(Fixed))
	want := Fix{
		Time: got.Fix.Time, Received: got.Fix.Received, LatitudeDeg: 57.27, LongitudeDeg: -5.71,
		AltitudeM: 95, AltitudeKnown: true, Quality: "differential", SatellitesUsed: 8, HDOP: 1.6,
	}
	if got.Fix != want || !got.Fix.Time.IsZero() && !got.Fix.Time.Equal(now) {
		t.Errorf("fix %+v, want %+v of %v", got.Fix, want, now)
	}
	attitude := Heading{
		TrueDeg: 231.5, TrueKnown: true, MagneticDeg: 233, MagneticKnown: true,
		PitchDeg: -4.5, PitchKnown: true, RollDeg: 178, RollKnown: true,
	}
	if h := got.Heading; h == nil {
		t.Error("no heading")
	} else if attitude.Received = h.Received; *h != attitude {
		t.Errorf("heading %+v, want %+v", *h, attitude)
	}
	close(release)
	await(t, r, 3*time.Second, "loss", is(Lost))
	got = await(t, r, 3*time.Second, "recovery", is(Fixed))
	if got.Fix.LatitudeDeg != 57.2701 {
		t.Errorf("latitude %v after the loss, want the new 57.2701", got.Fix.LatitudeDeg)
	}
}

func TestGpsdHeights(t *testing.T) {
	for text, want := range map[string]Fix{
		`"mode":3,"altHAE":95,"altMSL":40,"alt":40,"geoidSep":50`: {AltitudeM: 95, AltitudeKnown: true},
		`"mode":3,"altMSL":40,"alt":41,"geoidSep":50`:             {AltitudeM: 90, AltitudeKnown: true},
		`"mode":3,"alt":41`:           {AltitudeM: 41, AltitudeKnown: true, AltitudeUncertaintyM: geoidM},
		`"mode":3`:                    {},
		`"mode":2,"altHAE":95`:        {},
		`"mode":3,"altHAE":1e9`:       {},
		`"mode":3,"status":3`:         {Quality: "rtk"},
		`"mode":3,"status":5`:         {Quality: "estimated"},
		`"mode":3,"status":8`:         {Quality: "simulated"},
		`"mode":1`:                    {Quality: "none"},
		`"mode":3,"lat":91`:           {Quality: "none"},
		`"mode":3,"lat":1,"lon":-181`: {Quality: "none"},
	} {
		m, err := parseGpsd([]byte(`{"class":"TPV","lat":1,"lon":2,` + text + `}`))
		if err != nil {
			t.Fatal(err)
		}
		if want.Quality == "" {
			want.Quality = "gps"
		}
		if want.Quality != "none" {
			want.LatitudeDeg, want.LongitudeDeg = 1, 2
		}
		if got, _ := m.fix(gpsdSky{}); got != want {
			t.Errorf("%s: %+v, want %+v", text, got, want)
		}
	}
}

// What gpsd says about itself reaches people, without its control characters.
func TestGpsdTroubles(t *testing.T) {
	for say, want := range map[string]string{
		`{"class":"DEVICES","devices":[]}`:                  "knows no receiver",
		`{"class":"ERROR","message":"no\u001b such thing"}`: "no  such thing",
		"SSH-2.0-hello": "not gpsd's JSON",
	} {
		quit := make(chan struct{})
		r := open(t, standIn(t, func(conn net.Conn) { fmt.Fprintln(conn, say); <-quit }))
		got := await(t, r, 3*time.Second, "problem", func(r Report) bool { return r.Problem != "" })
		if got.State != Opening || !strings.Contains(got.Problem, want) || hasControl(got.Problem) {
			t.Errorf("%s: state %v, problem %q, want %q", say, got.State, got.Problem, want)
		}
		close(quit)
	}
}

// With the computer's clock 90 s off either way, a pulse tells it to a few
// milliseconds; one from another computer tells nothing.
func TestGpsdPulse(t *testing.T) {
	for _, offS := range []float64{90, -90} {
		for _, local := range []bool{true, false} {
			now := func() time.Time { return time.Now().Add(time.Duration(-offS * float64(time.Second))) }
			h := newHub(Options{Now: now}, "test:", true)
			system := time.Now()
			line := fmt.Sprintf(`{"class":"PPS","real_sec":%d,"real_nsec":%d,"clock_sec":%d,"clock_nsec":%d,"precision":-20}`,
				system.Unix(), system.Nanosecond(), system.Unix(), system.Nanosecond())
			(&gpsdConn{name: "test", local: local}).take([]byte(line), h.arrived(), h)
			if !local {
				if got := h.report().Clock; got.Known {
					t.Errorf("clock %+v from another computer's pulse", got)
				}
				continue
			}
			got := (<-h.out).Clock
			if !got.Known || math.Abs(got.OffsetS-offS) > got.UncertaintyS || got.UncertaintyS > 0.01 {
				t.Errorf("clock %+v, want an offset of %+v s", got, offS)
			}
		}
	}
}

// The same from sentences, whose first bytes gpsd compares with the system's
// clock. They are delayed by 0.35 to 0.65 s.
func TestGpsdSentenceOffsets(t *testing.T) {
	for _, offS := range []float64{90, -90} {
		synctest.Test(t, func(t *testing.T) {
			options := bubble()
			options.Now = func() time.Time { return time.Now().Add(-time.Duration(offS * 1e9)) }
			h := newHub(options, "test:", true)
			c := &gpsdConn{name: "test", local: true}
			random := rand.New(rand.NewPCG(1, 2))
			for range 20 {
				moment := time.Now()
				delay := 350*time.Millisecond + time.Duration(random.Int64N(300e6))
				time.Sleep(delay)
				read := time.Now()
				time.Sleep(20 * time.Millisecond)
				c.take(fmt.Appendf(nil, `{"class":"TOFF","real_sec":%d,"real_nsec":0,"clock_sec":%d,"clock_nsec":%d}`,
					moment.Unix(), read.Unix(), read.Nanosecond()), h.arrived(), h)
				c.take(fmt.Appendf(nil, `{"class":"TPV","mode":3,"time":%q,"lat":57.27,"lon":-5.71,"altHAE":95}`,
					moment.UTC().Format(time.RFC3339)), h.arrived(), h)
				time.Sleep(time.Until(moment.Add(time.Second)))
			}
			got := (<-h.out).Clock
			if !got.Known || math.Abs(got.OffsetS-offS) > got.UncertaintyS || got.UncertaintyS > 1 {
				t.Errorf("clock %+v, want %+v s within the uncertainty, and that at most 1 s", got, offS)
			}
		})
	}
}

// FuzzGpsd checks that what is read of a line is the same after it was written
// and read again, and that no fix leaves its range.
func FuzzGpsd(f *testing.F) {
	for _, seed := range []string{
		`{"class":"TPV","mode":3,"time":"2027-03-05T10:51:29.000Z","lat":57.27,"lon":-5.71,"altHAE":95.0}`,
		`{"class":"SKY","hdop":1.6,"satellites":[{"PRN":1,"used":true},{"used":false}]}`,
		`{"class":"ATT","heading":1e3,"mheading":-1}`,
		`{"class":"PPS","real_sec":1,"real_nsec":2,"clock_sec":-3,"clock_nsec":4,"precision":-20}`,
		`{"class":"DEVICES","devices":[{"x":[]}]}`, `{"class":"ERROR","message":"\u001b"}`, `[]`, `{"class":7}`,
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, line []byte) {
		h := newHub(Options{Now: time.Now}, "fuzz:", true)
		(&gpsdConn{name: "fuzz", local: true}).take(line, h.arrived(), h)
		h.mu.Lock()
		if r := h.report(); hasControl(r.Problem) || math.Abs(r.Fix.LatitudeDeg) > 90 || math.IsNaN(r.Clock.OffsetS) {
			t.Errorf("%q: %+v", line, r)
		}
		h.mu.Unlock()
		m, err := parseGpsd(line)
		if err != nil {
			return
		}
		once, err := json.Marshal(m)
		if err != nil {
			t.Fatal(err)
		}
		again, err := parseGpsd(once)
		if err != nil {
			t.Fatalf("%s: %v", once, err)
		}
		if twice, err := json.Marshal(again); err != nil || !bytes.Equal(once, twice) {
			t.Fatalf("read again: %s, %v, want %s", twice, err, once)
		}
	})
}
