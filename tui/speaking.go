package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/aim"
)

// speaking says what to do: aloud, where there is no voice or it fails in tones,
// and where nothing plays them by the terminal's bell.
type speaking struct {
	voice  Voice      // nil: there is none
	tones  TonePlayer // nil: there is none
	bell   ringer     // nil: there is none
	bells  bells
	off    bool // the voice is switched off
	caller aim.Caller
	pass   *track.Pass // that the caller is about
	before time.Time   // up to when callouts were considered; zero: say what matters now
	busy   time.Time   // until when something is being said, as estimated
	tried  time.Time   // when tones that fail were tried last, by the computer
}

// retryTones is how often tones are tried again that failed.
const retryTones = time.Minute

// callouts says the instruction that is due, if one is.
func (v *speaking) callouts(s *scene) {
	if s.pass == nil || len(s.plan.Holds) == 0 {
		return
	}
	if v.pass == nil || !v.pass.Equal(*s.pass) {
		p := *s.pass
		v.pass, v.before, v.caller = &p, time.Time{}, aim.Caller{}
	}
	was, before := v.caller, v.before
	v.caller = aim.Caller{
		Plan: s.plan, Rise: s.pass.Rise.Time,
		Facing:  aim.Facing{Known: s.facing.known, AzimuthDeg: s.facing.deg},
		FistDeg: s.fistDeg,
		Told:    was.Told,
	}
	if v.voice != nil {
		v.caller.Speaking = v.voice.Speaking
	}
	v.before = s.now
	call, ok := v.caller.Callout(before, s.now)
	if !ok && len(was.Plan.Holds) > 0 && (was.Facing != v.caller.Facing || &was.Plan.Holds[0] != &s.plan.Holds[0]) {
		call, ok = v.caller.Changed(was, s.now)
	}
	if ok {
		v.caller.Told = v.caller.Told.With(call)
		v.call(s, call)
	}
}

// call gives a callout in one of the three ways.
func (v *speaking) call(s *scene, call aim.Callout) {
	// A voice that fails is tried again with each callout, or one that failed
	// once would stay mute; until it speaks, tones are given as well.
	if v.voice != nil && !v.off {
		v.say(s, call.Text, call.StaleAfter, call.Urgent)
		if v.voice.Problem() == "" || len(call.Tones) == 0 {
			return
		}
	}
	switch {
	case s.silent || len(call.Tones) == 0:
	case v.playable(s):
		v.tones.Play(call.Tones, s.byComputer(call.StaleAfter), call.Urgent)
	default:
		v.bells.begin(s.computer, call.Tones)
	}
}

// playable tells whether tones can be played, or are to be tried again.
func (v *speaking) playable(s *scene) bool {
	switch {
	case v.tones == nil:
		return false
	case v.tones.Problem() == "":
		v.tried = s.computer
	case s.computer.Sub(v.tried).Abs() < retryTones:
		return false
	}
	v.tried = s.computer
	return true
}

// byComputer returns what the computer's clock shows at a true time.
func (s *scene) byComputer(t time.Time) time.Time { return t.Add(s.computer.Sub(s.now)) }

// soon tells whether an instruction is due between two true times.
func (v *speaking) soon(from, to time.Time) bool {
	for t := from; t.Before(to); t = t.Add(time.Second) {
		if _, due := v.caller.Callout(t, t.Add(time.Second)); due {
			return true
		}
	}
	return false
}

// speakClear is kept free between what is said aside and an instruction.
const speakClear = 3 * time.Second

// aside says what is no instruction, when nothing else is being said and no
// instruction is near; it tells whether it did.
func (v *speaking) aside(s *scene, text string) bool {
	if v.voice == nil || v.off || s.moment.Now || s.now.Before(v.busy.Add(speakClear)) {
		return false
	}
	end := s.now.Add(v.voice.Speaking(text)).Add(speakClear)
	if v.soon(s.now, end) {
		return false
	}
	v.say(s, text, end, false)
	return true
}

// say says a text that must be over by a true time.
func (v *speaking) say(s *scene, text string, staleAfter time.Time, urgent bool) {
	v.busy = s.now.Add(v.voice.Speaking(text))
	v.voice.Say(text, s.byComputer(staleAfter), urgent)
}

// toggleVoice switches the voice off and on.
func (m *model) toggleVoice() tea.Cmd {
	m.speaking.off = !m.speaking.off
	if m.speaking.off {
		m.tell("Voice off")
		return nil
	}
	m.tell("Voice on")
	m.speaking.bells = nil
	m.speaking.before, m.speaking.caller = time.Time{}, aim.Caller{}
	return nil
}

// bellWords tell what the bell's patterns mean: see aim.Bells.
const bellWords = "1 hold, 2 left, 3 right, 4 burst"

// toggleBell switches bell and tones off and on.
func (m *model) toggleBell() tea.Cmd {
	m.silent = !m.silent
	m.speaking.bells = nil
	switch v := m.speaking; {
	case m.silent && v.tones != nil:
		m.tell("Tones off")
	case m.silent:
		m.tell("Bell off")
	case v.tones != nil:
		m.tell("Tones on: they sound while no voice speaks")
	default:
		m.tell("Bell on, while no voice speaks: " + bellWords)
	}
	return nil
}

// tellVoice takes how voice and tones go, and where the operator was sent.
func (s *scene) tellVoice(v *speaking) {
	if v.pass != nil && s.pass != nil && v.pass.Equal(*s.pass) {
		s.sent = v.caller.Told
	}
	if v.voice != nil {
		s.voiceless, s.voiceOff = v.voice.Problem(), v.off
	}
	if v.tones != nil {
		s.toneless = v.tones.Problem()
	}
}

func (s *scene) voiceRemark() remark {
	switch {
	case s.voiceless != "":
		why := clean(s.voiceless)
		return remark{long: "VOICE FAILS: " + why, short: "VOICE FAILS", warning: true, kept: "voice: " + why}
	case s.voiceOff:
		return remark{long: "voice off", short: "voice off"}
	}
	return remark{}
}

func (s *scene) tonesRemark() remark {
	if s.toneless == "" {
		return remark{}
	}
	why := clean(s.toneless)
	return remark{long: "TONES FAIL: " + why, short: "TONES FAIL", warning: true, kept: "tones: " + why}
}
