package main

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"time"

	"foreaim/track"
)

// instant is a moment as JSON gives it: RFC 3339 in UTC with milliseconds.
type instant time.Time

// MarshalJSON writes the moment.
func (t instant) MarshalJSON() ([]byte, error) {
	return []byte(time.Time(t).UTC().Round(time.Millisecond).Format(`"2006-01-02T15:04:05.000Z"`)), nil
}

// number rounds to so many decimals, which keeps JSON readable, and returns nil
// for what isn't a number, so that the field is left out.
func number(x float64, decimals int) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	scale := math.Pow10(decimals)
	rounded := math.Round(x*scale)/scale + 0 // no -0
	return &rounded
}

// The decimals of JSON's numbers: far below every error that is stated.
const (
	degDecimals  = 4
	kmDecimals   = 3
	rateDecimals = 6
	hzDecimals   = 1
)

// azimuth rounds an azimuth so that it stays below 360.
func azimuth(deg float64) *float64 {
	rounded := number(deg, degDecimals)
	if rounded != nil {
		*rounded = track.Wrap360(*rounded)
	}
	return rounded
}

// lookJSON are look angles with their time.
type lookJSON struct {
	Time         instant  `json:"time"`
	AzimuthDeg   *float64 `json:"azimuth_deg,omitempty"`
	ElevationDeg *float64 `json:"elevation_deg,omitempty"`
	RangeKm      *float64 `json:"range_km,omitempty"`
}

func newLookJSON(l track.Look) lookJSON {
	return lookJSON{
		Time:         instant(l.Time),
		AzimuthDeg:   azimuth(l.AzimuthDeg),
		ElevationDeg: number(l.ElevationDeg, degDecimals),
		RangeKm:      number(l.RangeKm, kmDecimals),
	}
}

// printJSON writes a whole answer.
func printJSON(w io.Writer, answer any) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(answer); err != nil {
		return err
	}
	_, err := verbatim(w).Write(b.Bytes())
	return err
}

// printJSONLine writes one of many answers, on one line.
func printJSONLine(w io.Writer, answer any) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(answer); err != nil {
		return err
	}
	_, err := verbatim(w).Write(b.Bytes())
	return err
}
