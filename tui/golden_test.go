package tui

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the screens of testdata anew")

// golden compares a screen with the one kept in testdata.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name+".txt")
	if *update {
		if err := os.WriteFile(path, []byte(got+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got+"\n"); diff != "" {
		t.Errorf("%s differs (- kept, + now); go test ./tui -update writes it anew:\n%s", path, diff)
	}
}

// sizeName names a size in a file's name.
func sizeName(size [2]int) string { return fmt.Sprintf("%dx%d", size[0], size[1]) }

// resize gives the model another size.
func resize(t *testing.T, m *model, size [2]int) {
	t.Helper()
	settle(t, m, tea.WindowSizeMsg{Width: size[0], Height: size[1]})
}

// The screens were looked at, and their numbers worked out by hand from the
// stories, before they were kept; screens that change are to be looked at again.
func TestScreens(t *testing.T) {
	for name, s := range stories {
		for _, size := range [][2]int{{53, 20}, {80, 24}, {120, 40}} {
			golden(t, fmt.Sprintf("%s-%dx%d", name, size[0], size[1]), picture(t, s, size[0], size[1]).page.plain())
		}
	}
	golden(t, "move-80x24-ascii", picture(t, stories["move"], 80, 24, func(c *Config) { c.ASCII = true }).page.plain())
	m := picture(t, stories["move"], 80, 24)
	press(t, m, "p")
	golden(t, "passes-80x24", m.page.plain())
	resize(t, m, [2]int{53, 20})
	golden(t, "passes-53x20", m.page.plain())
	resize(t, m, [2]int{80, 24})
	press(t, m, "esc", "?")
	golden(t, "help-80x24", m.page.plain())
	press(t, m, "?", "f", "1", "2")
	golden(t, "entry-80x24", m.page.plain())
}
