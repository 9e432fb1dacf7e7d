package review_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foreaim/track/outing"
	"foreaim/track/outing/review"
	"foreaim/track/outing/review/page"
)

// summed puts the right checksum to each line, so that what is in it is read.
func summed(lines []byte) []byte {
	var b bytes.Buffer
	for line := range bytes.Lines(lines) {
		line = bytes.TrimRight(line, "\r\n")
		head, _, _ := bytes.Cut(line, []byte(`,"sum":"`))
		head = bytes.TrimSuffix(head, []byte("}"))
		hash := sha256.Sum256(head)
		b.Write(head)
		b.WriteString(`,"sum":"` + hex.EncodeToString(hash[:8]) + "\"}\n")
	}
	return b.Bytes()
}

// Whatever a record says, its review is one: odds are odds, the likeliest first,
// intervals hold their middle, and the page shows no value that isn't one.
func FuzzReview(f *testing.F) {
	for _, name := range []string{"review_early.jsonl", "review_shifted.jsonl", "record_summed_by_sha256sum.jsonl"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "..", "testdata", "outing", name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 60000 {
			return
		}
		log, _ := outing.Read(bytes.NewReader(summed(data)), "fuzz") // faults are told elsewhere
		r := review.Of([]outing.Log{log}, review.Settings{})
		for _, p := range r.Passes {
			last := 1.0
			for _, o := range p.Verdict.Odds {
				if !(o.Probability >= 0 && o.Probability <= last) {
					t.Fatalf("odds %v after %v", o.Probability, last)
				}
				last = o.Probability
			}
			e := p.Estimates
			for _, x := range []float64{e.TimeErrorS.Low, e.TimeErrorS.High - e.TimeErrorS.Low, e.HeadingErrorDeg.High - e.HeadingErrorDeg.Low, e.ObjectProbability} {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Fatalf("estimates %+v", e)
				}
			}
			if p.Verdict.Given == (p.Verdict.Words == "") {
				t.Fatalf("a verdict given is %v, its words %q", p.Verdict.Given, p.Verdict.Words)
			}
		}
		var b strings.Builder
		if err := page.Write(&b, r, page.Options{}); err != nil {
			t.Fatal(err)
		}
		if html := b.String(); strings.Contains(html, `"NaN`) || strings.Contains(html, "Inf\"") || strings.Contains(html, "<script") {
			t.Fatal("the page holds what it must not")
		}
		if err := page.Write(io.Discard, r, page.Options{}); err != nil {
			t.Fatal(err)
		}
	})
}
