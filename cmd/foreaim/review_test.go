package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"foreaim/track/elements"
	"foreaim/track/outing"

	"github.com/charmbracelet/x/ansi"
	"github.com/google/go-cmp/cmp"
)

const (
	earlyRecord   = "../../testdata/outing/review_early.jsonl"   // the satellite is 185 s early
	shiftedRecord = "../../testdata/outing/review_shifted.jsonl" // the beacon is off schedule
)

// The answer for programs tells the truth of the invented outing.
func TestReviewTellsPrograms(t *testing.T) {
	var answer struct {
		Passes []struct {
			Satellite                                      string
			FacingHow                                      string                         `json:"facing_how"`
			Site                                           *struct{ LatitudeDeg float64 } `json:"site"`
			Expected, Heard, Silent, Unexpected            int
			TimeErrorLowS                                  float64 `json:"time_error_low_s"`
			TimeErrorHighS                                 float64 `json:"time_error_high_s"`
			TimeErrorS, HeadingErrorDeg, ObjectProbability *float64
			Verdict                                        *struct {
				Words string
				Odds  []struct {
					Cause       string
					Probability float64
				}
			}
			Change []struct{ Cause, Words string }
			Bursts []struct {
				Time    time.Time
				Outcome string
			}
		}
		Lasting []struct {
			Cause     string
			FacingHow string `json:"facing_how"`
		}
	}
	runJSON(t, &answer, "review", earlyRecord, shiftedRecord)
	if len(answer.Passes) != 2 {
		t.Fatalf("%d passes, want 2", len(answer.Passes))
	}
	early, shifted := answer.Passes[0], answer.Passes[1]
	if early.Satellite != "EMBERLING" || early.Expected != 23 || early.Heard != 3 || early.Silent != 20 || len(early.Bursts) != 23 || early.Site == nil {
		t.Errorf("%+v", early)
	}
	if early.TimeErrorLowS < -230 || early.TimeErrorHighS > -140 || early.TimeErrorLowS > early.TimeErrorHighS {
		t.Errorf("time error %v to %v s, true is -185 s", early.TimeErrorLowS, early.TimeErrorHighS)
	}
	if v := early.Verdict; v == nil || v.Odds[0].Cause != "elements or wrong object" || v.Odds[0].Probability < 0.8 || len(v.Odds) != 8 {
		t.Errorf("verdict %+v, true are elements and aim", early.Verdict)
	}
	if len(early.Change) == 0 || early.Change[0].Cause != "elements or wrong object" || !strings.Contains(early.Change[0].Words, "early") {
		t.Errorf("changes %+v", early.Change)
	}
	// The operators of these simulations found north by a landmark.
	if how := early.FacingHow; how != "landmark" {
		t.Errorf("north was found by %q, want a landmark", how)
	}
	for _, l := range answer.Lasting {
		if want := map[string]string{"north": "landmark"}[l.Cause]; l.FacingHow != want {
			t.Errorf("what stays of %s was found by %q, want %q", l.Cause, l.FacingHow, want)
		}
	}
	if v := shifted.Verdict; v == nil || v.Odds[0].Cause != "transmitter silent or off schedule" || shifted.Unexpected < 5 {
		t.Errorf("verdict %+v, true is a beacon off schedule", shifted.Verdict)
	}
}

// The text is whole on a wide and on a narrow terminal.
func TestReviewFits(t *testing.T) {
	for _, width := range []int{80, 53} {
		var out, errs bytes.Buffer
		sys := testSystem(system{
			stdout: &out, stderr: &errs, width: width, env: func(string) string { return "" },
			configFile:    filepath.Join(t.TempDir(), "none.toml"),
			interruptible: func() (context.Context, context.CancelFunc) { return context.WithCancel(t.Context()) },
		})
		if status := run([]string{"review", earlyRecord, shiftedRecord}, sys); status != statusDone || errs.Len() > 0 {
			t.Fatalf("exit status %d: %s", status, errs.String())
		}
		for line := range strings.Lines(out.String()) {
			if w := ansi.StringWidth(strings.TrimSuffix(line, "\n")); w > width {
				t.Errorf("at %d columns a line has %d: %s", width, w, line)
			}
		}
		for _, want := range []string{"elements or wrong object", "What to change", "Odds", "23 expected, 3 heard, 20 silent", "11:58:31  heard, good"} {
			if !strings.Contains(out.String(), want) {
				t.Errorf("at %d columns it doesn't say %q", width, want)
			}
		}
	}
}

