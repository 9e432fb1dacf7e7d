package runner

import (
	"slices"
	"testing"
)

func TestFill(t *testing.T) {
	for _, c := range []struct {
		args   []string
		values map[string]string
		want   []string
	}{
		{[]string{"say", "-s", "160", "{text}"}, map[string]string{"text": "right twenty; rm -rf $HOME"},
			[]string{"say", "-s", "160", "right twenty; rm -rf $HOME"}},
		{[]string{"{text}", "a{text}b{text}"}, map[string]string{"text": "x y"}, []string{"{text}", "ax ybx y"}},
		{[]string{"p", "{a}{b}"}, map[string]string{"a": "{b}", "b": "{a}"}, []string{"p", "{b}{a}"}},
		{[]string{"p", "{text}", "-{text}"}, map[string]string{"text": "--delete"}, []string{"p", " --delete", "---delete"}},
		{[]string{"p", "{text}"}, map[string]string{"text": "a\x00b\x1b[2J\nc"}, []string{"p", "ab[2J c"}},
		{[]string{"p", "{other}"}, map[string]string{"text": "a"}, []string{"p", "{other}"}},
	} {
		before := slices.Clone(c.args)
		if got := Fill(c.args, c.values); !slices.Equal(got, c.want) {
			t.Errorf("%q with %q: %q, want %q", c.args, c.values, got, c.want)
		}
		if !slices.Equal(c.args, before) {
			t.Errorf("the arguments were changed: %q", c.args)
		}
	}
}

func TestUses(t *testing.T) {
	if !Uses([]string{"say", "x{text}"}, "text") || Uses([]string{"{text}", "text", "{tone}"}, "text") {
		t.Error("{text} counts in arguments only, and in braces only")
	}
}
