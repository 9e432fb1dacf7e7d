package radio

import (
	"fmt"
	"math"
)

// Mode is a way of sending, with the signal-to-noise ratios that it takes.
type Mode struct {
	Name          string
	BandwidthHz   float64 // in which noise and ratios are counted
	HearingSNRDB  Range   // seen as a blob, or heard as a tone
	DecodingSNRDB Range
	Basis         string // where the decoding ratio is from
}

// blobSNRDB is what it takes to see a burst on a waterfall as a blob, in its own
// bandwidth, and toneSNRDB to hear a tone in 2500 Hz (practised ears take 4 to 6
// dB less); both common practice, no source.
var (
	blobSNRDB = Range{-6, 0}
	toneSNRDB = Range{-16, -10}
)

// Modes returns the modes that are known, each with a ratio of signal to noise
// in its bandwidth for which one bit in 100,000 is wrong: theory and 1 dB for
// what is built, or common practice, as Basis says.
func Modes() []Mode {
	const built = 1.0 // dB
	digital := func(name string, rate, bandwidth, ebN0DB float64, basis string) Mode {
		snr := ebN0DB + decibels(rate/bandwidth)
		return Mode{name, bandwidth, blobSNRDB, Exactly(snr), basis}
	}
	fsk := FSKNoncoherent.RequiredDB(1e-5) + built
	const theory = "theory for one bit in 100,000 wrong, and 1 dB"
	return []Mode{
		{"CW", 2500, toneSNRDB, toneSNRDB, "common practice: by ear, about -10 dB in 2.5 kHz"},
		digital("BPSK 1200", 1200, 2400, PSK.RequiredDB(1e-5)+built, theory),
		digital("BPSK 1200 coded", 1200, 4800, 5.5, "theory for half-rate convolutional coding, and 1 dB of common practice"),
		digital("GMSK 1200", 1200, 2400, fsk, theory),
		digital("GMSK 2400", 2400, 4800, fsk, theory),
		digital("GMSK 4800", 4800, 9600, fsk, theory),
		digital("GMSK 9600", 9600, 15000, fsk, theory),
		digital("GMSK 9600 coherent", 9600, 15000, PSK.RequiredDB(1e-5)+0.1+built, theory),
		digital("FSK 9600 scrambled", 9600, 15000, 15.5, "common practice: after an FM discriminator"),
		digital("AFSK 1200", 1200, 12500, 20, "common practice: FM's threshold of about 10 dB in its bandwidth"),
	}
}

// FindMode returns a mode by its name, or one of LoRa's as "LoRa SF12 125k".
func FindMode(name string) (Mode, error) {
	for _, m := range Modes() {
		if m.Name == name {
			return m, nil
		}
	}
	var sf, khz int
	if n, err := fmt.Sscanf(name, "LoRa SF%d %dk", &sf, &khz); err == nil && n == 2 && name == fmt.Sprintf("LoRa SF%d %dk", sf, khz) {
		return LoRa(sf, float64(khz)*1e3)
	}
	names := ""
	for _, m := range Modes() {
		names += m.Name + ", "
	}
	return Mode{}, fmt.Errorf("mode %q isn't known: want %sor such as LoRa SF12 125k", name, names)
}

// LoRa returns the mode of a spreading factor, 5 to 12: the demodulator takes
// -7.5 dB in its bandwidth at 7 and 2.5 dB less each step (as the makers' data
// sheets say; 5 and 6 from memory). Below the noise it is decoded but not seen.
func LoRa(spreadingFactor int, bandwidthHz float64) (Mode, error) {
	if spreadingFactor < 5 || spreadingFactor > 12 {
		return Mode{}, fmt.Errorf("LoRa's spreading factor is %d, want 5 to 12", spreadingFactor)
	}
	if !(bandwidthHz >= 1000 && bandwidthHz <= 2e6) {
		return Mode{}, fmt.Errorf("LoRa's bandwidth is %v Hz, want 1000 to 2000000", bandwidthHz)
	}
	return Mode{
		fmt.Sprintf("LoRa SF%d %.0fk", spreadingFactor, math.Floor(bandwidthHz/1e3)), bandwidthHz, blobSNRDB,
		Exactly(-7.5 - 2.5*float64(spreadingFactor-7)), "the demodulator's limit by its data sheet",
	}, nil
}
