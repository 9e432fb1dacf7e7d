package beacon

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// All marks here are made up by simulation or by hand: no recording of marks
// whose true times are known has been published.

var halfMinute = Prior{Schedule: Schedule{Period: 30 * time.Second, Length: time.Second}, PeriodSigma: 0.001}

// marksAt gives marks of the bursts numbered, with a scatter of 0.4 s.
func marksAt(rng *rand.Rand, phase, period float64, numbers ...int) []Mark {
	var marks []Mark
	for _, k := range numbers {
		marks = append(marks, Mark{noon(phase + float64(k)*period + 0.4*rng.NormFloat64()), 0.4})
	}
	return marks
}

func learn(t testing.TB, prior Prior, marks []Mark, listened ...Interval) Learned {
	t.Helper()
	l, err := Learn(prior, marks, listened)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestNoMarks(t *testing.T) {
	l := learn(t, halfMinute, nil)
	if f, ok := l.Next(noon(0)); ok || l.Period != 30*time.Second || !l.First.IsZero() {
		t.Errorf("without marks and phase: %v, %+v, want only the period", f, l)
	}
	if s, ok := l.Schedule(noon(0)); !ok || s.Known() || s.Period != 30*time.Second || s.Length != time.Second {
		t.Errorf("schedule %+v, %v, want the published one", s, ok)
	}
	if l = learn(t, Prior{}, nil); l.Period != 0 {
		t.Errorf("period %s from nothing", l.Period)
	}
	published := halfMinute
	published.Schedule.First = noon(10)
	f, ok := learn(t, published, nil).Next(noon(11))
	if !ok || math.Abs(afterNoon(f.Time)-40) > 0.1 || f.SigmaS < 1 || f.SigmaS > 2 {
		t.Errorf("published phase: %+v, %v, want 12:00:40 ± 1.5 s or a little more", f, ok)
	}
}

// One mark gives the phase, unless it is false: the interval is wider than its
// scatter. It says nothing of another pass.
func TestOneMark(t *testing.T) {
	l := learn(t, halfMinute, []Mark{{noon(5), 0.4}})
	f, ok := l.Next(noon(6))
	if !ok || math.Abs(afterNoon(f.Time)-35) > 0.1 || f.SigmaS < 0.4 || f.SigmaS > 1 {
		t.Errorf("next %+v, %v, want 12:00:35 ± 0.4 s or a little more", f, ok)
	}
	if l.False[0] <= 0 || l.False[0] > 0.25 {
		t.Errorf("odds %.2f that the only mark is false, want near a tenth", l.False[0])
	}
	if f, ok = l.Next(noon(95 * 60)); ok {
		t.Errorf("next %+v an orbit later, want unknown", f)
	}
	if w := l.Words(noon(6)); w != "bursts every 30.00 s ± 0.03 s, next in 29 s ± 0.7 s; in another pass they may come at other times" {
		t.Errorf("words %q", w)
	}
	if w := l.Brief(); w != "bursts every 30.00 s ± 0.03 s" {
		t.Errorf("in brief %q", w)
	}
	if l = learn(t, Prior{}, []Mark{{noon(5), 0.4}}); l.Period != 0 || !strings.Contains(l.Words(noon(6)), "can't be told from one mark") {
		t.Errorf("period %s, words %q from one mark", l.Period, l.Words(noon(6)))
	}
}

// The published phase is used while marks agree, and given up when they don't.
func TestPublishedPhase(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	published := halfMinute
	published.Schedule.First, published.Schedule.Tolerance = noon(0), time.Second
	for _, c := range []struct {
		name           string
		phase, carries float64
	}{{"right", 0.5, 1}, {"wrong", 13, 0.5}} {
		l := learn(t, published, marksAt(rng, c.phase, 30, 10, 11, 13))
		f, ok := l.Next(noon(405))
		if want := c.phase + 14*30; !ok || math.Abs(afterNoon(f.Time)-want) > 1 || math.Abs(l.CarriesOver-c.carries) > 0.1 {
			t.Errorf("%s: next %+v, %v, carries over %.2f, want %.1f s after noon, %.1f", c.name, f, ok, l.CarriesOver, want, c.carries)
		}
	}
}

// A period that differs from the published one: by 3 %, twice, half.
func TestOtherPeriod(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, period := range []float64{31, 29, 60, 15} {
		l := learn(t, halfMinute, marksAt(rng, 3, period, 0, 1, 2, 4, 5, 6, 7))
		if off := l.Period.Seconds() - period; math.Abs(off) > 0.2 || math.Abs(off) > 3*math.Sqrt(l.PeriodVarS2) || l.PeriodOdds < 0.7 {
			t.Errorf("period %.2f s with odds %.2f, want %g s", l.Period.Seconds(), l.PeriodOdds, period)
		}
		if f, ok := l.Next(noon(3 + 7*period + 1)); !ok || math.Abs(afterNoon(f.Time)-3-8*period) > 1.5 {
			t.Errorf("period %g s: next %+v, %v", period, f, ok)
		}
	}
}

// Three marks of every other burst: 60 s or 30 s can't be told, and is said.
// Silence while listening at the times between tells.
func TestDoubledPeriod(t *testing.T) {
	marks := []Mark{{noon(0), 0.4}, {noon(60), 0.4}, {noon(120), 0.4}, {noon(180), 0.4}}
	l := learn(t, Prior{}, marks)
	if l.Period.Round(time.Second) != time.Minute || len(l.Others) == 0 || l.Others[0].Period.Round(time.Second) != 30*time.Second {
		t.Errorf("period %s, others %v, want a minute, or half", l.Period, l.Others)
	}
	var only []Interval // listening at the marks only, never halfway
	for _, m := range marks {
		only = append(only, Interval{m.Time.Add(-10 * time.Second), m.Time.Add(10 * time.Second)})
	}
	unsure := learn(t, Prior{}, marks, only...)
	if unsure.PeriodOdds > l.PeriodOdds-0.1 {
		t.Errorf("odds %.2f of %s with silence between, %.2f with nobody listening, want less", l.PeriodOdds, l.Period, unsure.PeriodOdds)
	}
	if w := learn(t, halfMinute, marks).Words(noon(181)); !strings.Contains(w, "or every 60.0 s (") && !strings.Contains(w, "or every 30.0 s (") {
		t.Errorf("words %q don't name the other period", w)
	}
}

// An unknown period from four to seven marks of eight bursts and now and then a
// false one: the odds given to it come true.
func TestUnknownPeriod(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 3))
	const runs = 300
	told, right := 0, 0
	var odds float64
	for range runs {
		period := 10 * math.Pow(6, rng.Float64())
		phase := rng.Float64() * period
		marks := marksAt(rng, phase, period, rng.Perm(8)[:4+rng.IntN(4)]...)
		if rng.IntN(3) == 0 {
			marks = append(marks, Mark{noon(rng.Float64() * 8 * period), 0.4})
		}
		l := learn(t, Prior{}, marks)
		if l.Period == 0 {
			continue
		}
		told++
		odds += l.PeriodOdds
		if math.Abs(l.Period.Seconds()/period-1) < 0.05 {
			right++
		}
	}
	t.Logf("%d told, %d right, odds %.2f", told, right, odds/float64(told))
	share := float64(right) / float64(told)
	if told < runs*3/4 || share < 0.8 || math.Abs(share-odds/float64(told)) > 0.08 {
		t.Errorf("a period in %d of %d, right in %.2f of these with odds of %.2f, want 225, 0.8 and no more than 0.08 apart", told, runs, share, odds/float64(told))
	}
}

