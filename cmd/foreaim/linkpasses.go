package main

import "foreaim/track/radio"

// expect works out for each pass how well its satellite can be heard at the peak,
// with the configuration's first chain and among its transmitters. Where too
// little is written down it leaves it open.
func (t task) expect(passes []passOf) error {
	none := newLinkFlags()
	incoming, err := t.config.readTransmitters(none, t.site, t.sight)
	if err != nil {
		return err
	}
	for i, p := range passes {
		if !t.config.knowsLink(p.satellite, none) {
			continue
		}
		link, err := t.config.firstLink(p.satellite, none)
		if err != nil {
			return err
		}
		level := link.At(p.Peak, 0)
		if len(incoming) > 0 {
			level = radio.NewSurroundings(link, incoming).At(p.Peak, 0).Level
		}
		passes[i].hearing = &level.HearingMarginDB
	}
	return nil
}

// sayMargin says how much stronger a signal is than it has to be; empty where
// nobody knows.
func sayMargin(r *radio.Range) string {
	if r == nil {
		return ""
	}
	return r.String()
}
