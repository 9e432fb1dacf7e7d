package main

import "github.com/spf13/cobra"

func newFilesTopic() *cobra.Command {
	return newTopic("files", "the files that are read, and what is in them", filesText)
}

const filesText = `Tables are CSV. The first line names the columns, in any order; lines that begin
with # are skipped; numbers have a decimal point. Columns in brackets may be left
out or have empty cells. What is wrong is told with its line and column.

Marks (match --marks, written by review --export), a line a mark:

  time,kind,[frequency_hz],[strength],[azimuth_deg],[elevation_deg],[note]
  2026-11-25T20:12:10.6Z,heard,436208500,good,108,25,

  kind is heard, silent, not_listening, noise_up or noise_normal; strength is
  weak, good or strong. Azimuth (true) and elevation are where you believed the
  antenna to be: both or neither. The frequency tells most, in a pass that is
  heard on both sides of its peak.

Skyline (--skyline), a line wherever it bends, straight between:

  azimuth_deg,elevation_deg      or      azimuth_deg,fists

Strong transmitters (--transmitters), at most 300:

  name,latitude_deg,longitude_deg,ground_m,mast_m,low_mhz,high_mhz,erp_dbm,
  polarisation
  Kvarn Hill,58.3307,14.0864,150,60,450.8512,450.8638,57,v

  ground_m is above the sea, mast_m that of the antenna above the ground, erp_dbm
  against a dipole; polarisation is h, v or m (mixed). Cells of the last two may
  be empty: 40 to 90 dBm then.

What was seen on the receiver (survey, --seen), signals or a spectrum:

  low_mhz,high_mhz,level_dbm,[azimuth_deg],[attenuator_db],[preamplifier]
  frequency_mhz,level_dbm,[azimuth_deg],[attenuator_db],[preamplifier]

  level_db in the place of level_dbm where levels are not calibrated at the
  antenna's port; preamplifier is in or out.

Sites to compare (sites), antenna_m above the ground:

  name,latitude_deg,longitude_deg,antenna_m

A measured antenna (pattern) and a bought filter (loss_table):

  frequency_mhz,angle_deg,gain_dbi
  frequency_mhz,loss_db

Orbital elements (--elements, elements import): sets of two or three lines, or
OMM as JSON, XML, CSV or KVN, packed by gzip or not; which of them is found from
the content. Catalogue numbers may have nine digits.

Elevation tiles (--terrain), a folder for 60 km around: .hgt of 1 or 3
arc-seconds, plain or zipped, named after their corner as N58E014.hgt, or
GeoTIFF. Space and mapping agencies give them away, a degree by a degree.

A record of an outing is one JSON object a line, each with a checksum.
`
