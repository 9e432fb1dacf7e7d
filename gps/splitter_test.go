package gps

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"time"
)

// noon is when the tests of this package begin; invented.
var noon = time.Date(2026, 11, 22, 12, 0, 0, 0, time.UTC)

// split feeds a stream in chunks of the given lengths, in turn.
func split(stream []byte, lengths []byte) (lines []string) {
	var s splitter
	yield := func(line []byte, _ time.Time) { lines = append(lines, string(line)) }
	for i := 0; len(stream) > 0; i++ {
		n := len(stream)
		if len(lengths) > 0 {
			n = min(n, 1+int(lengths[i%len(lengths)]))
		}
		s.feed(stream[:n], noon, 0, yield)
		stream = stream[n:]
	}
	return lines
}

func TestSplitterKeepsGoodSentences(t *testing.T) {
	good := "$GPGLL,0000.5000,S,17959.9400,W,000000.00,A,A*6D"
	long := strings.Repeat("x", 3*maxLine)
	for name, c := range map[string]struct {
		stream string
		want   []string
	}{
		"line ends":                {good + "\r\n" + good + "\n" + good + "\r", []string{good, good, good}},
		"empty lines":              {"\r\n\n\r" + good + "\n\n", []string{good}},
		"NULs":                     {"\x00$GP\x00" + good[3:] + "\x00\r\n\x00", []string{good}},
		"lost half way":            {good[:20] + good + "\r\n", []string{good[:20], good}},
		"doubled start":            {"$" + good + "\n", []string{"$", good}},
		"noise before":             {"\xb5\x62\x01\xff" + good + "\n", []string{"\xb5\x62\x01\xff", good}},
		"encapsulated":             {"!AIVDM,1*00" + good + "\n", []string{"!AIVDM,1*00", good}},
		"encapsulated after noise": {"x!AIVDM,1*00\n", []string{"x", "!AIVDM,1*00"}},
		"overlong":                 {long + "\n" + good + "\n", []string{long[:maxLine], good}},
		"overlong, no end":         {long + good + "\n", []string{long[:maxLine], good}},
		"last not yet ended":       {good + "\n" + good, []string{good}},
	} {
		if got := split([]byte(c.stream), nil); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// A byte takes 10 bits: at 4800 bit/s, 1/480 s.
func TestSplitterDatesTheFirstByte(t *testing.T) {
	for _, c := range []struct {
		chunk string
		baud  int
		want  time.Duration
	}{
		{"$A\n", 4800, -2 * time.Second / 480},
		{"\r\n$" + strings.Repeat("A", 47) + "\n", 4800, -48 * time.Second / 480},
		{"$A\n", 0, 0},
		{"$" + strings.Repeat("A", 200) + "\n", 4800, -64 * time.Second / 480}, // can't have trickled in
	} {
		var s splitter
		called := false
		s.feed([]byte(c.chunk), noon, c.baud, func(_ []byte, first time.Time) {
			called = true
			if got := first.Sub(noon); (got - c.want).Abs() > time.Microsecond {
				t.Errorf("%q at %d: %v, want %v", c.chunk, c.baud, got, c.want)
			}
		})
		if !called {
			t.Errorf("%q: no line", c.chunk)
		}
	}
	// The first byte counts, in whatever chunk it came.
	var s splitter
	s.feed([]byte("$GP"), noon, 4800, nil)
	s.feed([]byte("ZDA\n"), noon.Add(time.Second), 4800, func(_ []byte, first time.Time) {
		if want := noon.Add(-2 * time.Second / 480); first.Sub(want).Abs() > time.Microsecond {
			t.Errorf("in two chunks: %v, want %v", first, want)
		}
	})
}

// Cut anywhere, a stream gives the same lines as uncut.
func FuzzSplitter(f *testing.F) {
	for _, row := range table(f) {
		f.Add([]byte(row.sentence+"\r\n"+row.sentence), []byte{3, 1, 11})
	}
	f.Add(bytes.Repeat([]byte{0, 'x', 0xff}, 300), []byte{0})
	f.Fuzz(func(t *testing.T, stream, lengths []byte) {
		whole, cut := split(stream, nil), split(stream, lengths)
		if !slices.Equal(whole, cut) {
			t.Errorf("cut by %v: %q, uncut %q", lengths, cut, whole)
		}
		for _, line := range whole {
			if len(line) == 0 || len(line) > maxLine || strings.ContainsAny(line, "\x00\r\n") || strings.LastIndexAny(line, "$!") > 0 {
				t.Errorf("line %q", line)
			}
		}
	})
}
