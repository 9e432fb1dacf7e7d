package fetch

import (
	"errors"
	"net/http"
)

var (
	errRedirects = errors.New("it sends from one address to the next without end")
	errDowngrade = errors.New("it sends from https to http, where anybody can read and change what comes")
)

// checkRedirect lets a server send us on a few times, but never from https to
// http, and does not tell the next server where we came from.
func checkRedirect(next *http.Request, via []*http.Request, limit int) error {
	next.Header.Del("Referer")
	switch {
	case len(via) > limit:
		return errRedirects
	case next.URL.Scheme != "https" && via[len(via)-1].URL.Scheme == "https":
		return errDowngrade
	}
	return nil
}
