package outing

// StartEntry opens the record, or goes on with it after a break.
type StartEntry struct {
	// Outing is the outing's own name: one file holds the records of one. By
	// custom its start in UTC, such as "20260325T093000Z".
	Outing Text `json:"outing"`
	// Continued tells that an outing with the same name was under way.
	Continued bool `json:"continued,omitempty"`
	Program   Text `json:"program,omitempty"` // the program's version
	Site      Text `json:"site,omitempty"`    // the site's name
	Demo      bool `json:"demo,omitempty"`    // nothing in this record is real
}

// FixEntry is a position that was used; members as foreaim gps prints them.
type FixEntry struct {
	LatitudeDeg  Number `json:"latitude_deg,omitzero"`  // WGS-84, north positive
	LongitudeDeg Number `json:"longitude_deg,omitzero"` // east positive
	AltitudeM    Number `json:"altitude_m,omitzero"`    // above the ellipsoid
	Quality      Text   `json:"quality,omitempty"`
	Satellites   int    `json:"satellites_used,omitempty"`
	HDOP         Number `json:"hdop,omitzero"`
}

// ClockEntry is the error of the computer's clock, as it was corrected from then on.
type ClockEntry struct {
	OffsetS      Number `json:"clock_offset_s,omitzero"` // true time minus the computer's
	UncertaintyS Number `json:"clock_uncertainty_s,omitzero"`
}

// FacingEntry is the true azimuth that the operator took as straight ahead.
type FacingEntry struct {
	AzimuthDeg     Number `json:"azimuth_deg,omitzero"`     // true, 0 to 360; unknown: the facing was taken back
	DeclinationDeg Number `json:"declination_deg,omitzero"` // that was applied to a magnetic one
	SigmaDeg       Number `json:"sigma_deg,omitzero"`
	How            Text   `json:"how,omitempty"`   // typed, nudged, sun, landmark …
	Ahead          Text   `json:"ahead,omitempty"` // the fixed thing that is straight ahead
	// SensorOffsetDeg and SensorPitchOffsetDeg are added to what a sensor on the
	// boom gives; unknown: nothing.
	SensorOffsetDeg      Number `json:"sensor_offset_deg,omitzero"`
	SensorPitchOffsetDeg Number `json:"sensor_pitch_offset_deg,omitzero"`
	// References are what the facing is made of, in the order taken.
	References References `json:"references,omitzero"`
}

// ElementsEntry are the elements that were used, in full, so that a review computes
// with the same.
type ElementsEntry struct {
	Satellite       Text `json:"satellite,omitempty"`
	CatalogueNumber int  `json:"catalogue_number,omitempty"`
	Epoch           Time `json:"epoch,omitzero"`
	Line1           Text `json:"line1,omitempty"` // as a two-line set
	Line2           Text `json:"line2,omitempty"`
	File            Text `json:"file,omitempty"`
}

// PassEntry is the pass that was chosen, with the schedule of its bursts.
type PassEntry struct {
	Satellite       Text      `json:"satellite,omitempty"`
	CatalogueNumber int       `json:"catalogue_number,omitempty"`
	Rise            LookEntry `json:"rise,omitzero"`
	Peak            LookEntry `json:"peak,omitzero"`
	Set             LookEntry `json:"set,omitzero"`
	FrequencyHz     Number    `json:"frequency_hz,omitzero"`
	PeriodS         Number    `json:"period_s,omitzero"`
	First           Time      `json:"first,omitzero"` // start of one burst; left out: phase unknown
	LengthS         Number    `json:"length_s,omitzero"`
	ToleranceS      Number    `json:"tolerance_s,omitzero"`
}

// LookEntry is a direction at a time.
type LookEntry struct {
	Time         Time   `json:"time,omitzero"`
	AzimuthDeg   Number `json:"azimuth_deg,omitzero"` // true
	ElevationDeg Number `json:"elevation_deg,omitzero"`
	RangeKm      Number `json:"range_km,omitzero"`
}

// AdviceEntry is what was said to do next: where to be for a burst, and what was
// believed then; members as foreaim advise prints them.
type AdviceEntry struct {
	Number               int    `json:"number,omitempty"` // of the hold
	Time                 Time   `json:"time,omitzero"`    // the burst's start
	AzimuthDeg           Number `json:"azimuth_deg,omitzero"`
	ElevationDeg         Number `json:"elevation_deg,omitzero"`
	Words                Text   `json:"words,omitempty"`
	HearProbability      Number `json:"hear_probability,omitzero"`
	AudibleProbability   Number `json:"audible_probability,omitzero"`
	TimeErrorS           Number `json:"time_error_s,omitzero"`
	TimeErrorSigmaS      Number `json:"time_error_sigma_s,omitzero"`
	HeadingErrorDeg      Number `json:"heading_error_deg,omitzero"`
	HeadingErrorSigmaDeg Number `json:"heading_error_sigma_deg,omitzero"`
}

// HoldEntry is a hold that was reached.
type HoldEntry struct {
	Number       int    `json:"number,omitempty"`     // within the pass, from 1
	AzimuthDeg   Number `json:"azimuth_deg,omitzero"` // true, as the operator believes it
	ElevationDeg Number `json:"elevation_deg,omitzero"`
	Time         Time   `json:"time,omitzero"` // the burst's start
	Until        Time   `json:"until,omitzero"`
}

// SensorEntry is where a sensor on the boom points.
type SensorEntry struct {
	TrueDeg     Number `json:"heading_true_deg,omitzero"`
	MagneticDeg Number `json:"heading_magnetic_deg,omitzero"`
	PitchDeg    Number `json:"pitch_deg,omitzero"`
}

// Lists that a CheckEntry may be of.
const (
	ListChecklist = "checklist" // what to have done by when
	ListTriage    = "triage"    // the questions about noise
	ListSkyline   = "skyline"   // azimuth and elevation are a point of the skyline
)

// AnswerRemoved takes a point of the skyline away.
const AnswerRemoved = "removed"

// CheckEntry is one answer: of the checklist, of the noise questions, or a point of
// the skyline. A later one for the same item (for a skyline point: the same
// azimuth) replaces it.
type CheckEntry struct {
	List         Text   `json:"list"`
	Item         Text   `json:"item,omitempty"`
	Answer       Text   `json:"answer,omitempty"`
	ByItself     bool   `json:"by_itself,omitempty"`    // the program found out
	AzimuthDeg   Number `json:"azimuth_deg,omitzero"`   // the aim at that moment; true
	ElevationDeg Number `json:"elevation_deg,omitzero"` // negative: looking down on the horizon
	Words        Text   `json:"words,omitempty"`        // what it means
}

// WarningEntry is something that the operator was told and should not overlook.
type WarningEntry struct {
	Words Text `json:"words"`
	Over  bool `json:"over,omitempty"` // it holds no more
}

// CommandEntry is one run of a command of the user's own.
type CommandEntry struct {
	Command    Text   `json:"command"`
	When       Text   `json:"when,omitempty"` // as configured: burst-2s
	DurationS  Number `json:"duration_s,omitzero"`
	ExitStatus int    `json:"exit_status,omitempty"`
	TimedOut   bool   `json:"timed_out,omitempty"`
	Output     Text   `json:"output,omitempty"`
	Problem    Text   `json:"problem,omitempty"`
}

// NoteEntry is what the operator typed.
type NoteEntry struct {
	Text Text `json:"text"`
}

// EndEntry closes the record.
type EndEntry struct {
	Reason Text `json:"reason,omitempty"`
}
