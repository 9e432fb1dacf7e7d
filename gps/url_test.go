package gps

import (
	"context"
	"errors"
	"strings"
	"testing"
	"unicode"
)

func TestRightURLs(t *testing.T) {
	for _, c := range []struct {
		url  string
		want address
		text string
	}{
		{"serial:///dev/ttyUSB0?baud=9600", address{scheme: "serial", path: "/dev/ttyUSB0", baud: 9600}, "serial:///dev/ttyUSB0?baud=9600"},
		{"serial:///dev/ttyACM0", address{scheme: "serial", path: "/dev/ttyACM0"}, "serial:///dev/ttyACM0"},
		{"serial:/dev/ttyACM0", address{scheme: "serial", path: "/dev/ttyACM0"}, "serial:///dev/ttyACM0"},
		{" SERIAL:///com12 ", address{scheme: "serial", path: "COM12"}, "serial:///COM12"},
		{"serial:///dev/a%20b", address{scheme: "serial", path: "/dev/a b"}, "serial:///dev/a%20b"},
		{"gpsd://localhost:2947", address{scheme: "gpsd", host: "localhost", port: "2947"}, "gpsd://localhost:2947"},
		{"gpsd://", address{scheme: "gpsd", host: "localhost", port: "2947"}, "gpsd://localhost:2947"},
		{"gpsd://pi.local/", address{scheme: "gpsd", host: "pi.local", port: "2947"}, "gpsd://pi.local:2947"},
		{"gpsd://[::1]", address{scheme: "gpsd", host: "::1", port: "2947"}, "gpsd://[::1]:2947"},
		{"tcp://192.0.2.7:10110", address{scheme: "tcp", host: "192.0.2.7", port: "10110"}, "tcp://192.0.2.7:10110"},
		{"udp://:10110", address{scheme: "udp", port: "10110"}, "udp://:10110"},
		{"file:///a/b.nmea?rate=2.5", address{scheme: "file", path: "/a/b.nmea", rate: 2.5}, "file:///a/b.nmea?rate=2.5"},
		{"file://localhost/a.nmea", address{scheme: "file", path: "/a.nmea", rate: 1}, "file:///a.nmea?rate=1"},
		{"file:b.nmea?rate=0", address{scheme: "file", path: "b.nmea"}, "file:b.nmea?rate=0"},
		{"file://../b.nmea", address{scheme: "file", path: "../b.nmea", rate: 1}, "file:../b.nmea?rate=1"},
		{"fixed:57.27,-5.71", address{scheme: "fixed", latitude: 57.27, longitude: -5.71}, "fixed:57.27,-5.71"},
		{"fixed:-90, 180, 40.5", address{scheme: "fixed", latitude: -90, longitude: 180, height: 40.5, heightKnown: true}, "fixed:-90,180,40.5"},
	} {
		got, err := parseAddress(c.url)
		if err != nil || got != c.want || got.String() != c.text {
			t.Errorf("%q = %+v %q (%v), want %+v %q", c.url, got, got, err, c.want, c.text)
		}
	}
}

// Every wrong URL names what was there and tells what would be right.
func TestWrongURLs(t *testing.T) {
	for _, c := range []struct{ url, what, hint string }{
		{"", "no scheme", "serial:///dev/ttyUSB0"},
		{"/dev/ttyUSB0", "no scheme", "write serial:///dev/ttyUSB0"},
		{"COM3", "no scheme", "write serial:///COM3"},
		{"57.27, -5.71", "no scheme", "write fixed:57.27,-5.71"},
		{"usb:///dev/ttyUSB0", `unknown scheme "usb"`, "serial:///dev/ttyUSB0"},
		{"serial://dev/ttyUSB0", "three slashes", "serial:///dev/ttyUSB0"},
		{"serial:ttyUSB0", "three slashes", "serial:///dev/ttyUSB0"},
		{"serial:///", "no port", "serial:///dev/ttyUSB0"},
		{"serial:///dev/x?baud=fast", "baud=fast", "baud=9600"},
		{"serial:///dev/x?baud=110", "300 to 4000000", "baud=9600"},
		{"serial:///dev/x?speed=9600", `"speed"`, "baud=9600"},
		{"serial:///dev/x?baud=4800&baud=9600", "2 times", "baud=9600"},
		{"serial:///dev/x%zz", "%zz", "serial:"},
		{"serial:///dev/x%0a", "control character", "serial:"},
		{"gpsd:localhost", "no //", "gpsd://localhost:2947"},
		{"gpsd://localhost:0", `port "0"`, "gpsd://localhost:2947"},
		{"gpsd://local host", `"local host"`, "gpsd://localhost:2947"},
		{"gpsd://localhost?rate=1", `"rate"`, "gpsd://localhost:2947"},
		{"tcp://192.0.2.7", "not HOST:PORT", "tcp://HOST:PORT"},
		{"tcp://:10110", "no host", "tcp://HOST:PORT"},
		{"tcp://h:70000", `port "70000"`, "tcp://HOST:PORT"},
		{"udp://10110", "not HOST:PORT", "udp://:PORT"},
		{"udp://:gps", `port "gps"`, "udp://:PORT"},
		{"file://", "no file name", "file:///PATH.nmea"},
		{"file:///a?rate=-1", "rate=-1", "file:///PATH.nmea?rate=1"},
		{"file:///a?rate=NaN", "rate=NaN", "file:///PATH.nmea?rate=1"},
		{"fixed:57.27", "1 numbers", "fixed:LAT,LON"},
		{"fixed:91,0", `latitude "91" is not a number from -90 to 90`, "fixed:LAT,LON"},
		{"fixed:0,181", `longitude "181"`, "fixed:LAT,LON"},
		{"fixed:0,0,inf", `height "inf"`, "fixed:LAT,LON"},
		{"fixed:0x1p3,0", `latitude "0x1p3"`, "fixed:LAT,LON"},
		{"fixed:1,2\x1b[31m", `longitude`, "fixed:LAT,LON"},
	} {
		r, err := Open(context.Background(), c.url, Options{})
		var e *Error
		if r != nil || !errors.As(err, &e) || !errors.Is(err, ErrURL) {
			t.Errorf("%q: receiver %v, error %v, want an *Error that wraps ErrURL", c.url, r, err)
			continue
		}
		if !strings.Contains(e.What, c.what) || !strings.Contains(e.Hint, c.hint) || hasControl(e.What+e.Hint) {
			t.Errorf("%q: %q, hint %q, want %q and %q", c.url, e.What, e.Hint, c.what, c.hint)
		}
	}
}

func hasControl(text string) bool { return strings.ContainsFunc(text, unicode.IsControl) }

func FuzzURL(f *testing.F) {
	for _, seed := range []string{
		"serial:///dev/ttyUSB0?baud=9600", "serial:///COM3", "gpsd://[::1%eth0]:2947", "tcp://h:1", "udp://:10110",
		"file:////a?rate=0", "file://b%25c", "file:C:/x?rate=1e-3", "fixed:-0,1e-9,40", "fixed:1,2,3,4", "57,5", "serial://\x1b",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		a, err := parseAddress(text)
		if err != nil {
			e := err.(*Error)
			if e.What == "" || hasControl(e.What+e.Hint) || len(e.What) > 4000 {
				t.Fatalf("%q: error %q, hint %q", text, e.What, e.Hint)
			}
			return
		}
		again, err := parseAddress(a.String())
		if err != nil || again != a {
			t.Fatalf("%q = %+v, written %q, read again %+v (%v)", text, a, a, again, err)
		}
	})
}
