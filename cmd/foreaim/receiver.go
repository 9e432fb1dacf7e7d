package main

import (
	"errors"

	"foreaim/gps"
)

// receiverProblem words an error of opening a receiver: a wrong URL is the
// command line's fault, all else is the world's.
func receiverProblem(err error) error {
	p := &problem{status: statusFailed, err: err}
	if errors.Is(err, gps.ErrURL) {
		p.status = statusWrong
	}
	var told *gps.Error
	if errors.As(err, &told) {
		p.hint = told.Hint
	}
	return p
}
