package fetch

import "time"

// Error says why nothing could be fetched.
type Error struct {
	Address string // fit to print
	What    string // what is wrong
	Advice  string // the way out; may be empty
	Err     error  // what caused it; may be nil
}

// Error returns one line.
func (e *Error) Error() string { return e.Address + ": " + e.What }

// Hint returns the way out; empty where there is none.
func (e *Error) Hint() string { return e.Advice }

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// refusal is a fault after which the server is left alone for a while.
type refusal struct {
	fault *Error
	pause time.Duration
}

func (r *refusal) Error() string { return r.fault.Error() }

func (q *query) fault(what, advice string, cause error) *Error {
	return &Error{Address: q.address, What: what, Advice: advice, Err: cause}
}

func (q *query) refusal(pause time.Duration, what, advice string, cause error) error {
	return &refusal{q.fault(what, advice, cause), pause}
}
