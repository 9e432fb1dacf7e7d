package main

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/spf13/cobra"
)

func TestEveryHelpFitsATerminal(t *testing.T) {
	seen := 0
	var walk func(cmd *cobra.Command, path []string)
	walk = func(cmd *cobra.Command, path []string) {
		seen++
		status, help, stderr := runHere(t, t.Context(), append(path, "--help")...)
		if status != 0 {
			t.Errorf("%v --help: status %d, %s", path, status, stderr)
		}
		for line := range strings.Lines(help) {
			if line = strings.TrimRight(line, "\n"); ansi.StringWidth(line) > screenWidth {
				t.Errorf("%v --help: %d columns: %s", path, ansi.StringWidth(line), line)
			}
		}
		for _, c := range cmd.Commands() {
			if c.IsAvailableCommand() {
				walk(c, append(path[:len(path):len(path)], c.Name()))
			}
		}
	}
	walk(newRoot(testSystem(system{})), nil)
	if seen < 20 {
		t.Errorf("only %d commands", seen)
	}
}
