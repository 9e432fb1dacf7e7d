package outing

// MarkEntry is a mark as it was at that moment: see Mark. A later one with the
// same ID replaces it.
type MarkEntry struct {
	ID   int      `json:"id"` // from 1
	Mark MarkKind `json:"mark"`
	// CatalogueNumber is the satellite's, where there are several.
	CatalogueNumber int      `json:"catalogue_number,omitempty"`
	Time            Time     `json:"time,omitzero"` // of the key
	Strength        Strength `json:"strength,omitempty"`
	FrequencyHz     Number   `json:"frequency_hz,omitzero"` // as received
	Hold            int      `json:"hold,omitempty"`
	AzimuthDeg      Number   `json:"azimuth_deg,omitzero"` // the direction advised, from the operator's own true north
	ElevationDeg    Number   `json:"elevation_deg,omitzero"`
	Burst           Time     `json:"burst,omitzero"` // expected start of the burst that it is about
	BurstNumber     int      `json:"burst_number,omitempty"`
	LikelyStart     Time     `json:"likely_start,omitzero"`
	UncertaintyS    Number   `json:"uncertainty_s,omitzero"` // of LikelyStart
	Automatic       bool     `json:"automatic,omitempty"`
	Until           Time     `json:"until,omitzero"` // end of a not_listening
	Fate            Fate     `json:"fate,omitempty"`
	Note            Text     `json:"note,omitempty"`
}

// MarkEntryOf makes the entry of a mark.
func MarkEntryOf(m Mark) MarkEntry {
	e := MarkEntry{
		ID:              m.ID,
		CatalogueNumber: m.CatalogueNumber,
		Mark:            m.Kind,
		Time:            TimeOf(m.At),
		Strength:        m.Strength,
		Hold:            m.Held.Hold,
		LikelyStart:     TimeOf(m.Origin.LikelyStart),
		Automatic:       m.Automatic,
		Until:           TimeOf(m.Until),
		Fate:            m.Fate,
		Note:            Text(m.Note),
	}
	if m.FrequencyHz != 0 {
		e.FrequencyHz = NumberOf(m.FrequencyHz)
	}
	if m.Held.Known {
		e.AzimuthDeg, e.ElevationDeg = NumberOf(m.Held.AzimuthDeg), NumberOf(m.Held.ElevationDeg)
	}
	if m.Origin.Expected {
		e.Burst, e.BurstNumber = TimeOf(m.Origin.Start), m.Origin.Number
	}
	if !e.LikelyStart.IsZero() {
		e.UncertaintyS = NumberOf(m.Origin.UncertaintyS)
	}
	return e
}

// State returns the mark as it was when the entry was made.
func (e MarkEntry) State() Mark {
	return Mark{
		ID:              e.ID,
		CatalogueNumber: e.CatalogueNumber,
		At:              e.Time.Time,
		Kind:            e.Mark,
		Strength:        e.Strength,
		FrequencyHz:     e.FrequencyHz.Value,
		Held: Held{
			Hold:         e.Hold,
			Known:        e.AzimuthDeg.Known && e.ElevationDeg.Known,
			AzimuthDeg:   e.AzimuthDeg.Value,
			ElevationDeg: e.ElevationDeg.Value,
		},
		Origin: Origin{
			Expected:     !e.Burst.IsZero(),
			Number:       e.BurstNumber,
			Start:        e.Burst.Time,
			LikelyStart:  e.LikelyStart.Time,
			UncertaintyS: e.UncertaintyS.Value,
		},
		Automatic: e.Automatic,
		Until:     e.Until.Time,
		Fate:      e.Fate,
		Note:      string(e.Note),
	}
}
