// Foreaim is a pointing aid for somebody who stands outdoors with a hand-held
// antenna and tries to hear a small satellite that sends one short burst every
// so often.
//
// This package is its command line: flags in, tables or JSON out, no science.
package main

import (
	_ "foreaim/tui/plainstart" // before anything that talks to a terminal

	"os"
)

func main() { os.Exit(run(os.Args[1:], systemHere())) }
