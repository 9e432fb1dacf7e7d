package runner

import (
	"encoding/binary"
	"math"
	"slices"
	"testing"

	"foreaim/track/aim"
)

// loudest finds which of the frequencies is the strongest in samples: the
// largest value of the discrete Fourier transform among them.
func loudest(samples []int16, frequencies []float64) float64 {
	best, most := 0.0, 0.0
	for _, hz := range frequencies {
		var re, im float64
		for i, s := range samples {
			sin, cos := math.Sincos(2 * math.Pi * hz * float64(i) / sampleRate)
			re, im = re+float64(s)*cos, im+float64(s)*sin
		}
		if p := math.Hypot(re, im); p > most {
			best, most = hz, p
		}
	}
	return best
}

// The beginning and the end of each tone sound as they should: left falls low,
// right rises high, up rises, down falls, hold stays, a burst is the highest.
func TestTonesSoundDifferent(t *testing.T) {
	frequencies := []float64{330, 440, 523, 600, 659, 784, 880, 1175, 1500}
	want := map[aim.Tone][2]float64{
		aim.ToneLeft: {440, 330}, aim.ToneRight: {880, 1175}, aim.ToneUp: {523, 784},
		aim.ToneDown: {784, 523}, aim.ToneHold: {600, 600}, aim.ToneBurst: {1500, 1500},
	}
	for _, tone := range aim.AllTones() {
		s := pcm([]aim.Tone{tone})
		n := sampleRate * 6 / 100
		if len(s) < 2*n || len(s) > sampleRate*6/10 {
			t.Fatalf("%s lasts %d samples", tone, len(s))
		}
		if got := [2]float64{loudest(s[:n], frequencies), loudest(s[len(s)-n:], frequencies)}; got != want[tone] {
			t.Errorf("%s goes from %g Hz to %g Hz, want %v", tone, got[0], got[1], want[tone])
		}
		if top := slices.Max(s); top < math.MaxInt16/2 || s[0] != 0 || s[len(s)-1] > 3000 || s[len(s)-1] < -3000 {
			t.Errorf("%s: top %d, begins at %d, ends at %d", tone, top, s[0], s[len(s)-1])
		}
	}
	if len(pcm([]aim.Tone{"unheard of"})) != 0 {
		t.Error("an unknown tone sounds")
	}
}

// The header of a WAV file: the RIFF specification of 1991, WAVE form with
// format 1.
func TestWavHeader(t *testing.T) {
	b := wav([]int16{1, -2, 3})
	le16, le32 := binary.LittleEndian.Uint16, binary.LittleEndian.Uint32
	if len(b) != 50 || string(b[:4]) != "RIFF" || le32(b[4:]) != 42 || string(b[8:16]) != "WAVEfmt " || le32(b[16:]) != 16 ||
		le16(b[20:]) != 1 || le16(b[22:]) != 1 || le32(b[24:]) != 22050 || le32(b[28:]) != 44100 || le16(b[32:]) != 2 ||
		le16(b[34:]) != 16 || string(b[36:40]) != "data" || le32(b[40:]) != 6 || !slices.Equal(b[44:], []byte{1, 0, 0xfe, 0xff, 3, 0}) {
		t.Errorf("% x", b)
	}
}
