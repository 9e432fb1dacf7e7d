package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
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

var keys = regexp.MustCompile("(?s)<!-- keys -->\n.*?\n\n## ")

// withKeys puts in the key table.
func withKeys(readme string) string {
	var b strings.Builder
	b.WriteString("<!-- keys -->\n| where | key | what it does |\n| --- | --- | --- |\n")
	for _, k := range tui.Keys() {
		view := k.View
		if view == "" {
			view = "everywhere"
		}
		fmt.Fprintf(&b, "| %s | `%s` | %s |\n", view, strings.Join(k.Keys, "` `"), k.Words)
	}
	return keys.ReplaceAllLiteralString(readme, b.String()+"\n## ")
}

var console = regexp.MustCompile("(?s)```console\n(.*?)```")

// withExamples puts in what the commands after each "$ " print.
func withExamples(t *testing.T, readme string) string {
	return console.ReplaceAllStringFunc(readme, func(block string) string {
		var b strings.Builder
		b.WriteString("```console\n")
		for line := range strings.Lines(block) {
			command, ok := strings.CutPrefix(line, "$ foreaim ")
			if !ok {
				continue
			}
			if b.Len() > len("```console\n") {
				b.WriteString("\n")
			}
			status, stdout, stderr := runHere(t, context.Background(), strings.Fields(command)...)
			if status != statusDone {
				t.Errorf("%sexit status %d", line, status)
			}
			b.WriteString(line + stderr + stdout)
		}
		return b.String() + "```"
	})
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

// The configuration that the README shows is accepted.
func TestReadmeConfigurationIsRead(t *testing.T) {
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	found := configuration.FindSubmatch(readme)
	if found == nil {
		t.Fatal("README.md shows no configuration")
	}
	c, err := parseConfig("README.md", found[1])
	if err != nil {
		t.Fatal(err)
	}
	if c.site == nil || len(c.satellites) != 1 || c.gpsSource == "" {
		t.Errorf("read as %+v", c)
	}
}
