package track

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Site is where the antenna is: geodetic latitude and longitude on WGS-84 in
// degrees (north and east positive), height above the ellipsoid in metres.
type Site struct {
	Name         string
	LatitudeDeg  float64 // -90 to 90
	LongitudeDeg float64 // -180 to 180
	HeightM      float64 // above the WGS-84 ellipsoid
}

// Check says whether the site's numbers are in range: latitude -90 to 90,
// longitude -180 to 180, height -500 to 10000 m.
func (s Site) Check() error {
	for _, v := range []struct {
		name            string
		value, low, top float64
	}{
		{"latitude", s.LatitudeDeg, -90, 90},
		{"longitude", s.LongitudeDeg, -180, 180},
		{"height", s.HeightM, -500, 10000},
	} {
		if !(v.value >= v.low && v.value <= v.top) { // refuses NaN too
			return fmt.Errorf("%s %v is outside %v to %v", v.name, v.value, v.low, v.top)
		}
	}
	return nil
}

// ParseSite reads "LAT,LON", "LAT,LON,HEIGHT_M" in decimal degrees and metres,
// or a Maidenhead locator of 4, 6, 8 or 10 characters, which stands for the
// centre of its square at height 0. Errors say what would be right.
func ParseSite(text string) (Site, error) {
	text = strings.TrimSpace(text)
	if !strings.Contains(text, ",") {
		return parseLocator(text)
	}
	fields := strings.Split(text, ",")
	if len(fields) > 3 {
		return Site{}, fmt.Errorf("site %q: %d numbers, want LAT,LON or LAT,LON,HEIGHT_M", text, len(fields))
	}
	var site Site
	for i, to := range []*float64{&site.LatitudeDeg, &site.LongitudeDeg, &site.HeightM}[:len(fields)] {
		name := []string{"latitude", "longitude", "height"}[i]
		field := strings.TrimSpace(fields[i])
		v, err := strconv.ParseFloat(field, 64)
		if err != nil || strings.ContainsAny(field, "xX_") || math.IsNaN(v) || math.IsInf(v, 0) {
			return Site{}, fmt.Errorf("site %q: %s %q is not a decimal number", text, name, field)
		}
		*to = v
	}
	if err := site.Check(); err != nil {
		return Site{}, fmt.Errorf("site %q: %w", text, err)
	}
	return site, nil
}
