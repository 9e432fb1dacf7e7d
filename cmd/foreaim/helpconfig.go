package main

import (
	"fmt"

	"github.com/spf13/cobra"
)

// newTopic makes something that "foreaim help NAME" explains and that isn't a
// command.
func newTopic(name, short, text string) *cobra.Command {
	topic := &cobra.Command{Use: name, Short: short, Long: text}
	topic.SetHelpFunc(func(cmd *cobra.Command, _ []string) { fmt.Fprint(cmd.OutOrStdout(), cmd.Long) })
	return topic
}

func newConfigTopic() *cobra.Command {
	return newTopic("config", "every key of the configuration, as a file", configExample)
}

// configExample is a configuration with every key, and what it means.
const configExample = `# Every key of foreaim/config.toml, which is in ~/.config on Linux or named with
# --config. Nothing is needed; an unknown key or an impossible value is told with
# its line and column. Place, satellite and addresses here are invented.
# Files are named relative to this one; "foreaim help files" tells what is in them.

environment = "quiet_rural"  # or rural, residential, city: the noise of people
region = "region 1"          # whose channels: also north america, japan,
                             # australia, new zealand
transmitters = "masts.csv"   # the strong ones around
terrain = "tiles"            # a folder of elevation tiles
terrain_sea = true           # where a tile is missing there is sea
antenna_m = 1.5              # how high above the ground you hold the antenna

[site]
name = "Ostvar meadow"
latitude_deg = 58.3127
longitude_deg = 14.0864
height_m = 131               # above the WGS-84 ellipsoid

[gps]
source = "serial:///dev/ttyUSB0"  # see foreaim gps --help
sensor = "serial:///dev/ttyACM0"  # an electronic compass on the boom, if it
                                  # has a port of its own

[[landmark]]                 # what can be seen from there, as often as you like
name = "Askrona church"
latitude_deg = 58.3306
longitude_deg = 14.1217
height_m = 167               # of what you look at; may be left out

[fist]
degrees = 9.5                # your own fist at arm's length; 10 without it

[antenna]
beamwidth_deg = 50           # between the half-power points
# beamwidth_e_deg = 48       # or in the plane of the elements
# beamwidth_h_deg = 56       # and in the one across
gain_dbi = 10                # on its axis; found from the width without it
polarisation = "linear"      # or right, left; none: unknown
pattern = "yagi.csv"         # measured

[[satellite]]                # as often as you like
name = "EMBERLING"
catalogue_number = 99071
frequency_hz = 436215000
period = "30s"               # a burst every so often
first = 2026-11-25T12:00:10Z # one of them began then; leave it out if you
                             # don't know
length = "1.2s"
tolerance = "0.1s"           # first is good to this; above 1 s the times are
                             # learned from your marks
power_dbm = 30               # 1 W; with mode, chain and the antenna's width the
                             # aim knows how strong it should come in
gain_dbi = 0                 # of its antenna towards you; -3 to 2 without it
polarisation = "right"
mode = "GMSK 9600"           # gives the next three, which may stand by themselves
bandwidth_hz = 15000
hearing_snr_db = 0           # in that bandwidth, to hear it or see it on a waterfall
decoding_snr_db = 14.6

[[chain]]                    # from antenna to receiver, as often as you like
name = "at the antenna"

[[chain.stage]]              # in the order that the signal meets them
name = "preamplifier"
kind = "preamplifier"        # or cable, filter, attenuator, receiver; none: the
                             # one in the name
gain_db = 20                 # a loss is negative
noise_figure_db = 0.9        # what you don't know, leave out: it is a range then
input_p1db_dbm = -14         # where the gain has fallen by 1 dB
input_ip3_dbm = -4           # intercepts of third and second order
input_ip2_dbm = 20
feed_v = 5                   # what it is fed with through the cable

[[chain.stage]]
name = "cable"
gain_db = -1.5

[[chain.stage]]
name = "bought filter"
loss_table = "filter.csv"

[[chain.stage]]
name = "receiver"
noise_figure_db = 6
full_scale_dbm = -10         # the level that fills its converter, at the gain in use
phase_noise_dbc_hz = -120
bits = 9.5                   # effective ones of the converter
sample_hz = 2400000

# Commands run without a shell. One that is missing, fails or hangs holds
# nothing up; the screen says so.
[voice]
command = "espeak-ng -s 160 {text}"  # without {text} it gets it on its input
tones = "aplay -q"           # where no voice speaks: gets a sound (WAV) on its
                             # input, or the tones' names in the place of {tone}:
                             # left falls, right rises, up climbs three steps,
                             # down falls three, one long tone says hold, three
                             # pips a burst

[[run]]                      # your own commands, as often as you like
at = "rise-30s"              # rise, peak, set or burst (each), + or - a duration
command = "arecord -q -d 900 pass.wav"
timeout = "16m"              # 10s without it, 24h at most; how it ended and what
                             # it wrote goes to the record

[[check]]                    # your checklist in the place of the usual one
name = "recorder"            # for the record
text = "Recorder running?"
before = "5m"                # before rise; up to 1h, none: at rise
insist = true                # ask until it is confirmed

[[check]]
name = "clock"
text = "Clock right?"
before = "10m"
check = "clock"              # Foreaim finds out: fix, clock, elements, facing
                             # or disk

[[check]]
name = "ladder"
text = "Down from the ladder?"
before = "1m"
until_rise = true            # after it the question is dropped

[[source]]                   # of elements, for "foreaim elements fetch"
url = "https://elements.example/object?number={number}"
interval = "6h"              # asked so often at most; 2h without it, 30m at least

[marks]                      # how late you mark a burst, from its end on
reaction = "0.8s"            # on average
scatter = "0.3s"             # standard deviation
waterfall_least = "0.5s"     # if you watch a waterfall: what its picture adds,
waterfall_most = "2s"        # from so much to so much

[noise]                      # how the noise test weakens what comes in
way = "attenuator"           # or bypass, of the preamplifier
db = 10                      # its attenuation, or the preamplifier's gain
`
