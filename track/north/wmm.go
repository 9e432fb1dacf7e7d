package north

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"math"
	"sync"
	"time"
)

// The coefficients of the World Magnetic Model 2025, bytes unchanged. Source:
// NOAA National Centers for Environmental Information and British Geological
// Survey, World Magnetic Model 2025, released 2024-12-17. Public domain.
//
//go:embed WMM2025.COF
var coefficientFile []byte

var wmm2025 = sync.OnceValues(func() (*model, error) {
	m, err := parseModel(bytes.NewReader(coefficientFile))
	if err != nil {
		return nil, fmt.Errorf("WMM2025.COF: %w", err)
	}
	return m, nil
})

// The years and heights of the model.
const (
	firstYear      = 2025.0
	lastYear       = 2030.0
	lowestHeightM  = -1_000.0
	highestHeightM = 850_000.0
)

// ErrOutsideYears is returned for times that the model doesn't cover.
var ErrOutsideYears = errors.New("the magnetic model " + Model + " covers the years 2025.0 to 2030.0 only")

// At returns the magnetic field at a geodetic latitude (-90 to 90) and
// longitude (-180 to 360, east positive) in degrees and a height above the
// WGS-84 ellipsoid in metres (-1000 to 850000). Times before 2025.0 or after
// 2030.0 (UTC) give ErrOutsideYears.
//
// At a geographic pole every direction is south or north, so north is taken
// along the meridian of the longitude given: the declination there depends on
// the longitude, the field itself does not. Near a magnetic pole declination
// changes fast from place to place and its uncertainty grows to 180: see
// Field.Zone.
func At(latitudeDeg, longitudeDeg, heightM float64, t time.Time) (Field, error) {
	year := decimalYear(t)
	switch {
	case !(math.Abs(latitudeDeg) <= 90):
		return Field{}, fmt.Errorf("latitude %g° is not within -90 to 90", latitudeDeg)
	case !(longitudeDeg >= -180 && longitudeDeg <= 360):
		return Field{}, fmt.Errorf("longitude %g° is not within -180 to 360", longitudeDeg)
	case !(heightM >= lowestHeightM && heightM <= highestHeightM):
		return Field{}, fmt.Errorf("height %g m is outside the magnetic model %s: -1 to 850 km above the ellipsoid", heightM, Model)
	case year < firstYear || year > lastYear:
		return Field{}, fmt.Errorf("%w, not %s", ErrOutsideYears, t.UTC().Format("2006-01-02"))
	}
	m, err := wmm2025()
	if err != nil {
		return Field{}, err
	}
	return newField(m.vector(latitudeDeg, longitudeDeg, heightM, year)), nil
}

// decimalYear is the year plus the share of it that has passed, in UTC.
func decimalYear(t time.Time) float64 {
	t = t.UTC()
	start := time.Date(t.Year(), 1, 1, 0, 0, 0, 0, time.UTC)
	length := time.Date(t.Year()+1, 1, 1, 0, 0, 0, 0, time.UTC).Sub(start)
	return float64(t.Year()) + float64(t.Sub(start))/float64(length)
}