// What is sent to the satellite's team is read again as marks, and tells the place
// only as far as it may.
func TestReviewExports(t *testing.T) {
	for how, c := range map[string]struct {
		place      string
		directions bool
	}{"exact": {"57.2700° N 5.7100° W, 40 m", true}, "rounded": {"near 57.3° N 5.7° W", true}, "none": {"", false}} {
		file := filepath.Join(t.TempDir(), "heard.csv")
		if status, _, stderr := runHere(t, t.Context(), "review", earlyRecord, "--export", file, "--place", how); status != statusDone {
			t.Fatal(stderr)
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		marks, err := outing.ReadMarks(bytes.NewReader(data), file)
		if err != nil || len(marks) != 3 {
			t.Fatalf("%d marks, want 3: %v", len(marks), err)
		}
		if !strings.Contains(string(data), c.place) || how != "exact" && strings.Contains(string(data), "57.27") || how == "none" && strings.Contains(string(data), "57.") {
			t.Errorf("%s: %s", how, data)
		}
		for _, m := range marks {
			if m.Kind != outing.Heard || m.Held.Known != c.directions {
				t.Errorf("%s: mark %+v", how, m)
			}
			if a := m.Held.AzimuthDeg; how == "rounded" && a != 5*float64(int(a/5)) {
				t.Errorf("rounded: azimuth %v", a)
			}
		}
		if !slices.ContainsFunc(marks, func(m outing.Mark) bool { return m.FrequencyHz == 437092960 }) {
			t.Errorf("%s: a frequency is lost", how)
		}
	}
}

// The page is written whole, and its place is told as far as it may be.
func TestReviewWritesPage(t *testing.T) {
	file := filepath.Join(t.TempDir(), "review.html")
	for how, want := range map[string]bool{"exact": true, "none": false} {
		if status, _, stderr := runHere(t, t.Context(), "review", earlyRecord, "--html", file, "--place", how); status != statusDone {
			t.Fatal(stderr)
		}
		data, err := os.ReadFile(file)
		if err != nil || !strings.HasSuffix(string(data), "</html>\n") {
			t.Fatalf("not a whole page: %v", err)
		}
		if got := strings.Contains(string(data), "57.27"); got != want {
			t.Errorf("--place %s: the place is told: %v", how, got)
		}
	}
	link := filepath.Join(t.TempDir(), "link.html")
	if err := os.Symlink(file, link); err != nil {
		t.Skip("no symbolic links here: ", err)
	}
	if status, _, stderr := runHere(t, t.Context(), "review", earlyRecord, "--html", link); status != statusDone {
		t.Fatal(stderr)
	}
	info, err := os.Lstat(link)
	data, readErr := os.ReadFile(file)
	if err != nil || readErr != nil || info.Mode().IsRegular() || !strings.Contains(string(data), "57.27") {
		t.Errorf("a link is written over: %v, %v", err, readErr)
	}
	if status, _, stderr := runHere(t, t.Context(), "review", earlyRecord, "--html", filepath.Dir(link)); status != statusFailed || !strings.Contains(stderr, "is a directory") {
		t.Errorf("a folder for a file: exit status %d, %s", status, stderr)
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(file), ".foreaim-*")); len(left) > 0 {
		t.Errorf("left over: %v", left)
	}
}

// With the group named it may have been another object: one that comes 185 s before
// the one whose elements were used, on time, is likelier than that one early by as
// much, which is what was simulated. One in quite another orbit takes nothing away.
func TestReviewWeighsGroup(t *testing.T) {
	used := usedElements(t, earlyRecord)
	ahead, away := used, used
	ahead.Name, ahead.CatalogueNumber = "TIDELARK", 99072
	ahead.AnomalyDeg = math.Mod(ahead.AnomalyDeg+185*ahead.MeanMotionRevPerDay*360/86400, 360)
	away.Name, away.CatalogueNumber = "FENWREN", 99073
	away.NodeDeg = math.Mod(away.NodeDeg+345, 360)
	type answer struct {
		Passes []struct {
			Objects []struct {
				Satellite   string
				Probability float64
			}
			ObjectProbability float64 `json:"object_probability"`
			Verdict           struct {
				Odds []struct {
					Cause       string
					Probability float64
				}
			}
			Change []struct{ Words string }
		}
	}
	group := func(sets ...elements.Set) string {
		var text strings.Builder
		for _, s := range sets {
			line1, line2, err := s.TLE()
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintf(&text, "%s\n%s\n%s\n", s.Name, line1, line2)
		}
		file := filepath.Join(t.TempDir(), "group.tle")
		if err := os.WriteFile(file, []byte(text.String()), 0o600); err != nil {
			t.Fatal(err)
		}
		return file
	}
	var alone, with, without answer
	runJSON(t, &alone, "review", earlyRecord)
	runJSON(t, &with, "review", earlyRecord, "--group", group(used, ahead, away))
	runJSON(t, &without, "review", earlyRecord, "--group", group(used, away))
	if len(alone.Passes[0].Objects) > 0 {
		t.Errorf("without a group: %+v", alone.Passes[0].Objects)
	}
	p := with.Passes[0]
	if len(p.Objects) != 3 || p.Objects[0].Satellite != "TIDELARK" || p.Objects[0].Probability < 0.5 {
		t.Fatalf("objects %+v, want TIDELARK first", p.Objects)
	}
	sum := 0.0
	for _, o := range p.Objects {
		sum += o.Probability
	}
	if sum > 1.001 || p.ObjectProbability > alone.Passes[0].ObjectProbability/2 || p.Verdict.Odds[0].Cause != "elements or wrong object" {
		t.Errorf("objects %+v, that of the elements %.2f, alone %.2f; %+v", p.Objects, p.ObjectProbability, alone.Passes[0].ObjectProbability, p.Verdict)
	}
	if len(p.Change) == 0 || !strings.Contains(p.Change[0].Words, "elements of TIDELARK") {
		t.Errorf("changes %+v", p.Change)
	}
	if got, want := without.Passes[0].ObjectProbability, alone.Passes[0].ObjectProbability; got < want-0.1 || without.Passes[0].Objects[0].Satellite != "EMBERLING" {
		t.Errorf("with an object that doesn't fit it is this one with %.2f, without it %.2f; %+v", got, want, without.Passes[0].Objects)
	}
}

