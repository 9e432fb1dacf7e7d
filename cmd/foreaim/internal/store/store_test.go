package store

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"foreaim/track/elements"
)

// Every field of a set comes back, to the last bit; the test fills the fields
// itself, so that one that is added later is not forgotten.
func TestEveryFieldIsKept(t *testing.T) {
	var set elements.Set
	fields := reflect.ValueOf(&set).Elem()
	for i := range fields.NumField() {
		switch f := fields.Field(i); f.Interface().(type) {
		case string:
			f.SetString("Nəmə <&> \"ü\" " + string(rune('A'+i)))
		case float64:
			f.SetFloat(float64(i+1) / 300)
		case int:
			f.SetInt(int64(100_000_000 + i))
		case byte:
			f.SetUint('S')
		case time.Time:
			f.Set(reflect.ValueOf(epoch.Add(789)))
		case elements.Rest:
			f.SetString("COMMENT=of the \"rest\"\nORIGINATOR=NOBODY\n")
		case elements.Format:
			f.SetString("tle")
		default:
			t.Fatalf("field %s is of a kind that this test does not know", fields.Type().Field(i).Name)
		}
	}
	s := open(t, t.TempDir())
	mustImport(t, s, set)
	got := mustHistory(t, s, ObjectOf(set))
	if len(got) != 1 {
		t.Fatalf("%d sets, want 1", len(got))
	}
	if diff := cmp.Diff(content(set), content(got[0])); diff != "" {
		t.Errorf("kept differently (-want +got):\n%s", diff)
	}
	if want := filepath.Join(s.Folder(), ObjectOf(set).fileName()); got[0].File != want || got[0].Line != 2 {
		t.Errorf("read at %s:%d, want %s:2", got[0].File, got[0].Line, want)
	}
}

func TestNewestWinsAndHistoryIsKept(t *testing.T) {
	s := open(t, t.TempDir())
	for i, step := range []struct {
		sets []elements.Set
		want Counts
	}{
		{[]elements.Set{invented(70001, 5), invented(70101, 1)}, Counts{New: 2}},
		{[]elements.Set{invented(70001, 2)}, Counts{Older: 1}},
		{[]elements.Set{invented(70001, 5), invented(70001, 9), invented(70001, 9)}, Counts{New: 1, Known: 2}},
		{[]elements.Set{invented(70001, 7)}, Counts{Older: 1}},
		{nil, Counts{}},
	} {
		if got := mustImport(t, s, step.sets...); got != step.want {
			t.Errorf("import %d: %+v, want %+v", i, got, step.want)
		}
	}
	newest := mustNewest(t, s)
	if len(newest) != 2 || content(newest[0]) != content(invented(70001, 9)) || content(newest[1]) != content(invented(70101, 1)) {
		t.Errorf("newest %+v", newest)
	}
	var hours []int
	for _, set := range mustHistory(t, s, Number(70001)) {
		hours = append(hours, set.RevolutionNumber)
	}
	if diff := cmp.Diff([]int{2, 5, 7, 9}, hours); diff != "" {
		t.Errorf("history (-want +got):\n%s", diff)
	}
}

// A set of the same epoch that comes later may carry the name that the object
// has got meanwhile.
func TestNameOfSameEpochIsTakenOver(t *testing.T) {
	s := open(t, t.TempDir())
	named := invented(70001, 0)
	named.Name = "GANNET"
	mustImport(t, s, invented(70001, 0))
	if got := mustImport(t, s, named); got != (Counts{New: 1}) {
		t.Errorf("%+v, want one new", got)
	}
	if newest := mustNewest(t, s); len(newest) != 1 || newest[0].Name != "GANNET" {
		t.Errorf("newest %+v, want one GANNET", newest)
	}
}

func TestObjectsWithoutNumber(t *testing.T) {
	s := open(t, t.TempDir())
	a, b := invented(0, 0), invented(0, 0)
	a.Name, b.Name = "LAMP", "BELL"
	later := a
	later.Epoch = later.Epoch.Add(time.Hour)
	mustImport(t, s, a, b, later, invented(7, 0))
	newest := mustNewest(t, s)
	if len(newest) != 3 || newest[0].CatalogueNumber != 7 || newest[1].Name != "LAMP" || newest[2].Name != "BELL" {
		t.Fatalf("newest %+v, want object 7, LAMP, BELL", newest)
	}
	if got := mustHistory(t, s, ObjectOf(a)); len(got) != 2 || content(got[1]) != content(later) {
		t.Errorf("history of LAMP %+v, want 2", got)
	}
}

func TestRemove(t *testing.T) {
	s := open(t, t.TempDir())
	mustImport(t, s, invented(70001, 0), invented(70001, 1), invented(80001, 0))
	for i, want := range []int{2, 0} {
		if n, err := s.Remove(t.Context(), Number(70001)); n != want || err != nil {
			t.Errorf("removal %d: %d, %v, want %d", i, n, err, want)
		}
	}
	if n, err := s.Remove(t.Context(), Number(12)); n != 0 || err != nil {
		t.Errorf("removal of what never was: %d, %v", n, err)
	}
	if newest := mustNewest(t, s); len(newest) != 1 || newest[0].CatalogueNumber != 80001 {
		t.Errorf("left %+v, want object 80001", newest)
	}
	if got := mustHistory(t, s, Number(70001)); len(got) != 0 {
		t.Errorf("history after removal %+v", got)
	}
}

// What could not be read back is refused by name; the rest is kept.
func TestRefused(t *testing.T) {
	s := open(t, t.TempDir())
	bad, worse := invented(70002, 0), invented(70003, 0)
	bad.BStar = math.NaN()
	worse.Eccentricity = 1.5
	counts, err := s.Import(t.Context(), []elements.Set{invented(70001, 0), bad, worse, invented(70004, 0)})
	if counts != (Counts{New: 2}) {
		t.Errorf("%+v, want 2 new", counts)
	}
	if err == nil || !strings.Contains(err.Error(), "70002") || !strings.Contains(err.Error(), "70003") || strings.Contains(err.Error(), "70001") {
		t.Errorf("error %v, want one that names 70002 and 70003", err)
	}
}

func TestFolderThatIsAFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(path, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(path); err == nil || !strings.Contains(err.Error(), path) {
		t.Errorf("error %v, want one that names %s", err, path)
	}
	if _, err := os.ReadDir(path); errors.Is(err, os.ErrNotExist) {
		t.Error("the file is gone")
	}
}