// Marks at random: seldom is anything found in them with confidence.
func TestAllFalse(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 4))
	const runs = 150
	confident, suspected, periods := 0, 0, 0
	for range runs {
		var marks []Mark
		for range 6 {
			marks = append(marks, Mark{noon(300 * rng.Float64()), 0.4})
		}
		l := learn(t, halfMinute, marks)
		if f, ok := l.Next(noon(301)); ok && f.SigmaS < 1 {
			confident++
		}
		n := 0
		for _, odds := range l.False {
			if odds > 0.4 {
				n++
			}
		}
		if n >= 3 {
			suspected++
		}
		if l := learn(t, Prior{}, marks); l.PeriodOdds > 0.8 {
			periods++
		}
	}
	t.Logf("confident %d, suspected %d, periods %d", confident, suspected, periods)
	if confident > runs/6 || suspected < runs*9/10 || periods > runs/20 {
		t.Errorf("of %d runs %d confident, %d with three or more marks suspected, %d unknown periods told, want at most 25, at least 135, at most 7", runs, confident, suspected, periods)
	}
	l := learn(t, Prior{}, []Mark{{noon(0), 0.4}, {noon(17), 0.4}, {noon(171), 0.4}, {noon(214.5), 0.4}})
	if w := l.Words(noon(220)); !strings.Contains(w, "how often bursts come can't be told from four marks") {
		t.Errorf("words %q", w)
	}
}

