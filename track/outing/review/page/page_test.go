package page_test

import (
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foreaim/track/outing"
	"foreaim/track/outing/review"
	"foreaim/track/outing/review/page"
)

var captions = []string{
	"The sky from where you stood", "How far the antenna was", "The signal against the threshold",
	"What was received", "When something was heard",
}

// written returns the page of a recorded outing.
func written(t *testing.T, names ...string) string {
	t.Helper()
	var logs []outing.Log
	for _, name := range names {
		f, err := os.Open(filepath.Join("..", "..", "..", "..", "testdata", "outing", name))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		log, err := outing.Read(f, name)
		if err != nil || len(log.Faults) > 0 {
			t.Fatal(err, log.Faults)
		}
		logs = append(logs, log)
	}
	var b strings.Builder
	if err := page.Write(&b, review.Of(logs, review.Settings{}), page.Options{Program: "a test"}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The page needs nothing else, and each figure says what it shows.
func TestPageStandsAlone(t *testing.T) {
	html := written(t, "review_early.jsonl", "review_shifted.jsonl")
	for _, no := range []string{"<script", "http-equiv", "<link", "<img", "url(", "@import", "NaN", "%!"} {
		if strings.Contains(html, no) {
			t.Errorf("the page holds %q", no)
		}
	}
	without := strings.ReplaceAll(html, "http://www.w3.org/2000/svg", "") // a name, not a place
	if strings.Contains(without, "http") {
		t.Error("the page points elsewhere")
	}
	figures := strings.Split(html, "<svg ")[1:]
	if len(figures) != 2*len(captions) {
		t.Fatalf("%d figures, want %d", len(figures), 2*len(captions))
	}
	ids := map[string]bool{}
	for _, f := range figures {
		f = "<svg " + f[:strings.Index(f, "</svg>")] + "</svg>"
		var svg struct {
			Title struct {
				ID   string `xml:"id,attr"`
				Text string `xml:",chardata"`
			} `xml:"title"`
			Desc struct {
				ID   string `xml:"id,attr"`
				Text string `xml:",chardata"`
			} `xml:"desc"`
			By string `xml:"labelledby,attr"`
		}
		d := xml.NewDecoder(strings.NewReader(f))
		if err := d.Decode(&svg); err != nil {
			t.Fatalf("%v in %.200s", err, f)
		}
		if _, err := d.Token(); !errors.Is(err, io.EOF) {
			t.Errorf("more behind a figure: %v", err)
		}
		if len(svg.Title.Text) < 10 || len(svg.Desc.Text) < 20 || !strings.Contains(f, `aria-labelledby="`+svg.Title.ID+" "+svg.Desc.ID+`"`) || ids[svg.Title.ID] {
			t.Errorf("title %+v, description %+v", svg.Title, svg.Desc)
		}
		ids[svg.Title.ID] = true
	}
}

// Text from a record can't become a part of the page.
func TestPageEscapes(t *testing.T) {
	r := review.Review{Passes: []review.Pass{{
		Satellite: `<script>alert("x")</script>`, Outing: `"><b>`, Missing: []string{"<i>"},
		Notes: []outing.TimedNote{{Text: "</article><svg>"}},
	}}}
	var b strings.Builder
	if err := page.Write(&b, r, page.Options{}); err != nil {
		t.Fatal(err)
	}
	for _, no := range []string{"<script", "<b>", "<i>", "<svg>"} {
		if strings.Contains(b.String(), no) {
			t.Errorf("the page holds %q", no)
		}
	}
	if !strings.Contains(b.String(), "No verdict") {
		t.Error("without evidence it doesn't say so")
	}
}
