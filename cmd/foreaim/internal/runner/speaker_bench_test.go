package runner

import (
	"testing"
	"time"
)

// What a frame pays for saying something, while something else is being said.
func BenchmarkSay(b *testing.B) {
	v := &voice{}
	s := &Speaker{args: []string{"say", "{text}"}, out: newAnnouncer("voice", nil, v.run)}
	defer s.Close()
	stale := time.Now().Add(time.Hour)
	for b.Loop() {
		s.Say("right twenty, half a fist up; burst in eight", stale, false)
	}
}