// Passes an orbit apart: whether the phase goes on is told from three passes
// on, and the forecast for another pass follows it.
func TestPasses(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 5))
	for _, c := range []struct {
		name         string
		drift        func() float64 // s, of each pass
		passes       int
		least, most  float64 // of CarriesOver in eight of ten runs
		known, words string  // of the next pass
	}{
		{"steady, three", func() float64 { return 0 }, 3, 0.9, 1, "yes", "they go on from pass to pass"},
		{"anew, three", func() float64 { return 30 * rng.Float64() }, 3, 0, 0.1, "no", "in another pass they come at other times: begin anew there"},
		{"some seconds, four", func() float64 { return 4 * rng.NormFloat64() }, 4, 0, 0.1, "no", "in another pass they come at other times: begin anew there"},
		{"anew, two", func() float64 { return 30 * rng.Float64() }, 2, 0, 0.9, "", ""},
		{"steady, two", func() float64 { return 0 }, 2, 0.1, 1, "", ""},
	} {
		const runs = 40
		good, inside, forecast := 0, 0, 0
		for range runs {
			period := 30 * (1 + 0.001*rng.NormFloat64())
			var marks []Mark
			shift := 0.0
			for p := range c.passes {
				shift = c.drift()
				marks = append(marks, marksAt(rng, 3+shift, period, 190*p, 190*p+1, 190*p+2, 190*p+4, 190*p+6, 190*p+9)...)
			}
			l := learn(t, halfMinute, marks)
			if l.Passes != c.passes {
				t.Fatalf("%s: %d passes, want %d", c.name, l.Passes, c.passes)
			}
			now := noon(3 + shift + period*float64(190*(c.passes-1)+9) + 1)
			if f, ok := l.Next(now); !ok || math.Abs(f.Time.Sub(now).Seconds()+1-period) > 1.5 {
				t.Errorf("%s: next in the same pass %+v, %v", c.name, f, ok)
			}
			f, known := l.Next(noon(30 * 190 * float64(c.passes)))
			words := l.Words(now)
			if l.CarriesOver >= c.least && l.CarriesOver <= c.most && strings.Contains(words, c.words) &&
				(c.known == "" || known == (c.known == "yes")) {
				good++
			}
			if known && c.known == "yes" {
				forecast++
				k := math.Round((afterNoon(f.Time) - 3) / period)
				if start := noon(3 + k*period); !start.Before(f.Low) && start.Before(f.High) {
					inside++
				}
			}
		}
		t.Logf("%s: %d good, %d of %d inside", c.name, good, inside, forecast)
		if good < runs*8/10 {
			t.Errorf("%s: %d of %d runs as they should, want eight in ten", c.name, good, runs)
		}
		if forecast > 0 && (inside*100 < forecast*50 || inside*100 > forecast*88) {
			t.Errorf("%s: %d of %d bursts of the next pass within 68 %%", c.name, inside, forecast)
		}
	}
}

