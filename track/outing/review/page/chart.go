package page

import (
	"fmt"
	"html/template"
	"math"
	"time"

	"foreaim/track"
	"foreaim/track/outing"
	"foreaim/track/outing/review"
)

const (
	chartLeft, chartTop   = 46.0, 10.0
	chartWide, chartHigh  = 706.0, 130.0
	chartRight, chartFoot = 14.0, 28.0
)

// chart is a value over the time of the pass.
type chart struct {
	*drawing
	from, to  time.Time
	low, high float64
}

// newChart begins one from rise to set, with its axes.
func newChart(id, title, description, unit string, p review.Pass, local *time.Location, low, high float64) chart {
	c := chart{newDrawing(id, chartLeft+chartWide+chartRight, chartTop+chartHigh+chartFoot, title, description), p.Rise.Time, p.Set.Time, low, high}
	step := round(high - low)
	if unit == "" { // rows of names
		step = math.Inf(1)
	}
	for v := math.Ceil(low/step) * step; v <= high+1e-9; v += step {
		class := "grid"
		if math.Abs(v) < 1e-9 {
			class = "ground"
		}
		c.line(class, chartLeft, c.y(v), chartLeft+chartWide, c.y(v))
		c.words("small", "end", chartLeft-5, c.y(v)+4, fmt.Sprintf("%g%s", math.Round(v*10)/10, unit))
	}
	c.clock(local)
	return c
}

// round returns a step that makes about four of a span.
func round(span float64) float64 {
	if !(span > 0) {
		return 1
	}
	unit := math.Pow(10, math.Floor(math.Log10(span/4)))
	for _, f := range []float64{1, 2, 5} {
		if span/(f*unit) <= 5 {
			return f * unit
		}
	}
	return 10 * unit
}

// clock puts the time of day along the foot.
func (c chart) clock(local *time.Location) {
	step := time.Minute
	for c.to.Sub(c.from) > 12*step {
		step *= 5
	}
	for t := c.from.Truncate(step).Add(step); t.Before(c.to); t = t.Add(step) {
		c.line("tick", c.x(t), chartTop+chartHigh, c.x(t), chartTop+chartHigh+4)
		c.words("small", "middle", c.x(t), chartTop+chartHigh+17, t.In(local).Format("15:04"))
	}
}

func (c chart) x(t time.Time) float64 {
	share := t.Sub(c.from).Seconds() / math.Max(1, c.to.Sub(c.from).Seconds())
	return chartLeft + chartWide*math.Max(0, math.Min(1, share))
}

func (c chart) y(v float64) float64 {
	share := (v - c.low) / (c.high - c.low)
	return chartTop + chartHigh*(1-math.Max(0, math.Min(1, share)))
}

// span returns a range that holds all known values and two more.
func span(bursts []review.Burst, low, high float64, value func(review.Burst) outing.Number) (float64, float64) {
	for _, b := range bursts {
		if n := value(b); n.Known {
			low, high = math.Min(low, n.Value), math.Max(high, n.Value)
		}
	}
	room := (high - low) * 0.06
	return low - room, high + room
}

// bursts marks the known values, and joins them.
func (c chart) bursts(all []review.Burst, value func(review.Burst) outing.Number) (count int) {
	var line []spot
	for _, b := range all {
		if n := value(b); n.Known {
			line = append(line, spot{c.x(b.Time), c.y(n.Value)})
			count++
		}
	}
	c.path("joins", line)
	for _, b := range all {
		if n := value(b); n.Known {
			c.mark(kind(b.Outcome), c.x(b.Time), c.y(n.Value))
		}
	}
	return count
}

// nothing says in the middle that there is nothing to show.
func (c chart) nothing(why string) template.HTML {
	c.words("none", "middle", chartLeft+chartWide/2, chartTop+chartHigh/2, why)
	return c.done()
}

func aimError(id string, p review.Pass, local *time.Location) template.HTML {
	value := func(b review.Burst) outing.Number { return b.AimErrorDeg }
	_, high := span(p.Bursts, 0, math.Max(30, p.BeamwidthDeg*0.7), value)
	c := newChart(id, "Aim error over time", describe(p.Bursts, value, "degrees between antenna and satellite"), "°", p, local, 0, high)
	c.line("limit", chartLeft, c.y(p.BeamwidthDeg/2), chartLeft+chartWide, c.y(p.BeamwidthDeg/2))
	c.words("limitwords", "start", chartLeft+4, c.y(p.BeamwidthDeg/2)-5, "edge of the beam")
	if c.bursts(p.Bursts, value) == 0 {
		return c.nothing("where the antenna was is not known")
	}
	return c.done()
}

