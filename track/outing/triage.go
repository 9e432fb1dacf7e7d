package outing

import (
	"fmt"
	"math"
	"time"
)

// Way is how the noise that comes in is made weaker for the second question.
type Way string

// The ways.
const (
	Pad    Way = "attenuator" // an attenuator in front of everything
	Bypass Way = "bypass"     // the preamplifier taken out of the line
)

// Answer is what the operator says to a question.
type Answer string

// The answers.
const (
	Yes      Answer = "yes"
	No       Answer = "no"
	CantTell Answer = "can't tell"
)

// Topic is what a question of the noise test is about.
type Topic string

// The topics, in the order asked.
const (
	TurnAway Topic = "turn away"
	Weaken   Topic = "weaken"
	TooMuch  Topic = "too much"
)

// Question is one thing to do and to answer.
type Question struct {
	Topic   Topic
	Text    string
	Caution string        // to be shown before anything is touched; may be empty
	Needs   time.Duration // to do it, look and answer
}

// Answered is an answer with its time and the aim it was given in, for the
// record. The direction is that held before the antenna was turned away.
type Answered struct {
	Topic  Topic
	Answer Answer
	At     time.Time
	Held   Held
}

// Triage is the noise test: where does a raised noise floor come from? It is
// asked between two bursts, one question at a time, and takes under 20 s. It
// rests on this (derived from the definitions of the intercept points, ITU-R
// SM.1134): behind a pad of A dB in front of everything, noise from outside
// falls by A dB, products of second order by 2 A and of third order by 3 A, and
// the receiver's own noise doesn't fall at all.
type Triage struct {
	way      Way
	db       float64
	raised   bool
	answered []Answered
}

// NewTriage begins a noise test. The value is that of the attenuator, 1 to 20 dB,
// or the gain of the preamplifier that is bypassed, 1 to 60 dB. Products fall no
// further than to the receiver's own noise, so that a small attenuator, 3 to
// 10 dB, tells more than a large one. Raised tells that the noise is marked as
// up; before rise it may be asked without that.
func NewTriage(way Way, db float64, raised bool) (*Triage, error) {
	if way != Pad && way != Bypass {
		return nil, fmt.Errorf("%q is no way to test noise, want attenuator or bypass", Clean(string(way)))
	}
	most := 20.0
	if way == Bypass {
		most = 60
	}
	if !(db >= 1 && db <= most) {
		return nil, fmt.Errorf("%s of %v dB is not within 1 to %.0f dB", way, db, most)
	}
	return &Triage{way: way, db: db, raised: raised}, nil
}

// FeedCaution is what may not be forgotten: without it the feed of a preamplifier
// is shorted by the bypass, or puts its voltage on the receiver.
const FeedCaution = "Switch the preamplifier's feed off before you bypass it."

// What the hand needs for each question (common practice, no source).
const (
	turnNeeds   = 6 * time.Second
	padNeeds    = 5 * time.Second
	bypassNeeds = 7 * time.Second
	lookNeeds   = 2 * time.Second
	backNeeds   = 3 * time.Second // back to the aim, and everything back in
)

// stale is how old answers may be that are built on after a break: the antenna,
// and what transmits, have moved on by then.
const stale = 5 * time.Minute

// Question returns the question to ask now; false when the test is over.
func (t *Triage) Question() (Question, bool) {
	last := t.answer(Weaken)
	switch {
	case t.answer(TurnAway) == "":
		return Question{TurnAway, "Turn the antenna a quarter circle away. Does the noise drop?", "", turnNeeds}, true
	case last == "" && t.way == Bypass:
		return Question{Weaken, "Feed off, then bypass the preamplifier. Does the noise drop?", FeedCaution, bypassNeeds}, true
	case last == "":
		return Question{Weaken, fmt.Sprintf("Put the attenuator in, %.0f dB. Does the noise drop?", t.db), "", padNeeds}, true
	case last == Yes && t.answer(TooMuch) == "" && t.way == Bypass:
		return Question{TooMuch, fmt.Sprintf("Does it drop by much more than the preamplifier's gain, %.0f dB?", t.db), "", lookNeeds}, true
	case last == Yes && t.answer(TooMuch) == "":
		return Question{TooMuch, fmt.Sprintf("Does it drop by much more than %.0f dB, twice that or more?", t.db), "", lookNeeds}, true
	}
	return Question{}, false
}

// answer returns the answer to a topic, empty without one.
func (t *Triage) answer(topic Topic) Answer {
	for _, a := range t.answered {
		if a.Topic == topic {
			return a.Answer
		}
	}
	return ""
}

// Answer takes the answer to the present question, and returns it for the
// record; false when none is asked or the answer is none.
func (t *Triage) Answer(at time.Time, held Held, answer Answer) (Answered, bool) {
	q, ok := t.Question()
	if !ok || answer != Yes && answer != No && answer != CantTell {
		return Answered{}, false
	}
	a := Answered{q.Topic, answer, stamp(at), held}
	t.answered = append(t.answered, a)
	return a, true
}

// TakeBack drops the last answer, and asks its question again.
func (t *Triage) TakeBack() {
	if n := len(t.answered); n > 0 {
		t.answered = t.answered[:n-1]
	}
}

// Answered returns the answers given, in order.
func (t *Triage) Answered() []Answered { return append([]Answered(nil), t.answered...) }

// Needs returns the most that the rest of the test takes, with putting
// everything back; 0 when it is over.
func (t *Triage) Needs() time.Duration {
	q, ok := t.Question()
	if !ok {
		return 0
	}
	needs := q.Needs + backNeeds
	switch {
	case q.Topic == TurnAway && t.way == Bypass:
		needs += bypassNeeds + lookNeeds
	case q.Topic == TurnAway:
		needs += padNeeds + lookNeeds
	case q.Topic == Weaken:
		needs += lookNeeds
	}
	return needs
}

// Fits tells whether the present question can be answered, and everything put
// back, before one must be ready for the next burst; otherwise in words that it
// can't, and how long it takes. A zero ready is no burst to wait for.
func (t *Triage) Fits(now, ready time.Time) (bool, string) {
	q, ok := t.Question()
	if !ok || ready.IsZero() {
		return true, ""
	}
	needs, left := q.Needs+backNeeds, ready.Sub(now)
	if left >= needs {
		return true, ""
	}
	return false, fmt.Sprintf("No time before the burst: this needs %.0f s, there are %.0f. After it.",
		needs.Seconds(), math.Max(0, math.Floor(left.Seconds())))
}

// Break breaks the test off, for a burst, and says what must be put back first;
// empty when the test is over. Call Resume to go on.
func (t *Triage) Break() string {
	_, open := t.Question()
	switch {
	case !open:
		return ""
	case t.answer(TurnAway) == "":
		return "Back to the aim."
	}
	return t.putBack() + " Back to the aim."
}

func (t *Triage) putBack() string {
	if t.way == Bypass {
		return "Preamplifier back in, then its feed on."
	}
	return "Attenuator out."
}

// Resume goes on after a break. The last question can't be answered without
// what was put back, so the one before it is asked again; answers older than
// five minutes are dropped, and the test begins anew.
func (t *Triage) Resume(now time.Time) {
	if q, ok := t.Question(); ok && q.Topic == TooMuch {
		t.TakeBack()
	}
	if len(t.answered) > 0 && now.Sub(t.answered[0].At) > stale {
		t.answered = nil
	}
}
