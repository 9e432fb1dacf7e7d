package gps

import (
	"context"
	"io"
	"time"
)

const (
	// silence is how long a receiver may say nothing before it counts as lost.
	// Receivers send once a second or more often (common practice, no source).
	silence = 2500 * time.Millisecond
	// reopenAfter is the silence after which a way that still seems open is
	// closed and opened again. It heals what gives no error: a network peer
	// that vanished, a driver that doesn't notice the unplugging.
	reopenAfter = 10 * time.Second
)

// watch closes a way when the context ends, and judges its silence meanwhile.
func (h *hub) watch(ctx context.Context, way io.Closer) {
	defer h.guard()
	defer way.Close()
	timer := time.NewTimer(silence)
	defer timer.Stop()
	if !h.live {
		timer.Stop()
	}
	for {
		select {
		case <-ctx.Done():
			return
		case <-timer.C:
			next, over := h.judge(time.Now())
			if over {
				return
			}
			timer.Reset(next)
		}
	}
}

// judge looks for silence. It tells when to look again, or that it has lasted
// so long that the way should be opened afresh.
func (h *hub) judge(now time.Time) (next time.Duration, over bool) {
	h.mu.Lock()
	defer h.mu.Unlock()
	quiet := now.Sub(latest(h.opened, h.sentenceHeard))
	if quiet < silence {
		return silence - quiet, false
	}
	bytes := now.Sub(latest(h.opened, h.byteHeard))
	switch {
	case h.told:
	case bytes < silence:
		h.problem = "bytes arrive, but no sentence in them: wrong speed, or not NMEA"
	default:
		h.problem = "silent: nothing arrives"
	}
	// Before the first sentence there is nothing to be lost.
	h.lost = !h.sentenceHeard.IsZero()
	h.publish(false)
	return silence / 5, bytes >= reopenAfter
}

func latest(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}
