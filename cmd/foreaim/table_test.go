package main

import (
	"testing"
	"time"

	"foreaim/track/elements"
)

func TestTable(t *testing.T) {
	rows := newTable("name", ">height", "empty", "note")
	rows.add("wide 衛星", "7", "", "a")
	rows.add("x\x1b[0m", "1234567", "", "")
	want := "name        height  note\nwide 衛星        7  a\nx[0m       1234567\n"
	if got := rows.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestAgeWarning(t *testing.T) {
	at := mustTime(testNow)
	low := elements.Set{Name: "LOW", MeanMotionRevPerDay: 15, Epoch: at.Add(-3*day - time.Hour)}
	high := elements.Set{Name: "HIGH", MeanMotionRevPerDay: 2, Epoch: at.Add(-29 * day)}
	fresh := elements.Set{Name: "FRESH", MeanMotionRevPerDay: 15, Epoch: at.Add(-2 * day)}
	ahead := elements.Set{Name: "AHEAD", MeanMotionRevPerDay: 15, Epoch: at.Add(4 * day)}
	for _, c := range []struct {
		set  elements.Set
		warn bool
	}{{low, true}, {high, false}, {fresh, false}, {ahead, true}} {
		if got := ageWarning(c.set, at); (got != "") != c.warn {
			t.Errorf("%s: %q, want a warning: %v", c.set.Name, got, c.warn)
		}
	}
}
