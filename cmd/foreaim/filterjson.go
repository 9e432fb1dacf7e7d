package main

import "foreaim/track/radio"

// filterJSON is what filters to build there are.
type filterJSON struct {
	WantedLowMHz  *float64   `json:"wanted_low_mhz"`
	WantedHighMHz *float64   `json:"wanted_high_mhz"`
	TolerableDB   *float64   `json:"tolerable_db"`
	Words         string     `json:"words"`
	Filters       []ideaJSON `json:"filters"` // best first
	Refused       []string   `json:"refused"`
}

type ideaJSON struct {
	Kind         string          `json:"kind"`
	Enough       bool            `json:"enough"`
	Words        string          `json:"words"`
	WantedLowDB  *float64        `json:"wanted_loss_low_db"`
	WantedHighDB *float64        `json:"wanted_loss_high_db"`
	Stops        []stopJSON      `json:"stops"`
	Build        []string        `json:"build"`
	Cautions     []string        `json:"cautions"`
	With         *remedyJSON     `json:"with,omitempty"`
	Response     []responsePoint `json:"response"`
}

type stopJSON struct {
	LowMHz     *float64 `json:"low_mhz"`
	HighMHz    *float64 `json:"high_mhz"`
	NeededDB   *float64 `json:"needed_db"`
	LossLowDB  *float64 `json:"loss_low_db"`
	LossHighDB *float64 `json:"loss_high_db"`
}

type responsePoint struct {
	FrequencyMHz *float64 `json:"frequency_mhz"`
	LossLowDB    *float64 `json:"loss_low_db"`
	LossHighDB   *float64 `json:"loss_high_db"`
}

// responsePoints is how many points of a response JSON has.
const responsePoints = 101

func newFilterJSON(a radio.FilterAdvice, t radio.FilterTask) filterJSON {
	answer := filterJSON{
		mhz(t.WantedLowMHz), mhz(t.WantedHighMHz), number(t.TolerableDB, 2), a.Words, []ideaJSON{}, append([]string{}, a.Refused...),
	}
	low, high := t.WantedLowMHz, t.WantedHighMHz
	for _, s := range t.Stops {
		low, high = min(low, s.LowMHz), max(high, s.HighMHz)
	}
	for _, f := range a.Ideas {
		i := ideaJSON{Kind: f.Kind, Enough: f.Enough, Words: f.Words, Build: f.Build, Cautions: f.Cautions}
		_, i.WantedLowDB, i.WantedHighDB = ends(f.WantedDB)
		for n, s := range t.Stops {
			_, least, most := ends(f.StopsDB[n])
			i.Stops = append(i.Stops, stopJSON{mhz(s.LowMHz), mhz(s.HighMHz), number(s.NeededDB, 2), least, most})
		}
		for _, p := range radio.Sample(f.Response(), low/1.15, high*1.15, responsePoints) {
			_, least, most := ends(p.LossDB)
			i.Response = append(i.Response, responsePoint{mhz(p.MHz), least, most})
		}
		if r := f.With; r != nil {
			i.With = &remedyJSON{string(r.Kind), r.Words, r.Caution, string(r.Verdict), newMarginJSON(r.HearingMarginDB, r.DecodingMarginDB)}
		}
		answer.Filters = append(answer.Filters, i)
	}
	return answer
}
