package elements

import (
	"strings"
	"testing"
)

func kvnOMM(lines ...string) string {
	return strings.Join(append([]string{"CCSDS_OMM_VERS = 3.0", "OBJECT_NAME = KELPIE", "EPOCH = 2026-324T06:12:34.567488", "MEAN_MOTION = 15.2",
		"ECCENTRICITY = 0.001", "INCLINATION = 97.5", "RA_OF_ASC_NODE = 24.1", "ARG_OF_PERICENTER = 87.6", "MEAN_ANOMALY = 272.6",
		"NORAD_CAT_ID = 99001", "BSTAR = 2e-4"}, lines...), "\n") + "\n"
}

func TestKVN(t *testing.T) {
	plain := mustRead(t, omm())[0].bare()
	lines := strings.SplitAfter(kvnOMM(), "\n")
	turned := ""
	for _, l := range lines {
		turned = l + turned
	}
	for name, c := range map[string]struct {
		text string
		n    int
	}{
		"plain":      {kvnOMM(), 1},
		"no version": {kvnOMM()[21:], 1},
		"turned":     {turned, 1},
		"two":        {kvnOMM() + "\n" + kvnOMM(), 2},
		"CRLF":       {strings.ReplaceAll(kvnOMM(), "\n", "\r\n"), 1},
		"unknown":    {kvnOMM("NEW_KEYWORD = [1]", "COMMENT", "OBJECT_ID = UNKNOWN"), 1},
		"unit alone": {kvnOMM("MEAN_MOTION_DOT =  [rev/day**2]"), 1},
	} {
		sets := mustRead(t, c.text)
		if len(sets) != c.n || sets[c.n-1].bare() != plain {
			t.Errorf("%s: %+v, want %d times\n%+v", name, sets, c.n, plain)
		}
	}
	for _, c := range []struct{ name, text, want string }{
		{"other kind", "CCSDS_OPM_VERS = 3.0\nX = 1\nCOMMENT y\n", `f:1:1: a message of another kind, found "CCSDS_OPM_VERS", want CCSDS_OMM_VERS`},
		{"no equals sign", kvnOMM("  BSTAR 1"), `f:12:3: not a line of KVN, found "BSTAR 1", want KEYWORD = value`},
		{"small letters", kvnOMM("bstar = 1"), `f:12:1: not a line of KVN, found "bstar = 1", want KEYWORD = value`},
		{"twice", kvnOMM("BSTAR = 1"), `f:12:1: the key BSTAR is there twice`},
		{"unit", strings.Replace(kvnOMM(), "97.5", "97.5 [rad]", 1), `f:6:20: INCLINATION has the unit of something else, found "rad", want deg`},
		{"range", strings.Replace(kvnOMM(), " 97.5", "\t 197.5 [deg]", 1), `f:6:16: INCLINATION is out of range, found "197.5", want 0 to 180 degrees`},
		{"cut", strings.TrimSuffix(kvnOMM(), "\n"), `f:11:9: the file ends within this line, whose BSTAR may be cut, found "2e-4", want a line end`},
		{"long", kvnOMM("USER_DEFINED_A = " + strings.Repeat("x", 5000)), `f:12:1: line too long, want 254 characters, as the standard has it`},
		{"theory", kvnOMM("MEAN_ELEMENT_THEORY = DSST"), `f:12:23: MEAN_ELEMENT_THEORY does not fit SGP4, found "DSST", want SGP4 or SGP/SGP4`},
		{"only comments", "COMMENT a\nCOMMENT b\n", `f:1:1: no element sets in the file`},
	} {
		sets, err := Read(strings.NewReader(c.text), "f")
		if err == nil || err.Error() != c.want || len(sets) != 0 {
			t.Errorf("%s: %d sets and error\n%v\nwant\n%s", c.name, len(sets), err, c.want)
		}
	}
	sets, err := Read(strings.NewReader(kvnOMM("INCLINATION = 1")+"CCSDS_OEM_VERS = 2.0\nEPOCH = 1\n"+kvnOMM()), "f")
	if f := faults(t, err); len(sets) != 1 || len(f) != 2 || f[0].Line != 12 || f[1].Line != 13 {
		t.Errorf("%d sets and %v, want 1 and faults in lines 12 and 13", len(sets), err)
	}
}
