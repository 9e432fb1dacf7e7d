package north

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// degree of the spherical harmonics.
const degree = 12

// model is a magnetic model, linear in time about firstYear. Gauss coefficients
// are Schmidt semi-normalised, nT and nT/year, index [n][m].
type model struct {
	g, h, gDot, hDot [degree + 1][degree + 1]float64
}

// largestNT bounds a coefficient: the largest of the Earth's is near 30000 nT.
const largestNT = 1e5

// parseModel reads a coefficient file: a title line "2025.0 WMM-2025 DATE",
// one row "n m g h g-dot h-dot" for each n from 1 to 12 and m from 0 to n in
// order, and a line of nines. Errors give the line and what would be right.
func parseModel(r io.Reader) (*model, error) {
	lines := bufio.NewScanner(r)
	line := 0
	next := func() []string {
		line++
		if !lines.Scan() {
			return nil
		}
		return strings.Fields(lines.Text())
	}
	fail := func(want string, got []string) error {
		if err := lines.Err(); err != nil {
			return fmt.Errorf("line %d: %w", line, err)
		}
		return fmt.Errorf("line %d: want %s, got %.60q", line, want, strings.Join(got, " "))
	}

	if title := next(); len(title) != 3 || title[0] != "2025.0" || title[1] != "WMM-2025" {
		return nil, fail("the title 2025.0 WMM-2025 and a date", title)
	}
	m := new(model)
	for n := 1; n <= degree; n++ {
		for k := 0; k <= n; k++ {
			row := next()
			v, ok := readRow(row, n, k)
			if !ok {
				return nil, fail(fmt.Sprintf("%d %d and four numbers within ±%g nT (h and its change 0 for m = 0)", n, k, largestNT), row)
			}
			m.g[n][k], m.h[n][k], m.gDot[n][k], m.hDot[n][k] = v[0], v[1], v[2], v[3]
		}
	}
	if end := next(); len(end) != 1 || strings.Trim(end[0], "9") != "" {
		return nil, fail("a line of nines after the last row", end)
	}
	for lines.Scan() {
		line++
		if rest := strings.TrimSpace(lines.Text()); strings.Trim(rest, "9") != "" {
			return nil, fail("nothing but nines after the last row", []string{rest})
		}
	}
	if lines.Err() != nil {
		return nil, fail("", nil)
	}
	return m, nil
}

// readRow reads "n m g h g-dot h-dot".
func readRow(row []string, n, m int) (v [4]float64, ok bool) {
	if len(row) != 6 || row[0] != strconv.Itoa(n) || row[1] != strconv.Itoa(m) {
		return v, false
	}
	for i, text := range row[2:] {
		x, err := strconv.ParseFloat(text, 64)
		if err != nil || !(math.Abs(x) <= largestNT) {
			return v, false
		}
		v[i] = x
	}
	return v, m > 0 || v[1] == 0 && v[3] == 0
}
