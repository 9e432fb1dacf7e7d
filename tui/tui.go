// Package tui is the full-screen program: one file per view, one theme, one
// key map, no science.
package tui
