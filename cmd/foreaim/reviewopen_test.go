package main

import (
	"path/filepath"
	"strings"
	"testing"

	"foreaim/track/outing"
	"foreaim/track/outing/review"
	"foreaim/tui"
)

// The screen reviews the record that it is writing, what was recorded last
// included; the simulation had 3 bursts heard (testdata/README.md).
func TestReviewOfOpenRecord(t *testing.T) {
	log, err := system{}.readOuting(earlyRecord)
	if err != nil {
		t.Fatal(err)
	}
	r, err := openRecord(filepath.Join(t.TempDir(), "outings"), log.Records[0].At)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	var config tui.Config
	r.show(&config, "1", review.Settings{Margin: func(review.Pass) (mean, sigma float64, known bool) { return 16, 0.2, true }})
	if _, err := config.Review(t.Context()); err == nil || !strings.Contains(err.Error(), "there is nothing in it yet") {
		t.Errorf("of an empty record: %v", err)
	}
	for _, e := range log.Records {
		if e.Entry.Kind() != outing.KindEnd {
			r.Record(e.At, e.Entry)
		}
	}
	answer, err := config.Review(t.Context())
	if err != nil || len(answer.Passes) != 1 {
		t.Fatalf("%d passes, %v", len(answer.Passes), err)
	}
	p := answer.Passes[0]
	if heard, silent := p.Count(review.Heard), p.Count(review.Silent); heard != 3 || silent != 20 || !p.Verdict.Given {
		t.Errorf("%d heard, %d silent, want 3 and 20 and a verdict", heard, silent)
	}
	if m := p.Estimates.MarginDB.Mean; m < 10 {
		t.Errorf("a signal of 16 dB was expected, and %.0f dB are found: the usual 6 dB?", m)
	}
}
