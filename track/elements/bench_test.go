package elements

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

const catalogue = 30_000 // about as many objects as the public catalogue has

func manySets() []Set {
	start := time.Date(2026, 11, 20, 0, 0, 0, 0, time.UTC)
	sets := make([]Set, catalogue)
	for i := range sets {
		f := float64(i) / catalogue
		sets[i] = Set{
			Name: fmt.Sprintf("OBJECT %d", i), CatalogueNumber: 70_000 + i, Designator: fmt.Sprintf("2026-%03dA", i%1000), Classification: 'U',
			Epoch: start.Add(time.Duration(i) * 1_234_567_890), MeanMotionRevPerDay: 1 + 15*f, Eccentricity: 0.7 * f, InclinationDeg: 180 * f,
			NodeDeg: 359 * f, PerigeeDeg: 359 - 359*f, AnomalyDeg: 180 * f, BStar: 1e-3 * f, MeanMotionDot: 1e-4 * f, ElementNumber: 999, RevolutionNumber: i,
		}
	}
	return sets
}

func benchmarkRead(b *testing.B, text string) {
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		if sets := mustRead(b, text); len(sets) != catalogue {
			b.Fatalf("%d sets, want %d", len(sets), catalogue)
		}
	}
}

func BenchmarkReadTLE30000(b *testing.B) {
	var text strings.Builder
	for _, s := range manySets() {
		line1, line2, err := s.TLE()
		if err != nil {
			b.Fatal(err)
		}
		fmt.Fprintf(&text, "%s\n%s\n%s\n", s.Name, line1, line2)
	}
	benchmarkRead(b, text.String())
}

func BenchmarkReadJSON30000(b *testing.B) {
	var text strings.Builder
	for i, s := range manySets() {
		if i == 0 {
			text.WriteByte('[')
		} else {
			text.WriteByte(',')
		}
		fmt.Fprintf(&text, `{"OBJECT_NAME":%q,"OBJECT_ID":%q,"EPOCH":%q,"MEAN_MOTION":%.8f,"ECCENTRICITY":%.8f,"INCLINATION":%.4f,"RA_OF_ASC_NODE":%.4f,"ARG_OF_PERICENTER":%.4f,"MEAN_ANOMALY":%.4f,"EPHEMERIS_TYPE":0,"CLASSIFICATION_TYPE":"U","NORAD_CAT_ID":%d,"ELEMENT_SET_NO":%d,"REV_AT_EPOCH":%d,"BSTAR":%.11f,"MEAN_MOTION_DOT":%.8f,"MEAN_MOTION_DDOT":0}`+"\n",
			s.Name, s.Designator, s.Epoch.Format("2006-01-02T15:04:05.000000"), s.MeanMotionRevPerDay, s.Eccentricity, s.InclinationDeg,
			s.NodeDeg, s.PerigeeDeg, s.AnomalyDeg, s.CatalogueNumber, s.ElementNumber, s.RevolutionNumber, s.BStar, s.MeanMotionDot)
	}
	text.WriteString("]")
	benchmarkRead(b, text.String())
}

func BenchmarkWriteTLE(b *testing.B) {
	set := mustRead(b, line1+"\n"+line2)[0]
	for b.Loop() {
		if _, _, err := set.TLE(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkChooseOf30000(b *testing.B) {
	sets := manySets()
	for b.Loop() {
		if _, err := Choose(sets, "ject 29999"); err != nil {
			b.Fatal(err)
		}
	}
}
