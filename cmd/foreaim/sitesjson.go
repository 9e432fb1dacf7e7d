package main

import "foreaim/track/terrain"

// studyJSON is a place for programs.
type studyJSON struct {
	Rank         int         `json:"rank"`
	Name         string      `json:"name"`
	LatitudeDeg  *float64    `json:"latitude_deg"`
	LongitudeDeg *float64    `json:"longitude_deg"`
	AntennaM     *float64    `json:"antenna_m"`
	GroundM      *float64    `json:"ground_m,omitempty"`
	WorthDB      *float64    `json:"worth_db,omitempty"`
	ScreenedOnly bool        `json:"screened_only,omitempty"`
	Unknown      string      `json:"unknown,omitempty"`
	InSightShare *float64    `json:"in_sight_share,omitempty"`
	InSightS     *float64    `json:"in_sight_s,omitempty"`
	Passes       *int        `json:"passes,omitempty"`
	BurstsLeast  *int        `json:"bursts_least,omitempty"`
	BurstsMost   *int        `json:"bursts_most,omitempty"`
	Skyline      []crestJSON `json:"skyline,omitempty"`
	heardJSON
	Reasons []string `json:"reasons"`
}

// heardJSON is what is left of a beacon.
type heardJSON struct {
	Interference         []interferenceJSON `json:"interference,omitempty"`
	RoomDB               *float64           `json:"room_db,omitempty"` // below what the chain bears
	RoomLowDB            *float64           `json:"room_low_db,omitempty"`
	RoomHighDB           *float64           `json:"room_high_db,omitempty"`
	NoiseRiseDB          *float64           `json:"noise_rise_db,omitempty"`
	NoiseRiseLowDB       *float64           `json:"noise_rise_low_db,omitempty"`
	NoiseRiseHighDB      *float64           `json:"noise_rise_high_db,omitempty"`
	QuietHearingMarginDB *float64           `json:"quiet_hearing_margin_db,omitempty"` // without transmitters
	HearingMarginDB      *float64           `json:"hearing_margin_db,omitempty"`
	HearingMarginLowDB   *float64           `json:"hearing_margin_low_db,omitempty"`
	HearingMarginHighDB  *float64           `json:"hearing_margin_high_db,omitempty"`
}

// interferenceJSON is one transmitter.
type interferenceJSON struct {
	Transmitter  string   `json:"transmitter"`
	DistanceKm   *float64 `json:"distance_km"`
	BearingDeg   *float64 `json:"bearing_deg"`
	PathLossDB   *float64 `json:"path_loss_db"`
	PathLossHigh *float64 `json:"path_loss_high_db"`
	PortDBm      *float64 `json:"port_dbm"`
	PortLowDBm   *float64 `json:"port_low_dbm"`
	PortHighDBm  *float64 `json:"port_high_dbm"`
	Path         string   `json:"path"`
	Effect       string   `json:"effect"`
}

func newStudiesJSON(all []study) []studyJSON {
	answers := make([]studyJSON, 0, len(all))
	for i, s := range all {
		answers = append(answers, newStudyJSON(i+1, s))
	}
	return answers
}

// skylineStepDeg is how near to the skyline the points of an answer keep.
const skylineStepDeg = 0.1

func newStudyJSON(rank int, s study) studyJSON {
	a := studyJSON{
		Rank: rank, Name: s.Name, LatitudeDeg: number(s.LatitudeDeg, 6), LongitudeDeg: number(s.LongitudeDeg, 6),
		AntennaM: number(s.AntennaM, 2), Reasons: s.reasons(),
	}
	if s.Unknown != nil {
		a.Unknown = plain(s.Unknown.Error())
		return a
	}
	a.GroundM, a.WorthDB, a.ScreenedOnly = number(s.GroundM, 1), s.worth(), s.screened
	a.InSightShare = number(s.SkyShare, 4)
	if !s.screened {
		n := len(s.passes)
		a.Passes, a.InSightS = &n, number(s.inSight.Seconds(), 1)
		a.BurstsLeast, a.BurstsMost = burstsJSON(s)
		for _, p := range s.Panorama.Skyline().Thin(skylineStepDeg).Points() {
			a.Skyline = append(a.Skyline, newCrestJSON(p, *s.Panorama))
		}
	}
	if s.heard != nil {
		a.heardJSON = newHeardJSON(s.heard)
	}
	return a
}

// burstsJSON are the bursts of a place, of a beacon whose period is known.
func burstsJSON(s study) (least, most *int) {
	if len(s.passes) == 0 || s.passes[0].schedule.Period == 0 {
		return nil, nil
	}
	return &s.least, &s.most
}

func newCrestJSON(p terrain.Point, around terrain.Panorama) crestJSON {
	c := crestAt(around, p.AzimuthDeg)
	return crestJSON{azimuth(p.AzimuthDeg), number(p.ElevationDeg, degDecimals), number(c.DistanceM/1000, kmDecimals), number(c.HeightM, 1)}
}

func newHeardJSON(h *leftOver) (a heardJSON) {
	a.HearingMarginDB, a.HearingMarginLowDB, a.HearingMarginHighDB = ends(h.marginDB)
	if len(h.effects) == 0 {
		return a
	}
	a.RoomDB, a.RoomLowDB, a.RoomHighDB = ends(h.roomDB)
	a.NoiseRiseDB, a.NoiseRiseLowDB, a.NoiseRiseHighDB = ends(h.riseDB)
	a.QuietHearingMarginDB = number(h.quietDB.Mid(), 2)
	for _, e := range h.effects {
		i := interferenceJSON{
			Transmitter: e.Name, DistanceKm: number(e.DistanceKm, kmDecimals), BearingDeg: azimuth(e.BearingDeg),
			PathLossDB: number(e.PathLossDB.Low, 2), PathLossHigh: number(e.PathLossDB.High, 2),
			Path: e.PathWords, Effect: e.Words,
		}
		i.PortDBm, i.PortLowDBm, i.PortHighDBm = ends(e.PortDBm)
		a.Interference = append(a.Interference, i)
	}
	return a
}

// featureCollection is the places for a map: GeoJSON, RFC 7946.
type featureCollection struct {
	Type     string    `json:"type"`
	Features []feature `json:"features"`
}

type feature struct {
	Type       string    `json:"type"`
	Geometry   point     `json:"geometry"`
	Properties studyJSON `json:"properties"`
}

type point struct {
	Type        string      `json:"type"`
	Coordinates [2]*float64 `json:"coordinates"` // longitude first
}

func newMap(all []study) featureCollection {
	m := featureCollection{Type: "FeatureCollection", Features: []feature{}}
	for i, s := range all {
		properties := newStudyJSON(i+1, s)
		properties.Skyline = nil // a line of sight is no line on a map
		m.Features = append(m.Features, feature{
			"Feature", point{"Point", [2]*float64{properties.LongitudeDeg, properties.LatitudeDeg}}, properties,
		})
	}
	return m
}
