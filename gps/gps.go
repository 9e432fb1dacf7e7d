// Package gps gives positions, the time and headings from receivers, and how
// far the computer's clock is wrong. It knows no satellites.
package gps
