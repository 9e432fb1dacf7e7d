package review

import (
	"math"
	"slices"

	"foreaim/track/aim"
)

// axis is the middles of cells of different widths.
type axis struct{ at, width []float64 }

// newAxis makes an axis of the borders between cells.
func newAxis(borders []float64) axis {
	var a axis
	for i := 1; i < len(borders); i++ {
		a.at = append(a.at, (borders[i-1]+borders[i])/2)
		a.width = append(a.width, borders[i]-borders[i-1])
	}
	return a
}

// lateAxis is of the time error in seconds: fine where the usual one is, given
// its standard deviation, and coarse far off.
func lateAxis(sigmaS float64) axis {
	far := []float64{1, 3, 5, 8, 12, 16, 21, 27, 34, 42, 51, 62, 75, 90, 110, 135, 165, 200, 245, 300, 370, 460, 600}
	var half []float64
	for x := 0.2; x < 3.1; x += 0.4 {
		half = append(half, x*min(sigmaS, 20))
	}
	for _, x := range far {
		if x > 1.2*half[len(half)-1] {
			half = append(half, x)
		}
	}
	var b []float64
	for _, x := range slices.Backward(half) {
		b = append(b, -x)
	}
	return newAxis(append(b, half...))
}

// upTo leaves out the cells beyond a value on both sides of 0.
func (a axis) upTo(most float64) axis {
	var b axis
	for i, x := range a.at {
		if math.Abs(x) <= most {
			b.at, b.width = append(b.at, x), append(b.width, a.width[i])
		}
	}
	return b
}

// headingAxis is of the heading error in degrees, all round; fine near 0.
func headingAxis() axis {
	half := []float64{1.5, 4.5, 7.5, 10.5, 13.5, 17, 21, 25, 30, 35, 41, 48, 56, 66, 78, 92, 108, 126, 148, 180}
	var b []float64
	for _, x := range slices.Backward(half) {
		b = append(b, -x)
	}
	return newAxis(append(b, half...))
}

// mostMarginDB is where the axis of the margin ends. What is stronger is heard as
// surely, what is weaker as little.
const mostMarginDB = 26.0

// marginAxis is of the margin at boresight and 1000 km in dB.
func marginAxis() axis {
	var b []float64
	for x := -mostMarginDB; x <= mostMarginDB; x += 4 {
		b = append(b, x)
	}
	return newAxis(b)
}

// within returns the axis laid anew with cells of about equal weight.
func (a axis) within(weights []float64, cells int) axis {
	const outside = 1e-3
	var b []float64
	for i := range cells + 1 {
		x := a.quantile(weights, outside+(1-2*outside)*float64(i)/float64(cells))
		if i == 0 || x > b[len(b)-1]+1e-6 {
			b = append(b, x)
		}
	}
	return newAxis(b)
}

// quantile returns where a share of the weights is reached; each weight is
// spread evenly over its cell.
func (a axis) quantile(weights []float64, share float64) float64 {
	total := 0.0
	for _, w := range weights {
		total += w
	}
	left := share * total
	for i, w := range weights {
		if left <= w && w > 0 {
			return a.at[i] + (left/w-0.5)*a.width[i]
		}
		left -= w
	}
	return a.at[len(a.at)-1]
}

// estimate returns mean, standard deviation and the central 68 % interval.
func (a axis) estimate(weights []float64) aim.Estimate {
	var total, mean, second float64
	for i, w := range weights {
		x := a.at[i]
		total += w
		mean += w * x
		second += w * (x*x + a.width[i]*a.width[i]/12)
	}
	if !(total > 0) {
		return aim.Estimate{}
	}
	mean /= total
	return aim.Estimate{
		Mean: mean, Sigma: math.Sqrt(max(0, second/total-mean*mean)),
		Low: a.quantile(weights, 0.16), High: a.quantile(weights, 0.84),
	}
}

// normal is a normal distribution's weights on an axis.
func (a axis) normal(mean, sigma float64) []float64 {
	w := make([]float64, len(a.at))
	cdf := func(x float64) float64 { return 0.5 * math.Erfc(-(x-mean)/sigma/math.Sqrt2) }
	for i, x := range a.at {
		w[i] = cdf(x+a.width[i]/2) - cdf(x-a.width[i]/2)
	}
	return w
}
