package outing

import (
	"encoding/json"
	"fmt"
)

// ReferenceEntry is one reference of a facing.
type ReferenceEntry struct {
	Way        Text   `json:"way,omitempty"` // sun, walk, landmark …
	Name       Text   `json:"name,omitempty"`
	Time       Time   `json:"time,omitzero"`
	AzimuthDeg Number `json:"azimuth_deg,omitzero"` // of straight ahead, true, 0 to 360
	SigmaDeg   Number `json:"sigma_deg,omitzero"`
	SharedDeg  Number `json:"shared_deg,omitzero"` // of SigmaDeg, with others of the kind
	// Where it was taken: WGS-84, north and east positive.
	LatitudeDeg  Number `json:"latitude_deg,omitzero"`
	LongitudeDeg Number `json:"longitude_deg,omitzero"`
}

// References are the references of a facing, the first ones in use; the rest are
// zero. In a record they are an array of those in use.
type References [10]ReferenceEntry

// ReferencesOf takes the first ten of some references.
func ReferencesOf(all []ReferenceEntry) References {
	var r References
	copy(r[:], all)
	return r
}

// All returns those in use.
func (r References) All() []ReferenceEntry {
	var all []ReferenceEntry
	for _, e := range r {
		if e != (ReferenceEntry{}) {
			all = append(all, e)
		}
	}
	return all
}

// IsZero tells the encoder to leave the member out.
func (r References) IsZero() bool { return r == References{} }

// MarshalJSON writes those in use.
func (r References) MarshalJSON() ([]byte, error) { return json.Marshal(r.All()) }

// UnmarshalJSON reads an array of at most ten.
func (r *References) UnmarshalJSON(b []byte) error {
	var all []ReferenceEntry
	if err := json.Unmarshal(b, &all); err != nil {
		return err
	}
	if len(all) > len(r) {
		return fmt.Errorf("%d references, want at most %d", len(all), len(r))
	}
	*r = ReferencesOf(all)
	return nil
}

func (r References) check() error {
	for _, e := range r {
		if err := first(direction(e.AzimuthDeg, Number{}),
			e.LatitudeDeg.within("latitude_deg", -90, 90), e.LongitudeDeg.within("longitude_deg", -180, 180)); err != nil {
			return err
		}
	}
	return nil
}
