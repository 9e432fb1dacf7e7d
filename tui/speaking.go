package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/track"
	"foreaim/track/aim"
)

// speaking says what to do aloud.
type speaking struct {
	voice  Voice // nil: there is none
	off    bool  // switched off by the operator
	caller aim.Caller
	pass   *track.Pass // that the caller is about
	before time.Time   // up to when callouts were considered; zero: say what matters now
	busy   time.Time   // until when something is being said, as estimated
}

// callouts says the instruction that is due, if one is.
func (v *speaking) callouts(s *scene) {
	if v.voice == nil || v.off || s.pass == nil || len(s.plan.Holds) == 0 {
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
		FistDeg: s.fistDeg, Speaking: v.voice.Speaking,
	}
	v.before = s.now
	call, ok := v.caller.Callout(before, s.now)
	if !ok && len(was.Plan.Holds) > 0 && (was.Facing != v.caller.Facing || &was.Plan.Holds[0] != &s.plan.Holds[0]) {
		call, ok = v.caller.Changed(was, s.now)
	}
	if ok {
		v.say(s, call.Text, call.StaleAfter, call.Urgent)
	}
}

// soon tells whether an instruction is due between two true times.
func (v *speaking) soon(from, to time.Time) bool {
	for t := from; t.Before(to); t = t.Add(time.Second) {
		if _, due := v.caller.Callout(t, t.Add(time.Second)); due {
			return true
		}
	}
	return false
}

// say says a text that must be over by a true time.
func (v *speaking) say(s *scene, text string, staleAfter time.Time, urgent bool) {
	v.busy = s.now.Add(v.voice.Speaking(text))
	v.voice.Say(text, staleAfter.Add(s.computer.Sub(s.now)), urgent)
}

// toggleVoice switches the voice off and on.
func (m *model) toggleVoice() tea.Cmd {
	m.speaking.off = !m.speaking.off
	if m.speaking.off {
		m.tell("Voice off")
		return nil
	}
	m.tell("Voice on")
	m.speaking.before, m.speaking.caller = time.Time{}, aim.Caller{}
	return nil
}

// tellVoice takes how the voice goes.
func (s *scene) tellVoice(v *speaking) {
	if v.voice != nil {
		s.voiceless, s.voiceOff = v.voice.Problem(), v.off
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
