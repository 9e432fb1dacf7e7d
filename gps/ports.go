package gps

import (
	"fmt"
	"slices"
	"strings"

	"go.bug.st/serial"
)

// Port is a serial port of this computer.
type Port struct {
	Name        string // as a serial:// URL takes it
	Description string // what is plugged in, where the system knows; may be empty
}

// Ports lists the serial ports by name.
func Ports() ([]Port, error) {
	names, err := serial.GetPortsList()
	if err != nil {
		return nil, fmt.Errorf("list the serial ports: %w", err)
	}
	slices.Sort(names)
	about := descriptions()
	ports := make([]Port, 0, len(names))
	for _, name := range slices.Compact(names) {
		ports = append(ports, Port{Name: oneLine(name), Description: about[name]})
	}
	return ports, nil
}

// describe puts together what a USB port says about itself.
func describe(manufacturer, product, vendorID, productID string) string {
	words := strings.Fields(oneLine(product))
	if !strings.Contains(product, manufacturer) {
		words = append(strings.Fields(oneLine(manufacturer)), words...)
	}
	words = append(words, "USB")
	if vendorID != "" {
		words = append(words, oneLine(vendorID)+":"+oneLine(productID))
	}
	return strings.Join(words, " ")
}
