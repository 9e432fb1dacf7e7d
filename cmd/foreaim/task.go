package main

import (
	"time"

	"github.com/spf13/cobra"
)

// task is what a command about satellites starts from.
type task struct {
	place
	config     config
	satellites []satellite
	sight
}

// prepare reads the configuration and the elements, chooses the satellites that
// are named, and finds the place, in this order: the receiver may take a while.
func (sys system) prepare(cmd *cobra.Command, o *options, names []string) (t task, err error) {
	if t.config, err = sys.configFor(cmd); err != nil {
		return t, err
	}
	around, err := o.openSurround(t.config)
	if err != nil {
		return t, err
	}
	l, err := sys.openLibrary(o.elements)
	if err != nil {
		return t, err
	}
	sets, err := t.config.chooseAll(l, names)
	if err != nil {
		return t, err
	}
	for _, set := range sets {
		s, err := newSatellite(set, o, t.config)
		if err != nil {
			return t, err
		}
		s.history = l.history(set)
		t.satellites = append(t.satellites, s)
	}
	if t.place, err = sys.findPlace(cmd.Context(), o, t.config); err != nil {
		return t, err
	}
	t.sight, err = sys.see(cmd.Context(), around, t.site)
	return t, err
}

// configFor reads the configuration for a command.
func (sys system) configFor(cmd *cobra.Command) (config, error) {
	named, err := cmd.Flags().GetString("config")
	if err != nil {
		return config{}, err
	}
	return sys.loadConfig(named)
}

// warnOfAge warns when elements are too far from the time they are used for.
func (sys system) warnOfAge(s satellite, t time.Time) {
	if warning := s.ageWarning(t); warning != "" {
		sys.warn("%s", warning)
	}
}
