package fetch

import "time"

// Limits bound what a server can do to us and we to it.
type Limits struct {
	Interval  time.Duration // between two questions to one address
	Silence   time.Duration // without a byte from the server, before and in the answer
	Whole     time.Duration // of one fetch
	MaxBytes  int64         // of the content, packed and unpacked
	Redirects int           // followed in one fetch
}

// Usual returns the limits for catalogues of elements: these change a few times
// a day, and the public one with 30,000 objects takes 10 to 60 MB.
func Usual() Limits {
	return Limits{
		Interval: 2 * time.Hour, Silence: 30 * time.Second, Whole: 10 * time.Minute,
		MaxBytes: 128 << 20, Redirects: 5,
	}
}

// How long a server is left alone after an answer that was no content, when it
// does not say itself how long to wait.
const (
	refusedPause = 15 * time.Minute   // a second question would get the same answer
	faultPause   = 5 * time.Minute    // it has trouble of its own
	otherPause   = time.Minute        // the reason may be here: a network to sign in to, a full disk
	longestPause = 7 * 24 * time.Hour // that a server may ask for
)
