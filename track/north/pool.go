package north

import (
	"math"
	"math/bits"

	"foreaim/track"
)

// opinion is a direction with its standard uncertainty, degrees.
type opinion struct{ deg, sigma float64 }

// grossShare is how often a reference is grossly wrong, so that it says nothing
// (the wrong church, a car beside the compass). Common practice, no source.
const grossShare = 0.1

// pool returns what independent opinions say together when any of them, but not
// all, may be grossly wrong: the mean over every choice of which are right, each
// with its probability. A wrong one may point anywhere.
func pool(opinions []opinion) opinion {
	suspects := choices(opinions)
	best := suspects[0]
	for _, c := range suspects {
		if c.log > best.log {
			best = c
		}
	}
	sum, mean, squares := 0.0, 0.0, 0.0
	for _, c := range suspects {
		weight := math.Exp(c.log - best.log)
		off := track.TurnDeg(best.deg, c.deg)
		sum += weight
		mean += weight * off
		squares += weight * (off*off + c.sigma*c.sigma)
	}
	mean /= sum
	return opinion{track.Wrap360(best.deg + mean), math.Sqrt(math.Max(squares/sum-mean*mean, best.sigma*best.sigma))}
}

// choice is one guess at which opinions are right, bit by bit.
type choice struct {
	right uint
	opinion
	log float64 // of its probability, but for a constant
}

func choices(opinions []opinion) []choice {
	all := make([]choice, 0, 1<<len(opinions)-1)
	for right := uint(1); right < 1<<len(opinions); right++ {
		all = append(all, choose(opinions, right))
	}
	return all
}

// choose works out the mean of the right ones and how probable the choice is.
func choose(opinions []opinion, right uint) choice {
	c := choice{right: right}
	surest := opinion{sigma: math.Inf(1)} // angles are counted from it
	for i, o := range opinions {
		if right>>i&1 == 1 && o.sigma < surest.sigma {
			surest = o
		}
	}
	mean, weights := 0.0, 0.0
	for i, o := range opinions {
		if right>>i&1 == 1 {
			weight := 1 / square(o.sigma)
			mean, weights = mean+weight*track.TurnDeg(surest.deg, o.deg), weights+weight
		}
	}
	c.deg, c.sigma = track.Wrap360(surest.deg+mean/weights), 1/math.Sqrt(weights)
	c.log = math.Log(c.sigma * math.Sqrt(2*math.Pi))
	for i, o := range opinions {
		if right>>i&1 == 1 {
			c.log += math.Log((1-grossShare)/(o.sigma*math.Sqrt(2*math.Pi))) - square(track.TurnDeg(c.deg, o.deg)/o.sigma)/2
		} else {
			c.log += math.Log(grossShare / 360)
		}
	}
	return c
}

// plainly is how many times as probable a choice must be than any other that
// calls some wrong, for these to be named.
const plainly = 3

// oddOnes returns which of three or more opinions are plainly wrong: those that
// one choice leaves out, when that is plainly the most probable of the choices
// that leave any out and at least two agree, and that differ from what these say
// by more than uncertainty.
func oddOnes(opinions []opinion) []int {
	if len(opinions) < 3 {
		return nil
	}
	best, second := choice{log: math.Inf(-1)}, math.Inf(-1)
	for _, c := range choices(opinions) {
		switch right := bits.OnesCount(c.right); {
		case right == len(opinions):
		case c.log > best.log:
			best, second = c, best.log
		default:
			second = math.Max(second, c.log)
		}
	}
	if bits.OnesCount(best.right) < 2 || best.log-second < math.Log(plainly) {
		return nil
	}
	var odd []int
	for i, o := range opinions {
		if best.right>>i&1 == 1 {
			continue
		}
		if math.Abs(track.TurnDeg(best.deg, o.deg)) > differTimes*math.Hypot(best.sigma, o.sigma) {
			odd = append(odd, i)
		}
	}
	return odd
}
