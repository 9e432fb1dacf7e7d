package radio

import (
	"fmt"
	"io"

	"foreaim/track"
	"foreaim/track/internal/csvfile"
)

// Transmitter is a strong signal's mast.
type Transmitter struct {
	Name                      string
	LatitudeDeg, LongitudeDeg float64
	GroundM                   float64 // above mean sea level
	MastM                     float64 // of the antenna, above ground
	LowMHz, HighMHz           float64 // what it occupies
	ERPDBm                    Figure  // against a half-wave dipole; unknown: 10 W to 1 MW
	Polarisation              string  // h, v, m for mixed, or nothing
}

// unknownERP is what a transmitter may send: 10 W, to the 1000 kW that 47 CFR
// 73.622(f) permits television at most.
var unknownERP = Range{40, 90}

// noiseLikeMHz is from which width on a signal is taken for many carriers, such
// as digital television, rather than one of constant strength (common practice,
// no source).
const noiseLikeMHz = 1.0

// MiddleMHz returns the middle of what it occupies.
func (t Transmitter) MiddleMHz() float64 { return (t.LowMHz + t.HighMHz) / 2 }

// noiseLike says whether its strength changes like that of noise.
func (t Transmitter) noiseLike() bool { return t.HighMHz-t.LowMHz >= noiseLikeMHz }

// Band writes what it occupies: "470.0 to 478.0 MHz".
func (t Transmitter) Band() string {
	if t.HighMHz-t.LowMHz < 0.05 {
		return fmt.Sprintf("%.3f MHz", t.MiddleMHz())
	}
	return fmt.Sprintf("%.1f to %.1f MHz", t.LowMHz, t.HighMHz)
}

func (t Transmitter) site() track.Site {
	return track.Site{Name: t.Name, LatitudeDeg: t.LatitudeDeg, LongitudeDeg: t.LongitudeDeg}
}

const (
	maxTransmittersFile = 16 << 20 // bytes
	// maxTransmitters bounds the products of three of them: some seconds' work.
	maxTransmitters = 300
)

var transmitterColumns = []string{
	"name", "latitude_deg", "longitude_deg", "ground_m", "mast_m", "low_mhz", "high_mhz", "erp_dbm", "polarisation",
}

// ReadTransmitters reads transmitters as CSV: the columns name, latitude_deg,
// longitude_deg, ground_m, mast_m, low_mhz, high_mhz, erp_dbm and polarisation
// (h, v or m), in any order, a line each, at most 300. The cells of erp_dbm and
// polarisation may be empty. The name of the file is for the error, a *FileError:
// the first.
func ReadTransmitters(r io.Reader, file string) ([]Transmitter, error) {
	table := csvfile.Open(r, file, csvfile.Format{What: "a file of transmitters", Needs: transmitterColumns, MaxBytes: maxTransmittersFile})
	var all []Transmitter
	for table.Next() {
		t := Transmitter{
			Name:         table.Words("name"),
			LatitudeDeg:  table.Number("latitude_deg", -90, 90),
			LongitudeDeg: table.Number("longitude_deg", -180, 180),
			GroundM:      table.Number("ground_m", -500, 9000),
			MastM:        table.Number("mast_m", 0, 1000),
			LowMHz:       table.Number("low_mhz", 0.001, 1e5),
			HighMHz:      table.Number("high_mhz", 0.001, 1e5),
			Polarisation: table.Choice("polarisation", "h", "v", "m", ""),
		}
		t.ERPDBm.Value, t.ERPDBm.Known = table.Maybe("erp_dbm", -50, 110)
		if t.HighMHz < t.LowMHz {
			table.Fail("high_mhz", "", "high_mhz is %v, below low_mhz, %v", t.HighMHz, t.LowMHz)
		}
		all = append(all, t)
		if len(all) > maxTransmitters {
			table.Fail("name", "leave out those that are far away or weak", "more than %d transmitters", maxTransmitters)
		}
	}
	if err := table.Err(); err != nil {
		return nil, err
	}
	return all, nil
}
