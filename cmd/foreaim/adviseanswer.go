package main

import (
	"cmp"
	"slices"

	"foreaim/track/aim"
	"foreaim/track/elements"
)

// adviceAnswer is one answer of advise.
type adviceAnswer struct {
	Next                 *nextJSON    `json:"next"` // null: no burst is left
	HearProbability      *float64     `json:"hear_probability,omitempty"`
	TimeErrorS           *float64     `json:"time_error_s,omitempty"`
	TimeErrorSigmaS      *float64     `json:"time_error_sigma_s,omitempty"`
	HeadingErrorDeg      *float64     `json:"heading_error_deg,omitempty"`
	HeadingErrorSigmaDeg *float64     `json:"heading_error_sigma_deg,omitempty"`
	AudibleProbability   *float64     `json:"audible_probability,omitempty"`
	Explains             bool         `json:"explains"` // what was observed is possible
	Words                string       `json:"words"`
	Objects              []objectJSON `json:"objects,omitempty"` // of a group, likeliest first
}

// nextJSON is the burst to be ready for. Without a known phase the time is when
// the burst has begun by the latest.
type nextJSON struct {
	Time         instant  `json:"time"`
	AzimuthDeg   *float64 `json:"azimuth_deg,omitempty"`
	ElevationDeg *float64 `json:"elevation_deg,omitempty"`
	PhaseKnown   bool     `json:"phase_known"`
}

type objectJSON struct {
	Satellite       string   `json:"satellite"`
	CatalogueNumber int      `json:"catalogue_number"`
	Probability     *float64 `json:"probability,omitempty"`
}

// probabilityDecimals keep apart what is certain and what is almost.
const probabilityDecimals = 4

func newAdviceAnswer(a aim.Advice, objects []elements.Set) adviceAnswer {
	answer := adviceAnswer{
		HearProbability:      number(a.HearProbability, probabilityDecimals),
		TimeErrorS:           number(a.TimeErrorS.Mean, 2),
		TimeErrorSigmaS:      number(a.TimeErrorS.Sigma, 2),
		HeadingErrorDeg:      number(a.HeadingErrorDeg.Mean, 2),
		HeadingErrorSigmaDeg: number(a.HeadingErrorDeg.Sigma, 2),
		AudibleProbability:   number(a.AudibleProbability, probabilityDecimals),
		Explains:             a.Explains,
		Words:                plain(a.Words()),
	}
	if !a.Next.IsZero() {
		answer.Next = &nextJSON{instant(a.Next), azimuth(a.Aim.AzimuthDeg), number(a.Aim.ElevationDeg, degDecimals), a.PhaseKnown}
	}
	if len(objects) < 2 {
		return answer
	}
	for k, set := range objects {
		answer.Objects = append(answer.Objects, objectJSON{name(set), set.CatalogueNumber, number(a.ObjectProbability[k], probabilityDecimals)})
	}
	slices.SortStableFunc(answer.Objects, func(x, y objectJSON) int { return cmp.Compare(*y.Probability, *x.Probability) })
	return answer
}
