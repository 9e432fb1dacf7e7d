package outing

import (
	"bytes"
	"errors"
	"io"
	"math"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"foreaim/track/internal/testtable"

	"github.com/google/go-cmp/cmp"
)

func TestReadMarks(t *testing.T) {
	text := "\xef\xbb\xbf# marks of an evening\r\n" +
		"kind, time,note,strength,frequency_hz,azimuth_deg,elevation_deg\r\n" +
		"heard,2026-03-01T13:00:31.5+01:00,\"faint, then\nlouder \x1b[31m\",weak,437000500,350.5,-0.5\r\n" +
		"\r\n" +
		"# a line between\r\n" +
		"silent, 2026-03-01T12:01:02Z ,,,,,\r\n"
	got, err := ReadMarks(strings.NewReader(text), "m.csv")
	if err != nil {
		t.Fatal(err)
	}
	want := []Mark{
		{ID: 1, At: at("12:00:31.5"), Kind: Heard, Strength: Weak, FrequencyHz: 437000500,
			Held: Held{Known: true, AzimuthDeg: 350.5, ElevationDeg: -0.5}, Note: "faint, then louder [31m"},
		{ID: 2, At: at("12:01:02"), Kind: Silent},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestReadMarksRefuses(t *testing.T) {
	const head = "time,kind,frequency_hz,strength,azimuth_deg,elevation_deg,note\n"
	const good = "2026-03-01T12:00:31Z,heard,,,,,\n"
	for _, c := range []struct{ name, text, want, hint string }{
		{"empty", "", "m.csv:1:1: empty, want a line of column names", "the columns are time, kind; there may be"},
		{"only comments", "# nothing\n", "m.csv:1:1: empty", "the columns are time, kind; there may be"},
		{"unknown column", "time,kind,snr_db\n", `m.csv:1:11: unknown column "snr_db"`, "the columns are time, kind; there may be frequency_hz, strength,"},
		{"twice", "time,kind,note,kind\n", `m.csv:1:16: column "kind" is there twice`, "the columns are"},
		{"no kind", "time,note\n", `m.csv:1:1: column "kind" is missing`, "the columns are"},
		{"short line", head + good + "2026-03-01T12:00:31Z,heard\n", "m.csv:3:22: 2 cells, want 7", ""},
		{"long line", "time,kind\n2026-03-01T12:00:31Z,heard,437e6\n", "m.csv:2:22: 3 cells, want 2", ""},
		{"no time", head + ",heard,,,,,\n", `m.csv:2:1: time is "", want a time such as`, ""},
		{"empty kind", head + "2026-03-01T12:00:31Z,,,,,,\n", `m.csv:2:22: kind is "", want heard, silent,`, ""},
		{"bad time", head + "12:00,heard,,,,,\n", `m.csv:2:1: time is "12:00", want a time such as 2026-03-01T12:00:31.500Z`, ""},
		{"no zone", head + "2026-03-01T12:00:31,heard,,,,,\n", `m.csv:2:1: time is`, ""},
		{"bad kind", head + good + good + "2026-03-01T12:00:31Z,seen,,,,,\n", `m.csv:4:22: kind is "seen", want heard, silent, not_listening, noise_up or noise_normal`, ""},
		{"bad strength", head + "2026-03-01T12:00:31Z,heard,,S9,,,\n", `m.csv:2:29: strength is "S9", want weak, good, strong or nothing`, ""},
		{"bad frequency", head + "2026-03-01T12:00:31Z,heard,437 MHz,,,,\n", `m.csv:2:28: frequency_hz is "437 MHz", want a number of Hz, 1 to 1e+12`, ""},
		{"no frequency", head + "2026-03-01T12:00:31Z,heard,NaN,,,,\n", `m.csv:2:28: frequency_hz is "NaN"`, ""},
		{"azimuth", head + "2026-03-01T12:00:31Z,heard,,,361,5,\n", `m.csv:2:30: azimuth_deg is "361", want a number of degrees, 0 to 360`, ""},
		{"elevation", head + "2026-03-01T12:00:31Z,heard,,,36,95,\n", `m.csv:2:33: elevation_deg is "95", want a number of degrees, -90 to 90`, ""},
		{"half a direction", head + "2026-03-01T12:00:31Z,heard,,,36,,\n", "m.csv:2:1: only one of azimuth_deg and elevation_deg", ""},
		{"open quote", head + "2026-03-01T12:00:31Z,heard,,,,,\"oh\n", "m.csv:2:36: not CSV: extraneous or missing", ""},
		{"control characters", head + "2026-03-01T12:00:31Z,\x1b]0;x\x07,,,,,\n", `m.csv:2:22: kind is "]0;x"`, ""},
		{"endless", head + strings.Repeat("#", maxMarksFile), "m.csv:1:1: more than 16 MiB", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			marks, err := ReadMarks(strings.NewReader(c.text), "m.csv")
			var fault *FileError
			if marks != nil || !errors.As(err, &fault) || !strings.HasPrefix(err.Error(), c.want) {
				t.Fatalf("%v, %v, want error %q", marks, err, c.want)
			}
			if !strings.HasPrefix(fault.Hint(), c.hint) || c.hint == "" && fault.Hint() != "" {
				t.Errorf("hint %q, want %q", fault.Hint(), c.hint)
			}
		})
	}
	broken := io.MultiReader(strings.NewReader(head+good), iotest.ErrReader(io.ErrClosedPipe))
	if _, err := ReadMarks(broken, "m.csv"); !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("%v, want the reader's error", err)
	}
}

