package main

import (
	"math"

	"foreaim/track"
	"foreaim/track/aim"
	"foreaim/track/outing"
	"foreaim/track/outing/review"
)

// reviewAnswer is what review tells programs.
type reviewAnswer struct {
	Passes  []reviewedJSON `json:"passes"`
	Lasting []lastingJSON  `json:"lasting,omitempty"`
}

type reviewedJSON struct {
	File            string        `json:"file"`
	Outing          string        `json:"outing,omitempty"`
	Demo            bool          `json:"demo,omitempty"`
	Satellite       string        `json:"satellite,omitempty"`
	CatalogueNumber int           `json:"catalogue_number,omitempty"`
	Site            *reviewedSite `json:"site,omitempty"`
	FacingHow       string        `json:"facing_how,omitempty"` // in which way north was found
	Rise            *lookJSON     `json:"rise,omitempty"`
	Peak            *lookJSON     `json:"peak,omitempty"`
	Set             *lookJSON     `json:"set,omitempty"`

	Expected     int `json:"expected"` // bursts; so for the next five
	Heard        int `json:"heard"`
	Silent       int `json:"silent"`
	NotListening int `json:"not_listening"`
	Unmarked     int `json:"not_marked"`
	Unexpected   int `json:"unexpected"` // heard where none was expected

	TimeErrorS             *float64 `json:"time_error_s,omitempty"`
	TimeErrorSigmaS        *float64 `json:"time_error_sigma_s,omitempty"`
	TimeErrorLowS          *float64 `json:"time_error_low_s,omitempty"`
	TimeErrorHighS         *float64 `json:"time_error_high_s,omitempty"`
	HeadingErrorDeg        *float64 `json:"heading_error_deg,omitempty"`
	HeadingErrorSigmaDeg   *float64 `json:"heading_error_sigma_deg,omitempty"`
	HeadingErrorLowDeg     *float64 `json:"heading_error_low_deg,omitempty"`
	HeadingErrorHighDeg    *float64 `json:"heading_error_high_deg,omitempty"`
	MarginDB               *float64 `json:"margin_db,omitempty"`
	MarginSigmaDB          *float64 `json:"margin_sigma_db,omitempty"`
	FrequencyOffsetHz      *float64 `json:"frequency_offset_hz,omitempty"`
	FrequencyOffsetSigmaHz *float64 `json:"frequency_offset_sigma_hz,omitempty"`
	PeriodS                *float64 `json:"period_s,omitempty"`
	PeriodSigmaS           *float64 `json:"period_sigma_s,omitempty"`
	ObjectProbability      *float64 `json:"object_probability,omitempty"`

	Objects []reviewedObjectJSON `json:"objects,omitempty"` // of the group, the likeliest first
	Verdict *verdictJSON         `json:"verdict"`           // null: the record says too little
	Change  []changeJSON         `json:"change,omitempty"`
	Bring   []string             `json:"bring,omitempty"`
	Missing []string             `json:"missing,omitempty"`
	Bursts  []reviewedBurstJSON  `json:"bursts,omitempty"`
	Strays  []reviewedBurstJSON  `json:"unexpected_bursts,omitempty"`
	Noise   []hiddenJSON         `json:"noise_up,omitempty"`
}

type reviewedSite struct {
	LatitudeDeg  *float64 `json:"latitude_deg"`
	LongitudeDeg *float64 `json:"longitude_deg"`
	HeightM      *float64 `json:"height_m,omitempty"`
}

type reviewedObjectJSON struct {
	Satellite       string   `json:"satellite"`
	CatalogueNumber int      `json:"catalogue_number"`
	Probability     *float64 `json:"probability"`
}

type verdictJSON struct {
	Words        string            `json:"words"`
	Odds         []likelyCauseJSON `json:"odds"`
	Together     []togetherJSON    `json:"together"`
	NothingWrong *float64          `json:"nothing_wrong_probability"`
}

type likelyCauseJSON struct {
	Cause       string   `json:"cause"`
	Probability *float64 `json:"probability"`
	For         []string `json:"for,omitempty"`
	Against     []string `json:"against,omitempty"`
}

type togetherJSON struct {
	Causes      []string `json:"causes"`
	Probability *float64 `json:"probability"`
}

