package main

import (
	"io"

	"foreaim/track/elements"
	"foreaim/tui"
)

// catalogue is the objects of a library, to be chosen from on the screen.
type catalogue struct {
	elements.Catalogue
	library *library
	options *options
	link    *linkFlags
	config  config
}

// openCatalogue returns what opens the library that the flags ask for as a
// catalogue. It warns of nothing: the screen is not to be written over, and what
// can't be read has been told at the start.
func (sys system) openCatalogue(o *options, c config, f *linkFlags) func() (tui.Catalogue, error) {
	sys.stderr = io.Discard
	return func() (tui.Catalogue, error) {
		l, err := sys.openLibrary(o.elements)
		if err != nil {
			return nil, err
		}
		sets, err := l.newest()
		if err != nil {
			return nil, err
		}
		catalogue := &catalogue{library: l, options: o, link: f, config: c}
		for _, set := range sets {
			catalogue.Add(set)
		}
		return catalogue, nil
	}
}

// Target makes an object ready to be pointed at.
func (c *catalogue) Target(set elements.Set) (tui.Target, error) {
	s, err := newSatellite(set, c.options, c.config)
	if err != nil {
		return tui.Target{}, err
	}
	s.history = c.library.history(set)
	target := newTarget(s, c.config, c.link)
	kept, err := c.library.sys.lasting()
	if err == nil { // else it was warned of at the start
		target.EarlierLate = kept.of(set)
	}
	return target, nil
}