func margin(id string, p review.Pass, local *time.Location) template.HTML {
	value := func(b review.Burst) outing.Number { return b.MarginDB }
	low, high := span(p.Bursts, -6, 10, value)
	c := newChart(id, "Margin over time", describe(p.Bursts, value, "decibels above what it takes to hear"), " dB", p, local, low, high)
	if c.bursts(p.Bursts, value) == 0 {
		return c.nothing("the margin is not known")
	}
	return c.done()
}

// frequency draws what was received and what was to be expected, in kHz against
// what is sent.
func frequency(id string, p review.Pass, local *time.Location) template.HTML {
	value := func(b review.Burst) outing.Number {
		if !b.FrequencyHz.Known || p.FrequencyHz == 0 {
			return outing.Number{}
		}
		return outing.NumberOf((b.FrequencyHz.Value - p.FrequencyHz) / 1000)
	}
	var expected []review.Burst
	for _, x := range p.Path {
		if p.FrequencyHz > 0 && x.Found.RangeKm > 0 {
			expected = append(expected, review.Burst{Time: x.Found.Time, FrequencyHz: outing.NumberOf(track.ReceiveHz(p.FrequencyHz, x.Found.RangeRateKmS))})
		}
	}
	all := append(append([]review.Burst{}, p.Bursts...), expected...)
	low, high := span(all, -2, 2, value)
	c := newChart(id, "Frequency over time", describe(p.Bursts, value, "kilohertz against the frequency sent"), " kHz", p, local, low, high)
	var curve []spot
	for _, b := range expected {
		curve = append(curve, spot{c.x(b.Time), c.y(value(b).Value)})
	}
	c.path("predicted", curve)
	for _, b := range p.Strays {
		if n := value(b); n.Known {
			c.mark("stray", c.x(b.Time), c.y(n.Value))
		}
	}
	if c.bursts(p.Bursts, value) == 0 && len(p.Strays) == 0 {
		return c.nothing("no frequency was measured; the line is what was to be expected")
	}
	return c.done()
}

// noise draws three rows: marks, listening and noise.
func noise(id string, p review.Pass, local *time.Location) template.HTML {
	c := newChart(id, "Marks and noise over time",
		fmt.Sprintf("%d heard, %d silent, %d not listened to, %d heard where none was expected; the noise was up %d times.",
			p.Count(review.Heard), p.Count(review.Silent), p.Count(review.NotListening), len(p.Strays), len(p.Noise)),
		"", p, local, 1, 2)
	const marks, up = chartTop + 36, chartTop + 88.0
	for _, s := range p.Noise {
		from, to := c.x(s.From), c.x(s.To)
		c.put(`<rect class="noise" x="%.1f" y="%g" width="%.1f" height="22"/>`, from, up-11, math.Max(1, to-from))
	}
	c.words("small", "end", chartLeft-5, marks+4, "marks")
	c.words("small", "end", chartLeft-5, up+4, "noise")
	if len(p.Noise) == 0 {
		c.words("none", "middle", chartLeft+chartWide/2, up+4, "not marked as up")
	}
	for _, b := range p.Bursts {
		c.mark(kind(b.Outcome), c.x(b.Time), marks)
	}
	for _, b := range p.Strays {
		c.mark("stray", c.x(b.Time), marks)
	}
	return c.done()
}

// describe tells a screen reader the least, the mean and the most of the values.
func describe(bursts []review.Burst, value func(review.Burst) outing.Number, what string) string {
	low, high, sum, n := math.Inf(1), math.Inf(-1), 0.0, 0
	for _, b := range bursts {
		if v := value(b); v.Known {
			low, high, sum, n = math.Min(low, v.Value), math.Max(high, v.Value), sum+v.Value, n+1
		}
	}
	if n == 0 {
		return "No value is known: " + what + "."
	}
	return fmt.Sprintf("%d bursts: from %.1f to %.1f, on average %.1f %s. The values are in the table.", n, low, high, sum/float64(n), what)
}
