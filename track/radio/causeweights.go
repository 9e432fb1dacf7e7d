package radio

// topic is one thing that can be looked at.
type topic string

const (
	noiseMark  topic = "noise"
	turnedAway topic = "turned away"
	weakened   topic = "weakened"
	weakenedUp topic = "weakened while up"
	tooMuch    topic = "too much"
	carried    topic = "carried away"
	floorFall  topic = "floor"
	ghostsSeen topic = "ghosts"
	squeezed   topic = "compressed"
	onChannel  topic = "on the channel"
	canMix     topic = "can mix"
	headroom   topic = "headroom"
	reckonedUp topic = "reckoned"
)

// weight is how likely an outcome is if a cause is there, in the order of causes:
// noise from outside, overload, own computer, product, nothing wrong.
type weight struct {
	topic   topic
	outcome string
	likely  []float64
	words   string
}

const noneMix = "no signals that were seen mix onto the channel"

// weights are estimates (no source), except that what decides is physics: see
// Drop and the noise test of an outing's record.
var weights = []weight{
	{noiseMark, "up", []float64{0.95, 0.5, 0.95, 0.95, 0.04}, "the noise is marked as up"},
	{noiseMark, "normal", []float64{0.05, 0.5, 0.05, 0.05, 0.96}, "the noise is marked as normal"},

	{turnedAway, "yes", []float64{0.7, 0.4, 0.06, 0.45, 0.06}, "it drops with the antenna turned away"},
	{turnedAway, "no", []float64{0.3, 0.6, 0.94, 0.55, 0.94}, "turning the antenna away changes nothing"},

	{weakened, "yes", []float64{0.93, 0.5, 0.45, 0.94, 0.3}, "it drops when what comes in is weakened"},
	{weakened, "no", []float64{0.07, 0.5, 0.55, 0.06, 0.7}, "it stays when what comes in is weakened"},

	// What strong signals raise falls with them; what is raised and stays is inside.
	{weakenedUp, "yes", []float64{0.95, 0.82, 0.45, 0.97, 0.4}, "it drops when what comes in is weakened"},
	{weakenedUp, "no", []float64{0.05, 0.18, 0.55, 0.03, 0.6}, "it stays up when what comes in is weakened"},

	{tooMuch, "yes", []float64{0.05, 0.35, 0.05, 0.5, 0.03}, "it drops by much more than it was weakened"},
	{tooMuch, "no", []float64{0.95, 0.65, 0.95, 0.5, 0.97}, "it drops by no more than it was weakened"},

	{carried, "yes", []float64{0.08, 0.1, 0.7, 0.08, 0.08}, "it drops when the antenna is carried away"},
	{carried, "no", []float64{0.92, 0.9, 0.3, 0.92, 0.92}, "carrying the antenna away changes nothing"},

	// Products fall no further than to the receiver's own noise: a fall by no more
	// than was put in tells only where something is left to stand out.
	{floorFall, "more", []float64{0.02, 0.17, 0.02, 0.45, 0.01}, "the channel's noise falls by more than the attenuator: made in the receiver"},
	{floorFall, "as much, and stands", []float64{0.3, 0.06, 0.06, 0.02, 0.01}, "what is on the channel falls by as much as the attenuator, and still stands out: it comes in by the antenna"},
	{floorFall, "as much", []float64{0.24, 0.1, 0.2, 0.15, 0.05}, "the channel's noise falls by as much as the attenuator: it comes in by the antenna, or fell to the receiver's own"},
	{floorFall, "less", []float64{0.37, 0.27, 0.2, 0.33, 0.34}, "the channel's noise falls by less than the attenuator"},
	{floorFall, "not", []float64{0.06, 0.2, 0.51, 0.03, 0.57}, "the channel's noise doesn't fall behind the attenuator"},
	{floorFall, "rose", []float64{0.01, 0.2, 0.01, 0.02, 0.02}, "the channel's noise rises behind the attenuator: the receiver gets its gain back"},

	{ghostsSeen, "yes", []float64{0.12, 0.5, 0.1, 0.5, 0.06}, "other signals fall by more than the attenuator: made in the receiver"},
	{ghostsSeen, "no", []float64{0.88, 0.5, 0.9, 0.5, 0.94}, "no signal falls by more than the attenuator"},

	{squeezed, "all", []float64{0.003, 0.62, 0.004, 0.015, 0.003}, "all strong signals fall by less than the attenuator, or rise: the receiver was compressed"},
	{squeezed, "some", []float64{0.012, 0.26, 0.012, 0.06, 0.012}, "strong signals fall by less than the attenuator: the receiver was compressed"},
	{squeezed, "no", []float64{0.985, 0.12, 0.984, 0.925, 0.985}, "strong signals fall by just as much as the attenuator: nothing is compressed"},

	{onChannel, "yes", []float64{0.6, 0.25, 0.25, 0.45, 0.03}, "something stands out of the noise on the channel"},
	{onChannel, "no", []float64{0.4, 0.75, 0.75, 0.55, 0.97}, "nothing stands out of the noise on the channel"},

	{canMix, "yes", []float64{0.4, 0.5, 0.4, 0.95, 0.4}, "signals that were seen can mix onto the channel"},
	{canMix, "no", []float64{0.6, 0.5, 0.6, 0.05, 0.6}, noneMix},

	{headroom, "overloaded", []float64{0.08, 0.8, 0.08, 0.3, 0.05}, "the levels overload the chain, as reckoned"},
	{headroom, "maybe", []float64{0.27, 0.17, 0.27, 0.4, 0.25}, "the levels may overload the chain, as reckoned"},
	{headroom, "bears it", []float64{0.65, 0.03, 0.65, 0.3, 0.7}, "the chain bears the levels, as reckoned"},

	{reckonedUp, "products", []float64{0.06, 0.5, 0.06, 0.75, 0.03}, "products of the levels reach the channel above its noise, as reckoned"},
	{reckonedUp, "maybe", []float64{0.3, 0.35, 0.3, 0.22, 0.27}, "products of the levels may reach the channel, as reckoned"},
	{reckonedUp, "nothing", []float64{0.64, 0.15, 0.64, 0.03, 0.7}, "no product of the levels reaches the channel, as reckoned"},
}
