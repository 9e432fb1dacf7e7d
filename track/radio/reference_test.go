package radio

import (
	"math"
	"strings"
	"testing"

	"foreaim/track/internal/testtable"
)

// reference reads a table of testdata/radio.
func reference(t testing.TB, file string) []map[string]string {
	t.Helper()
	return testtable.Rows(t, "../../testdata/radio/"+file)
}

// number reads a cell, or the number that a text ends with.
func number(t testing.TB, text string) float64 {
	t.Helper()
	text = strings.TrimSpace(text)
	return testtable.Number(t, text[strings.LastIndex(text, " ")+1:])
}

// near fails when two values differ by more than a tolerance.
func near(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.5f, want %.5f ± %g", what, got, want, within)
	}
}

// spans does so for both ends of a range.
func spans(t testing.TB, what string, got Range, low, high, within float64) {
	t.Helper()
	near(t, what+", low end", got.Low, low, within)
	near(t, what+", high end", got.High, high, within)
}
