// Package plainstart keeps the program's start quiet. Imported for its effect
// only, by main.
//
// The terminal library asks the terminal for its background colour while the
// program initialises: a terminal that doesn't answer costs every command five
// seconds and some escape bytes. Answering here, before it asks, avoids both.
// Packages without dependencies between them are initialised in the order of
// their import paths, so this one comes before the library's.
package plainstart

import "github.com/charmbracelet/lipgloss"

// The answer is a placeholder: the full-screen program chooses its theme by
// itself, once it runs.
func init() { lipgloss.SetHasDarkBackground(true) }
