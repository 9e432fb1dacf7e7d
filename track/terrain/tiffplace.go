package terrain

import "fmt"

// The keys of GeoTIFF that are read (OGC 19-008r4).
const (
	keyModel        = 1024 // 2: latitude and longitude
	keyRaster       = 1025 // 1: a pixel is an area, 2: a point
	keyVerticalUnit = 4099 // 9001: metre
)

// geoKeys returns the keys whose values are short numbers.
func (t *tiffTags) geoKeys() map[int]int {
	keys := map[int]int{}
	all := t.wholes(tagGeoKeys)
	for i := 4; i+4 <= len(all); i += 4 {
		if all[i+1] == 0 && all[i+2] == 1 {
			keys[all[i]] = all[i+3]
		}
	}
	return keys
}

// place finds where the pixels lie.
func (t *tiffTags) place(g *grid) error {
	keys := t.geoKeys()
	if model, told := keys[keyModel]; told && model != 2 {
		err := t.fault(nil, "is in a map projection, want latitude and longitude")
		err.Advice = "convert it to tiles of one degree in latitude and longitude (WGS-84)"
		return err
	}
	if unit, told := keys[keyVerticalUnit]; told && unit != 9001 {
		return t.fault(nil, "has heights in unit %d, want metres (9001)", unit)
	}
	scale, tie := t.reals(tagPixelScale), t.reals(tagTiePoints)
	if len(scale) < 2 || len(tie) < 6 {
		if _, turned := t.values[tagTransform]; turned {
			return t.fault(nil, "is placed by a matrix, want a scale and a point")
		}
		return t.fault(nil, "is TIFF without a place on the Earth, want GeoTIFF")
	}
	if !(scale[0] > 1e-6 && scale[0] < 1 && scale[1] > 1e-6 && scale[1] < 1) {
		return t.fault(nil, "has pixels of %v by %v degrees", scale[0], scale[1])
	}
	centre := 0.5 // of a pixel
	if keys[keyRaster] == 2 {
		centre = 0
	}
	g.lonStep, g.latStep = scale[0], scale[1]
	g.westDeg = tie[3] + (centre-tie[0])*g.lonStep
	g.northDeg = tie[4] - (centre-tie[1])*g.latStep
	return nil
}

// covers says whether the samples of a grid reach over a square, but for one
// sample's width at each side.
func (g grid) covers(s square) bool {
	x0, y0 := g.xy(float64(s.south+1), float64(s.west))
	x1, y1 := x0+1/g.lonStep, y0+1/g.latStep
	const slack = 1.01
	return x0 >= -slack && y0 >= -slack && x1 <= float64(g.cols-1)+slack && y1 <= float64(g.rows-1)+slack
}

// extent tells where a grid lies.
func (g grid) extent() string {
	return fmt.Sprintf("latitude %.4f to %.4f, longitude %.4f to %.4f",
		g.northDeg-float64(g.rows-1)*g.latStep, g.northDeg, g.westDeg, g.westDeg+float64(g.cols-1)*g.lonStep)
}
