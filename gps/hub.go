package gps

import (
	"fmt"
	"sync"
	"time"
)

// hub is where what arrives becomes reports. The reader of a source and the
// watch over it both use it.
type hub struct {
	now  func() time.Time // the computer's clock
	live bool             // silence means that the receiver is lost

	mu      sync.Mutex
	decoder *decoder
	out     chan Report // of depth one; only the hub sends
	source  string
	heading *Heading // from a source that decodes itself
	noClock bool     // arrival says nothing about the time

	lost, ended   bool
	problem       string    // of the source; the decoder has its own
	told          bool      // by the source: better than what silence tells
	lastByte      time.Time // the computer's clock
	recovered     time.Time // the computer's clock when it was heard again
	byteHeard     time.Time // on the monotonic clock, as the next two
	sentenceHeard time.Time
	opened        time.Time

	sent Report // the last one
}

func newHub(options Options, source string, live bool) *hub {
	return &hub{
		now: options.Now, live: live, source: source,
		decoder: newDecoder(options),
		out:     make(chan Report, 1),
	}
}

// open notes that the source has been opened: silence is counted from here.
func (h *hub) open() {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.opened, h.told = time.Now(), false
	if h.lost {
		h.problem = "opened again; nothing heard yet"
		h.publish(false)
	}
}

// arrived notes that bytes came in and gives the computer's time.
func (h *hub) arrived() time.Time {
	at := h.now()
	h.mu.Lock()
	defer h.mu.Unlock()
	h.lastByte, h.byteHeard = at, time.Now()
	return at
}

// line decodes a line. It tells whether it was a sentence.
func (h *hub) line(raw []byte, firstByte time.Time, baud int) (accepted bool) {
	h.mu.Lock()
	defer h.mu.Unlock()
	before := h.decoder.sentences
	changed := h.decoder.line(raw, firstByte, baud)
	accepted = h.decoder.sentences > before
	if accepted {
		h.heard()
	}
	h.publish(changed)
	return accepted
}

// decoded takes what a source has decoded itself.
func (h *hub) decoded(update func(*decoder)) {
	h.mu.Lock()
	defer h.mu.Unlock()
	update(h.decoder)
	h.heard()
	h.publish(true)
}

// point takes a heading that a source has decoded itself.
func (h *hub) point(heading Heading) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.heading = &heading
	h.heard()
	h.publish(true)
}

// heard notes a good sentence: whatever was wrong is over.
func (h *hub) heard() {
	if h.sentenceHeard.IsZero() || h.lost {
		h.recovered = h.lastByte
	}
	h.sentenceHeard = time.Now()
	h.lost, h.problem, h.told = false, "", false
}

// lose notes that the source is gone, and why.
func (h *hub) lose(why string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.lost, h.problem = true, oneLine(why)
	h.publish(false)
}

// trouble notes what is wrong without giving the source up.
func (h *hub) trouble(what string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.problem, h.told = oneLine(what), true
	h.publish(false)
}

// end notes that nothing more will come.
func (h *hub) end() {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.ended = true
	h.publish(true)
}

// name changes the URL that is reported.
func (h *hub) name(source string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.source = source
	h.publish(true)
}

// guard is deferred in every goroutine. It turns a panic into a problem.
func (h *hub) guard() {
	if p := recover(); p != nil {
		h.mu.Lock()
		defer h.mu.Unlock()
		r := h.sent // the decoder may be what failed: leave it alone
		r.State, r.Source = Lost, h.source
		r.Problem = oneLine(fmt.Sprintf("a mistake in this program ended the source: %v", p))
		h.send(r)
	}
}

// report puts together what is known now.
func (h *hub) report() Report {
	r := h.decoder.report()
	r.Source, r.LastByte = h.source, h.lastByte
	switch {
	case h.ended:
		r.State = Ended
	case h.lost:
		r.State = Lost
	case h.sentenceHeard.IsZero():
		r.State = Opening
	case r.State == Fixed && r.Fix.Received.Before(h.recovered):
		r.State = Searching // the fix is from before the loss
	}
	if h.problem != "" {
		r.Problem = h.problem
	}
	if h.noClock {
		r.Clock = Clock{}
	}
	if h.heading != nil {
		r.Heading = h.heading
	}
	return r
}

// publish reports when there is news.
func (h *hub) publish(changed bool) {
	r := h.report()
	if changed || r.State != h.sent.State || r.Problem != h.sent.Problem {
		h.send(r)
	}
}

// send replaces the unread report. It never blocks: under the lock nobody else
// fills the channel.
func (h *hub) send(r Report) {
	h.sent = r
	select {
	case <-h.out:
	default:
	}
	h.out <- r
}

// lastHeard gives the moment of the last good sentence.
func (h *hub) lastHeard() time.Time {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.sentenceHeard
}
