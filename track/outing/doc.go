// Package outing is what happens on one outing beside the pointing: the marks
// of what was heard, the questions that find out where noise comes from, the
// checklist before a pass, the times at which things are run, and the record
// that keeps all of it.
//
// Nothing here knows a terminal or a clock: every event is handed in with its
// time, and what is asked for is a function of what was handed in.
package outing
