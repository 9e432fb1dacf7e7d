package track

import "errors"

// Site is where the antenna is: geodetic latitude and longitude on WGS-84 in
// degrees (north and east positive), height above the ellipsoid in metres.
type Site struct {
	Name         string
	LatitudeDeg  float64 // -90 to 90
	LongitudeDeg float64 // -180 to 180
	HeightM      float64 // above the WGS-84 ellipsoid
}

// ParseSite reads "LAT,LON", "LAT,LON,HEIGHT_M" in decimal degrees and metres,
// or a Maidenhead locator of 4, 6, 8 or 10 characters, which stands for the
// centre of its square at height 0. Errors say what would be right.
func ParseSite(text string) (Site, error) { return Site{}, errors.New("not written yet") }