func TestWriteMarks(t *testing.T) {
	marks := []Mark{
		{ID: 1, At: at("12:00:31.5"), Kind: Heard, Strength: Strong, FrequencyHz: 437000123.5,
			Held: Held{Known: true, AzimuthDeg: 12.25, ElevationDeg: 30}, Note: "two\nlines, \x1b[2J"},
		{ID: 2, At: at("12:00:40"), Kind: Heard, Fate: Undone},
		{ID: 3, At: at("12:01:02").In(time.FixedZone("", 3600)), Kind: Silent, FrequencyHz: math.NaN(), Held: Held{Known: true, AzimuthDeg: math.NaN(), ElevationDeg: math.Inf(1)}},
	}
	var b bytes.Buffer
	if err := WriteMarks(&b, marks); err != nil {
		t.Fatal(err)
	}
	want := "time,kind,frequency_hz,strength,azimuth_deg,elevation_deg,note\n" +
		"2026-03-01T12:00:31.500Z,heard,437000123.5,strong,12.25,30,\"two lines, [2J\"\n" +
		"2026-03-01T12:01:02.000Z,silent,,,,,\n"
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Error(diff)
	}
	r, w := io.Pipe()
	r.Close()
	if err := WriteMarks(w, marks); !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("%v, want the writer's error", err)
	}
}

// What is read is written so that it is read again as the same, and nothing
// that can't be shown gets through.
func FuzzReadMarks(f *testing.F) {
	f.Add("time,kind,frequency_hz,strength,azimuth_deg,elevation_deg,note\n2026-03-01T12:00:31.5Z,heard,437e6,weak,0.1,-5,\"a \"\"b\"\"\"\n")
	f.Add("note,kind,time\n#x,silent,2026-03-01T23:59:59.9996-12:00\n\"#x\n\",noise_up,0001-01-01T00:00:01Z\n")
	f.Add("kind,time,note\nheard,9999-12-31T23:59:59.9999Z,\u2028x\u202e\n")
	f.Fuzz(func(t *testing.T, text string) {
		marks, err := ReadMarks(strings.NewReader(text), "f")
		if err != nil {
			if marks != nil {
				t.Errorf("%v beside %v", marks, err)
			}
			testtable.Fault(t, text, err)
			return
		}
		var b bytes.Buffer
		if err := WriteMarks(&b, marks); err != nil {
			t.Fatal(err)
		}
		if !testtable.Printable(strings.ReplaceAll(b.String(), "\n", "")) {
			t.Fatalf("written %q", b.String())
		}
		back, err := ReadMarks(bytes.NewReader(b.Bytes()), "f")
		if err != nil {
			t.Fatalf("%v in\n%s", err, b.String())
		}
		if diff := cmp.Diff(marks, back); diff != "" {
			t.Fatal(diff)
		}
	})
}