// What was learned is the prior of another pass, without a phase that ends.
func TestPriorForAnotherPass(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 6))
	l := learn(t, halfMinute, marksAt(rng, 3, 30.05, 0, 1, 2, 3, 5, 7, 8, 10, 11, 12, 14))
	soon, later := l.Prior(noon(500)), l.Prior(noon(6000))
	if !soon.Schedule.Known() || later.Schedule.Known() || later.Schedule.Period != l.Period || later.PeriodSigma <= 0 || later.PeriodSigma > 0.001 {
		t.Errorf("prior in the pass %+v, in another %+v, want a phase only in the pass", soon, later)
	}
	if f, ok := learn(t, soon, nil).Next(noon(500)); !ok || math.Abs(f.Time.Sub(soon.Schedule.First).Seconds()) > 0.1 {
		t.Errorf("next by the prior %+v, %v, want %s", f, ok, soon.Schedule.First)
	}
	if unknown := learn(t, Prior{}, nil).Prior(noon(0)); unknown != (Prior{}) {
		t.Errorf("prior from nothing %+v", unknown)
	}
}

func TestLearnRefuses(t *testing.T) {
	mark := Mark{noon(0), 0.4}
	for _, c := range []struct {
		name     string
		prior    Prior
		mark     Mark
		listened Interval
		want     string
	}{
		{"no scatter", halfMinute, Mark{noon(0), 0}, Interval{}, "mark 1: scatter 0 s"},
		{"scatter not a number", halfMinute, Mark{noon(0), math.NaN()}, Interval{}, "mark 1: scatter NaN s"},
		{"no time", halfMinute, Mark{time.Time{}, 0.4}, Interval{}, "mark 1 at 0001-01-01T00:00:00Z is not within the years"},
		{"period", Prior{Schedule: Schedule{Period: time.Millisecond}}, mark, Interval{}, "burst period 1ms"},
		{"phase alone", Prior{Schedule: Schedule{First: noon(0)}}, mark, Interval{}, "first burst 2026-03-01T12:00:00Z is given but not the period"},
		{"length", Prior{Schedule: Schedule{Length: -1}}, mark, Interval{}, "burst length -1ns"},
		{"spread", Prior{PeriodSigma: math.NaN()}, mark, Interval{}, "spread of the period NaN"},
		{"share", Prior{FalseShare: 2}, mark, Interval{}, "share of false marks 2"},
		{"listening backwards", halfMinute, mark, Interval{noon(1), noon(0)}, "listening 1 from 2026-03-01T12:00:01Z to 2026-03-01T12:00:00Z"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var listened []Interval
			if c.listened != (Interval{}) {
				listened = []Interval{c.listened}
			}
			if _, err := Learn(c.prior, []Mark{c.mark}, listened); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want %q", err, c.want)
			}
		})
	}
}

