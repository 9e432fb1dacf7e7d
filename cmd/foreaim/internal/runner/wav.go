package runner

import (
	"encoding/binary"
	"math"

	"foreaim/track/aim"
)

const (
	sampleRate = 22050 // Hz, which every player takes
	loudness   = 0.7   // of full scale
	fadeS      = 0.005 // at both ends of a note, against clicks
	pauseS     = 0.4   // between two tones
)

// note is a sine of one frequency, silence for 0 Hz.
type note struct{ hz, s float64 }

// notes are the tones' patterns: left is a falling low pair, right a rising
// high one; up climbs three steps, down falls three; hold is long, a burst three
// short high pips.
func notes(t aim.Tone) []note {
	switch t {
	case aim.ToneLeft:
		return []note{{440, 0.18}, {0, 0.04}, {330, 0.22}}
	case aim.ToneRight:
		return []note{{880, 0.18}, {0, 0.04}, {1175, 0.22}}
	case aim.ToneUp:
		return []note{{523, 0.1}, {659, 0.1}, {784, 0.16}}
	case aim.ToneDown:
		return []note{{784, 0.1}, {659, 0.1}, {523, 0.16}}
	case aim.ToneHold:
		return []note{{600, 0.5}}
	case aim.ToneBurst:
		return []note{{1500, 0.06}, {0, 0.06}, {1500, 0.06}, {0, 0.06}, {1500, 0.06}}
	default:
		return nil
	}
}

// pcm returns the samples of tones one after another.
func pcm(tones []aim.Tone) []int16 {
	var samples []int16
	for i, t := range tones {
		if i > 0 {
			samples = append(samples, sine(note{0, pauseS})...)
		}
		for _, n := range notes(t) {
			samples = append(samples, sine(n)...)
		}
	}
	return samples
}

func sine(n note) []int16 {
	samples := make([]int16, int(math.Round(n.s*sampleRate)))
	for i := range samples {
		at := float64(i) / sampleRate
		fade := min(1, at/fadeS, (n.s-at)/fadeS)
		samples[i] = int16(math.Round(math.MaxInt16 * loudness * fade * math.Sin(2*math.Pi*n.hz*at)))
	}
	return samples
}

// wav puts a header before samples: RIFF/WAVE, format 1 (PCM), 16 bits, mono.
func wav(samples []int16) []byte {
	const header, bytesPerSample = 44, 2
	size := uint32(len(samples) * bytesPerSample)
	b := make([]byte, 0, header+int(size))
	b = append(b, "RIFF"...)
	b = binary.LittleEndian.AppendUint32(b, header-8+size)
	b = append(b, "WAVEfmt "...)
	b = binary.LittleEndian.AppendUint32(b, 16) // of the format that follows
	b = binary.LittleEndian.AppendUint16(b, 1)  // PCM
	b = binary.LittleEndian.AppendUint16(b, 1)  // channel
	b = binary.LittleEndian.AppendUint32(b, sampleRate)
	b = binary.LittleEndian.AppendUint32(b, sampleRate*bytesPerSample)
	b = binary.LittleEndian.AppendUint16(b, bytesPerSample)
	b = binary.LittleEndian.AppendUint16(b, 8*bytesPerSample)
	b = append(b, "data"...)
	b = binary.LittleEndian.AppendUint32(b, size)
	for _, s := range samples {
		b = binary.LittleEndian.AppendUint16(b, uint16(s))
	}
	return b
}
