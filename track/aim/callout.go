package aim

import "time"

// CalloutKind is the occasion of a callout.
type CalloutKind string

// The occasions.
const (
	CalloutRise    CalloutKind = "rise"    // the pass and its first hold
	CalloutMove    CalloutKind = "move"    // a hold is over: the way to the next
	CalloutChanged CalloutKind = "changed" // the next hold isn't what was said
	CalloutWait    CalloutKind = "wait"    // the burst comes soon
	CalloutHold    CalloutKind = "hold"    // keep still
	CalloutBurst   CalloutKind = "burst"   // it begins
	CalloutEnd     CalloutKind = "end"     // no hold is left
)

// Callout is something to be said now.
type Callout struct {
	Kind       CalloutKind
	Hold       int    // the number of the hold that it is about, 0 at the end
	Way        bool   // it says the way to that hold
	From       int    // the number of the hold that the way begins at, 0 for the facing
	Text       string // for a voice
	Tones      []Tone // where there is none; may be empty
	StaleAfter time.Time
	Urgent     bool // interrupts what is being said
}

// Caller decides what is said and when. It keeps nothing: the same plan,
// interval and Told always give the same callout.
type Caller struct {
	Plan    Plan
	Rise    time.Time // of the pass
	Facing  Facing
	FistDeg float64
	// Told is what was said in the pass so far: see Told.With.
	Told Told
	// Speaking estimates how long a text takes; nil stands for SpeakingTime.
	Speaking func(text string) time.Duration
}

const (
	riseAhead = 2 * time.Minute
	// longWait and shortWait before the burst it is announced again.
	longWait  = 30 * time.Second
	shortWait = 8 * time.Second
	// stillAhead is how long before the burst the hand comes to rest.
	stillAhead = time.Second
	// quiet is kept between two callouts, where the second isn't news.
	quiet = 3 * time.Second
	// leastWait is the shortest wait worth a number.
	leastWait = 3 * time.Second
	// late is how late a callout of the moment may begin.
	late = time.Second
)

// Callout returns what is to be said in the interval (before, now], where
// before is the time of the previous call, the zero time at the first. After a
// gap it says what matters now, once, and nothing old. Times are true times.
func (c Caller) Callout(before, now time.Time) (Callout, bool) {
	due := func(t time.Time) bool { return before.Before(t) && !now.Before(t) }
	m := c.Plan.At(now)
	if m.Next == nil {
		return c.end(m, due, now)
	}
	h := m.Next
	if due(c.begins(m)) {
		if call, ok := c.move(m, now); ok {
			return call, true
		}
	}
	switch {
	case m.Last == nil && due(c.Rise) && now.Before(h.Ready):
		return c.risen(h, now)
	case !h.Burst:
		return Callout{}, false
	case due(h.At):
		return c.ifFresh(Callout{Kind: CalloutBurst, Hold: h.Number, Text: "burst", Tones: []Tone{ToneBurst},
			StaleAfter: h.At.Add(late + c.speaking("burst"))}, now)
	case due(restAt(h)):
		return c.still(h, now)
	case due(c.waitDue(h, shortWait)) && c.worthWaiting(m, shortWait, quiet),
		due(c.waitDue(h, longWait)) && c.worthWaiting(m, longWait, 3*quiet):
		return c.wait(h, now)
	}
	return Callout{}, false
}

// Changed returns the callout that corrects what has been said about the hold
// to come, after a mark or a new facing: was is the caller before the change.
func (c Caller) Changed(was Caller, now time.Time) (Callout, bool) {
	m, old := c.Plan.At(now), was.Plan.At(now)
	if m.Next == nil || old.Next == nil || m.Next.Number != old.Next.Number || now.Before(c.begins(m)) {
		return Callout{}, false
	}
	if c.way(m) == was.way(old) {
		return Callout{}, false
	}
	call, ok := c.move(m, now)
	if !ok {
		return Callout{}, false
	}
	call.Kind = CalloutChanged
	prefix := "correction: "
	if call.From != 0 { // the hand may be at the new hold already
		prefix += "from the last hold "
	}
	call.Text = prefix + call.Text
	return c.ifFresh(call, now)
}

// begins is when a hold's instruction is due: the end of the hold before it.
func (c Caller) begins(m Moment) time.Time {
	if m.Last != nil {
		return m.Last.Until
	}
	if at := c.Rise.Add(-riseAhead); at.Before(m.Next.Ready) {
		return at
	}
	return m.Next.Ready.Add(-riseAhead)
}

// end says once that the last hold is over.
func (c Caller) end(m Moment, due func(time.Time) bool, now time.Time) (Callout, bool) {
	if m.Last == nil || !due(m.Last.Until) {
		return Callout{}, false
	}
	text := "the pass is over"
	if c.Plan.BurstsKnown {
		text = "no more bursts"
	}
	return c.ifFresh(Callout{Kind: CalloutEnd, Text: text,
		StaleAfter: m.Last.Until.Add(10*time.Second + c.speaking(text))}, now)
}

// speaking estimates how long a text takes.
func (c Caller) speaking(text string) time.Duration {
	if c.Speaking != nil {
		return c.Speaking(text)
	}
	return SpeakingTime(text)
}

// ifFresh passes a callout that can end before it is stale.
func (c Caller) ifFresh(call Callout, now time.Time) (Callout, bool) {
	if now.Add(c.speaking(call.Text)).After(call.StaleAfter) {
		return Callout{}, false
	}
	return call, true
}
