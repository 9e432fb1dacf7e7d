package fetch

import (
	"fmt"
	"net/url"
	"regexp"
	"strconv"
	"strings"
)

// placeholder stands for the catalogue number in a configured address.
const placeholder = "{number}"

// ForEach tells whether an address is one for each object: whether it has
// {number} in it.
func ForEach(address string) bool { return strings.Contains(address, placeholder) }

// Expand puts a catalogue number in the place of {number}.
func Expand(address string, number int) string {
	return strings.ReplaceAll(address, placeholder, strconv.Itoa(number))
}

// Check says what is wrong with a configured address, with or without
// {number}; nil when it can be fetched from.
func Check(address string) error {
	_, err := parse(Expand(address, 1))
	return err
}

func parse(address string) (*url.URL, error) {
	u, err := url.Parse(address)
	fault := func(what, advice string) error { return &Error{Address: unparsed(address), What: what, Advice: advice} }
	const like = "write it as https://HOST/PATH, with {number} where the catalogue number goes"
	switch {
	case err != nil:
		return nil, fault("not an address", like)
	case u.Scheme == "":
		return nil, fault("the address begins with neither https:// nor http://", like)
	case u.Scheme != "https" && u.Scheme != "http":
		return nil, fault(fmt.Sprintf("%q is not http or https", u.Scheme), like)
	case u.Hostname() == "":
		return nil, fault("the address has no host", like)
	case strings.ContainsAny(u.Host+u.Path+u.RawQuery, "{}"):
		return nil, fault("unknown words in braces", "only {number} is put in")
	}
	u.Fragment = ""
	return u, nil
}

// printable returns an address without the user, the password and what looks
// like a key.
func printable(u *url.URL) string {
	shown := *u
	shown.User = nil
	parts := strings.Split(shown.RawQuery, "&")
	for i, part := range parts {
		if key, value, _ := strings.Cut(part, "="); value != "" && secretKey.MatchString(key) {
			parts[i] = key + "=***"
		}
	}
	shown.RawQuery = strings.Join(parts, "&")
	return shown.String()
}

var (
	secretKey  = regexp.MustCompile(`(?i)key|token|pass|pwd|secret|auth|sig|user|login|identity|session`)
	secretUser = regexp.MustCompile(`//[^/\s"]*@`)
)

// unparsed returns what may be shown of a text that may be no address: nothing
// between // and the last @, whatever is in the password, and nothing behind a
// question mark, which may be a key.
func unparsed(address string) string {
	if at := strings.LastIndexByte(address, '@'); at >= 0 {
		scheme, _, _ := strings.Cut(address[:at], "//")
		address = scheme + "//***" + address[at:]
	}
	shown, _, _ := strings.Cut(address, "?")
	return hidden(shown)
}

// hidden takes users and passwords out of a text that may hold an address, and
// control characters with them.
func hidden(text string) string {
	text = strings.Map(func(r rune) rune {
		if !strconv.IsPrint(r) {
			return -1
		}
		return r
	}, text)
	return secretUser.ReplaceAllString(text, "//***@")
}
