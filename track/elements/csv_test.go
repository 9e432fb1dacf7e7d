package elements

import (
	"strings"
	"testing"
)

func TestCSV(t *testing.T) {
	head := "OBJECT_NAME,EPOCH,MEAN_MOTION,ECCENTRICITY,INCLINATION,RA_OF_ASC_NODE,ARG_OF_PERICENTER,MEAN_ANOMALY,NORAD_CAT_ID,BSTAR,MEAN_MOTION_DOT\n"
	row := "KELPIE,2026-11-20T06:12:34.567488,15.2,0.001,97.5,24.1,87.6,272.6,99001,0.0002,\n"
	plain := mustRead(t, omm())[0].bare()
	for name, text := range map[string]string{
		"plain":           head + row,
		"quoted":          `"` + strings.ReplaceAll(strings.TrimSpace(head), ",", `","`) + "\"\r\n" + `"KELPIE", "2026-11-20T06:12:34.567488"` + row[33:],
		"blank lines":     head + "\n\r\n" + row + "\n",
		"unknown columns": "PERIOD,X Y," + head + "96.1,\"a,\"\"\nb\"," + row,
		"not ended":       head + strings.TrimSuffix(row, "\n"),
	} {
		if name == "quoted" {
			text = strings.Replace(text, `, "2026`, `,"2026`, 1)
		}
		sets, err := Read(strings.NewReader(text), "f")
		if err != nil || len(sets) != 1 || sets[0].bare() != plain {
			t.Errorf("%s: %+v, %v, want\n%+v", name, sets, err, plain)
		}
	}
	if s := mustRead(t, head+"\"KEL\"\"PIE, B\""+row[6:]); s[0].Name != `KEL"PIE, B` {
		t.Errorf("name %q", s[0].Name)
	}
	for _, c := range []struct{ name, text, want string }{
		{"header only", head, `f:1:1: no element sets in the file`},
		{"a cell less", head + row[7:], `f:2:1: a line of 10 cells, want 11, as in the first line`},
		{"a cell more", head + "\n" + strings.TrimSuffix(row, "\n") + ",\n", `f:3:1: a line of 12 cells, want 11, as in the first line`},
		{"no drag", strings.Replace(head, "BSTAR", "BETA", 1) + row, `f:2:1: KELPIE has no BSTAR`},
		{"twice", strings.Replace(head, "MEAN_MOTION_DOT", "BSTAR", 1) + row, `f:1:@BSTAR,BSTAR@6: the key BSTAR is there twice`},
		{"quote", head + "\"" + row, `f:2:1: a cell in quotes is not ended, found "KELPIE,2026-11-20T06:12:34.567488,15.2,0...", want a closing quote`},
		{"value", head + "KÄLPIE" + strings.Replace(row[6:], "97.5", "x", 1), `f:2:46: INCLINATION is not a number, found "x", want 0 to 180 degrees`},
		{"cut", strings.Replace(head, ",MEAN_MOTION_DOT", "", 1) + strings.TrimSuffix(row, ",\n"), `f:2:73: the file ends within this line, whose BSTAR may be cut, found "0.0002", want a line end`},
	} {
		sets, err := Read(strings.NewReader(c.text), "f")
		c.want = placed(c.want, c.text)
		if err == nil || err.Error() != c.want || len(sets) != 0 {
			t.Errorf("%s: %d sets and error\n%v\nwant\n%s", c.name, len(sets), err, c.want)
		}
	}
}
