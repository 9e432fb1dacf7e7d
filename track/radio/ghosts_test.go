package radio

import (
	"math"
	"math/rand/v2"
	"testing"

	"foreaim/track/radio/internal/invent"
)

// What falls by more than was put in is made in the receiver, by two and three
// times as much when it is a product of second and third order (the definition
// of the intercept points).
func TestPeakDrops(t *testing.T) {
	seen := func(padDB, level float64) Peak {
		return Peak{Setting: Setting{AttenuatorDB: padDB}, LowMHz: 470, HighMHz: 478, Level: level}
	}
	for _, c := range []struct {
		name   string
		pad    float64
		before float64
		after  float64
		origin Origin
		order  int
	}{
		{"real", 10, -30, -40.5, FromOutside, 0},
		{"third order", 10, -60, -90, InReceiver, 3},
		{"second order", 10, -60, -80.3, InReceiver, 2},
		{"between orders", 10, -60, -84, InReceiver, 0},
		{"own", 10, -60, -60, BehindPad, 0},
		{"compressed", 20, -20, -31, NotTold, 0},
		{"small attenuator", 3, -20, -24, NotTold, 0},
		{"third order, small attenuator", 6, -60, -78, InReceiver, 3},
	} {
		all := PeakDrops([]Peak{seen(0, c.before), seen(c.pad, c.after)})
		if len(all) != 1 || all[0].Origin != c.origin || all[0].Order != c.order || all[0].PadDB != c.pad || all[0].Words == "" {
			t.Errorf("%s: %+v, want %s of order %d", c.name, all, c.origin, c.order)
		}
	}
	// Of several attenuators the smallest tells most; others' settings don't count.
	turned := seen(10, -90)
	turned.AzimuthDeg = Given(90)
	all := PeakDrops([]Peak{seen(20, -50), turned, seen(0, -30), seen(10, -40)})
	if len(all) != 1 || all[0].PadDB != 10 || all[0].Origin != FromOutside {
		t.Errorf("%+v", all)
	}
}

// Neighbours are no one signal, nor is one that was seen behind the attenuator
// only compared with another.
func TestPeakDropsOfNeighbours(t *testing.T) {
	all := PeakDrops([]Peak{
		{LowMHz: 470, HighMHz: 478, Level: -30}, {LowMHz: 478, HighMHz: 486, Level: -20},
		{Setting: Setting{AttenuatorDB: 10}, LowMHz: 478.2, HighMHz: 485.8, Level: -30},
	})
	if len(all) != 1 || all[0].LowMHz != 478 || all[0].Origin != FromOutside {
		t.Errorf("%+v", all)
	}
}

// padded returns a sweep behind an attenuator: real bands fall by as much, the
// ghosts three times as much, the floor not at all.
func padded(s invent.Spectrum, pad float64, ghost func(invent.Band) bool, r *rand.Rand) Sweep {
	sweep := sweepOf(s)
	sweep.AttenuatorDB = pad
	for i := range sweep.Points {
		p := &sweep.Points[i]
		for _, b := range s.Bands {
			if p.MHz > b.LowMHz-s.StepMHz && p.MHz < b.HighMHz+s.StepMHz {
				fall := pad
				if ghost(b) {
					fall *= 3
				}
				// The noise stays: here up to 7 dB under the floor, as channels differ.
				p.Level = 10 * math.Log10(math.Pow(10, (p.Level-fall)/10)+math.Pow(10, (p.Level-b.OverDB-7)/10))
			}
		}
		p.Level += 0.5 * r.NormFloat64()
	}
	return sweep
}

// In 300 made-up spectra no band is ever called by the wrong name, ghosts that
// can be told apart are, and what can't be is said to be.
func TestGhostsOfSweeps(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	told := map[Origin]int{}
	for range 300 {
		s := invent.NewSpectrum(r)
		pad := 10 + 10*r.Float64()
		odd := r.IntN(2)
		ghost := func(b invent.Band) bool { return int(b.LowMHz)%2 == odd }
		plain := sweepOf(s).Occupied()
		drops := Drops(plain, padded(s, pad, ghost, r).Occupied())
		if len(drops) < len(plain.Bands) {
			t.Fatalf("%d of %d bands", len(drops), len(plain.Bands))
		}
		for i, d := range drops[:len(plain.Bands)] {
			if len(plain.Bands) != len(s.Bands) {
				break
			}
			b := s.Bands[i]
			told[d.Origin]++
			switch {
			case d.Origin == BehindPad, ghost(b) && d.Origin == FromOutside, !ghost(b) && d.Origin == InReceiver:
				t.Errorf("band %.1f over the floor, ghost %v, behind %.1f dB: %+v", b.OverDB, ghost(b), pad, d)
			case b.OverDB > 1.5*pad+8 && d.Origin == NotTold:
				t.Errorf("band %.1f over the floor, ghost %v, behind %.1f dB: %+v", b.OverDB, ghost(b), pad, d)
			}
		}
	}
	if told[FromOutside] < 50 || told[InReceiver] < 50 || told[NotTold] < 50 {
		t.Errorf("%v", told)
	}
}

// The noise of a channel, without any signal in it.
func TestFloorDrop(t *testing.T) {
	plain, behind := flat(600, 480, 488), flat(600, 480, 488)
	for i := range behind.Points {
		behind.Points[i].Level -= 10
	}
	behind.AttenuatorDB = 10
	d, both := FloorDrop(plain.Occupied(), behind.Occupied(), 460, 462)
	if !both || d.Origin != FromOutside {
		t.Errorf("%+v", d)
	}
	near(t, "fell by", d.FellDB.Mid(), 10, 0.001)
	if _, both := FloorDrop(plain.Occupied(), behind.Occupied(), 300, 301); both {
		t.Error("a drop where nothing was seen")
	}
}
