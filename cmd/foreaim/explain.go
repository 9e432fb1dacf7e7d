package main

import "io"

// explain tells somebody who starts the program for the first time what it is
// for and what to type next.
func explain(w io.Writer) error {
	_, err := io.WriteString(w, `Foreaim tells where to hold a hand-held antenna, and when, to hear a small
satellite that sends one short burst every so often.

See it at work, with nothing set up and nothing plugged in:

    foreaim demo

For a satellite of your own it needs three things: orbital elements, where you
are (a GPS receiver or --site), and how often the beacon sends:

    foreaim elements import FILE
    foreaim passes SAT --site LAT,LON
    foreaim point SAT --site LAT,LON --frequency 437.1M \
        --period 30s --first 2026-11-25T18:00:00Z

"foreaim help" lists the commands, "foreaim help point" explains one.
`)
	return err
}
