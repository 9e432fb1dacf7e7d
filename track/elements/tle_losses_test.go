package elements

import (
	"bytes"
	"strings"
	"testing"
)

// Source: catalog_100000.json and its TLE: by eye, the TLE has fewer digits of
// the eccentricity and the drag term, and nothing else less.
func TestLossesOfPublishedSet(t *testing.T) {
	set := mustRead(t, readFile(t, "omm/catalog_100000.json"))[0]
	checkLosses(t, set, "the eccentricity is rounded from 0.00055903 to 0.000559",
		"the drag term is rounded from 0.00022159168 to 0.00022159")
	var b bytes.Buffer
	if err := WriteTLE(&b, []Set{set}); err != nil {
		t.Fatal(err)
	}
	want := strings.Replace(readFile(t, "omm/catalog_100000_alpha5.tle"), "SARAMAGO                ", "SARAMAGO", 1)
	if b.String() != want {
		t.Errorf("wrote\n%s, want\n%s", b.String(), want)
	}
	checkLosses(t, mustRead(t, readFile(t, "omm/invented1.json"))[0])
}

func TestLosses(t *testing.T) {
	s := mustRead(t, line1+"\n"+line2)[0]
	s.Name = "A NAME OF MORE THAN 24 LETTERS"
	s.Designator = "A BALLOON"
	s.Epoch = s.Epoch.Add(1000)
	s.NodeDeg -= 360 // the same direction
	s.InclinationDeg += 0.00001
	s.ElementNumber, s.RevolutionNumber = 12345, 123456
	s.Rest = "COMMENT=a\nCOMMENT=b\nORIGINATOR=c\n"
	checkLosses(t, s,
		`the name "A NAME OF MORE THAN 24 LETTERS" is cut to "A NAME OF MORE THAN 24 L"`,
		`the designator "A BALLOON" is left out`,
		"the epoch is rounded by -1µs, to 2026-11-20T06:12:34.567488",
		"the inclination is rounded from 97.45931 to 97.4593",
		"the element number is cut from 12345 to 2345",
		"the revolution number is cut from 123456 to 23456",
		"COMMENT, ORIGINATOR are left out")
	s.Rest = "ORIGINATOR=c\n"
	if got, err := s.TLELosses(); err != nil || got[len(got)-1] != "ORIGINATOR is left out" {
		t.Errorf("losses %q, %v", got, err)
	}
	s.CatalogueNumber = 340_000
	if got, err := s.TLELosses(); err == nil || len(got) > 0 {
		t.Errorf("losses %q, error %v, want an error: the number does not fit", got, err)
	}
}

func checkLosses(t *testing.T, s Set, want ...string) {
	t.Helper()
	got, err := s.TLELosses()
	if err != nil || strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("losses of %s, error %v:\n%s\nwant\n%s", s.label(), err, strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// A name line is never taken for something else.
func TestOddNamesInTLE(t *testing.T) {
	set := mustRead(t, line1+"\n"+line2)[0]
	for _, name := range []string{"", "# 1", "0 ZERO", "0", "1 99001", "2 70000U", "[A]", "<A>", "{", "EPOCH = 1", "COMMENT", "A,EPOCH", "EPOCH,BSTAR", "ÄÖÜ ÄÖÜ ÄÖÜ ÄÖÜ ÄÖÜ ÄÖÜ"} {
		set.Name = name
		var b bytes.Buffer
		if err := WriteTLE(&b, []Set{set, set}); err != nil {
			t.Fatal(err)
		}
		for _, got := range mustRead(t, b.String()) {
			if got.Format != TLE || got.Name != clipName(name) {
				t.Errorf("%q read back as %q from %s, want %q", name, got.Name, got.Format, clipName(name))
			}
		}
	}
	if got := mustRead(t, "0 Unknown\n"+line1+"\n"+line2)[0].Name; got != "" {
		t.Errorf("a name that says that it is unknown is read as %q", got)
	}
}
