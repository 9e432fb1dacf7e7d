package aim

import "time"

// way says how to get to the next hold: from the last one, when the operator was
// told that and so is there, else from the facing.
func (c Caller) way(m Moment) string {
	if c.Told.Has(m.Last) {
		return StepSpeech(m.Last.Direction, m.Next.Direction, c.FistDeg)
	}
	return m.Next.PlaceSpeech(c.Facing, c.FistDeg)
}

// wayTones is way in tones; without a facing there is nothing to turn from.
func (c Caller) wayTones(m Moment) []Tone {
	switch {
	case c.Told.Has(m.Last):
		return StepTones(m.Last.Direction, m.Next.Direction, c.FistDeg)
	case c.Facing.Known:
		return StepTones(Direction{AzimuthDeg: c.Facing.AzimuthDeg}, m.Next.Direction, c.FistDeg)
	default:
		return nil
	}
}

// move says the way to the next hold, with the wait where there is time for it.
func (c Caller) move(m Moment, now time.Time) (Callout, bool) {
	h, way := m.Next, c.way(m)
	call := Callout{Kind: CalloutMove, Hold: h.Number, Way: true, Text: way, Tones: c.wayTones(m), StaleAfter: h.At, Urgent: true}
	if c.Told.Has(m.Last) {
		call.From = m.Last.Number
	}
	if m.Last == nil && now.Before(c.Rise) {
		call.Kind = CalloutRise
		wait := waitSpeech(c.Rise.Sub(now))
		if text := "rise in " + wait + ": " + way; now.Add(c.speaking(text)).Before(h.Ready) {
			call.Text = text
		}
		return c.ifFresh(call, now)
	}
	if h.Burst {
		text, ok := c.withWait(way+"; ", h.At, now)
		if ok && now.Add(c.speaking(text)).Before(h.Ready) {
			call.Text = text
		}
	}
	return c.ifFresh(call, now)
}

// risen says that the pass has begun, unless the next callout says more, soon.
func (c Caller) risen(h *Hold, now time.Time) (Callout, bool) {
	text := "risen"
	if h.Burst {
		if h.At.Sub(now) < shortWait+2*quiet {
			return Callout{}, false
		}
		text, _ = c.withWait("risen; ", h.At, now)
	}
	return c.ifFresh(Callout{Kind: CalloutRise, Hold: h.Number, Text: text,
		StaleAfter: now.Add(late + c.speaking(text))}, now)
}

// wait says how long it is to the burst. It doesn't say the way again: a hand
// that has gone twenty to the right would go another twenty.
func (c Caller) wait(h *Hold, now time.Time) (Callout, bool) {
	text, ok := c.withWait("", h.At, now)
	if !ok {
		return Callout{}, false
	}
	return c.ifFresh(Callout{Kind: CalloutWait, Hold: h.Number, Text: text,
		StaleAfter: earlier(h.At, now.Add(late+c.speaking(text)))}, now)
}

// still says that the hand is to rest, and how long.
func (c Caller) still(h *Hold, now time.Time) (Callout, bool) {
	text, ok := c.withWait("hold; ", h.At, now)
	if !ok {
		text = "hold"
	}
	return c.ifFresh(Callout{Kind: CalloutHold, Hold: h.Number, Text: text, Tones: []Tone{ToneHold}, Urgent: true,
		StaleAfter: earlier(h.At, now.Add(late+c.speaking(text)))}, now)
}

// withWait adds "burst in eight" to a text, with the wait as it will be when
// the text has been said; false when that is too short for a number.
func (c Caller) withWait(text string, at, now time.Time) (string, bool) {
	text += "burst in "
	wait := at.Sub(now) - c.speaking(text+"twenty")
	for range 2 { // the number's own length counts: 0.3 s at most are left open
		wait = at.Sub(now) - c.speaking(text+waitSpeech(wait))
	}
	return text + waitSpeech(wait), wait >= leastWait
}

// restAt is when the hand is to rest: when the hold's time comes, and a moment
// before the burst even where that is known exactly.
func restAt(h *Hold) time.Time { return earlier(h.Ready, h.At.Add(-stillAhead)) }

// waitDue is when to begin saying that the burst comes, so as to end the given
// time before it.
func (c Caller) waitDue(h *Hold, ahead time.Duration) time.Time {
	return h.At.Add(-ahead - c.speaking("burst in "+waitSpeech(ahead)))
}

// worthWaiting tells whether the wait is news at that time: the instruction was
// said a while ago, and "hold", which says the wait too, isn't near.
func (c Caller) worthWaiting(m Moment, ahead, pause time.Duration) bool {
	at, rest := c.waitDue(m.Next, ahead), restAt(m.Next)
	if at.After(rest.Add(-pause)) && at.Before(rest.Add(pause)) {
		return false
	}
	clear := func(start time.Time, text string) bool {
		return at.Before(start.Add(-pause)) || !at.Before(start.Add(c.speaking(text)+pause))
	}
	begins := c.begins(m)
	first, _ := c.withWait(c.way(m)+"; ", m.Next.At, begins)
	if m.Last != nil {
		return clear(begins, first)
	}
	second, _ := c.withWait("risen; ", m.Next.At, c.Rise)
	return !at.Before(begins) && clear(begins, first) && clear(c.Rise, second)
}

func earlier(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}
