package gps

import (
	"net"
	"net/url"
	"strconv"
	"strings"
)

// String gives the URL in its plainest form, with the speed where it is known.
func (a address) String() string {
	switch a.scheme {
	case "serial":
		s := "serial://" + escape("/"+strings.TrimPrefix(a.path, "/"))
		if a.baud != 0 {
			s += "?baud=" + strconv.Itoa(a.baud)
		}
		return s
	case "file":
		s := "file:" + escape(a.path)
		if strings.HasPrefix(a.path, "/") {
			s = "file://" + escape(a.path)
		}
		return s + "?rate=" + shortest(a.rate)
	case "fixed":
		s := "fixed:" + shortest(a.latitude) + "," + shortest(a.longitude)
		if a.heightKnown {
			s += "," + shortest(a.height)
		}
		return s
	}
	return a.scheme + "://" + a.hostPort()
}

// hostPort gives host and port as the network functions take them.
func (a address) hostPort() string { return net.JoinHostPort(a.host, a.port) }

// escape writes a path with percent signs where a URL needs them.
func escape(path string) string { return (&url.URL{Path: path}).EscapedPath() }

// shortest writes a number with as many digits as it needs.
func shortest(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
