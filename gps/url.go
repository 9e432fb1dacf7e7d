package gps

import (
	"errors"
	"fmt"
	"math"
	"net"
	"net/url"
	"runtime"
	"strconv"
	"strings"
)

// address is the URL of a source, taken apart. Only the fields of its scheme
// are set.
type address struct {
	scheme   string  // "serial", "gpsd", "tcp", "udp", "file" or "fixed"
	path     string  // serial: the port; file: the file
	baud     int     // serial: bit/s, 0 when it has to be found
	rate     float64 // file: seconds of the recording in a second, 0: at once
	host     string  // gpsd, tcp: the host; udp: the address to listen at, mostly empty
	port     string  // gpsd, tcp, udp
	latitude float64 // fixed: degrees
	// longitude in degrees, height in metres above the ellipsoid.
	longitude, height float64
	heightKnown       bool
}

// urlForms shows every right form, for those who wrote a wrong one.
const urlForms = "serial:///dev/ttyUSB0?baud=9600, gpsd://localhost:2947, tcp://HOST:PORT, udp://:PORT, file:///PATH.nmea?rate=1 or fixed:LAT,LON,HEIGHT_M"

// gpsdPort is gpsd's port, registered with the IANA.
const gpsdPort = "2947"

// parseAddress takes a URL apart. Its errors say what was there and what would
// be right.
func parseAddress(text string) (address, error) {
	a, hint, err := parse(strings.TrimSpace(text))
	if err == nil {
		return a, nil
	}
	return address{}, &Error{
		What:  fmt.Sprintf("GPS source %q: %s", oneLine(text), oneLine(err.Error())),
		Hint:  hint,
		Cause: ErrURL,
	}
}

func parse(text string) (a address, hint string, err error) {
	scheme, rest, found := strings.Cut(text, ":")
	if !found || strings.ContainsAny(scheme, `/\,.`) {
		return a, "write " + withScheme(text), errors.New("no scheme such as serial: in front")
	}
	a.scheme = strings.ToLower(scheme)
	rest, query, _ := strings.Cut(rest, "?")
	options, err := url.ParseQuery(query)
	if err != nil {
		return a, "", fmt.Errorf("after the question mark: %w", err)
	}
	switch a.scheme {
	case "serial":
		hint = "write serial:///dev/ttyUSB0, or serial:///COM3 on Windows, and ?baud=9600 if the speed is known"
		err = a.parseSerial(rest, options)
	case "file":
		hint = "write file:///PATH.nmea?rate=1, or file:NAME.nmea in this folder"
		err = a.parseFile(rest, options)
	case "gpsd":
		hint = "write gpsd://localhost:2947"
		err = a.parseHost(rest, "localhost", gpsdPort)
	case "tcp":
		hint = "write tcp://HOST:PORT"
		err = a.parseHost(rest, "", "")
	case "udp":
		hint = "write udp://:PORT, the port that the sentences are sent to"
		err = a.parseHost(rest, "", "")
	case "fixed":
		hint = "write fixed:LAT,LON or fixed:LAT,LON,HEIGHT_M in degrees and metres, such as fixed:57.27,-5.71,40"
		err = a.parseFixed(rest)
	default:
		return a, "write " + urlForms, fmt.Errorf("unknown scheme %q", scheme)
	}
	if err == nil {
		err = onlyKnown(options, map[string]string{"serial": "baud", "file": "rate"}[a.scheme])
	}
	return a, hint, err
}

// withScheme guesses the URL that somebody meant who left the scheme out.
func withScheme(text string) string {
	switch {
	case text == "":
		return urlForms
	case strings.HasPrefix(text, "/dev/"):
		return "serial://" + oneLine(text)
	case strings.HasPrefix(strings.ToUpper(text), "COM"):
		return "serial:///" + oneLine(text)
	case strings.Trim(text, "0123456789.,+- ") == "":
		return "fixed:" + strings.ReplaceAll(text, " ", "")
	}
	return urlForms
}

func onlyKnown(options url.Values, known string) error {
	for key, values := range options {
		switch {
		case key != known && known == "":
			return fmt.Errorf("takes no option, but there is %q", key)
		case key != known:
			return fmt.Errorf("unknown option %q, the only one is %s", key, known)
		case len(values) > 1:
			return fmt.Errorf("%s is given %d times", key, len(values))
		}
	}
	return nil
}

