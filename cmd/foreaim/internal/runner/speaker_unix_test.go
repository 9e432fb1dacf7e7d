//go:build unix

package runner

import (
	"encoding/binary"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// wavSeconds reads how long a WAV file of 16 bits and one channel sounds.
func wavSeconds(t *testing.T, file string) float64 {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil || len(data) < 44 || string(data[:4]) != "RIFF" || string(data[8:12]) != "WAVE" {
		t.Fatalf("%s is no WAV file: %d bytes, %v", file, len(data), err)
	}
	return float64(len(data)-44) / float64(binary.LittleEndian.Uint32(data[28:]))
}

// said hands over what a speaker has said.
func said(args []string) (*Speaker, chan Spoken) {
	all := make(chan Spoken, 2000)
	return NewSpeaker(args, func(s Spoken) { all <- s }), all
}

// next waits for the next text said; the test ends when none ever is.
func next(t *testing.T, all chan Spoken) Spoken {
	t.Helper()
	select {
	case s := <-all:
		return s
	case <-time.After(30 * time.Second):
		t.Fatal("nothing more is said")
		return Spoken{}
	}
}

// The real voice, as an argument and on standard input, writes speech that is
// as long as estimated.
func TestSpeakerWithTheRealVoice(t *testing.T) {
	if _, err := exec.LookPath("espeak-ng"); err != nil {
		if os.Getenv("CI") == "" {
			t.Skip("espeak-ng is not installed")
		}
		t.Fatal(err)
	}
	const text = "right twenty, half a fist up; burst in twenty-six"
	for _, line := range []string{"espeak-ng -s 160 -w %s {text}", "espeak-ng -s 160 --stdin -w %s"} {
		file := filepath.Join(t.TempDir(), "said it.wav")
		args, err := Split(fmt.Sprintf(line, "'"+file+"'"))
		if err != nil {
			t.Fatal(err)
		}
		s, all := said(args)
		s.Say(text, time.Now().Add(time.Hour), false)
		got := next(t, all)
		s.Close()
		if got.Err != nil || got.Text != text || got.End.Before(got.Start) || s.Problem() != "" {
			t.Errorf("%s: %+v, %s", line, got, s.Problem())
		}
		fresh := Speaker{out: &announcer{}}
		if got, want := wavSeconds(t, file), fresh.Speaking(text).Seconds(); got < want-0.5 || got > want+0.5 {
			t.Errorf("%s: %.2f s of speech, estimated %.2f s", line, got, want)
		}
	}
}

// A thousand texts while the command hangs on a pipe that the test holds: Say
// has returned each time, for nothing else lets the command go on. Then the
// pipe is written to, and only the last text is said.
func TestSayNeverWaits(t *testing.T) {
	pipe, words := heldOpen(t), filepath.Join(t.TempDir(), "words")
	s, all := said([]string{"sh", "-c", `read go <"$0"; echo "$1" >>"$2"`, pipe, "{text}", words})
	defer s.Close()
	for i := range 1001 {
		s.Say(fmt.Sprint("text ", i), time.Now().Add(time.Hour), false)
		if s.Problem() != "" {
			t.Fatal(s.Problem())
		}
		if i == 0 {
			waitFor(t, "the first is begun", func() bool {
				s.out.mu.Lock()
				defer s.out.mu.Unlock()
				return s.out.cut != nil
			})
		}
	}
	for range 2 {
		if err := os.WriteFile(pipe, []byte("go\n"), 0); err != nil { // opens when somebody reads
			t.Fatal(err)
		}
		next(t, all)
	}
	if got, _ := os.ReadFile(words); string(got) != "text 0\ntext 1000\n" {
		t.Errorf("said %q", got)
	}
}

// A thousand urgent texts: each interrupts, no process is left, the last is said.
func TestManyUrgentTexts(t *testing.T) {
	pipe := heldOpen(t)
	s, all := said([]string{"sh", "-c", `trap "" TERM; case "$1" in last) exit;; esac; cat "$0"`, pipe, "{text}"})
	defer s.Close()
	for i := range 1000 {
		s.Say(fmt.Sprint("text ", i), time.Now().Add(time.Hour), true)
	}
	s.Say("last", time.Now().Add(time.Hour), true)
	count := 1
	got := next(t, all)
	for ; got.Text != "last"; got = next(t, all) {
		count++
		if !got.Interrupted {
			t.Errorf("%+v", got)
		}
	}
	if got.Err != nil || got.Interrupted || s.Problem() != "" || count > 1001 {
		t.Errorf("%d texts, the last %+v, problem %q", count, got, s.Problem())
	}
}

func TestSpeakerShowsWhatFails(t *testing.T) {
	program := filepath.Join(t.TempDir(), "voice")
	s, all := said([]string{program})
	defer s.Close()
	s.Say("hold", time.Now().Add(time.Hour), true)
	next(t, all)
	if got := s.Problem(); !strings.HasSuffix(got, "voice: no such program") || strings.Contains(got, "\n") {
		t.Errorf("missing: %q", got)
	}
	// It is installed in mid-pass; it reads the text from its standard input.
	if err := os.WriteFile(program, []byte("#!/bin/sh\ncat >>\"$0.heard\"\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	waitFor(t, "the voice is back", func() bool {
		s.Say("right ten", time.Now().Add(time.Hour), false)
		return s.Problem() == ""
	})
	if got, err := os.ReadFile(program + ".heard"); !strings.HasPrefix(string(got), "right ten\n") {
		t.Errorf("heard %q, %v", got, err)
	}
	f, fails := said([]string{"sh", "-c", "echo 'no sound card' >&2; exit 1"})
	defer f.Close()
	f.Say("hold", time.Now().Add(time.Hour), true)
	next(t, fails)
	if got, want := f.Problem(), "voice: sh: exit status 1: no sound card"; got != want {
		t.Errorf("failing: %q, want %q", got, want)
	}
}
