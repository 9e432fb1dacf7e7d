//go:build cgo || !darwin

package gps

import "go.bug.st/serial/enumerator"

// descriptions gives what is known of the USB ports, by name; nothing when the
// system doesn't tell.
func descriptions() map[string]string {
	details, err := enumerator.GetDetailedPortsList()
	if err != nil {
		return nil
	}
	about := make(map[string]string)
	for _, d := range details {
		if d.IsUSB {
			about[d.Name] = describe(d.Manufacturer, d.Product, d.VID, d.PID)
		}
	}
	return about
}
