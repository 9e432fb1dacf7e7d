package main

import (
	"context"
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
			status, stdout, stderr := runWith(t, context.Background(), map[string]string{"LC_ALL": "C.UTF-8"}, strings.Fields(command)...)
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

// The configurations that the README shows are accepted, and show every key.
func TestReadmeConfigurationIsRead(t *testing.T) {
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	found := configuration.FindAllSubmatch(readme, -1)
	if found == nil {
		t.Fatal("README.md shows no configuration")
	}
	var whole string
	for _, f := range found {
		c, err := parseConfig("README.md", f[1])
		if err != nil {
			t.Error(err)
		}
		if c.site != nil {
			whole = string(f[1])
		}
	}
	for name, table := range tablesOf(reflect.TypeFor[configFile]()) {
		_, keys, ok := strings.Cut(whole, "["+name+"]")
		if !ok {
			t.Errorf("README.md shows no [%s]", name)
			continue
		}
		for _, field := range reflect.VisibleFields(table) {
			key := field.Tag.Get("toml")
			if _, isTable := fieldOf(table, key); isTable || key == "" {
				continue
			}
			// The two planes of a beam are for whoever looks for them.
			if !strings.Contains(keys, "\n"+key+" = ") && !strings.HasPrefix(key, "beamwidth_") {
				t.Errorf("README.md shows no %s in [%s]", key, name)
			}
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
