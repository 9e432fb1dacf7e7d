package beacon

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// pass gives marks at the bursts numbered, with a scatter of 0.4 s.
func passMarks(rng *rand.Rand, phase, period float64, numbers ...int) []Mark {
	var marks []Mark
	for _, k := range numbers {
		marks = append(marks, Mark{noon(phase + float64(k)*period + 0.4*rng.NormFloat64()), 0.4})
	}
	return marks
}

var halfMinute = Prior{Schedule: Schedule{Period: 30 * time.Second, Length: time.Second}, PeriodSigma: 0.001}

func learn(t *testing.T, prior Prior, marks []Mark, listened ...Interval) Learned {
	t.Helper()
	l, err := Learn(prior, marks, listened)
	if err != nil {
		t.Fatal(err)
	}
	sane(t, l)
	return l
}

func TestExplore(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	show := func(name string, l Learned, when float64) {
		t.Logf("%-22s %s | P %v ±%.4f odds %.2f others %v false %.2f carries %.2f passes %d", name, l.Words(noon(when)), l.Period, math.Sqrt(l.PeriodVarS2), l.PeriodOdds, l.Others, l.False, l.CarriesOver, l.Passes)
	}
	show("none", learn(t, halfMinute, nil), 0)
	show("one", learn(t, halfMinute, passMarks(rng, 3, 30, 0)), 5)
	show("one, in 95 min", learn(t, halfMinute, passMarks(rng, 3, 30, 0)), 5700)
	pub := halfMinute
	pub.Schedule.First = noon(0)
	show("published", learn(t, pub, nil), 5)
	show("published, ok", learn(t, pub, passMarks(rng, 1, 30, 10, 11, 13)), 500)
	show("published, wrong", learn(t, pub, passMarks(rng, 14, 30, 10, 11, 13)), 500)
	show("31 s", learn(t, halfMinute, passMarks(rng, 3, 31, 0, 1, 2, 4, 5, 6)), 200)
	show("60 s", learn(t, halfMinute, passMarks(rng, 3, 60, 0, 1, 2, 3, 4, 5, 6)), 400)
	show("15 s", learn(t, halfMinute, passMarks(rng, 3, 15, 0, 1, 2, 3, 4, 5, 6, 8, 9)), 200)
	show("unknown 4", learn(t, Prior{}, passMarks(rng, 3, 30, 0, 1, 2, 3)), 100)
	show("unknown 4 one missing", learn(t, Prior{}, passMarks(rng, 3, 30, 0, 1, 3, 4)), 130)
	show("unknown 4 two missing", learn(t, Prior{}, passMarks(rng, 3, 30, 0, 1, 3, 5)), 160)
	show("unknown 5+false", learn(t, Prior{}, append(passMarks(rng, 3, 30, 0, 1, 3, 4, 5), Mark{noon(77), 0.4})), 160)
	show("unknown 2", learn(t, Prior{}, passMarks(rng, 3, 30, 0, 1)), 160)
	show("unknown 3", learn(t, Prior{}, passMarks(rng, 3, 30, 0, 1, 2)), 160)
	var fls []Mark
	for range 6 {
		fls = append(fls, Mark{noon(300 * rng.Float64()), 0.4})
	}
	show("all false", learn(t, halfMinute, fls), 300)
	show("all false unk", learn(t, Prior{}, fls), 300)
	for _, n := range []int{2, 3, 4} {
		var steady, drift []Mark
		for p := range n {
			steady = append(steady, passMarks(rng, 3, 30.01, 190*p, 190*p+1, 190*p+2, 190*p+4, 190*p+6, 190*p+9)...)
			drift = append(drift, passMarks(rng, 30*rng.Float64(), 30.01, 190*p, 190*p+1, 190*p+2, 190*p+4, 190*p+6, 190*p+9)...)
		}
		show("steady", learn(t, halfMinute, steady), float64(190*n*30))
		show("drift", learn(t, halfMinute, drift), float64(190*(n-1)*30+300))
		show("drift, next", learn(t, halfMinute, drift), float64(190*n*30))
		exact := halfMinute
		exact.PeriodSigma = 1e-6
		show("drift, exact", learn(t, exact, drift), float64(190*n*30))
	}
	show("hours apart", learn(t, halfMinute, passMarks(rng, 3, 30.01, 0, 190, 1500, 1502, 2880, 2881)), 2900*30)
}

// sane fails the test on any number that isn't one.
func sane(t testing.TB, l Learned) {
	t.Helper()
	numbers := []float64{l.FirstVarS2, l.PeriodVarS2, l.PeriodOdds, l.CarriesOver}
	odds := append([]float64{l.PeriodOdds, l.CarriesOver}, l.False...)
	for _, o := range l.Others {
		odds = append(odds, o.Odds)
	}
	for _, x := range append(numbers, odds...) {
		if !(x >= 0) || math.IsInf(x, 0) {
			t.Fatalf("a number is %g: %+v", x, l)
		}
	}
	for _, x := range odds {
		if x > 1+1e-9 {
			t.Fatalf("odds of %g: %+v", x, l)
		}
	}
	if math.IsNaN(l.CovarianceS2) || l.CovarianceS2*l.CovarianceS2 > l.FirstVarS2*l.PeriodVarS2*(1+1e-6)+1e-12 {
		t.Fatalf("covariance %g with variances %g and %g", l.CovarianceS2, l.FirstVarS2, l.PeriodVarS2)
	}
}
