package runner

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"foreaim/track/aim"
)

// voice stands for a command: it takes factor times the estimate for a text
// (none: for ever), or fails at once.
type voice struct {
	factor float64
	err    error
	begun  []string
}

func (v *voice) run(ctx context.Context, c Command) Result {
	text := strings.TrimSpace(string(c.Input))
	v.begun = append(v.begun, text)
	r := Result{Name: "say", Started: time.Now(), Err: v.err}
	if v.err == nil {
		takes := time.Duration(v.factor * float64(aim.SpeakingTime(text)))
		if v.factor == 0 || takes > c.Timeout {
			takes, r.Err = c.Timeout, ErrTimeout
		}
		select {
		case <-time.After(takes):
		case <-ctx.Done():
			r.Err = ErrStopped
		}
	}
	r.Took = time.Since(r.Started)
	return r
}

// speaking runs a test in virtual time with a speaker that has the voice.
func speaking(t *testing.T, v *voice, test func(t *testing.T, s *Speaker, spoken *[]Spoken)) {
	synctest.Test(t, func(t *testing.T) {
		var spoken []Spoken
		s := &Speaker{args: []string{"say"}}
		s.out = newAnnouncer("voice", func(sp Spoken) { spoken = append(spoken, sp) }, v.run)
		defer s.Close()
		test(t, s, &spoken)
	})
}

// sleep lets virtual time pass, and all that is due happen.
func sleep(d time.Duration) {
	time.Sleep(d)
	synctest.Wait()
}

func in(d time.Duration) time.Time { return time.Now().Add(d) }

func TestNormalTextsWaitAndTheLatestWins(t *testing.T) {
	v := &voice{factor: 1}
	speaking(t, v, func(t *testing.T, s *Speaker, spoken *[]Spoken) {
		s.Say("first", in(time.Minute), false)
		synctest.Wait()
		for i := range 1000 {
			s.Say(fmt.Sprint("text ", i), in(time.Minute), false)
		}
		sleep(time.Minute)
		if got := strings.Join(v.begun, ","); got != "first,text 999" {
			t.Errorf("said %s", got)
		}
		a, b := (*spoken)[0], (*spoken)[1]
		if a.Text != "first" || a.End.Sub(a.Start) != aim.SpeakingTime("first") || b.Start.Before(a.End) || a.Interrupted || b.Err != nil {
			t.Errorf("observed %+v", *spoken)
		}
	})
}

func TestUrgentTextInterrupts(t *testing.T) {
	v := &voice{factor: 1}
	speaking(t, v, func(t *testing.T, s *Speaker, spoken *[]Spoken) {
		s.Say("a long text that nobody needs any more", in(time.Minute), false)
		sleep(time.Second)
		s.Say("waiting", in(time.Minute), false)
		at := time.Now()
		s.Say("now", in(time.Minute), true)
		sleep(time.Minute)
		if got := strings.Join(v.begun, ","); got != "a long text that nobody needs any more,now" {
			t.Errorf("said %s", got)
		}
		if !(*spoken)[0].Interrupted || (*spoken)[0].Err != nil || !(*spoken)[1].Start.Equal(at) || (*spoken)[1].Interrupted {
			t.Errorf("observed %+v", *spoken)
		}
		if s.Problem() != "" {
			t.Errorf("an interruption is no problem: %s", s.Problem())
		}
	})
}

func TestStaleTextIsNotBegun(t *testing.T) {
	v := &voice{factor: 1}
	speaking(t, v, func(t *testing.T, s *Speaker, _ *[]Spoken) {
		need := s.Speaking("burst in eight")
		s.Say("burst in eight", in(need-1), true)
		synctest.Wait()
		s.Say("burst in eight", in(need), true)
		synctest.Wait()
		s.Say("waits too long", in(need), false) // is over only after twice that
		sleep(time.Minute)
		s.Say("", in(time.Minute), true)
		s.Say("\x1b\n", in(time.Minute), true)
		synctest.Wait()
		if got := strings.Join(v.begun, ","); got != "burst in eight" {
			t.Errorf("said %s", got)
		}
	})
}

