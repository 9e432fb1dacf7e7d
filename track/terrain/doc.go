// Package terrain knows what stands between a site and the sky. Azimuths are
// true, in degrees clockwise from north; elevations are in degrees above the
// level horizon.
package terrain
