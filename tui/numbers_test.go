package tui

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/beacon"
)

// readDigits reads the big digits of a page from a row on, as an eye would: by
// their shapes, group by group.
func readDigits(c *canvas, y int, d digitSize) []string {
	var groups []string
	blank := 100
	for x := 0; x < c.columns; {
		if r, ok := readDigit(c, x, y, d); ok {
			if blank > d.gap {
				groups = append(groups, "")
			}
			groups[len(groups)-1] += string(r)
			x += d.width(string(r))
			blank = 0
			continue
		}
		x++
		blank++
	}
	return groups
}

func readDigit(c *canvas, x, y int, d digitSize) (rune, bool) {
	for r, shape := range digitShapes {
		if r == ':' || r == '-' {
			continue // parts of other shapes; not used here
		}
		page := newCanvas(d.width(string(r)), d.rows(), c.glyphs)
		d.draw(page, 0, 0, strong, c.glyphs.full, string(r))
		same := strings.TrimSpace(shape[0]+shape[2]) != ""
		for row := range page.rows {
			for column := range page.columns {
				same = same && page.at(column, row).r == c.at(x+column, y+row).r
			}
			// A shape stands free on both sides.
			same = same && c.at(x-1, y+row).r == ' ' && c.at(x+page.columns, y+row).r == ' '
		}
		if same {
			return r, true
		}
	}
	return 0, false
}

// At random moments of passes through north, overhead, before rise and after
// set, the numbers on the screen are those that track and aim give.
func TestNumbers(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(1, 2))
	seen := map[stage]int{}
	for i := range 600 {
		a := arc{
			peakAzimuthDeg: random.Float64() * 360, peakElevationDeg: 6 + random.Float64()*83.9,
			every: orbitEvery, leftward: random.IntN(2) == 0, epoch: start,
		}
		switch i % 4 {
		case 0:
			a.peakAzimuthDeg = track.Wrap360(random.NormFloat64() * 10)
		case 1:
			a.peakElevationDeg = 80 + random.Float64()*9.9
		}
		s := story{object: a, schedule: everyHalfMinute, facingDeg: math.Floor(random.Float64() * 360),
			at: time.Duration((random.Float64()*900 - 450) * float64(time.Second))}
		if i%5 == 0 {
			s.schedule = beacon.Schedule{Period: 40 * time.Second}
		}
		m := picture(t, s, 80, 24)
		seen[m.scene.stage]++
		checkNumbers(t, m, s)
		if t.Failed() {
			t.Fatalf("%+v\n%s", s, m.page.plain())
		}
	}
	for _, want := range [...]stage{before, move, keepStill, burstNow, listen, lastPassed, over} {
		if seen[want] == 0 {
			t.Errorf("stage %d never came: %v", want, seen)
		}
	}
}

func checkNumbers(t *testing.T, m *model, s story) {
	t.Helper()
	now := start.Add(s.at)
	// The pass: the first that has not set more than five seconds ago.
	passes, _ := s.object.passes(t.Context(), meadow, now.Add(-5*time.Second), now.Add(48*time.Hour), 5)
	pass := passes[0]
	plan, err := aim.PlanPass(s.object, meadow, pass, now, aim.Settings{Schedule: s.schedule, BeamwidthDeg: 50, Clock: time.Second})
	if err != nil {
		t.Fatal(err)
	}
	moment := plan.At(now)
	hold := moment.Next
	if hold == nil {
		hold = moment.Last
	}
	if hold == nil { // a grazing pass between two bursts has no hold at all
		return
	}
	turn := math.Round(track.TurnDeg(s.facingDeg, hold.AzimuthDeg))
	wantTurn := fmt.Sprintf("%.0f", math.Abs(turn))
	if turn > 0 {
		wantTurn += ">"
	} else if turn < 0 {
		wantTurn = "<" + wantTurn
	}
	wantUp := fmt.Sprintf("%.0f", math.Round(hold.ElevationDeg))
	digits := readDigits(m.page, 1, digitSizes[2])
	if len(digits) < 3 || digits[0] != wantTurn || digits[1] != wantUp {
		t.Errorf("digits %q, want %q and %q", digits, wantTurn, wantUp)
		return
	}
	if moment.Next != nil && plan.BurstsKnown {
		wait := math.Ceil(math.Max(0, moment.Next.At.Sub(now).Seconds()))
		if want := fmt.Sprintf("%.0f", wait); wait <= 99 && digits[2] != want {
			t.Errorf("countdown %q, want %q", digits[2], want)
		}
	}
	look, _ := s.object.Look(meadow, now)
	text := m.page.plain()
	for _, want := range [...]string{
		fmt.Sprintf("Now %03d°T ", int(math.Round(look.AzimuthDeg))%360),
		fmt.Sprintf("%.0f km  receive %.4f MHz", look.RangeKm, track.ReceiveHz(437.45e6, look.RangeRateKmS)/1e6),
		"set " + pass.Set.Time.In(zone).Format("15:04:05"),
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the screen", want)
		}
	}
}