// A voice that takes twice as long is known after its first text.
func TestSpeakingTimeIsLearned(t *testing.T) {
	v := &voice{factor: 2}
	speaking(t, v, func(t *testing.T, s *Speaker, _ *[]Spoken) {
		guess := s.Speaking("burst in eight")
		s.Say("right twenty, half a fist up", in(time.Minute), false)
		sleep(time.Minute)
		if got := s.Speaking("burst in eight"); (got - 2*guess).Abs() > time.Millisecond {
			t.Errorf("%v, want twice %v", got, guess)
		}
		s.Say("burst in eight", in(2*guess-10*time.Millisecond), true)
		synctest.Wait()
		if len(v.begun) != 1 {
			t.Errorf("said %q, which can't end in time", v.begun[1])
		}
		v.factor = 0.01 // returns at once: somebody else still speaks
		for range 30 {
			s.Say("hold", in(time.Minute), false)
			sleep(10 * time.Second)
		}
		if got := s.Speaking("burst in eight"); (got - guess/2).Abs() > 10*time.Millisecond {
			t.Errorf("%v, want half of %v", got, guess)
		}
	})
}

func TestFailureShowsAndIsRetriedAndRecovers(t *testing.T) {
	v := &voice{factor: 1, err: errors.New("no device")}
	speaking(t, v, func(t *testing.T, s *Speaker, spoken *[]Spoken) {
		var tries []time.Duration
		start := time.Now()
		for range 600 { // a minute, every 100 ms
			before := len(v.begun)
			s.Say("hold", in(time.Minute), true)
			synctest.Wait()
			if len(v.begun) > before {
				tries = append(tries, time.Since(start).Round(100*time.Millisecond))
			}
			sleep(100 * time.Millisecond)
		}
		if got, want := fmt.Sprint(tries), "[0s 1s 3s 7s 15s 31s 47s]"; got != want {
			t.Errorf("tried after %s, want %s", got, want)
		}
		if got, want := s.Problem(), "voice: say: no device"; got != want {
			t.Errorf("problem %q, want %q", got, want)
		}
		if (*spoken)[0].Err == nil || (*spoken)[0].Interrupted {
			t.Errorf("observed %+v", (*spoken)[0])
		}
		v.err = nil
		sleep(lastRetry)
		s.Say("hold", in(time.Minute), false)
		sleep(time.Minute)
		if s.Problem() != "" {
			t.Errorf("still %q", s.Problem())
		}
	})
}

// A command that hangs shows, whether it runs into its time-out or something
// urgent interrupts it each time.
func TestHangingShows(t *testing.T) {
	v := &voice{}
	speaking(t, v, func(t *testing.T, s *Speaker, _ *[]Spoken) {
		s.Say("hold", in(time.Minute), true)
		sleep(time.Second)
		if s.Problem() != "" {
			t.Errorf("too early: %s", s.Problem())
		}
		sleep(time.Minute)
		if !strings.Contains(s.Problem(), ErrTimeout.Error()) {
			t.Errorf("problem %q", s.Problem())
		}
	})
	v = &voice{}
	speaking(t, v, func(t *testing.T, s *Speaker, _ *[]Spoken) {
		s.Say("hold", in(time.Minute), true)
		sleep(2 * time.Second)
		s.Say("hold", in(time.Minute), true)
		synctest.Wait()
		if got, want := s.Problem(), "voice: say: does not end"; got != want {
			t.Errorf("problem %q, want %q", got, want)
		}
	})
}

func TestPanicOfTheObserverShows(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		v := &voice{factor: 1}
		s := &Speaker{args: []string{"say"}, out: newAnnouncer("voice", func(Spoken) { panic("no record") }, v.run)}
		defer s.Close()
		for range 2 {
			s.Say("hold", in(time.Minute), false)
			sleep(time.Minute)
		}
		if len(v.begun) != 2 || s.Problem() != "voice: panic: no record" {
			t.Errorf("said %q, problem %q", v.begun, s.Problem())
		}
	})
}

func TestCloseFallsSilent(t *testing.T) {
	v := &voice{}
	speaking(t, v, func(t *testing.T, s *Speaker, spoken *[]Spoken) {
		s.Say("for ever", in(time.Minute), false)
		synctest.Wait()
		s.Say("never said", in(time.Minute), false)
		s.Close()
		s.Say("too late", in(time.Minute), true)
		s.Close()
		synctest.Wait()
		if len(v.begun) != 1 || !(*spoken)[0].Interrupted || s.Problem() != "" {
			t.Errorf("said %q, observed %+v, problem %q", v.begun, *spoken, s.Problem())
		}
	})
}