type changeJSON struct {
	Cause  string   `json:"cause"`
	Words  string   `json:"words"`
	Bursts *float64 `json:"bursts_gained"`
}

type reviewedBurstJSON struct {
	Number           int      `json:"number,omitempty"`
	Time             instant  `json:"time"`
	Outcome          string   `json:"outcome"`
	Strength         string   `json:"strength,omitempty"`
	NoiseUp          bool     `json:"noise_up,omitempty"`
	AzimuthDeg       *float64 `json:"azimuth_deg,omitempty"` // of the satellite, as found
	ElevationDeg     *float64 `json:"elevation_deg,omitempty"`
	RangeKm          *float64 `json:"range_km,omitempty"`
	HeldAzimuthDeg   *float64 `json:"held_azimuth_deg,omitempty"`
	HeldElevationDeg *float64 `json:"held_elevation_deg,omitempty"`
	HeldBy           string   `json:"held_by,omitempty"`
	AimErrorDeg      *float64 `json:"aim_error_deg,omitempty"`
	MarginDB         *float64 `json:"margin_db,omitempty"`
	FrequencyHz      *float64 `json:"frequency_hz,omitempty"`
	OffsetHz         *float64 `json:"offset_hz,omitempty"`
}

type lastingJSON struct {
	Cause                string   `json:"cause"`
	FacingHow            string   `json:"facing_how,omitempty"` // of north
	Satellite            string   `json:"satellite,omitempty"`
	Outings              int      `json:"outings"`
	Same                 bool     `json:"same"`
	TimeErrorS           *float64 `json:"time_error_s,omitempty"`
	TimeErrorSigmaS      *float64 `json:"time_error_sigma_s,omitempty"`
	HeadingErrorDeg      *float64 `json:"heading_error_deg,omitempty"`
	HeadingErrorSigmaDeg *float64 `json:"heading_error_sigma_deg,omitempty"`
	Words                string   `json:"words"`
}

func newReviewAnswer(r review.Review, how disclosure) reviewAnswer {
	answer := reviewAnswer{Passes: []reviewedJSON{}}
	for _, p := range r.Passes {
		answer.Passes = append(answer.Passes, newReviewed(p, how))
	}
	for _, l := range r.Lasting {
		j := lastingJSON{Cause: l.Cause.String(), FacingHow: l.How, Satellite: l.Satellite, Outings: l.Outings, Same: l.Same, Words: l.Words}
		if l.Cause == review.North {
			j.HeadingErrorDeg, j.HeadingErrorSigmaDeg = number(l.Mean, 2), number(l.Sigma, 2)
		} else {
			j.TimeErrorS, j.TimeErrorSigmaS = number(l.Mean, 2), number(l.Sigma, 2)
		}
		answer.Lasting = append(answer.Lasting, j)
	}
	return answer
}

func newReviewed(p review.Pass, how disclosure) reviewedJSON {
	j := reviewedJSON{
		File: p.File, Outing: p.Outing, Demo: p.Demo, Satellite: p.Satellite, CatalogueNumber: p.CatalogueNumber,
		Site: newReviewedSite(p.Site, how), FacingHow: p.FacingHow, Expected: len(p.Bursts),
		Heard: p.Count(review.Heard), Silent: p.Count(review.Silent), NotListening: p.Count(review.NotListening),
		Unmarked: p.Count(review.Unmarked), Unexpected: len(p.Strays),
		Bring: p.Verdict.Bring, Missing: p.Missing, Bursts: newReviewedBursts(p.Bursts), Strays: newReviewedBursts(p.Strays),
	}
	if !p.Rise.Time.IsZero() {
		rise, peak, set := newLookJSON(p.Rise), newLookJSON(p.Peak), newLookJSON(p.Set)
		j.Rise, j.Peak, j.Set = &rise, &peak, &set
	}
	for _, s := range p.Noise {
		j.Noise = append(j.Noise, hiddenJSON{instant(s.From), instant(s.To)})
	}
	j.estimate(p.Estimates)
	for _, o := range p.Objects {
		j.Objects = append(j.Objects, reviewedObjectJSON{plain(o.Name), o.CatalogueNumber, number(o.Probability, probabilityDecimals)})
	}
	if v := p.Verdict; v.Given {
		j.Verdict = newVerdictJSON(v)
		for _, c := range v.Change {
			j.Change = append(j.Change, changeJSON{c.Cause.String(), c.Words, number(c.Bursts, 1)})
		}
	}
	return j
}

