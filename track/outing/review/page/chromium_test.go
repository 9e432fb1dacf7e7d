package page_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// chromium runs a browser without a window on the page, and returns what it
// wrote to standard output.
func chromium(t *testing.T, html string, args ...string) string {
	t.Helper()
	browser, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("chromium is not installed: Debian's package chromium has it")
		}
		t.Skip("no chromium here")
	}
	folder := t.TempDir()
	file := filepath.Join(folder, "review.html")
	if err := os.WriteFile(file, []byte(html), 0o600); err != nil {
		t.Fatal(err)
	}
	args = append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--hide-scrollbars",
		"--user-data-dir=" + filepath.Join(folder, "profile"), "--enable-logging=stderr", "--log-level=0"}, args...)
	cmd := exec.CommandContext(t.Context(), browser, append(args, "file://"+file)...)
	var out, log bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &log
	if err := cmd.Run(); err != nil {
		t.Fatalf("chromium: %v\n%s", err, log.String())
	}
	for line := range strings.Lines(log.String()) {
		if strings.Contains(line, "CONSOLE") || strings.Contains(line, "Page load failed") {
			t.Errorf("the browser says %s", line)
		}
	}
	return out.String()
}

// The browser takes the page as it was written: all figures, the table whole.
func TestBrowserReadsPage(t *testing.T) {
	dom := chromium(t, written(t, "review_shifted.jsonl"), "--dump-dom")
	for what, want := range map[string]int{"<figure>": 5, "</svg>": 5, "<title id=": 5, "<desc id=": 5, `<circle class="silent"`: 60} {
		if n := strings.Count(dom, what); n < want || want == 5 && n != want {
			t.Errorf("the browser found %d of %s, want %d", n, what, want)
		}
	}
	if n := strings.Count(dom, "<tr"); n != 23 { // 22 bursts and the head
		t.Errorf("the table has %d rows, want 23", n)
	}
}

// The picture shows what was heard, what was missed, the noise and the path, in
// their colours, each where its figure is.
func TestPictureShowsFigures(t *testing.T) {
	picture := filepath.Join(t.TempDir(), "page.png")
	if kept := os.Getenv("PICTURE"); kept != "" {
		picture = kept
	}
	chromium(t, written(t, "review_early.jsonl", "review_shifted.jsonl"), "--screenshot="+picture, "--window-size=900,7000")
	f, err := os.Open(picture)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	// The page's own colours on light ground, from its style.
	for what, c := range map[string]struct {
		color.RGBA
		least int
	}{
		"heard": {color.RGBA{0x0f, 0x76, 0x6e, 255}, 400}, "noise": {color.RGBA{0xd9, 0xa4, 0x41, 255}, 5000},
		"unexpected": {color.RGBA{0xb2, 0x3a, 0x2e, 255}, 400}, "silent": {color.RGBA{0x8a, 0x94, 0xa0, 255}, 200},
	} {
		if n := count(img, c.RGBA); n < c.least {
			t.Errorf("%d dots of the colour of %s, want %d or more", n, what, c.least)
		}
	}
}

func count(img image.Image, c color.RGBA) (n int) {
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if color.RGBAModel.Convert(img.At(x, y)) == color.Color(c) {
				n++
			}
		}
	}
	return n
}

// On A4 no figure is cut: each caption is on the page that the foot of its figure
// is on. Each figure's foot is the last words in it.
func TestPrintedPagesCutNoFigure(t *testing.T) {
	file := filepath.Join(t.TempDir(), "page.pdf")
	chromium(t, written(t, "review_early.jsonl", "review_shifted.jsonl"), "--no-pdf-header-footer", "--print-to-pdf="+file)
	info := poppler(t, "pdfinfo", file)
	if !strings.Contains(info, "(A4)") {
		t.Errorf("the pages are not A4:\n%s", info)
	}
	_, rest, _ := strings.Cut(info, "Pages:")
	pages, err := strconv.Atoi(strings.Fields(rest)[0])
	if err != nil || pages < 2 || pages > 12 {
		t.Fatalf("%d pages (%v)", pages, err)
	}
	found := map[string]int{}
	for n := 1; n <= pages; n++ {
		text := poppler(t, "pdftotext", "-layout", "-f", strconv.Itoa(n), "-l", strconv.Itoa(n), file, "-")
		window, charts := strings.Count(text, captions[0]), 0
		found[captions[0]] += window
		for _, c := range captions[1:] {
			charts += strings.Count(text, c)
			found[c] += strings.Count(text, c)
		}
		if legend := strings.Count(text, "ring: silent"); legend != window {
			t.Errorf("page %d has %d windows, but the foot of %d", n, window, legend)
		}
		if feet := clockLines(text); feet != charts {
			t.Errorf("page %d has %d charts, but the feet of %d:\n%s", n, charts, feet, text)
		}
	}
	for _, c := range captions {
		if found[c] != 2 {
			t.Errorf("%q is printed %d times, want 2", c, found[c])
		}
	}
}

// clockLines counts lines that are only times of day: the feet of charts.
func clockLines(text string) (n int) {
	for line := range strings.Lines(text) {
		fields := strings.Fields(line)
		times := 0
		for _, f := range fields {
			if len(f) == 5 && f[2] == ':' {
				times++
			}
		}
		if times >= 5 && times >= len(fields)-1 {
			n++
		}
	}
	return n
}

// poppler runs one of the programs that read PDF files.
func poppler(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.CommandContext(t.Context(), name, args...).Output()
	if err != nil {
		if _, missing := exec.LookPath(name); missing != nil && os.Getenv("CI") == "" {
			t.Skip("no " + name + " here: Debian's package poppler-utils has it")
		}
		t.Fatalf("%s: %v", name, err)
	}
	return string(out)
}