// Two outings in one file are reviewed as two, as from a file each.
func TestReviewOfOutingsInOneFile(t *testing.T) {
	type answer struct {
		Passes  []map[string]any `json:"passes"`
		Lasting []map[string]any `json:"lasting"`
	}
	var want, got answer
	runJSON(t, &want, "review", earlyRecord, shiftedRecord)
	both := filepath.Join(t.TempDir(), "both.jsonl")
	for _, file := range []string{earlyRecord, shiftedRecord} {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		appendFile(t, both, data)
	}
	runJSON(t, &got, "review", both)
	for _, a := range []answer{want, got} {
		for _, p := range a.Passes {
			delete(p, "file")
		}
	}
	if diff := cmp.Diff(want, got); diff != "" || len(got.Passes) != 2 || len(got.Lasting) == 0 {
		t.Errorf("%d passes, %d errors that stay or not (-a file each +one file):\n%s", len(got.Passes), len(got.Lasting), diff)
	}
}

func appendFile(t *testing.T, path string, data []byte) {
	t.Helper()
	file, err := os.OpenFile(path, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err == nil {
		_, err = file.Write(data)
		err = errors.Join(err, file.Close())
	}
	if err != nil {
		t.Fatal(err)
	}
}

// Bad records say where and what would be right; what can be read is reviewed.
func TestReviewOfBadRecords(t *testing.T) {
	folder := t.TempDir()
	put := func(name string, data []byte) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	early, err := os.ReadFile(earlyRecord)
	if err != nil {
		t.Fatal(err)
	}
	shifted, err := os.ReadFile(shiftedRecord)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name   string
		args   []string
		status int
		stdout string
		stderr string
	}{
		{"no file", []string{filepath.Join(folder, "none.jsonl")}, statusWrong, "", "no such file"},
		{"no record", []string{put("text.jsonl", []byte("time,kind\n"))}, statusWrong, "", "text.jsonl:1: damaged"},
		{"empty", []string{put("empty.jsonl", nil)}, statusWrong, "", "there is nothing in it"},
		{"nothing named", nil, statusWrong, "", "there is no record of an outing yet"},
		{"cut", []string{put("cut.jsonl", early[:len(early)-700])}, statusDone, "EMBERLING", "cut off"},
		{"two in one", []string{put("two.jsonl", append(slices.Clone(early), shifted...))}, statusDone, "3 heard", ""},
		{"no start", []string{put("tail.jsonl", early[len(early)/2:])}, statusDone, "No verdict", "the beginning is missing"},
		{"elements for nothing", []string{earlyRecord, "--elements", "../../testdata/outing/launch.tle"}, statusWrong, "", "--elements has nothing to do without a group"},
		{"no such group", []string{earlyRecord, "--group", "2031-001", "--elements", "../../testdata/outing/launch.tle"}, statusWrong, "", "no object's designator begins"},
		{"no such place", []string{earlyRecord, "--place", "moon"}, statusWrong, "", "exact, rounded or none"},
		{"over the record", []string{put("own.jsonl", early), "--export", filepath.Join(folder, "own.jsonl")}, statusWrong, "", "own.jsonl is the record itself"},
		{"nowhere to write", []string{earlyRecord, "--html", filepath.Join(folder, "none", "x.html")}, statusFailed, "", "no such file"},
	} {
		status, stdout, stderr := runHere(t, t.Context(), append([]string{"review"}, c.args...)...)
		if status != c.status || !strings.Contains(stdout, c.stdout) || !strings.Contains(stderr, c.stderr) || strings.Contains(stderr, "panic") {
			t.Errorf("%s: exit status %d, want %d\n%s\n%s", c.name, status, c.status, stdout, stderr)
		}
	}
}
