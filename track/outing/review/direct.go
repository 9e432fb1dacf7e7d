package review

import (
	"fmt"
	"math"

	"foreaim/track/outing"
)

// factor is how likely something seen is with a cause and without it.
type factor struct{ with, without float64 }

// evidence is one thing seen, in words, with what it says about a cause.
type evidence struct {
	cause Cause
	factor
	words string
}

// weighDirect weighs what speaks beside the bursts themselves. The likelihoods
// are estimates (no source).
func (w *weigher) weighDirect() {
	p := w.pass
	for c := range w.direct {
		w.direct[c] = factor{1, 1}
	}
	if told, off, mean := p.sensorOff(w.settings.BeamwidthDeg / 2); told >= 3 {
		if 10*off >= 3*told {
			w.seen(Aim, factor{0.9, 0.04}, "the sensor shows the boom %.0f° from the advice on average, and far off for %d of %d bursts", mean, off, told)
		} else {
			w.seen(Aim, factor{0.1, 0.96}, "the sensor shows the boom where it was advised, %.0f° off on average", mean)
		}
	}
	if share := p.noisyShare(); share >= noisyMost {
		w.seen(Interference, factor{0.65, 0.06}, "the noise was marked as up for %s of the pass", percent(share))
	} else {
		w.seen(Interference, factor{0.35, 0.94}, "the noise was not marked as up for long")
	}
	if share := p.awayShare(); share >= awayMost {
		// By its meaning this is the cause, unless the key was hit by mistake.
		w.seen(NotListened, factor{0.6, 0.002}, "nobody listened to %s of the bursts, as was marked", percent(share))
	} else {
		w.seen(NotListened, factor{0.4, 0.99}, "nobody marked that they didn't listen")
	}
	w.weighTests()
}

// seen takes one thing into account.
func (w *weigher) seen(c Cause, f factor, words string, args ...any) {
	w.direct[c].with *= f.with
	w.direct[c].without *= f.without
	w.tests = append(w.tests, evidence{c, f, fmt.Sprintf(words, args...)})
}

// weighTests takes the last noise test of each finding.
func (w *weigher) weighTests() {
	last := map[outing.Cause]bool{}
	for _, t := range w.pass.Tests {
		if last[t.Cause] {
			continue
		}
		last[t.Cause] = true
		words := "a noise test found: " + string(t.Cause)
		switch t.Cause {
		case outing.InBeam, outing.AllRound, outing.Overload, outing.Outside:
			w.seen(Interference, factor{0.55, 0.08}, "%s", words)
		case outing.Inside:
			w.seen(Interference, factor{0.2, 0.05}, "%s", words)
		case outing.NoGain:
			w.seen(WeakLink, factor{0.3, 0.02}, "%s", words)
		case outing.Usual:
			w.seen(Interference, factor{0.15, 0.7}, "%s", words)
		}
	}
}

// percent rounds a share; only what is certain is 0 or 100.
func percent(p float64) string {
	if p == 0 || p == 1 {
		return fmt.Sprintf("%.0f %%", 100*p)
	}
	return fmt.Sprintf("%.0f %%", min(99, max(1, math.Round(100*p))))
}
