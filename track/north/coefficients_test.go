package north

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
	"testing/iotest"
)

// write gives a model in the form of a coefficient file.
func write(m *model) []byte {
	var b bytes.Buffer
	b.WriteString("2025.0 WMM-2025 -\n")
	for n := 1; n <= degree; n++ {
		for k := 0; k <= n; k++ {
			fmt.Fprintln(&b, n, k, m.g[n][k], m.h[n][k], m.gDot[n][k], m.hDot[n][k])
		}
	}
	b.WriteString("999\n")
	return b.Bytes()
}

// Three rows of the published file, read by eye.
func TestEmbeddedFile(t *testing.T) {
	m, err := wmm2025()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		n, m int
		want [4]float64
	}{
		{1, 0, [4]float64{-29351.8, 0, 12, 0}},
		{1, 1, [4]float64{-1410.8, 4545.4, 9.7, -21.5}},
		{12, 12, [4]float64{-0.7, 0.2, -0.1, -0.1}},
	} {
		if got := [4]float64{m.g[c.n][c.m], m.h[c.n][c.m], m.gDot[c.n][c.m], m.hDot[c.n][c.m]}; got != c.want {
			t.Errorf("row %d %d: %v, want %v", c.n, c.m, got, c.want)
		}
	}
}

func TestBadCoefficientFiles(t *testing.T) {
	file := string(coefficientFile)
	swap := func(old, new string) string {
		if strings.Count(file, old) != 1 {
			t.Fatalf("%q is not once in the file", old)
		}
		return strings.Replace(file, old, new, 1)
	}
	for _, c := range []struct{ name, file, want string }{
		{"empty", "", `line 1: want the title 2025.0 WMM-2025 and a date, got ""`},
		{"another model", swap("WMM-2025", "WMM-2020"), `line 1: want the title`},
		{"another epoch", swap("2025.0 ", "2020.0 "), `line 1: want the title`},
		{"cut after the title", file[:strings.Index(file, "\n")], "line 2: want 1 0 and four numbers"},
		{"row missing", swap("  2  0   -2556.6       0.0      -11.6        0.0\n", ""), "line 4: want 2 0 and four numbers"},
		{"column missing", swap("4545.4        9.7      -21.5", "4545.4        9.7"), "line 3: want 1 1"},
		{"not a number", swap("4545.4", "4S45.4"), `line 3: want 1 1 and four numbers within ±100000 nT (h and its change 0 for m = 0), got "1 1 -1410.8 4S45.4 9.7 -21.5"`},
		{"NaN", swap("4545.4", "NaN"), "line 3: want 1 1"},
		{"too large", swap("4545.4", "454540"), "line 3: want 1 1"},
		{"h for m = 0", swap("-29351.8       0.0", "-29351.8       0.1"), "line 2: want 1 0"},
		{"no nines", file[:strings.Index(file, "99999")], `line 92: want a line of nines after the last row, got ""`},
		{"rubbish at the end", file + "13 0 1 0 0 0\n", "line 94: want nothing but nines"},
		{"control characters", "\x1b[2J", `got "\x1b[2J"`},
		{"endless line", strings.Repeat("9", 1<<17), "line 1: bufio.Scanner: token too long"},
		{"endless last line", file + strings.Repeat("9", 1<<17), "token too long"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m, err := parseModel(strings.NewReader(c.file))
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Fatalf("error %v, want %q", err, c.want)
			}
			if m != nil {
				t.Fatal("a model beside an error")
			}
		})
	}
}

// A failing reader's own error comes through.
func TestReaderFails(t *testing.T) {
	broken := errors.New("pulled out")
	r := io.MultiReader(bytes.NewReader(coefficientFile[:200]), iotest.ErrReader(broken))
	if _, err := parseModel(r); !errors.Is(err, broken) {
		t.Fatalf("error %v, want %v", err, broken)
	}
}

// What is read, written and read again is the same model, and every model that
// is accepted gives finite numbers.
func FuzzParseModel(f *testing.F) {
	f.Add(coefficientFile)
	f.Add(coefficientFile[:300])
	f.Add(write(new(model)))
	f.Add([]byte("2025.0 WMM-2025 -\n1 0 0x1p3 0 -0 0\n"))
	f.Fuzz(func(t *testing.T, file []byte) {
		m, err := parseModel(bytes.NewReader(file))
		if err != nil {
			if strings.ContainsFunc(err.Error(), func(r rune) bool { return r < ' ' }) {
				t.Fatalf("control characters in %q", err)
			}
			return
		}
		again, err := parseModel(bytes.NewReader(write(m)))
		if err != nil || *again != *m {
			t.Fatalf("written and read again: %v, same %v", err, err == nil && *again == *m)
		}
		field := newField(m.vector(90, 12, 0, 2030))
		for _, x := range []float64{field.TotalNT, field.DeclinationDeg, field.DeclinationDegPerYear, field.InclinationDegPerYear} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("not finite: %+v", field)
			}
		}
	})
}
