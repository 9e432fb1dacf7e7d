package runner

import (
	"slices"
	"strings"
	"testing"
)

func TestSplit(t *testing.T) {
	for _, c := range []struct {
		line string
		want []string
	}{
		{"espeak-ng -s 160 {text}", []string{"espeak-ng", "-s", "160", "{text}"}},
		{"  a\t b  ", []string{"a", "b"}},
		{`sh -c 'echo "$1" | festival --tts'`, []string{"sh", "-c", `echo "$1" | festival --tts`}},
		{`"C:\Program Files\say.exe" it's'`, []string{`C:\Program Files\say.exe`, "its"}},
		{`a "" ''`, []string{"a", "", ""}},
		{`a --name="two words"x`, []string{"a", "--name=two wordsx"}},
		{"a $HOME;b *", []string{"a", "$HOME;b", "*"}},
	} {
		if got, err := Split(c.line); err != nil || !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, %v; want %q", c.line, got, err, c.want)
		}
	}
}

func TestSplitSaysWhatIsWrong(t *testing.T) {
	for line, want := range map[string]string{
		`say "it`:    `the " at column 5 of the command "say \"it" is never closed: add another "`,
		`say ö 'b"`:  `the ' at column 7 of the command "say ö 'b\"" is never closed: add another '`,
		"":           "the command is empty: name a program",
		"  ":         "the command is empty: name a program",
		"'' a":       "the command is empty: name a program",
		"a\x1b[2J":   `control character '\x1b' at column 2 of the command: leave it out`,
		"a \"b\nc\"": `control character '\n' at column 5 of the command: leave it out`,
	} {
		if got, err := Split(line); err == nil || err.Error() != want {
			t.Errorf("%q: %q, %v; want %s", line, got, err, want)
		}
	}
}

// What is split and joined splits into the same again; a line without quotes
// splits as at its blanks; an error is one line.
func FuzzSplit(f *testing.F) {
	for _, s := range []string{"espeak-ng -s 160 {text}", `a "b c" 'd "e"'`, `say "it`, "a '' \"'\"", "\x00", "\xff 'ä'"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, line string) {
		args, err := Split(line)
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n\x1b\x00") {
				t.Fatalf("%q", err)
			}
			return
		}
		again, err := Split(Join(args))
		if err != nil || !slices.Equal(args, again) {
			t.Fatalf("%q, joined %q: %q, %v", args, Join(args), again, err)
		}
		if plain := strings.ToValidUTF8(line, "\uFFFD"); plain == line && !strings.ContainsAny(line, `'"`) {
			if want := strings.FieldsFunc(line, func(r rune) bool { return r == ' ' || r == '\t' }); !slices.Equal(args, want) {
				t.Fatalf("%q, want %q", args, want)
			}
		}
	})
}
