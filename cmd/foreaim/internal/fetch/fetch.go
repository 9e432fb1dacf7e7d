package fetch

import (
	"bytes"
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"time"

	"foreaim/cmd/foreaim/internal/durable"
)

// Client fetches. Its fields may be changed before the first Fetch.
type Client struct {
	Folder string // where is kept when what was fetched; it must be there
	Agent  string // names the program to the servers
	Limits Limits
	// Whole asks for the content also when it has not changed since the last
	// time; the interval is kept nevertheless.
	Whole bool
	// Progress is told the bytes that came and how many will (-1: not known);
	// may be nil.
	Progress func(done, total int64)
	Now      func() time.Time

	transport *http.Transport
}

// New returns a client with the usual limits.
func New(folder, agent string) *Client {
	return &Client{
		Folder: folder, Agent: agent, Limits: Usual(), Now: time.Now,
		transport: &http.Transport{
			Proxy:              http.ProxyFromEnvironment,
			DisableCompression: true, // it is unpacked here, where sizes are watched
			ForceAttemptHTTP2:  true,
			TLSClientConfig:    &tls.Config{MinVersion: tls.VersionTLS12},
		},
	}
}

// Close gives up connections that are kept for the next fetch.
func (c *Client) Close() { c.transport.CloseIdleConnections() }

// Fetch gets the content of an address and hands it to read, once, unless the
// server was asked a short while ago or has nothing new: the result says so.
// Content counts as fetched when read returns nil. Two processes never ask for
// the same address at once. The error is ctx's, read's, or an *Error.
func (c *Client) Fetch(ctx context.Context, address string, read func(io.Reader) error) (Result, error) {
	u, err := parse(address)
	if err != nil {
		return Result{}, err
	}
	path := memoryPath(c.Folder, u)
	unlock, err := durable.Lock(ctx, path+".lock")
	if err != nil {
		return Result{}, err
	}
	defer unlock()
	q := query{client: c, url: u, address: printable(u), memory: recall(path)}
	q.memory.Address = q.address
	now := c.Now()
	if wait := q.memory.NotBefore.Sub(now); wait > 0 && wait <= longestPause {
		return Result{}, q.stillRefused(now)
	}
	if age := now.Sub(q.memory.Fetched); age >= 0 && age < c.Limits.Interval {
		return Result{Address: q.address, Outcome: TooSoon, At: q.memory.Fetched}, nil
	}
	result, err := q.ask(ctx, read)
	if ctx.Err() != nil && err != nil {
		return Result{}, ctx.Err()
	}
	var refused *refusal
	switch {
	case err == nil:
		q.memory.Fetched = result.At
		q.memory.NotBefore, q.memory.Refusal = time.Time{}, ""
	case errors.As(err, &refused):
		q.memory.NotBefore, q.memory.Refusal = now.Add(refused.pause), refused.fault.What
		err = refused.fault
	default:
		return Result{}, err // it cost the server little or nothing
	}
	return result, errors.Join(err, q.memory.save(path))
}

// query is one question to a server.
type query struct {
	client  *Client
	url     *url.URL
	address string
	memory  memory
}

// stillRefused tells of a refusal that was not long ago.
func (q *query) stillRefused(now time.Time) error {
	wait := span(q.memory.NotBefore.Sub(now))
	return q.fault(fmt.Sprintf("not asked again yet: %s", hidden(q.memory.Refusal)), "to spare the server it is asked again in "+wait, nil)
}

// ask asks the server.
func (q *query) ask(ctx context.Context, read func(io.Reader) error) (Result, error) {
	watch, ctx := newWatch(ctx, q.client.Limits)
	defer watch.stop()
	request, err := q.request(ctx)
	if err != nil {
		return Result{}, q.fault("not an address that can be asked", "", err)
	}
	limit := q.client.Limits.Redirects
	web := http.Client{Transport: q.client.transport, CheckRedirect: func(next *http.Request, via []*http.Request) error {
		return checkRedirect(next, via, limit)
	}}
	answer, err := web.Do(request)
	if err != nil {
		return Result{}, q.failure(ctx, err)
	}
	defer answer.Body.Close()
	result := Result{Address: q.address, Outcome: Unchanged, At: q.client.Now()}
	if answer.StatusCode == http.StatusNotModified && q.memory.conditional() {
		return result, nil
	}
	if err := q.status(answer); err != nil {
		return Result{}, err
	}
	content, err := q.content(ctx, watch, answer)
	if err != nil {
		return Result{}, err
	}
	if err := read(bytes.NewReader(content)); err != nil {
		return Result{}, q.refusal(otherPause, "what came can't be used: "+hidden(err.Error()), "", err)
	}
	q.memory.ETag, q.memory.LastModified = answer.Header.Get("ETag"), answer.Header.Get("Last-Modified")
	result.Outcome, result.Bytes = Fetched, len(content)
	return result, nil
}

// request asks for the content if it is not the one that is remembered.
func (q *query) request(ctx context.Context) (*http.Request, error) {
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, q.url.String(), nil)
	if err != nil {
		return nil, err
	}
	request.Header.Set("User-Agent", q.client.Agent)
	request.Header.Set("Accept-Encoding", "gzip")
	if q.client.Whole {
		q.memory.ETag, q.memory.LastModified = "", ""
	}
	if q.memory.ETag != "" {
		request.Header.Set("If-None-Match", q.memory.ETag)
	}
	if q.memory.LastModified != "" {
		request.Header.Set("If-Modified-Since", q.memory.LastModified)
	}
	return request, nil
}

// conditional tells whether the question was one for news only.
func (m memory) conditional() bool { return m.ETag != "" || m.LastModified != "" }
