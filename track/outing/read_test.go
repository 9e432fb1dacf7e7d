package outing

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/google/go-cmp/cmp"
)

// summed ends a line as the format says.
func summed(head string) string { return head + sumMark + sum([]byte(head)) + "\"}\n" }

func TestReadFaults(t *testing.T) {
	good := strings.SplitAfter(logOf(t, notes(3)...), "\n")
	head := `{"v":1,"at":"2026-03-25T09:30:02.000Z","kind":`
	for name, c := range map[string]struct {
		line  string // put in place of the second line
		want  Reason
		kept  bool
		words string // part of the message
	}{
		"edited":            {strings.Replace(good[1], "so", "no", 1), Edited, false, "checksum"},
		"half a line":       {good[1][:40] + "\n", Cut, false, "part of a record"},
		"no sum":            {head + `"note","text":"x"}` + "\n", Damaged, false, "checksum"},
		"sum of 8 digits":   {head + `"note","text":"x","sum":"12345678"}` + "\n", Damaged, false, "16 digits"},
		"zeros":             {strings.Repeat("\x00", 700) + "\n", Damaged, false, ""},
		"words":             {"dear diary\n", Damaged, false, ""},
		"newer":             {`{"v":2,"at":"2026-03-25T09:30:02.000Z","kind":"mark","mark":{"deep":[1]},"seal":"?"}` + "\n", Newer, true, "version 2, this program reads 1"},
		"older than all":    {summed(`{"v":0,"at":"2026-03-25T09:30:02.000Z","kind":"note","text":"x"`), Damaged, false, "version 0"},
		"unknown kind":      {summed(head + `"tea","cups":2`), UnknownKind, true, `"tea"`},
		"kind with escapes": {summed(head + `"t\u001b[2Ja"`), UnknownKind, true, `"t[2Ja"`},
		"no time":           {summed(`{"v":1,"kind":"note","text":"x"`), Damaged, false, "no time"},
		"not a time":        {summed(`{"v":1,"at":"noon","kind":"note","text":"x"`), Damaged, false, ""},
		"text for a number": {summed(head + `"fix","latitude_deg":"north"`), Damaged, false, ""},
		"number too large":  {summed(head + `"fix","latitude_deg":1e999`), Damaged, false, ""},
		"out of range":      {summed(head + `"hold","elevation_deg":100`), Impossible, false, "elevation_deg 100 is outside -90 to 90"},
		"mark of no kind":   {summed(head + `"mark","id":1,"mark":"sung","time":"2026-03-25T09:30:02.000Z"`), Impossible, false, "sung"},
		"two objects":       {summed(head + `"note"}{"text":"x"`), Damaged, false, ""},
		"too long":          {strings.Repeat("x", 3*maxLine) + "\n", TooLong, false, "64 kB"},
	} {
		log := read(t, good[0]+c.line+strings.Join(good[2:], ""))
		if diff := cmp.Diff(map[int]Reason{2: c.want}, reasons(log)); diff != "" {
			t.Errorf("%s: faults (-want +got):\n%s", name, diff)
			continue
		}
		f := log.Faults[0]
		if text := f.Error(); !strings.HasPrefix(text, "meadow.jsonl:2: "+string(c.want)) || !strings.Contains(text, c.words) || Clean(text) != text {
			t.Errorf("%s: message %q", name, text)
		}
		want := 3
		if c.kept {
			want = 4
			o, ok := log.Records[1].Entry.(Opaque)
			if !ok || o.Raw+"\n" != c.line {
				t.Errorf("%s: kept %+v, want the line as it was", name, log.Records[1])
			}
			if err := NewWriter(newDisk(), false).Append(log.Records[1]); err == nil {
				t.Errorf("%s: what isn't understood was written", name)
			}
		}
		if len(log.Records) != want || log.Torn {
			t.Errorf("%s: %d records, want %d; torn %v", name, len(log.Records), want, log.Torn)
		}
	}
}

