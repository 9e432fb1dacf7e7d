package gps

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"net"
	"strings"
	"testing"
	"testing/synctest"
	"time"
)

// scripted is a source whose every opening is a function.
type scripted struct{ openings []func() (way, error) }

func (s *scripted) open(context.Context) (way, error) {
	if len(s.openings) == 0 {
		return nil, errors.New("nothing there")
	}
	next := s.openings[0]
	s.openings = s.openings[1:]
	return next()
}

// pipe gives an opening and the sender's end of it.
func pipe() (func() (way, error), net.Conn) {
	here, there := net.Pipe()
	return func() (way, error) { return &nmeaConn{Conn: here, name: "pipe", gone: "closed"}, nil }, there
}

// bubble gives options for synctest, whose clock begins in the year 2000.
func bubble() Options {
	return Options{Now: time.Now, NotBefore: time.Date(1999, 1, 1, 0, 0, 0, 0, time.UTC)}
}

func begin(t *testing.T, src source) *Receiver {
	t.Helper()
	r, err := start(context.Background(), src, newHub(bubble(), "test:", true), false)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// await reads reports until one is right, and gives it. Within the bubble of
// synctest the time is virtual.
func await(t *testing.T, r *Receiver, within time.Duration, what string, right func(Report) bool) Report {
	t.Helper()
	var last Report
	for timeout := time.After(within); ; {
		select {
		case report, ok := <-r.Reports():
			if !ok {
				t.Fatalf("reports ended before %s; the last: %+v", what, last)
			}
			if last = report; right(last) {
				return last
			}
		case <-timeout:
			t.Fatalf("no %s within %v; the last report: %+v", what, within, last)
		}
	}
}

func is(state State) func(Report) bool { return func(r Report) bool { return r.State == state } }

// second gives the sentences that a receiver sends for a moment, at a place that
// moves a little.
func second(at time.Time) string {
	clock, date := at.UTC().Format("150405.00"), at.UTC().Format("020106")
	place := "5716.2" + at.UTC().Format("05") + ",N,00542.6000,W"
	return summed("GPRMC,"+clock+",A,"+place+",0.0,0.0,"+date+",,,A") + "\r\n" +
		summed("GPGGA,"+clock+","+place+",1,08,1.1,40.0,M,55.0,M,,") + "\r\n"
}

// A patient opening outlives a source that isn't there yet, and says so.
func TestPatientOpeningWaits(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		opening, there := pipe()
		absent := func() (way, error) { return nil, errors.New("open test: no such port") }
		src := &scripted{[]func() (way, error){absent, absent, absent, opening}}
		r, err := start(context.Background(), src, newHub(bubble(), "test:", true), true)
		if err != nil {
			t.Fatal(err)
		}
		defer r.Close()
		lost := await(t, r, time.Second, "loss", is(Lost))
		if !strings.Contains(lost.Problem, "no such port") {
			t.Errorf("problem %q", lost.Problem)
		}
		time.Sleep(3 * time.Second)
		go there.Write([]byte(second(time.Now())))
		await(t, r, 3*time.Second, "fix", is(Fixed))
		there.Close()
	})
}

// A silent receiver is lost within 3 s, found again at its first sentence, and
// its last fix is kept meanwhile.
func TestSilenceIsLoss(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		open, sender := pipe()
		r := begin(t, &scripted{openings: []func() (way, error){open}})
		for range 5 {
			sender.Write([]byte(second(time.Now())))
			time.Sleep(time.Second)
		}
		lastByte := await(t, r, time.Second, "fix", is(Fixed)).LastByte
		lost := await(t, r, 3*time.Second, "loss", is(Lost))
		if late := time.Since(lastByte); late > 3*time.Second {
			t.Errorf("loss seen %v after the last byte, want at most 3 s", late)
		}
		if !lost.Fix.Valid() || lost.Problem == "" {
			t.Errorf("lost: fix %+v, problem %q, want the last fix and why", lost.Fix, lost.Problem)
		}
		before := time.Now()
		sender.Write([]byte(second(time.Now())))
		back := await(t, r, time.Second, "recovery", is(Fixed))
		if back.Problem != "" || back.Fix.Received.Before(before) {
			t.Errorf("recovered with problem %q and a fix of %v, want none and a new one", back.Problem, back.Fix.Received)
		}
		r.Close()
	})
}

// A fix from before a loss doesn't make the state Fixed again.
func TestOldFixIsNoFix(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		open, sender := pipe()
		r := begin(t, &scripted{openings: []func() (way, error){open}})
		sender.Write([]byte(second(time.Now())))
		await(t, r, 4*time.Second, "loss", is(Lost))
		time.Sleep(time.Second)
		sender.Write([]byte(summed("GPGSV,1,1,00") + "\r\n"))
		got := await(t, r, time.Second, "another state", func(r Report) bool { return r.State != Lost })
		if got.State != Searching || !got.Fix.Valid() {
			t.Errorf("state %v, fix %+v, want Searching with the old fix", got.State, got.Fix)
		}
		r.Close()
	})
}