func (a *address) parseSerial(rest string, options url.Values) error {
	path, err := unescape(strings.TrimPrefix(rest, "//"))
	if err != nil {
		return err
	}
	name := strings.TrimLeft(path, "/")
	switch {
	case name == "":
		return errors.New("no port")
	case isWindowsPort(name):
		path = strings.ToUpper(name)
	case !strings.HasPrefix(path, "/"):
		return errors.New("a port follows three slashes")
	}
	a.path = path
	if !options.Has("baud") {
		return nil
	}
	a.baud, err = strconv.Atoi(options.Get("baud"))
	if err != nil || a.baud < 300 || a.baud > 4_000_000 {
		return fmt.Errorf("baud=%s is not a speed from 300 to 4000000", options.Get("baud"))
	}
	return nil
}

// isWindowsPort tells whether a name is that of a port of Windows: COM1 to
// COM999.
func isWindowsPort(name string) bool {
	digits, ok := strings.CutPrefix(strings.ToUpper(name), "COM")
	n, err := strconv.Atoi(digits)
	return ok && err == nil && n > 0 && n < 1000
}

func (a *address) parseFile(rest string, options url.Values) error {
	path, err := unescape(rest)
	if err != nil {
		return err
	}
	path, full := strings.CutPrefix(path, "//")
	if full && strings.HasPrefix(path, "localhost/") {
		path = strings.TrimPrefix(path, "localhost")
	}
	if runtime.GOOS == "windows" && len(path) > 2 && path[0] == '/' && path[2] == ':' {
		path = path[1:] // file:///C:/PATH
	}
	if strings.Trim(path, "/") == "" {
		return errors.New("no file name")
	}
	a.path, a.rate = path, 1
	if !options.Has("rate") {
		return nil
	}
	a.rate, err = number(options.Get("rate"))
	if err != nil || a.rate < 0 {
		return fmt.Errorf("rate=%s is not a rate: 1 is real time, 10 ten times as fast, 0 as fast as possible", options.Get("rate"))
	}
	return nil
}

// unescape undoes the percent signs of a path.
func unescape(text string) (string, error) {
	path, err := url.PathUnescape(text)
	if err != nil {
		return "", fmt.Errorf("%w (a percent sign is written %%25)", err)
	}
	if strings.ContainsFunc(path, func(r rune) bool { return r < ' ' || r == 0x7f }) {
		return "", errors.New("a control character in the name")
	}
	return path, nil
}

func (a *address) parseHost(rest, host, port string) error {
	rest, ok := strings.CutPrefix(rest, "//")
	if !ok {
		return errors.New("no // after the scheme")
	}
	rest = strings.TrimSuffix(rest, "/")
	a.host, a.port = host, port
	if colon := strings.LastIndexByte(rest, ':'); colon > strings.LastIndexByte(rest, ']') || port == "" {
		h, p, err := net.SplitHostPort(rest)
		if err != nil {
			return fmt.Errorf("%q is not HOST:PORT", rest)
		}
		rest, a.port = h, p
	} else if strings.HasPrefix(rest, "[") && strings.HasSuffix(rest, "]") {
		rest = rest[1 : len(rest)-1]
	}
	if rest != "" {
		a.host = rest
	}
	if n, err := strconv.ParseUint(a.port, 10, 16); err != nil || n == 0 {
		return fmt.Errorf("port %q is not a number from 1 to 65535", a.port)
	}
	if a.host == "" && a.scheme == "tcp" {
		return errors.New("no host")
	}
	if strings.ContainsFunc(a.host, func(r rune) bool {
		return !strings.ContainsRune("-._:%", r) && (r < '0' || r > '9') && (r|0x20 < 'a' || r|0x20 > 'z')
	}) {
		return fmt.Errorf("%q is not the name or address of a computer", a.host)
	}
	return nil
}

func (a *address) parseFixed(rest string) error {
	parts := strings.Split(strings.TrimPrefix(rest, "//"), ",")
	if len(parts) < 2 || len(parts) > 3 {
		return fmt.Errorf("%d numbers with commas between, not 2 or 3", len(parts))
	}
	for i, field := range []struct {
		name     string
		min, max float64
		value    *float64
	}{
		{"latitude", -90, 90, &a.latitude},
		{"longitude", -180, 180, &a.longitude},
		{"height", -1000, 100_000, &a.height},
	}[:len(parts)] {
		v, err := number(strings.TrimSpace(parts[i]))
		if err != nil || v < field.min || v > field.max {
			return fmt.Errorf("%s %q is not a number from %g to %g", field.name, parts[i], field.min, field.max)
		}
		*field.value = v
	}
	a.heightKnown = len(parts) == 3
	return nil
}

// number reads a plain decimal number: no NaN, no infinity, no hexadecimal.
func number(text string) (float64, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err == nil && (math.IsInf(v, 0) || strings.Trim(text, "0123456789.+-eE") != "") {
		err = strconv.ErrSyntax
	}
	return v, err
}
