// Package page writes the review of outings as one HTML file: no scripts, nothing
// loaded from elsewhere, figures inside as SVG with a title and a description each.
package page

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"math"
	"time"

	"foreaim/track/outing"
	"foreaim/track/outing/review"
)

//go:embed page.html
var text string

// Options are how a page is written.
type Options struct {
	Local   *time.Location // the zone that people there read; nil: UTC
	Place   func(review.Pass) string
	Program string
}

// Write writes the page.
func Write(w io.Writer, r review.Review, o Options) error {
	if o.Local == nil {
		o.Local = time.UTC
	}
	if o.Place == nil {
		o.Place = func(review.Pass) string { return "" }
	}
	t, err := template.New("page").Funcs(template.FuncMap{
		"clock":   func(t time.Time) string { return t.In(o.Local).Format("15:04:05") },
		"utc":     func(t time.Time) string { return t.UTC().Format("15:04:05") },
		"day":     func(t time.Time) string { return t.In(o.Local).Format("2 January 2006, 15:04 MST") },
		"zone":    func(t time.Time) string { return t.In(o.Local).Format("MST") },
		"percent": percent,
		"bar":     func(p float64) template.CSS { return template.CSS(fmt.Sprintf("width:%.0f%%", 100*p)) },
		"number":  number,
		"degrees": func(x float64) string { return number(outing.NumberOf(x), 0) },
		"khz":     func(n outing.Number) string { return number(outing.Number{Value: n.Value / 1000, Known: n.Known}, 1) },
		"figures": func(i int, p review.Pass) []figure { return figures(i, p, o.Local) },
		"place":   o.Place,
		"name":    name,
		"count":   func(p review.Pass, o string) int { return p.Count(review.Outcome(o)) },
	}).Parse(text)
	if err != nil {
		return err
	}
	return t.Execute(w, struct {
		review.Review
		Program string
	}{r, o.Program})
}

func name(p review.Pass) string {
	if p.Satellite == "" {
		return "unknown satellite"
	}
	return p.Satellite
}

// percent rounds; only what is certain is 0 or 100.
func percent(p float64) string {
	return fmt.Sprintf("%.0f\u00a0%%", min(99, max(1, math.Round(100*p))))
}

func number(n outing.Number, decimals int) string {
	if n.IsZero() {
		return ""
	}
	scale := math.Pow10(decimals)
	return fmt.Sprintf("%.*f", decimals, math.Round(n.Value*scale)/scale+0) // no -0
}

// figure is a drawing with its caption.
type figure struct {
	Caption string
	SVG     template.HTML // made here of numbers and escaped words
}

func figures(i int, p review.Pass, local *time.Location) []figure {
	if p.Rise.Time.IsZero() {
		return nil
	}
	return []figure{
		{"The sky from where you stood, unrolled: path, holds, heard and missed", window(fmt.Sprint("w", i), p)},
		{"How far the antenna was from the satellite at each burst", aimError(fmt.Sprint("a", i), p, local)},
		{"The signal against the threshold of hearing at each burst", margin(fmt.Sprint("m", i), p, local)},
		{"What was received against the frequency sent", frequency(fmt.Sprint("f", i), p, local)},
		{"When something was heard, when nobody listened, when the noise was up", noise(fmt.Sprint("n", i), p, local)},
	}
}