// What was closed is opened again, with pauses of at most a second; a way that
// stays silent is closed and opened again too.
func TestOpensAgain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		open1, sender1 := pipe()
		open2, sender2 := pipe()
		open3, sender3 := pipe()
		refuse := func() (way, error) { return nil, errors.New("not\x1b there") }
		r := begin(t, &scripted{openings: []func() (way, error){open1, refuse, refuse, refuse, refuse, refuse, open2, open3}})
		sender1.Write([]byte(second(time.Now())))
		sender1.Close()
		lost := await(t, r, 50*time.Millisecond, "loss", is(Lost))
		if lost.Problem != "pipe: closed" {
			t.Errorf("problem %q, want that the pipe was closed", lost.Problem)
		}
		await(t, r, time.Second, "the second problem", func(r Report) bool { return r.Problem == "not  there" })
		// 0.1, 0.2, 0.4, 0.8, 1 and 1 s of pauses.
		begun := time.Now()
		sender2.Write([]byte(second(time.Now())))
		await(t, r, time.Second, "recovery", is(Fixed))
		if waited := time.Since(begun); waited > 3500*time.Millisecond {
			t.Errorf("opened again after %v, want pauses of at most 1 s", waited)
		}
		begun = time.Now()
		sender3.Write([]byte(second(time.Now())))
		await(t, r, time.Second, "recovery after long silence", is(Fixed))
		if waited := time.Since(begun); waited < reopenAfter || waited > reopenAfter+time.Second {
			t.Errorf("a silent way was opened again after %v, want about %v", waited, reopenAfter)
		}
		r.Close()
	})
}

// A computer that is 90 s off learns it, whatever the delays of the sentences:
// the truth lies within the stated uncertainty.
func TestClockOfAnUnsetComputer(t *testing.T) {
	for _, offS := range []float64{90, -90} {
		synctest.Test(t, func(t *testing.T) {
			options := bubble()
			options.Now = func() time.Time { return time.Now().Add(-time.Duration(offS * 1e9)) }
			open, sender := pipe()
			r, err := start(t.Context(), &scripted{openings: []func() (way, error){open}}, newHub(options, "test:", true), false)
			if err != nil {
				t.Fatal(err)
			}
			random := rand.New(rand.NewPCG(1, 2))
			for range 30 {
				moment := time.Now()
				delay := 350*time.Millisecond + time.Duration(random.Int64N(300e6))
				time.Sleep(delay)
				sender.Write([]byte(second(moment)))
				time.Sleep(time.Second - delay)
			}
			got := await(t, r, time.Second, "clock", func(r Report) bool { return r.Clock.Known }).Clock
			if math.Abs(got.OffsetS-offS) > got.UncertaintyS || got.UncertaintyS > 1 {
				t.Errorf("clock %+v, want %+v s within the uncertainty, and that at most 1 s", got, offS)
			}
			r.Close()
		})
	}
}

// Bytes without sentences are no receiver.
func TestGarbageIsSaid(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		open, sender := pipe()
		r := begin(t, &scripted{openings: []func() (way, error){open}})
		for range 4 {
			sender.Write([]byte("\x00\xff~~~\x1b]0;title\x07"))
			time.Sleep(time.Second)
		}
		got := await(t, r, time.Second, "problem", func(r Report) bool { return r.Problem != "" })
		if got.State != Opening || !strings.Contains(got.Problem, "no sentence") || hasControl(got.Problem) {
			t.Errorf("state %v, problem %q, want Opening and that there is no sentence", got.State, got.Problem)
		}
		r.Close()
	})
}

type panicking struct{ way }

func (panicking) listen(context.Context, *hub) error { panic("slipped\x1b[2J") }

// A mistake in a reader ends the source, not the program.
func TestPanicBecomesProblem(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		open, _ := pipe()
		w, _ := open()
		r := begin(t, &scripted{openings: []func() (way, error){func() (way, error) { return panicking{w}, nil }}})
		got := await(t, r, time.Second, "problem", func(r Report) bool { return r.Problem != "" })
		if got.State != Lost || !strings.Contains(got.Problem, "slipped") || hasControl(got.Problem) {
			t.Errorf("state %v, problem %q, want Lost and what slipped", got.State, got.Problem)
		}
		r.Close()
		if _, open := <-r.Reports(); open {
			t.Error("reports go on after Close")
		}
	})
}

// Close returns at once whatever is going on: the bubble's clock stands still,
// and no goroutine is left in it.
func TestCloseInEveryState(t *testing.T) {
	for name, wait := range map[string]time.Duration{
		"at once": 0, "fixed": 100 * time.Millisecond, "lost": 4 * time.Second, "opening again": 11 * time.Second,
	} {
		for _, how := range []string{"Close", "context"} {
			t.Run(name+", "+how, func(t *testing.T) {
				synctest.Test(t, func(t *testing.T) {
					open, sender := pipe()
					ctx, cancel := context.WithCancel(context.Background())
					defer cancel()
					r, err := start(ctx, &scripted{openings: []func() (way, error){open}}, newHub(bubble(), "test:", true), false)
					if err != nil {
						t.Fatal(err)
					}
					sender.Write([]byte(second(time.Now())))
					time.Sleep(wait)
					begun := time.Now()
					if how == "context" {
						cancel()
						synctest.Wait()
					} else if err := r.Close(); err != nil {
						t.Error(err)
					}
					for range r.Reports() { // ends when it is closed
					}
					if took := time.Since(begun); took != 0 {
						t.Errorf("closing took %v", took)
					}
					r.Close() // a second time does no harm
				})
			})
		}
	}
}

// Nobody reads, and the newest report is still the one that is kept.
func TestNewestReportWins(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		open, sender := pipe()
		r := begin(t, &scripted{openings: []func() (way, error){open}})
		for range 50 {
			sender.Write([]byte(second(time.Now())))
			time.Sleep(time.Second)
		}
		got := <-r.Reports()
		if age := time.Since(got.Fix.Received); age > time.Second || got.Sentences != 100 {
			t.Errorf("fix of %v ago, %d sentences, want the newest after 100", age, got.Sentences)
		}
		select {
		case more := <-r.Reports():
			t.Errorf("a second report waited: %+v", more)
		default:
		}
		r.Close()
	})
}