// Whatever comes in, all numbers are numbers, odds are odds, intervals are in
// order, the next burst is not in the past, and the order of the marks and a
// shift of all times change nothing.
func TestLearnHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var prior Prior
		if rapid.Bool().Draw(t, "period") {
			prior.Schedule.Period = time.Duration(rapid.Int64Range(1e8, 864e11).Draw(t, "ns"))
			prior.PeriodSigma = rapid.SampledFrom([]float64{0, 1e-9, 0.001, MaxPeriodSigma}).Draw(t, "spread")
			if rapid.Bool().Draw(t, "phase") {
				prior.Schedule.First = noon(rapid.Float64Range(-1e8, 1e8).Draw(t, "first"))
			}
		}
		reach := rapid.SampledFrom([]float64{0, 1, 300, 1e5, 1e8}).Draw(t, "reach")
		marks := make([]Mark, rapid.IntRange(0, 12).Draw(t, "marks"))
		for i := range marks {
			marks[i] = Mark{noon(math.Round(rapid.Float64Range(0, reach).Draw(t, "mark")*1000) / 1000),
				rapid.SampledFrom([]float64{1e-6, 0.4, MaxMarkSigmaS}).Draw(t, "scatter")}
		}
		var listened []Interval
		for range rapid.IntRange(0, 3).Draw(t, "listened") {
			from := rapid.Float64Range(0, reach).Draw(t, "from")
			listened = append(listened, Interval{noon(from), noon(from + rapid.Float64Range(0, 1000).Draw(t, "for"))})
		}
		l, err := Learn(prior, marks, listened)
		if err != nil {
			t.Fatal(err)
		}
		sane(t, l)
		when := noon(rapid.Float64Range(-reach, 2*reach+100).Draw(t, "when"))
		f, ok := l.Next(when)
		if ok && (f.Time.Before(when.Add(-2)) || f.Low.After(f.Time) || f.High.Before(f.Time) || !(f.SigmaS >= 0)) {
			t.Fatalf("next after %s: %+v", when, f)
		}
		if s, ok := l.Schedule(when); ok && s.Validate() != nil {
			t.Fatalf("schedule %+v: %v", s, s.Validate())
		}
		if w := l.Words(when); strings.Contains(w, "NaN") || strings.Contains(w, "Inf") {
			t.Fatalf("words %q", w)
		}

		other := slices.Clone(marks)
		slices.Reverse(other)
		const shift = 1000 * time.Hour
		for i := range other {
			other[i].Time = other[i].Time.Add(shift)
		}
		for i := range listened {
			listened[i] = Interval{listened[i].From.Add(shift), listened[i].To.Add(shift)}
		}
		if !prior.Schedule.First.IsZero() {
			prior.Schedule.First = prior.Schedule.First.Add(shift)
		}
		again, err := Learn(prior, other, listened)
		if err != nil {
			t.Fatal(err)
		}
		if again.Period != l.Period || !again.First.Equal(l.First.Add(shift)) && !l.First.IsZero() {
			t.Fatalf("later and in another order: period %s, first %s, want %s, %s", again.Period, again.First, l.Period, l.First.Add(shift))
		}
	})
}

// sane fails the test on any number that isn't one.
func sane(t *rapid.T, l Learned) {
	odds := append([]float64{l.PeriodOdds, l.CarriesOver}, l.False...)
	for _, o := range l.Others {
		odds = append(odds, o.Odds)
	}
	for _, x := range odds {
		if !(x >= 0 && x <= 1) {
			t.Fatalf("odds of %g: %+v", x, l)
		}
	}
	for _, x := range []float64{l.FirstVarS2, l.PeriodVarS2, l.PeriodSigmaS} {
		if !(x >= 0) || math.IsInf(x, 0) {
			t.Fatalf("a spread is %g: %+v", x, l)
		}
	}
	if !(l.CovarianceS2*l.CovarianceS2 <= l.FirstVarS2*l.PeriodVarS2*(1+1e-6)+1e-12) {
		t.Fatalf("covariance %g with variances %g and %g", l.CovarianceS2, l.FirstVarS2, l.PeriodVarS2)
	}
}

// More marks than are looked at: the latest count, and it ends.
func TestTooManyMarks(t *testing.T) {
	var marks []Mark
	for k := range 2 * MaxMarks {
		marks = append(marks, Mark{noon(float64(k) * 3), 0.1})
	}
	l := learn(t, Prior{Schedule: Schedule{Period: 3 * time.Second}, PeriodSigma: 0.01}, marks)
	if l.False[0] != 0.5 || l.False[2*MaxMarks-1] > 0.1 || math.Abs(l.Period.Seconds()-3) > 0.001 {
		t.Errorf("period %s, first mark %.2f, last %.2f, want 3 s, 0.5, near 0", l.Period, l.False[0], l.False[2*MaxMarks-1])
	}
}

func TestSpreadInWords(t *testing.T) {
	for want, got := range map[string]string{
		"30.04 s ± 0.02 s":     withSpread(30.041, 0.0191),
		"30.0000 s ± 0.0001 s": withSpread(30, 0),
		"31.0 s ± 0.1 s":       withSpread(31.01, 0.12),
		"600 s ± 12 s":         withSpread(600.3, 12),
		"12 s ± 0.6 s":         waitWords(12.3, 0.6),
		"4.3 s ± 0.1 s":        waitWords(4.3, 0.04),
		"40 s ± 3 s":           waitWords(40.2, 3.1),
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
