package runner

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

func TestCleanOutput(t *testing.T) {
	raw := "10 %\r 20 %\r\n\x1b[31mred\x1b]0;title\a  \n\n\xff\u202eabc\ttab\x7f\u0085"
	if got, want := cleanOutput([]byte(raw)), "10 %\n 20 %\n[31mred]0;title\n\uFFFDabc tab"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func FuzzCleanOutput(f *testing.F) {
	f.Add([]byte("a\r\nb\x1b[2J\xff\u202e"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		got := cleanOutput(raw)
		for _, r := range got {
			if r != '\n' && !unicode.IsPrint(r) {
				t.Fatalf("%q in %q", r, got)
			}
		}
		if !utf8.ValidString(got) || cleanOutput([]byte(got)) != got || strings.Contains(oneLine(string(raw)), "\n") {
			t.Fatalf("%q, cleaned again %q", got, cleanOutput([]byte(got)))
		}
	})
}
