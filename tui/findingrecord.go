package tui

import (
	"foreaim/track"
	"foreaim/track/north"
	"foreaim/track/outing"
)

// startFinder takes up the references of an outing, and says its facing.
func startFinder(c Config) (finder, facing) {
	var f finder
	now := startFacing(c)
	if c.Resume == nil || c.Resume.Facing == nil {
		return f, now
	}
	e := c.Resume.Facing
	now.ahead, now.sigmaDeg = clean(string(e.Ahead)), e.SigmaDeg.Value
	now.sensor = north.Sensor{
		Set: e.SensorOffsetDeg.Known, OffsetDeg: e.SensorOffsetDeg.Value, OffsetSigmaDeg: now.sigma(),
		PitchOffsetDeg: e.SensorPitchOffsetDeg.Value,
	}
	for _, r := range e.References.All() {
		t := taken{
			Reference: north.Reference{
				Kind: kindOf(string(r.Way)), Name: clean(string(r.Name)), FacingDeg: r.AzimuthDeg.Value,
				SigmaDeg: r.SigmaDeg.Value, SharedDeg: r.SharedDeg.Value, At: r.Time.Time,
			},
			at:    track.Site{LatitudeDeg: r.LatitudeDeg.Value, LongitudeDeg: r.LongitudeDeg.Value},
			known: r.LatitudeDeg.Known && r.LongitudeDeg.Known,
		}
		f.taken = append(f.taken, t)
	}
	if said, err := north.Combine(f.references(), c.Resume.Last); err == nil {
		f.said, f.changes, now.changes = said, 1, 1
	} else {
		f.forget() // the facing itself still holds
	}
	return f, now
}

// kindOf is the kind of a name; none for one that there isn't.
func kindOf(name string) north.Kind {
	for k := north.ByCompass; k <= north.ByWord; k++ {
		if k.String() == name {
			return k
		}
	}
	return 0
}

// entries are the references for the record.
func (f *finder) entries() outing.References {
	var all []outing.ReferenceEntry
	for _, t := range f.taken {
		e := outing.ReferenceEntry{
			Way: outing.Text(t.Kind.String()), Name: outing.Text(t.Name), Time: outing.TimeOf(t.At),
			AzimuthDeg: number(t.FacingDeg), SigmaDeg: number(t.SigmaDeg),
		}
		if t.SharedDeg > 0 {
			e.SharedDeg = number(t.SharedDeg)
		}
		if t.known {
			e.LatitudeDeg, e.LongitudeDeg = number(t.at.LatitudeDeg), number(t.at.LongitudeDeg)
		}
		all = append(all, e)
	}
	return outing.ReferencesOf(all)
}
