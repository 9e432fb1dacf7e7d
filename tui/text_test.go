package tui

import (
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
)

// Whatever comes from outside is as wide as its runes are many, and clean text
// stays as it is.
func FuzzClean(f *testing.F) {
	for _, s := range []string{"LARKSPUR-2", "a\x1b[31mb", "tab\tand\nline", "å ß Ж", "漢字", "e\u0301", "\u202etxet", "👩‍🚀", "\xff\xfe", "\u00ad"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got := clean(s)
		if strings.ContainsFunc(got, func(r rune) bool { return r < ' ' || r >= 0x7f && r < 0xa0 }) {
			t.Errorf("clean(%q) = %q holds a control character", s, got)
		}
		if clean(got) != got {
			t.Errorf("clean(%q) = %q, cleaned again %q", s, got, clean(got))
		}
		for _, r := range got {
			if w := ansi.StringWidth(string(r)); w != 1 {
				t.Errorf("clean(%q) holds %q, %d wide", s, r, w)
			}
		}
	})
}

func TestCountdown(t *testing.T) {
	for d, want := range map[time.Duration]string{
		-time.Second: "0", 0: "0", time.Millisecond: "1", 42 * time.Second: "42", 99 * time.Second: "99",
		99*time.Second + 1: "1:40", 599 * time.Second: "9:59", 600 * time.Second: "10m", 5999 * time.Second: "99m",
		6000 * time.Second: "1h", 99 * time.Hour: "99h", 100 * time.Hour: "4d", 9999 * 24 * time.Hour: "999d",
	} {
		if got := countdown(d); got != want {
			t.Errorf("countdown(%v) = %q, want %q", d, got, want)
		}
	}
}

func TestFit(t *testing.T) {
	for _, c := range []struct {
		columns int
		want    string
	}{{20, "one two three"}, {13, "one two three"}, {12, "1 2 3"}, {5, "1 2 3"}, {4, "1 2"}, {0, ""}} {
		if got := fit(c.columns, "one two three", "1 2 3"); got != c.want {
			t.Errorf("fit(%d) = %q, want %q", c.columns, got, c.want)
		}
	}
}

func TestWrap(t *testing.T) {
	got := strings.Join(wrap("a burst is due in overlongword", 8), "|")
	if want := "a burst|is due|in|overlong|word"; got != want {
		t.Errorf("wrap: %q, want %q", got, want)
	}
}
