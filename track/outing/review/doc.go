// Package review tells afterwards what happened on an outing: what was expected
// and what was heard, where the antenna was held and where the satellite was,
// what is known of the errors by now, what was probably wrong, and what to change.
//
// It rests on the record of the outing alone (package outing). The verdict
// weighs causes, singly and in pairs, by how likely each makes what was marked;
// see Verdict. Nothing here knows a clock or a file.
package review
