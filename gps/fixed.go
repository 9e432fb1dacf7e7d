package gps

import "context"

// fixedSource is a position that a person gave: one report, then nothing.
type fixedSource struct{ at address }

func (s fixedSource) open(context.Context) (way, error) { return s, nil }

func (s fixedSource) Close() error { return nil }

func (s fixedSource) listen(_ context.Context, h *hub) error {
	h.settle(Fix{
		Received:    h.now(),
		LatitudeDeg: s.at.latitude, LongitudeDeg: s.at.longitude,
		AltitudeM: s.at.height, AltitudeKnown: s.at.heightKnown,
		Quality: entered,
	})
	return nil
}

// settle reports a position that doesn't come from a receiver.
func (h *hub) settle(f Fix) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.send(Report{State: Fixed, Fix: f, Source: h.source})
}
