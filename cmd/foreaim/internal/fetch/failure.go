package fetch

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"syscall"
)

// failure words why there was no answer.
func (q *query) failure(ctx context.Context, err error) error {
	limits := q.client.Limits
	switch cause := context.Cause(ctx); {
	case errors.Is(cause, errSilent):
		return q.fault(fmt.Sprintf("no answer within %s", span(limits.Silence)), "check the network, or try again later", errSilent)
	case errors.Is(cause, errSlow):
		return q.tooSlow()
	}
	if u := (*url.Error)(nil); errors.As(err, &u) {
		err = u.Err // without the address, which may hold a password
	}
	if errors.Is(err, errRedirects) || errors.Is(err, errDowngrade) {
		return q.refusal(refusedPause, "not followed: "+err.Error(), "write the address that it means to send you to into the configuration", err)
	}
	what, advice := words(err)
	return q.fault(what, advice, err)
}

func (q *query) tooSlow() error {
	return q.fault(fmt.Sprintf("not finished within %s", span(q.client.Limits.Whole)), "try again with a better network, or fetch a smaller group", errSlow)
}

// brokenOff words why an answer has no end.
func (q *query) brokenOff(ctx context.Context, wire *wireReader, err error) error {
	came := size(wire.done)
	if wire.total > 0 {
		came += " of " + size(wire.total)
	}
	switch cause := context.Cause(ctx); {
	case errors.Is(cause, errSilent):
		return q.fault(fmt.Sprintf("the answer stopped after %s, and nothing came for %s", came, span(q.client.Limits.Silence)), "try again later", errSilent)
	case errors.Is(cause, errSlow):
		return q.tooSlow()
	}
	return q.fault("the answer broke off after "+came, "try again", err)
}

// words says for people what kept a question from being answered.
func words(err error) (what, advice string) {
	var (
		name      *net.DNSError
		authority x509.UnknownAuthorityError
		host      x509.HostnameError
		invalid   x509.CertificateInvalidError
		record    tls.RecordHeaderError
		verify    *tls.CertificateVerificationError
	)
	switch {
	case errors.As(err, &name):
		return "the name " + hidden(name.Name) + " is not known to the network", "check the network and the address"
	case errors.Is(err, syscall.ECONNREFUSED):
		return "the connection is refused: nothing answers at this port", "check the address, and the proxy if there is one"
	case errors.As(err, &invalid) && invalid.Reason == x509.Expired:
		return "the server's certificate is expired or not valid yet", "check this computer's date and time; else the publisher must renew it"
	case errors.As(err, &host):
		return "the server's certificate is for another host", "check the address; or this network answers in the server's place, until you sign in"
	case errors.As(err, &authority):
		return "the server's certificate is not signed by anybody whom this computer trusts", "this network may answer in the server's place, until you sign in; or the computer's certificates are old"
	case errors.As(err, &invalid), errors.As(err, &verify):
		return "the server's certificate can't be trusted: " + hidden(err.Error()), ""
	case errors.As(err, &record), errors.Is(err, http.ErrSchemeMismatch):
		return "the server does not speak TLS at this port", "if it serves http only, write http:// in the address"
	}
	return "no answer: " + hidden(err.Error()), "check the network and the address"
}
