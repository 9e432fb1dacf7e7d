package aim

import "testing"

func TestStepWords(t *testing.T) {
	for _, c := range []struct {
		step Step
		want string
	}{
		{Step{20, 5}, "20° right, half a fist up"},
		{Step{-41, -12}, "40° left, one fist down"},
		{Step{0, 26}, "two and a half fists up"},
		{Step{2.4, -2.4}, "stay"},
		{Step{-2.6, 0}, "5° left"},
		{Step{180, 90}, "180° right, nine fists up"},
		{Step{0, 14}, "one and a half fists up"},
	} {
		if got := c.step.Words(FistDeg); got != c.want {
			t.Errorf("%v: %q, want %q", c.step, got, c.want)
		}
	}
}

// A person whose fist covers 8° needs more of them.
func TestFistsAreTheUsersOwn(t *testing.T) {
	if got := Fists(20, 8); got != "two and a half fists" {
		t.Errorf("20° in fists of 8°: %q", got)
	}
	if got := Fists(-190, 10); got != "19 fists" {
		t.Errorf("190° in fists of 10°: %q", got)
	}
}

func TestCompassWord(t *testing.T) {
	for azimuth, want := range map[float64]string{
		0: "north", 22.4: "north", 22.6: "north-east", 90: "east", 180: "south",
		247: "south-west", 337.6: "north", 359.9: "north", -45: "north-west", 725: "north",
	} {
		if got := CompassWord(azimuth); got != want {
			t.Errorf("%g°: %q, want %q", azimuth, got, want)
		}
	}
}

func TestOverheadWords(t *testing.T) {
	if got := (Direction{40, 85}).OverheadWords(); got != "straight up, top of the boom towards north-east" {
		t.Error(got)
	}
	if got := (Direction{40, 89.5}).OverheadWords(); got != "straight up" {
		t.Error(got)
	}
	if (Direction{40, 80}).Overhead() || !(Direction{40, 81}).Overhead() {
		t.Error("overhead begins at 80°")
	}
}
