// Package fetch gets files over HTTP and HTTPS from addresses that the user
// has configured, and spares the servers: an address is asked at most once in
// an interval, with what the server said last time, so that it can answer that
// nothing has changed. What it needs to remember is kept in a folder; content
// is handed to the caller, and only once all of it is here.
//
// No address is built in. Proxies are taken from the environment (HTTP_PROXY,
// HTTPS_PROXY, NO_PROXY). Passwords and keys in an address are never printed
// or kept.
package fetch
