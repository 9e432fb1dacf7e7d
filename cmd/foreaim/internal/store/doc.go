// Package store keeps every element set that was seen, in files of one folder.
//
// Objects are spread over a hundred files by the last two digits of their
// catalogue number, and one more for those without a number. A file is text: a
// first line that says what it is, and then one line a set, in the order in
// which they were imported:
//
//	SUM OBJECT EPOCH FORMAT OMM
//
// SUM is the CRC-32 (IEEE) of the rest of the line, OBJECT the catalogue number
// (or, without one, a hash of name and designator after an x), FORMAT the
// encoding in which the set came, and OMM the set as an orbit mean-elements
// message in JSON (CCSDS 502.0-B-3 keywords).
//
// Lines are only ever appended, under a lock, and synced before Import returns;
// reading takes no lock. A last line that has no end was cut off by a crash: it
// is not there for a reader, and the next writer cuts it off. A file is new, or
// loses an object, by being written whole and renamed into place.
//
// Limits: a set takes about 480 bytes; all sets of a file are read to add to it,
// so that a file stops growing at 256 MiB: about 5000 sets of each object of a
// catalogue of 10,000. An import that is killed may have kept some of its sets
// and not others, each of them whole; importing again adds the rest.
package store
