package radio

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// mast is a wanted band with television above it; fm one with broadcasting below.
var (
	mast = FilterTask{WantedLowMHz: 435, WantedHighMHz: 438, Stops: []StopBand{{494, 502, 26}, {558, 566, 26}}, TolerableDB: 3, SystemOhm: 50}
	fm   = FilterTask{WantedLowMHz: 145.8, WantedHighMHz: 146, Stops: []StopBand{{88, 108, 30}}, TolerableDB: 3, SystemOhm: 50}
)

func suggest(t testing.TB, task FilterTask) FilterAdvice {
	t.Helper()
	a, err := task.Suggest(Cables()[0], HandMade())
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// What is told is what the response gives, looked at in finer steps; what is called
// enough is enough; the ranking holds.
func TestSuggestKeepsItsWord(t *testing.T) {
	tasks := []FilterTask{
		mast, fm,
		{WantedLowMHz: 436.9, WantedHighMHz: 437.1, Stops: []StopBand{{390, 395, 40}}, TolerableDB: 3, SystemOhm: 50},
		{WantedLowMHz: 436.9, WantedHighMHz: 437.1, Stops: []StopBand{{800, 860, 35}}, TolerableDB: 2, SystemOhm: 50},
		{WantedLowMHz: 436.9, WantedHighMHz: 437.1, Stops: []StopBand{{145, 146, 40}, {920, 960, 30}}, TolerableDB: 2, SystemOhm: 50},
		{WantedLowMHz: 145.8, WantedHighMHz: 146, Stops: []StopBand{{170, 171, 60}}, TolerableDB: 1, SystemOhm: 50},
	}
	for n, task := range tasks {
		a := suggest(t, task)
		if len(a.Ideas)+len(a.Refused) != 5 {
			t.Errorf("task %d: %d ideas, refused %q", n, len(a.Ideas), a.Refused)
		}
		for i, f := range a.Ideas {
			wanted, least := 0.0, limitDB
			for k := range 200 {
				x := float64(k) / 199
				wanted = max(wanted, f.Response().LossDB(task.WantedLowMHz+x*(task.WantedHighMHz-task.WantedLowMHz)).High)
				s := task.Stops[0]
				least = min(least, f.Response().LossDB(s.LowMHz+x*(s.HighMHz-s.LowMHz)).Low)
			}
			near(t, f.Words+" wanted", f.WantedDB.High, wanted, 0.1)
			near(t, f.Words+" least", f.StopsDB[0].Low, least, 1)
			if f.Enough != !slices.ContainsFunc(task.Stops, func(s StopBand) bool {
				return f.StopsDB[slices.Index(task.Stops, s)].Low < s.NeededDB
			}) {
				t.Errorf("%s: enough %v with %v", f.Words, f.Enough, f.StopsDB)
			}
			if f.WantedDB.High > task.TolerableDB {
				t.Errorf("%s: more lost than can be borne", f.Words)
			}
			if i > 0 && f.Enough && !a.Ideas[i-1].Enough {
				t.Errorf("%s ranks behind what isn't enough", f.Words)
			}
			for _, line := range f.Build {
				if len(line) > lineColumns {
					t.Errorf("%d columns: %s", len(line), line)
				}
			}
			if len(f.Cautions) < 2 || f.Cautions[0] != offCaution {
				t.Errorf("%q", f.Cautions)
			}
		}
	}
}

// Which kind suits which pair of frequencies, by common sense: twice the wanted
// frequency is a half wave of an open quarter-wave stub; three times or a third
// can't be told apart by any stub; near above is for a stub, far above for a
// low-pass.
func TestSuggestedKinds(t *testing.T) {
	kinds := func(a FilterAdvice) string {
		var all []string
		for _, f := range a.Ideas {
			all = append(all, f.Kind)
		}
		return strings.Join(all, " ")
	}
	if got := kinds(suggest(t, mast)); got != "stubs coupled resonators" {
		t.Errorf("television near above: %q", got)
	}
	if got := kinds(suggest(t, fm)); got != "high-pass coupled resonators band-pass stubs" {
		t.Errorf("broadcasting below: %q", got)
	}
	// All of the television band above needs resonators; no stub is that wide.
	wide := FilterTask{WantedLowMHz: 436.9, WantedHighMHz: 437.1, Stops: []StopBand{{500, 700, 30}}, TolerableDB: 4, SystemOhm: 50}
	if a := suggest(t, wide); a.Ideas[0].Kind != "coupled resonators" || !a.Ideas[0].Enough {
		t.Errorf("all television above: %+v", a)
	}
	third := FilterTask{WantedLowMHz: 436.9, WantedHighMHz: 437.1, Stops: []StopBand{{145.6, 145.7, 20}}, TolerableDB: 3, SystemOhm: 50}
	if a := suggest(t, third); !strings.Contains(strings.Join(a.Refused, " "), "too near the wanted 436.9 to 437.1 MHz for a stub") || a.Ideas[0].Kind != "high-pass" {
		t.Errorf("a third: %s %q", kinds(a), a.Refused)
	}
	half := third
	half.Stops = []StopBand{{218.45, 218.55, 30}}
	n, err := half.Stubs(Cables()[0])
	if err != nil || len(n.Stubs) != 1 || n.Stubs[0].Quarters != 1 {
		t.Errorf("a half: %+v, %v", n.Stubs, err)
	}
	double := third
	double.Stops = []StopBand{{873.9, 874.1, 30}}
	if n, err = double.Stubs(Cables()[0]); err != nil || len(n.Stubs) != 1 || n.Stubs[0] != (Stub{double.Stops[0].middle(), 2}) {
		t.Errorf("the double: %+v, %v", n.Stubs, err) // shorted, a quarter wave of the wanted
	}
	beside := third
	beside.Stops = []StopBand{{438, 439, 20}}
	a := suggest(t, beside)
	if len(a.Ideas) != 0 || len(a.Refused) != 5 || !strings.Contains(a.Words, "cavities") {
		t.Errorf("beside it: %s %+v", kinds(a), a)
	}
}

func TestFilterTaskRefuses(t *testing.T) {
	for want, change := range map[string]func(*FilterTask){
		"want rising frequencies, 1 to 6000":          func(f *FilterTask) { f.WantedHighMHz = 400 },
		"the tolerable loss is NaN dB":                func(f *FilterTask) { f.TolerableDB = math.NaN() },
		"the line has 0 ohm":                          func(f *FilterTask) { f.SystemOhm = 0 },
		"no filter is needed":                         func(f *FilterTask) { f.Stops = nil },
		"90 dB are to be taken off at 500.0 to 510.0": func(f *FilterTask) { f.Stops = []StopBand{{500, 510, 90}} },
		"430.0 to 436.0 MHz lies in the wanted band":  func(f *FilterTask) { f.Stops = []StopBand{{430, 436, 9}} },
		"a band to take off is 510 to 500 MHz":        func(f *FilterTask) { f.Stops = []StopBand{{510, 500, 9}} },
	} {
		task := mast
		change(&task)
		if _, err := task.Suggest(Cables()[0], HandMade()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
	if _, err := mast.Suggest(Coax{Name: "x"}, HandMade()); err == nil || !strings.Contains(err.Error(), `cable "x": impedance`) {
		t.Error(err)
	}
	if _, err := mast.Suggest(Cables()[0], Parts{CoilQ: -3}); err == nil || !strings.Contains(err.Error(), "Q of the coils is -3") {
		t.Error(err)
	}
	many := mast
	many.Stops = []StopBand{{494, 502, 9}, {510, 518, 9}, {526, 534, 9}, {542, 550, 9}, {558, 566, 9}}
	if _, err := many.Stubs(Cables()[0]); err == nil || !strings.Contains(err.Error(), "5 bands are to be taken off: too many") {
		t.Error(err)
	}
}

func TestBuildWords(t *testing.T) {
	join := func(lines []string) string { return strings.Join(strings.Fields(strings.Join(lines, " ")), " ") }
	// c/(4·498 MHz)·0.66·2 = 198.65 mm, ±2 %: 194.7 to 202.6; 5 mm more is 207.6.
	// Shortening by 1 mm moves it by 498/198.65 = 2.51 MHz.
	n := pairOf(Cables()[0], Stub{498, 2})
	text := join(n.Build())
	for _, want := range []string{"Cut 2 pieces for 498.0 MHz (half-wave stub, shorted)", "about 199 mm from", "195 to 203 mm by", "Cut long, 208 mm, and trim while measuring", "Short the far ends", "1 mm less moves it up by 2.5 MHz", "middles 99 mm apart", "between antenna and preamplifier"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in %s", want, text)
		}
	}
	if got := strings.Join(n.Cautions(), " "); !strings.Contains(got, "it shorts the feed") || !strings.Contains(got, "off before any plug") || !strings.Contains(got, "never transmit") {
		t.Error(got)
	}
	open := singleOf(Cables()[0], Stub{498, 1})
	if got := join(open.Build()); !strings.Contains(got, "Leave its far end open") || strings.Contains(got, "apart") {
		t.Error(got)
	}
	if got := strings.Join(open.Cautions(), " "); strings.Contains(got, "shorts the feed") {
		t.Error(got)
	}
	p := plan(BandPass, Butterworth, 3, 136, 156)
	p.Parts = HandMade()
	l := design(t, p).Rounded()
	text = join(l.Build())
	for _, want := range []string{"1. Branch 1, across the line, side by side: C1 ", " 2. Branch 2, in the line, in series: C2 ", "turns of 1 mm wire on a", "Capacitors within 2 %, of C0G ceramic; coils set to 3 %"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in %s", want, text)
		}
	}
	for form, want := range map[Form]string{LowPass: "bear the feed's voltage", HighPass: "gets nothing", BandPass: "it shorts the feed"} {
		if got := strings.Join(design(t, plan(form, Butterworth, 3, 136, 156)).Cautions(), " "); !strings.Contains(got, want) {
			t.Errorf("%s: %s", form, got)
		}
	}
	if got := capacitance(12.3) + ", " + capacitance(12); got != "12.30 (E24: 12), 12" {
		t.Error(got)
	}
}

// The meadow's own mast: what is suggested does what the remedy by an assumed
// filter of 26 dB did (see TestOutingRemedies).
func TestSuggestForTheMeadow(t *testing.T) {
	link, masts := meadow(t)
	s := NewSurroundings(link, masts)
	a, task, err := s.SuggestFilters(atPeak, 0, Cables()[0], HandMade())
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(task.Stops, []StopBand{{494, 502, 26}, {558, 566, 26}}) || task.TolerableDB != 16 {
		t.Errorf("%+v", task)
	}
	near(t, "wanted", (task.WantedLowMHz+task.WantedHighMHz)/2, 437, 0.001)
	best := a.Ideas[0]
	if !best.Enough || best.With == nil || best.With.Verdict != Enough || !strings.Contains(best.With.Caution, "puts 5 V into") {
		t.Fatalf("%+v", best)
	}
	// With no more than 26 dB and 3 dB lost the margin is 13.405 dB; it can't be better
	// than without the mast, 17.374 dB.
	if low := best.With.HearingMarginDB.Low; low < 13.4 || low > 17.4 {
		t.Errorf("margin %v", best.With.HearingMarginDB)
	}
	if !strings.HasSuffix(a.Words, "With it the margin for hearing is "+best.With.HearingMarginDB.String()+" dB.") {
		t.Error(a.Words)
	}
	close := masts[0]
	close.LowMHz, close.HighMHz = 437.2, 438.4
	if _, _, err := NewSurroundings(link, []Incoming{close}).SuggestFilters(atPeak, 0, Cables()[0], HandMade()); err == nil || err.Error() != "something strong is too near 437.000 MHz for a filter" {
		t.Error(err)
	}
	if _, _, err := NewSurroundings(link, nil).SuggestFilters(atPeak, 0, Cables()[0], HandMade()); err == nil {
		t.Error("a filter for nothing")
	}
}

func TestJoined(t *testing.T) {
	got := joined([]StopBand{{486, 494, 3}, {470, 478, 1}, {478, 486, 2}, {500, 508, 4}, {502, 504, 9}})
	if !slices.Equal(got, []StopBand{{470, 494, 3}, {500, 508, 9}}) {
		t.Errorf("%v", got)
	}
}

func BenchmarkSuggest(b *testing.B) {
	for b.Loop() {
		if _, err := mast.Suggest(Cables()[0], HandMade()); err != nil {
			b.Fatal(err)
		}
	}
}