func (j *reviewedJSON) estimate(e review.Estimates) {
	if e.Period > 0 {
		j.PeriodS, j.PeriodSigmaS = number(e.Period.Seconds(), 4), number(e.PeriodSigmaS, 4)
	}
	if !e.Made {
		return
	}
	of := func(e aim.Estimate) (mean, sigma, low, high *float64) {
		return number(e.Mean, 2), number(e.Sigma, 2), number(e.Low, 2), number(e.High, 2)
	}
	j.TimeErrorS, j.TimeErrorSigmaS, j.TimeErrorLowS, j.TimeErrorHighS = of(e.TimeErrorS)
	j.HeadingErrorDeg, j.HeadingErrorSigmaDeg, j.HeadingErrorLowDeg, j.HeadingErrorHighDeg = of(e.HeadingErrorDeg)
	j.MarginDB, j.MarginSigmaDB = number(e.MarginDB.Mean, 1), number(e.MarginDB.Sigma, 1)
	j.FrequencyOffsetHz, j.FrequencyOffsetSigmaHz = maybe(e.OffsetHz, hzDecimals), maybe(e.OffsetSigmaHz, hzDecimals)
	j.ObjectProbability = number(e.ObjectProbability, probabilityDecimals)
}

func newVerdictJSON(v review.Verdict) *verdictJSON {
	j := &verdictJSON{Words: v.Words, NothingWrong: number(v.NothingWrong, probabilityDecimals)}
	for _, o := range v.Odds {
		j.Odds = append(j.Odds, likelyCauseJSON{o.Cause.String(), number(o.Probability, probabilityDecimals), o.For, o.Against})
	}
	for _, s := range v.Sets {
		t := togetherJSON{Causes: []string{}, Probability: number(s.Probability, probabilityDecimals)}
		for _, c := range s.Causes {
			t.Causes = append(t.Causes, c.String())
		}
		j.Together = append(j.Together, t)
	}
	return j
}

func newReviewedBursts(all []review.Burst) []reviewedBurstJSON {
	var list []reviewedBurstJSON
	for _, b := range all {
		j := reviewedBurstJSON{
			Number: b.Number, Time: instant(b.Time), Outcome: string(b.Outcome), Strength: string(b.Strength), NoiseUp: b.NoiseUp,
			AimErrorDeg: maybe(b.AimErrorDeg, 1), MarginDB: maybe(b.MarginDB, 1),
			FrequencyHz: maybe(b.FrequencyHz, hzDecimals), OffsetHz: maybe(b.OffsetHz, hzDecimals),
		}
		if b.Found.RangeKm > 0 {
			j.AzimuthDeg, j.ElevationDeg, j.RangeKm = azimuth(b.Found.AzimuthDeg), number(b.Found.ElevationDeg, degDecimals), number(b.Found.RangeKm, kmDecimals)
		}
		if b.Source != review.Nowhere {
			j.HeldAzimuthDeg, j.HeldElevationDeg, j.HeldBy = azimuth(b.Held.AzimuthDeg), number(b.Held.ElevationDeg, degDecimals), string(b.Source)
		}
		list = append(list, j)
	}
	return list
}

// newReviewedSite is left out where nobody is to know.
func newReviewedSite(s *track.Site, how disclosure) *reviewedSite {
	switch {
	case s == nil || how == placeNone:
		return nil
	case how == placeRounded:
		return &reviewedSite{LatitudeDeg: number(s.LatitudeDeg, 1), LongitudeDeg: number(s.LongitudeDeg, 1)}
	}
	return &reviewedSite{number(s.LatitudeDeg, 6), number(s.LongitudeDeg, 6), number(s.HeightM, 1)}
}

// maybe is a number that may be unknown.
func maybe(n outing.Number, decimals int) *float64 {
	if !n.Known {
		return number(math.NaN(), decimals)
	}
	return number(n.Value, decimals)
}
