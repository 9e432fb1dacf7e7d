package aim

import "time"

// A voice of 160 words a minute takes this long: fitted to what espeak-ng 1.51
// at -s 160 writes for sentences as they are used here, 0.3 s off at most.
const (
	speechStart   = 450 * time.Millisecond
	speechPerRune = 65 * time.Millisecond
	// runesPerDigit is about as long as a digit is when it is spelt out.
	runesPerDigit = 5
)

// SpeakingTime estimates how long a voice takes to say a text; who has heard
// the voice knows better.
func SpeakingTime(text string) time.Duration {
	runes := 0
	for _, r := range text {
		runes++
		if r >= '0' && r <= '9' {
			runes += runesPerDigit - 1
		}
	}
	return speechStart + time.Duration(runes)*speechPerRune
}
