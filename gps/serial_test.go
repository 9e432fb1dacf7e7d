package gps

import (
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
	"go.bug.st/serial"
)

// socket is a place for a receiver: a stable name, behind it a pseudo-terminal
// while one is plugged in.
type socket struct {
	t             *testing.T
	link          string
	master, slave *os.File
}

func newSocket(t *testing.T) *socket {
	s := &socket{t: t, link: filepath.Join(t.TempDir(), "ttyGPS")}
	s.plug()
	t.Cleanup(s.unplug)
	return s
}

func (s *socket) plug() {
	s.t.Helper()
	master, slave, err := pty.Open()
	if errors.Is(err, pty.ErrUnsupported) {
		s.t.Skip("no pseudo-terminals on this system")
	} else if err != nil {
		s.t.Fatal(err)
	}
	if err := os.Symlink(slave.Name(), s.link); err != nil {
		s.t.Fatal(err)
	}
	s.master, s.slave = master, slave
}

func (s *socket) unplug() {
	if s.master != nil {
		os.Remove(s.link)
		s.slave.Close()
		s.master.Close()
		s.master = nil
	}
}

// write sends text at a speed in bit/s, in small pieces of any length.
func (s *socket) write(text string, baud int, random *rand.Rand) error {
	next := time.Now()
	for text != "" {
		n := min(1+random.IntN(32), len(text))
		if _, err := s.master.WriteString(text[:n]); err != nil {
			return err
		}
		text = text[n:]
		next = next.Add(time.Duration(n) * 10 * time.Second / time.Duration(baud))
		time.Sleep(time.Until(next))
	}
	return nil
}

// noise is what a bad plug or a binary protocol puts between sentences.
func noise(random *rand.Rand) string {
	b := make([]byte, random.IntN(40))
	for i := range b {
		b[i] = byte(random.IntN(256))
	}
	return string(b)
}

// Recorded and invented sentences at two speeds, cut anywhere and with noise
// between them: every one is found, and none besides. The recorded ones are
// those of testdata/nmea, with their source.
func TestSerialLine(t *testing.T) {
	rows := table(t)
	for name, baud := range map[string]int{"4800 baud": 4800, "115200 baud": 115200} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			random := rand.New(rand.NewPCG(7, uint64(baud)))
			now := time.Now()
			var lines []string
			if baud > 4800 {
				for _, r := range rows {
					lines = append(lines, r.sentence)
				}
				for i := range 40 {
					lines = append(lines, strings.Fields(second(now.Add(time.Duration(i-120)*time.Second)))...)
				}
			}
			for i := range 6 {
				lines = append(lines, strings.Fields(second(now.Add(time.Duration(i)*time.Second)))...)
			}
			direct := newDecoder(Options{Now: time.Now})
			var stream strings.Builder
			for _, line := range lines {
				direct.line([]byte(line), now, 0)
				// A '$' or '!' of the noise only begins a line that is refused.
				stream.WriteString(noise(random) + line + "\r\n")
			}
			want := direct.report().Sentences

			s := newSocket(t)
			r := open(t, "serial://"+s.link)
			if err := s.write(stream.String(), baud, random); err != nil {
				t.Fatal(err)
			}
			got := await(t, r, 3*time.Second, "all sentences", func(r Report) bool { return r.Sentences >= want })
			if got.Sentences != want || got.Rejected == 0 || got.State != Fixed {
				t.Errorf("%d sentences, %d rejected, state %v, want %d, some and Fixed", got.Sentences, got.Rejected, got.State, want)
			}
			if !strings.HasSuffix(got.Source, "?baud=4800") {
				t.Errorf("source %s, want the first speed tried: a pseudo-terminal takes any", got.Source)
			}
		})
	}
}

// Unplugged while it sends and plugged in again, as another device behind the
// same name.
func TestUnpluggedAndPluggedInAgain(t *testing.T) {
	t.Parallel()
	s := newSocket(t)
	random := rand.New(rand.NewPCG(3, 4))
	r := open(t, "serial://"+s.link+"?baud=115200")
	var before Report
	for round := range 3 {
		stop := keepSending(t, func(text string) error { return s.write(noise(random)+text, 115200, random) })
		got := await(t, r, 3*time.Second, "fix", is(Fixed))
		if round > 0 && (got.Sentences <= before.Sentences || !got.Fix.Received.After(before.Fix.Received)) {
			t.Errorf("after the loss: %+v, want more than before: %+v", got, before)
		}
		stop()
		if round == 1 { // half a sentence as the last thing
			s.master.WriteString("$GPGGA,1200")
		}
		s.unplug()
		before = await(t, r, 3*time.Second, "loss", is(Lost))
		if !before.Fix.Valid() || !strings.Contains(before.Problem, s.link) {
			t.Errorf("lost with fix %+v, problem %q, want the last fix and the port", before.Fix, before.Problem)
		}
		time.Sleep(300 * time.Millisecond)
		s.plug()
	}
}

// A receiver that falls silent while its port stays.
func TestSerialSilence(t *testing.T) {
	t.Parallel()
	s := newSocket(t)
	random := rand.New(rand.NewPCG(5, 6))
	r := open(t, "serial://"+s.link)
	stop := keepSending(t, func(text string) error { return s.write(text, 115200, random) })
	await(t, r, 3*time.Second, "fix", is(Fixed))
	stop()
	lost := await(t, r, 4*time.Second, "loss", is(Lost))
	if quiet := time.Since(lost.LastByte); quiet > 3*time.Second {
		t.Errorf("loss seen %v after the last byte, want at most 3 s", quiet)
	}
	keepSending(t, func(text string) error { return s.write(text, 115200, random) })
	await(t, r, 3*time.Second, "recovery", is(Fixed))
}

func TestSerialCloseIsPrompt(t *testing.T) {
	t.Parallel()
	s := newSocket(t)
	for _, unplugged := range []bool{false, true} {
		r, err := Open(t.Context(), "serial://"+s.link, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if unplugged {
			s.unplug()
			await(t, r, time.Second, "loss", is(Lost))
		}
		begun := time.Now()
		r.Close()
		if took := time.Since(begun); took > time.Second { // 0.2 s and a busy computer
			t.Errorf("unplugged %v: closing took %v", unplugged, took)
		}
	}
}

func TestSerialPortMissing(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		"/dev/no-such-port": "open /dev/no-such-port: no such port",
		file:                "open " + file + ": not a serial port",
	} {
		_, err := Open(t.Context(), "serial://"+path, Options{})
		var e *Error
		if !errors.As(err, &e) || !strings.HasPrefix(e.What, want) || !strings.Contains(e.Hint, "foreaim gps --list") {
			t.Errorf("%s: %v, want %q and a hint", path, err, want)
		}
	}
}

func TestSerialErrors(t *testing.T) {
	for _, c := range []struct {
		err        error
		what, hint string
	}{
		{fs.ErrNotExist, "open /dev/x: no such port", "--list"},
		{fs.ErrPermission, "open /dev/x: no permission", "dialout"},
		{&serial.PortError{}, "open /dev/x: another program uses it", "gpsd"}, // the zero code is PortBusy
		{errors.New("odd\x07"), "open /dev/x: odd", "--list"},
	} {
		e := serialError("/dev/x", c.err)
		if e.What != c.what || !strings.Contains(e.Hint, c.hint) || !errors.Is(e, c.err) {
			t.Errorf("%v: %q, hint %q, want %q and %q", c.err, e.What, e.Hint, c.what, c.hint)
		}
	}
}
