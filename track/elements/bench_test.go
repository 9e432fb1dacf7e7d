package elements

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"runtime"
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

// benchmarkRead reads a catalogue in one encoding. The metric peak-MB is the
// most heap that was in use while reading, garbage included, beyond the text
// itself, looked at after each MiB.
func benchmarkRead(b *testing.B, write func(io.Writer, []Set) error, read func(io.Reader) int) {
	var text bytes.Buffer
	if err := write(&text, manySets()); err != nil {
		b.Fatal(err)
	}
	runtime.GC()
	var before, most runtime.MemStats
	runtime.ReadMemStats(&before)
	watch := &watched{from: bytes.NewReader(text.Bytes()), most: &most}
	if n := read(watch); n != catalogue {
		b.Fatalf("%d objects, want %d", n, catalogue)
	}
	b.SetBytes(int64(text.Len()))
	b.ReportAllocs()
	for b.Loop() {
		read(bytes.NewReader(text.Bytes()))
	}
	b.ReportMetric(float64(most.HeapAlloc-before.HeapAlloc)/1e6, "peak-MB")
}

type watched struct {
	from *bytes.Reader
	most *runtime.MemStats
	read int
}

func (w *watched) Read(p []byte) (int, error) {
	n, err := w.from.Read(p)
	if w.read += n; w.read >= 1<<20 || err != nil {
		w.read = 0
		var now runtime.MemStats
		runtime.ReadMemStats(&now)
		if now.HeapAlloc > w.most.HeapAlloc {
			*w.most = now
		}
	}
	return n, err
}

func readCount(r io.Reader) int {
	sets, _ := Read(r, "f")
	return len(sets)
}

func BenchmarkReadTLE30000(b *testing.B)  { benchmarkRead(b, WriteTLE, readCount) }
func BenchmarkReadJSON30000(b *testing.B) { benchmarkRead(b, WriteJSON, readCount) }
func BenchmarkReadCSV30000(b *testing.B)  { benchmarkRead(b, WriteCSV, readCount) }
func BenchmarkReadXML30000(b *testing.B)  { benchmarkRead(b, WriteXML, readCount) }
func BenchmarkReadKVN30000(b *testing.B)  { benchmarkRead(b, WriteKVN, readCount) }

func BenchmarkReadPackedXML30000(b *testing.B) {
	benchmarkRead(b, func(w io.Writer, sets []Set) error {
		z := gzip.NewWriter(w)
		if err := WriteXML(z, sets); err != nil {
			return err
		}
		return z.Close()
	}, readCount)
}

// A catalogue gathered while reading.
func BenchmarkGather30000(b *testing.B) {
	benchmarkRead(b, WriteJSON, func(r io.Reader) int {
		c, _ := gather(Scan(r, "f"))
		return c.Len()
	})
}

// Each key of a name typed letter by letter is one match.
func BenchmarkMatchOf30000(b *testing.B) {
	var c Catalogue
	for _, s := range manySets() {
		c.Add(s)
	}
	for _, typed := range []string{"o", "ob", "object 2999", "9", "29999", "nobody"} {
		b.Run(typed, func(b *testing.B) {
			for b.Loop() {
				c.Match(typed, 20)
			}
		})
	}
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