// An editor that ends lines its own way, or leaves out the last end, changes
// nothing; blank lines are nothing.
func TestReadLineEnds(t *testing.T) {
	text := logOf(t, notes(3)...)
	for name, changed := range map[string]string{
		"CRLF":           strings.ReplaceAll(text, "\n", "\r\n"),
		"no last end":    strings.TrimSuffix(text, "\n"),
		"blank lines":    "\n" + strings.ReplaceAll(text, "\n", "\n \n\n"),
		"trailing blank": strings.ReplaceAll(text, "\n", "  \n"),
	} {
		log := read(t, changed)
		if len(log.Faults) > 0 || log.Torn {
			t.Errorf("%s: faults %v, torn %v", name, log.Faults, log.Torn)
		}
		if diff := cmp.Diff(notes(3), entries(log)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
}

// Cut anywhere, a record has all lines before the cut.
func TestReadCutAnywhere(t *testing.T) {
	text := logOf(t, notes(4)...)
	all := entries(read(t, text))
	for cut := range len(text) + 1 {
		log := read(t, text[:cut])
		whole := strings.Count(text[:cut], "\n")
		rest := text[strings.LastIndex(text[:cut], "\n")+1 : cut]
		complete := strings.HasSuffix(rest, `"}`)
		if complete {
			whole++
		}
		if diff := cmp.Diff(all[:whole:whole], append([]Entry{}, entries(log)...)); diff != "" {
			t.Fatalf("cut at %d (-want +got):\n%s", cut, diff)
		}
		if torn := rest != "" && !complete; log.Torn != torn || torn != (len(log.Faults) == 1) {
			t.Fatalf("cut at %d: torn %v, want %v; faults %v", cut, log.Torn, torn, log.Faults)
		}
		if log.Torn && log.Faults[0].Reason != Cut {
			t.Fatalf("cut at %d: %v", cut, log.Faults[0])
		}
	}
}

func TestReadSecondOuting(t *testing.T) {
	again := start
	again.Continued = true
	other := StartEntry{Outing: "20260401T180000Z"}
	first, second := logOf(t, start, NoteEntry{"one"}, EndEntry{}, again, NoteEntry{"two"}), logOf(t, other, NoteEntry{"three"})
	log, err := Read(strings.NewReader(first+second), "both.jsonl")
	var fault *Fault
	if !errors.As(err, &fault) || fault.Reason != Several || fault.Line != 6 || !strings.Contains(fault.Hint(), "lines from 6 on") {
		t.Fatalf("error %v, hint %v", err, fault.Hint())
	}
	want := []Entry{start, NoteEntry{"one"}, EndEntry{}, again, NoteEntry{"two"}}
	if diff := cmp.Diff(want, entries(log)); diff != "" {
		t.Errorf("the first outing (-want +got):\n%s", diff)
	}
}

// A file into which several records were put gives each outing by itself: also one
// that is gone on with behind another, and one behind a line that was cut off.
func TestReadAllOutings(t *testing.T) {
	again, other := start, StartEntry{Outing: "20260401T180000Z"}
	again.Continued = true
	first, second, third := logOf(t, start, NoteEntry{"one"}), logOf(t, other, NoteEntry{"two"}), logOf(t, again, NoteEntry{"three"})
	torn := strings.TrimSuffix(first, "\n")
	torn = torn[:len(torn)-30]
	for name, c := range map[string]struct {
		text  string
		first []Entry
		lines map[int]Reason // faults
	}{
		"one after the other": {first + second, []Entry{start, NoteEntry{"one"}}, map[int]Reason{}},
		"gone on with":        {first + second + third, []Entry{start, NoteEntry{"one"}, again, NoteEntry{"three"}}, map[int]Reason{}},
		"behind one cut off":  {torn + second, []Entry{start}, map[int]Reason{2: Cut}},
	} {
		logs, err := ReadAll(strings.NewReader(c.text), "both.jsonl")
		if err != nil || len(logs) != 2 {
			t.Fatalf("%s: %d outings, want 2: %v", name, len(logs), err)
		}
		if diff := cmp.Diff(c.first, entries(logs[0])); diff != "" {
			t.Errorf("%s: the first outing (-want +got):\n%s", name, diff)
		}
		if diff := cmp.Diff([]Entry{other, NoteEntry{"two"}}, entries(logs[1])); diff != "" {
			t.Errorf("%s: the second outing (-want +got):\n%s", name, diff)
		}
		if diff := cmp.Diff(c.lines, reasons(logs[0])); diff != "" || len(logs[1].Faults) > 0 {
			t.Errorf("%s: faults (-want +got):\n%s%v", name, diff, logs[1].Faults)
		}
	}
	var many strings.Builder
	for i := range mostOutings + 1 {
		many.WriteString(logOf(t, StartEntry{Outing: Text(fmt.Sprint(i))}))
	}
	logs, err := ReadAll(strings.NewReader(many.String()), "many.jsonl")
	var fault *Fault
	if !errors.As(err, &fault) || fault.Reason != Several || fault.Line != mostOutings+1 || len(logs) != mostOutings {
		t.Errorf("of %d outings %d are read: %v", mostOutings+1, len(logs), err)
	}
}

func TestReadWithoutStart(t *testing.T) {
	log := read(t, logOf(t, NoteEntry{"one"}, NoteEntry{"two"}))
	if diff := cmp.Diff(map[int]Reason{1: NoStart}, reasons(log)); diff != "" {
		t.Error(diff)
	}
	if len(log.Records) != 2 {
		t.Errorf("%d records, want 2", len(log.Records))
	}
	if log := read(t, ""); len(log.Faults)+len(log.Records) != 0 || log.Torn {
		t.Errorf("an empty file gives %+v", log)
	}
}

// zeros is a reader without an end.
type zeros struct{ fill byte }

func (z zeros) Read(b []byte) (int, error) {
	for i := range b {
		b[i] = z.fill
	}
	return len(b), nil
}

func TestReadIsBounded(t *testing.T) {
	for _, fill := range []byte{0, 'x'} {
		log, err := Read(zeros{fill}, "endless")
		var fault *Fault
		if !errors.As(err, &fault) || fault.Reason != TooLarge || len(log.Records) > 0 {
			t.Errorf("filled with %q: %v", fill, err)
		}
	}
	log := read(t, strings.Repeat("x\n", maxFaults+7))
	if len(log.Faults) != maxFaults || log.MoreFaults != 7 {
		t.Errorf("%d faults and %d more, want %d and 7", len(log.Faults), log.MoreFaults, maxFaults)
	}
}

func TestReadErrorOfReader(t *testing.T) {
	broken := errors.New("input/output \x1b[31m error")
	text := logOf(t, notes(3)...)
	log, err := Read(io.MultiReader(iotest.OneByteReader(strings.NewReader(text)), iotest.ErrReader(broken)), "stick.jsonl")
	if !errors.Is(err, broken) || !strings.HasPrefix(err.Error(), "stick.jsonl:5: can't be read further") || strings.Contains(err.Error(), "\x1b") {
		t.Errorf("error %q", err)
	}
	if diff := cmp.Diff(notes(3), entries(log)); diff != "" {
		t.Error(diff)
	}
}

// Text that a line carries with a right checksum still can't move a cursor.
func TestControlCharactersAreStripped(t *testing.T) {
	nasty := "a\x1b]0;title\x07b\u009b2Jc\u202ed\r\n\te\u0000\x7f\u2028f"
	want := Text("a]0;titleb2Jcd   e f")
	head := fmt.Sprintf(`{"v":1,"at":"2026-03-25T09:30:02.000Z","kind":"note","text":"%s"`,
		`a\u001b]0;title\u0007b\u009b2Jc\u202ed\r\n\te\u0000`+"\x7f"+`\u2028f`)
	log := read(t, logOf(t, start)+summed(head))
	if got := log.Records[1].Entry; got != (NoteEntry{want}) {
		t.Errorf("read %q, want %q", got, want)
	}
	text := logOf(t, start, NoteEntry{Text(nasty)})
	for _, r := range strings.TrimRight(strings.ReplaceAll(text, "\n", ""), "\n") {
		if r < ' ' || r >= 0x7f {
			t.Errorf("the file has %q in %q", r, text)
		}
	}
	if got := read(t, text).Records[1].Entry; got != (NoteEntry{want}) {
		t.Errorf("written and read %q, want %q", got, want)
	}
	if long := Clean(strings.Repeat("é", 3*maxText)); len([]rune(long)) != maxText {
		t.Errorf("%d characters kept, want %d", len([]rune(long)), maxText)
	}
	if long := Clean(strings.Repeat("e", 3*maxText)); len(long) != maxText {
		t.Errorf("%d letters kept, want %d", len(long), maxText)
	}
}
