package terrain

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"
	"testing/fstest"

	"foreaim/track/terrain/landscape"
)

// meadow is an invented site.
var meadow = Place{58.3127, 14.5}

// elevationDeg is the elevation of ground at a height and a distance, on a sphere
// of 8500 km: worked out as an angle of a triangle.
func elevationDeg(eyeM, groundM, distanceM float64) float64 {
	const r = 8.5e6
	a, b, angle := r+eyeM, r+groundM, distanceM/r
	line := math.Sqrt(a*a + b*b - 2*a*b*math.Cos(angle))
	return math.Acos((a*a+line*line-b*b)/(2*a*line))*180/math.Pi - 90
}

func mustLookAround(t testing.TB, g Ground, site Place, antennaM float64, v View) Panorama {
	t.Helper()
	p, err := LookAround(context.Background(), g, site, antennaM, v)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// moved returns the place at a distance, on a sphere: good to 0.5 %.
func moved(p Place, azimuthDeg, km float64) Place {
	sin, cos := math.Sincos(azimuthDeg * math.Pi / 180)
	return Place{p.LatitudeDeg + km*cos/111.2, p.LongitudeDeg + km*sin/111.2/math.Cos(p.LatitudeDeg*math.Pi/180)}
}

// Level ground: the horizon dips by √(2h/ae). At the date line and beside the pole
// too.
func TestLevelGround(t *testing.T) {
	for _, site := range []Place{meadow, {0, 180}, {-16.8, 179.99}, {89.97, 33}, {90, 0}, {-90, 0}} {
		for _, antenna := range []float64{1.5, 30, 1000} {
			p := mustLookAround(t, landscape.Level(400), site, antenna, View{Azimuths: 16, ReachKm: 200})
			away := math.Sqrt(2 * 8.5e6 * antenna)
			for _, c := range p.Crests {
				near(t, fmt.Sprint(site, antenna, c.AzimuthDeg), c.ElevationDeg, -math.Sqrt(2*antenna/8.5e6)*180/math.Pi, 0.001)
				near(t, "distance", c.DistanceM, away, 0.15*away) // very flat there
			}
		}
	}
}

// A plane that climbs to the north-east: on a plane the elevation is that of the
// slope, less what the Earth falls away.
func TestSlope(t *testing.T) {
	const rise, reach = 0.1, 5000.0
	p := mustLookAround(t, landscape.Slope(meadow.LatitudeDeg, meadow.LongitudeDeg, 45, rise), meadow, 2, View{Azimuths: 72, ReachKm: reach / 1000})
	for _, c := range p.Crests {
		slope := rise * math.Cos((c.AzimuthDeg-45)*math.Pi/180)
		want := math.Inf(-1) // the highest of all steps of a metre
		for d := 10.0; d <= reach; d++ {
			want = max(want, elevationDeg(2, slope*d, d))
		}
		near(t, fmt.Sprint(c.AzimuthDeg), c.ElevationDeg, want, 0.02)
	}
}

// A cone's tip, a dome's tangent and a ridge along its whole length.
func TestConeDomeAndRidge(t *testing.T) {
	for _, km := range []float64{1, 4, 15, 50} {
		tip := moved(meadow, 90, km)
		profile, err := NewProfile(landscape.Level(0), meadow, tip, 0)
		if err != nil {
			t.Fatal(err)
		}
		bearing, away := profile.BearingDeg, profile.LengthKm()*1000
		toward := func(g Ground) Crest {
			v, _ := View{}.withDefaults()
			c, err := newRays(v, 2).cast(g, meadow, bearing, &way{})
			if err != nil {
				t.Fatal(err)
			}
			return c
		}
		height := 60 * km
		cone := toward(landscape.Cone(tip.LatitudeDeg, tip.LongitudeDeg, height, 500*km))
		near(t, fmt.Sprint("cone ", km), cone.ElevationDeg, elevationDeg(2, height, away), 0.02)
		near(t, "its distance", cone.DistanceM, away, 0.002*away+4)

		dome := toward(landscape.Dome(tip.LatitudeDeg, tip.LongitudeDeg, height, 500*km))
		want := -90.0
		sphere := (500*km*500*km + height*height) / (2 * height)
		for d := -500 * km; d <= 0; d += 0.2 {
			want = max(want, elevationDeg(2, math.Sqrt(sphere*sphere-d*d)-sphere+height, away+d))
		}
		near(t, fmt.Sprint("dome ", km), dome.ElevationDeg, want, 0.02)
	}
	// The crest runs 6 km east of the site from south to north: at azimuth a it is
	// 6 km/sin a away.
	g := landscape.Ridge(meadow.LatitudeDeg, meadow.LongitudeDeg+6/111.2/math.Cos(meadow.LatitudeDeg*math.Pi/180), 0, 400, 1500, 30000)
	p := mustLookAround(t, g, meadow, 2, View{})
	profile, err := NewProfile(g, meadow, Place{meadow.LatitudeDeg, meadow.LongitudeDeg + 0.3}, 1)
	if err != nil {
		t.Fatal(err)
	}
	top, away := 0.0, 0.0
	for i, h := range profile.GroundM {
		if h > top {
			top, away = h, profile.DistanceKm[i]*1000
		}
	}
	for azimuth := 45.0; azimuth <= 135; azimuth += 0.5 {
		c := p.Crests[int(azimuth*2)]
		d := away / math.Sin(azimuth*math.Pi/180)
		near(t, fmt.Sprint("ridge ", azimuth), c.ElevationDeg, elevationDeg(2, 400, d), 0.02)
		near(t, "its distance", c.DistanceM, d, 30)
	}
	for azimuth := 200.0; azimuth < 340; azimuth += 0.5 {
		near(t, fmt.Sprint("behind ", azimuth), p.Crests[int(azimuth*2)].ElevationDeg, -math.Sqrt(4/8.5e6)*180/math.Pi, 0.002)
	}
}

// Through tiles of whole metres 3 arc-seconds apart the cone is the same, across
// four tiles.
func TestPanoramaThroughTiles(t *testing.T) {
	site := Place{58.02, 14.98}
	tip := Place{57.98, 15.04}
	shape := landscape.Cone(tip.LatitudeDeg, tip.LongitudeDeg, 500, 8000)
	folder := fstest.MapFS{}
	for _, s := range []square{{57, 14}, {57, 15}, {58, 14}, {58, 15}} {
		folder[s.String()+".hgt"] = hgt(s.south, s.west, 1201, roughly(shape, tip))
	}
	v := View{ReachKm: 10, Azimuths: 180}
	got, want := mustLookAround(t, NewTiles(folder, TilesOptions{}), site, 2, v), mustLookAround(t, shape, site, 2, v)
	near(t, "ground", got.GroundM, want.GroundM, 1)
	highest := 0.0
	for i, c := range got.Crests {
		highest = max(highest, c.ElevationDeg)
		// A metre of rounding and the tip cut off by a sample count for more nearby.
		near(t, fmt.Sprint(c.AzimuthDeg), c.ElevationDeg, want.Crests[i].ElevationDeg, 0.15)
		near(t, "unknown", c.UnknownM, 0, 0)
	}
	if highest < 2 {
		t.Errorf("highest %v", highest)
	}
}

// roughly is a shape that costs nothing further than 20 km from a place.
func roughly(s landscape.Shape, at Place) landscape.Shape {
	return func(lat, lon float64) float64 {
		if math.Abs(lat-at.LatitudeDeg) > 0.2 || math.Abs(lon-at.LongitudeDeg) > 0.4 {
			return 0
		}
		return s(lat, lon)
	}
}

func TestPanoramaUnknownAndMissing(t *testing.T) {
	// East of 14.6 nothing is known.
	hole := GroundFunc(func(_, lon float64) float64 { return lon })
	g := voidFrom{hole, 14.6}
	p := mustLookAround(t, g, Place{58.5, 14.5}, 2, View{ReachKm: 20, Azimuths: 8})
	east := 20000 - 0.1*111320*math.Cos(58.5*math.Pi/180)
	near(t, "unknown to the east", p.Crests[2].UnknownM, east, 60)
	near(t, "to the west", p.Crests[6].UnknownM, 0, 0)
	if share := p.UnknownShare(); share < 0.2 || share > 0.35 {
		t.Errorf("share %v", share)
	}
	var void *VoidError
	if _, err := LookAround(context.Background(), g, Place{58.5, 14.7}, 2, View{}); !errors.As(err, &void) {
		t.Error(err)
	}
	tiles := only("N58E014.hgt", landscape.Tile(landscape.Level(5), 58, 14, 1201))
	var missing *MissingError
	if _, err := LookAround(context.Background(), tiles, Place{58.5, 14.5}, 2, View{}); !errors.As(err, &missing) || missing.Tile != "N58E013" && missing.Tile != "N58E015" && missing.Tile != "N59E014" && missing.Tile != "N57E014" {
		t.Error(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := LookAround(ctx, landscape.Level(1), meadow, 2, View{}); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	for _, v := range []View{{Azimuths: 7}, {Azimuths: 7201}, {ReachKm: 301}, {ReachKm: -1}, {EarthKm: 1}, {ReachKm: math.NaN()}} {
		if _, err := LookAround(context.Background(), landscape.Level(1), meadow, 2, v); err == nil {
			t.Errorf("%+v is taken", v)
		}
	}
	if _, err := LookAround(context.Background(), landscape.Level(1), meadow, -1, View{}); err == nil {
		t.Error("an antenna under the ground is taken")
	}
}

// voidFrom knows nothing from a longitude on.
type voidFrom struct {
	Ground
	longitudeDeg float64
}

func (v voidFrom) HeightM(lat, lon float64) (float64, error) {
	if lon >= v.longitudeDeg {
		return 0, &VoidError{"invented", lat, lon}
	}
	return v.Ground.HeightM(lat, lon)
}

// As a skyline it joins the one entered by hand; a deep valley all around is kept
// within what a skyline can hold.
func TestPanoramaAsSkyline(t *testing.T) {
	p := Panorama{Crests: []Crest{{AzimuthDeg: 0, ElevationDeg: 3}, {AzimuthDeg: 90, ElevationDeg: -8}, {AzimuthDeg: 180, ElevationDeg: 2}, {AzimuthDeg: 270, ElevationDeg: 1}}}
	hand := mustSkyline(t, Point{150, 0}, Point{180, 20}, Point{210, 0})
	joined := p.Skyline().Max(hand)
	for azimuth, want := range map[float64]float64{0: 3, 90: 0, 180: 20, 270: 1} {
		near(t, fmt.Sprint(azimuth), joined.ElevationDeg(azimuth), want, 1e-9)
	}
	near(t, "lowest", p.Skyline().ElevationDeg(90), LowestDeg, 0)
}
