//go:build darwin && !cgo

package gps

// descriptions gives nothing: on this system only a C library knows the ports'
// names.
func descriptions() map[string]string { return nil }
