// Package terrain knows what stands between a site and the sky, and between a
// site and a transmitter: skylines entered by hand, the ground of elevation tiles,
// its skyline, profiles and what they take off a wave, and places that hide
// transmitters and still see the sky. Azimuths are true, in degrees clockwise from
// north; elevations are in degrees above the level horizon; heights of the ground
// are above mean sea level (see Ground).
package terrain
