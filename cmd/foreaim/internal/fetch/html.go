package fetch

import (
	"bytes"
	"html"
	"regexp"
	"strings"
)

// sniffed is how much of a content is looked at to tell a web page.
const sniffed = 2000

// isHTML tells a web page by its content, or by what the server calls it where
// the content could be one: servers call data text/html by mistake too.
func isHTML(content []byte, contentType string) bool {
	head := bytes.ToLower(content[:min(len(content), sniffed)])
	if bytes.HasPrefix(head, []byte("<!doctype html")) || head[0] == '<' && bytes.Contains(head, []byte("<html")) {
		return true
	}
	return head[0] == '<' && strings.HasPrefix(strings.ToLower(contentType), "text/html")
}

var titleTag = regexp.MustCompile(`(?is)<title[^>]*>(.{1,200}?)</title>`)

// title returns what a page calls itself, to be put behind "a web page".
func title(content []byte) string {
	found := titleTag.FindSubmatch(content[:min(len(content), 4*sniffed)])
	if found == nil {
		return ""
	}
	text := strings.Join(strings.Fields(html.UnescapeString(string(found[1]))), " ")
	if text = hidden(text); text == "" {
		return ""
	}
	return `, titled "` + text + `"`
}
