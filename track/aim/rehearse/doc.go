// Package rehearse plays passes with several ways of aiming on the same random
// errors, to see what a way of aiming is worth. The truth it plays (pattern,
// detection, hand, fading) is written down here a second time on purpose: the
// way that learns must not be judged by its own assumptions.
package rehearse
