package radio

import (
	"testing"
)

// Each transmitter is told by what it does. The amplifier has an intercept of 10
// dBm: compression at 0.36 dBm (overload_check.csv, L14).
func TestSeverities(t *testing.T) {
	l := bench(t, amp(10))
	in := []Incoming{
		tone("loud", 700, 1), tone("A", 447, -40), tone("B", 457, -40), tone("far", 650, -90), tone("on it", 437, -120),
	}
	vague := tone("vague", 800, 0)
	vague.IsotropicDBm = Range{-10, 2}
	want := map[string]string{
		"loud": "overloads the chain by itself", "vague": "may overload the chain by itself",
		"A": "makes noise in the wanted channel together with others", "B": "makes noise in the wanted channel together with others",
		"far": "harmless", "on it": "sends on the wanted channel",
	}
	all := NewSurroundings(l, append(in, vague)).Severities(up)
	if len(all) != len(want) {
		t.Fatalf("%d of %d", len(all), len(want))
	}
	for i, s := range all {
		if s.Words != want[s.Name] {
			t.Errorf("%s: %s, want %s", s.Name, s.Words, want[s.Name])
		}
		near(t, s.Name+"'s room", s.RoomDB.High, 0.3643-s.PortDBm.Low, 0.001)
		if i > 0 && s.PortDBm.High > all[i-1].PortDBm.High {
			t.Errorf("%s is after %s", s.Name, all[i-1].Name)
		}
	}
}
