package main

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"foreaim/tui"
)

// TestReadmeIsTrue holds the README to the program: its picture, its key table
// and what its examples print. With UPDATE_README=1 it writes what is true now.
func TestReadmeIsTrue(t *testing.T) {
	t.Chdir(filepath.Join("..", ".."))
	data, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	before := string(data)
	after := withPictures(t, before)
	after = withKeys(after)
	after = withExamples(t, after)
	if after == before {
		return
	}
	if os.Getenv("UPDATE_README") != "" {
		if err := os.WriteFile("README.md", []byte(after), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	was, is := strings.Split(before, "\n"), strings.Split(after, "\n")
	for i := range min(len(was), len(is)) {
		if was[i] != is[i] {
			t.Fatalf("README.md:%d says\n%s\nbut true is\n%s\n(UPDATE_README=1 go test -run Readme ./cmd/foreaim puts it right)", i+1, was[i], is[i])
		}
	}
	t.Fatalf("README.md has %d lines, but %d are true", len(was), len(is))
}

var picture = regexp.MustCompile("(?s)<!-- picture: (\\S+) -->\n```text\n.*?\n```")

// withPictures puts in the pictures that the screen's own tests keep true.
func withPictures(t *testing.T, readme string) string {
	if !picture.MatchString(readme) {
		t.Error("README.md shows no picture")
	}
	return picture.ReplaceAllStringFunc(readme, func(block string) string {
		file := picture.FindStringSubmatch(block)[1]
		screen, err := os.ReadFile(filepath.FromSlash(file))
		if err != nil {
			t.Fatal(err)
		}
		return fmt.Sprintf("<!-- picture: %s -->\n```text\n%s\n```", file, strings.TrimRight(string(screen), "\n"))
	})
}

var keys = regexp.MustCompile(`<!-- keys -->\n(\|.*\n)*`)

// withKeys puts in the keys of the pointing view and those that work everywhere.
func withKeys(readme string) string {
	var b strings.Builder
	b.WriteString("<!-- keys -->\n| key | what it does |\n| --- | --- |\n")
	for _, k := range tui.Keys() {
		if k.View == "pointing" || k.View == "" {
			fmt.Fprintf(&b, "| `%s` | %s |\n", strings.Join(k.Keys, "` `"), k.Words)
		}
	}
	return keys.ReplaceAllLiteralString(readme, b.String())
}

var console = regexp.MustCompile("(?s)```console\n(.*?)```")

// withExamples puts in what the commands after each "$ " print, one after the
// other in a home of their own, with the configuration that the README shows.
// A line of "…" stands for lines that are left out.
func withExamples(t *testing.T, readme string) string {
	home := t.TempDir()
	if err := os.WriteFile(filepath.Join(home, "config.toml"), []byte(exampleConfig(readme)), 0o666); err != nil {
		t.Fatal(err)
	}
	return console.ReplaceAllStringFunc(readme, func(block string) string {
		examples := strings.Split(strings.TrimSuffix(block, "```"), "$ foreaim ")[1:]
		if len(examples) == 0 {
			t.Errorf("no command in\n%s", block)
		}
		for i, example := range examples {
			command, shown, _ := strings.Cut(example, "\n")
			status, stdout, stderr := runIn(t.Context(), home, map[string]string{"LC_ALL": "C.UTF-8"}, strings.Fields(command)...)
			if status != statusDone {
				t.Errorf("%s: exit status %d", command, status)
			}
			if whole := stderr + stdout; !tellsPartsOf(strings.TrimSpace(shown), strings.TrimSpace(whole)) {
				shown = whole
			}
			examples[i] = "$ foreaim " + command + "\n" + strings.TrimSpace(shown) + "\n"
		}
		return "```console\n" + strings.Join(examples, "\n") + "```"
	})
}

// tellsPartsOf returns whether a text is the whole but for the lines that "…"
// stands for.
func tellsPartsOf(shown, whole string) bool {
	pattern := strings.ReplaceAll(regexp.QuoteMeta("\n"+shown+"\n"), "\n…\n", "\n(?s:.*\n)?")
	return regexp.MustCompile("^" + pattern + "$").MatchString("\n" + whole + "\n")
}

func TestTellsPartsOf(t *testing.T) {
	for shown, want := range map[string]bool{
		"a\nb\nc\nd":       true,
		"a\n…\nd":          true,
		"a\n…\nc\nd":       true,
		"a\nb\n…":          true,
		"a\n…\nc\n…":       true,
		"a\n…\nc\n…\nb\nd": false,
		"a\nb\nc":          false,
		"a\n…\nc":          false,
		"b\n…\nd":          false,
		"a\n…\ne\n…":       false,
		"a\n…\nb\nd":       false,
		"a\n…\nc\n…\nb\n…": false,
		"a\n…\nb\n…\nc\nd": true,
		"a\n…\nb c\nd":     false,
		"a\nb\nc\nd\ne":    false,
		"a\nb\nc\nd\n…\ne": false,
	} {
		if got := tellsPartsOf(shown, "a\nb\nc\nd"); got != want {
			t.Errorf("%q: %v, want %v", shown, got, want)
		}
	}
}

// The commands that the README tells to set up with are those that are tested.
func TestReadmeSetsUp(t *testing.T) {
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	ci, err := os.ReadFile(filepath.Join("..", "..", ".ci", "run"))
	if err != nil {
		t.Fatal(err)
	}
	for _, command := range []string{"go install ./cmd/foreaim\n", "go test ./...\n"} {
		if !strings.Contains(string(readme), command) {
			t.Errorf("README.md doesn't tell %q", command)
		}
	}
	if !slices.ContainsFunc(strings.Split(string(ci), "\n"), func(line string) bool {
		return strings.HasPrefix(line, "go test ") && strings.HasSuffix(line, " ./...")
	}) {
		t.Error(".ci/run doesn't test everything")
	}
}

var configuration = regexp.MustCompile("(?s)```toml\n(.*?)```")

// exampleConfig is the configuration of the README's outing.
func exampleConfig(readme string) string {
	for _, found := range configuration.FindAllStringSubmatch(readme, -1) {
		if strings.Contains(found[1], "[site]") {
			return found[1]
		}
	}
	return ""
}

// The configurations that the README shows are accepted.
func TestReadmeConfigurationIsRead(t *testing.T) {
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	if c, err := parseConfig("README.md", []byte(exampleConfig(string(readme)))); err != nil || c.site == nil {
		t.Errorf("a site and no error wanted, got %v, %v", c.site, err)
	}
	for _, found := range configuration.FindAllSubmatch(readme, -1) {
		if _, err := parseConfig("README.md", found[1]); err != nil {
			t.Error(err)
		}
	}
}

// tablesOf returns the tables of a configuration by name, those in tables too.
func tablesOf(file reflect.Type) map[string]reflect.Type {
	tables := map[string]reflect.Type{}
	for _, field := range reflect.VisibleFields(file) {
		name := field.Tag.Get("toml")
		if table, ok := fieldOf(file, name); ok && name != "" {
			tables[name] = table
			for inner, t := range tablesOf(table) {
				tables[name+"."+inner] = t
			}
		}
	}
	return tables
}
