// Package radio tells whether a beacon can be heard here with this chain, and
// what strong local transmitters do to it: free space, noise, cascade, margins;
// level of each transmitter, overload, intermodulation, and the remedies with
// the margin that each would give.
//
// What isn't known is a range, not a guess: every result has a low and a high
// end, worked out with all that is uncertain at its unkindest and at its
// kindest. Levels are at the antenna's port unless a name says otherwise.
//
// Units: MHz, km, m, dB, dBm, K, degrees, as the names say. Logarithms are to
// base 10; T0 is 290 K. "Common practice" marks a figure that is usual in the
// trade and has no source; "from memory" one whose source was not at hand.
package radio
