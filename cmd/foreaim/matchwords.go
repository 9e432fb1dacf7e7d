package main

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// matchJSON is one object of the answer. Of one that was not up, and of one that
// is ruled out, there are no errors to tell.
type matchJSON struct {
	Satellite        string   `json:"satellite"`
	CatalogueNumber  int      `json:"catalogue_number"`
	Probability      *float64 `json:"probability"`
	TimeErrorS       *float64 `json:"time_error_s,omitempty"`
	FrequencyErrorHz *float64 `json:"frequency_error_hz,omitempty"`
}

// matchDecimals keep apart probabilities of objects that are all but ruled out.
const matchDecimals = 6

func matchJSONs(all []matched) []matchJSON {
	answers := make([]matchJSON, 0, len(all))
	for _, m := range all {
		a := matchJSON{Satellite: name(m.set), CatalogueNumber: m.set.CatalogueNumber, Probability: number(m.probability, matchDecimals)}
		if m.probability > 0 {
			a.TimeErrorS = number(m.lateS, 2)
			if m.knowsOffset() {
				a.FrequencyErrorHz = number(m.offsetHz, hzDecimals)
			}
		}
		answers = append(answers, a)
	}
	return answers
}

// unmeasuredHz is a standard deviation of the frequency's offset that only what
// was assumed before leaves.
const unmeasuredHz = 2000

// knowsOffset tells whether a measured frequency is behind the offset.
func (m matched) knowsOffset() bool { return m.probability > 0 && m.offsetSigmaHz < unmeasuredHz }

const (
	// enough is the probability from which an answer is given.
	enough = 0.95
	// mostNamed is how many objects are named that can't be told apart.
	mostNamed = 3
)

// sayVerdict says in one line which one it is, if the marks fit any.
func sayVerdict(all []matched, fits bool) string {
	if !fits {
		return "The marks hardly fit any of them; nearest is " + title(all[0].set) + "."
	}
	sum, n := 0.0, 0
	for n < len(all) && sum < enough {
		sum += all[n].probability
		n++
	}
	if n == 1 {
		return "It is " + title(all[0].set) + ", " + sayOdds(sum) + "."
	}
	if n > mostNamed {
		return fmt.Sprintf("Can't tell: it may be any of %d objects.", n)
	}
	var names []string
	for _, m := range all[:n] {
		names = append(names, title(m.set))
	}
	return strings.Join(names, " or ") + ", can't tell."
}

// sayOdds says a probability; nothing is quite certain but what can't be.
func sayOdds(p float64) string {
	switch {
	case p == 0:
		return "0 %"
	case p < 0.001:
		return "<0.1 %"
	case p > 0.999:
		return ">99.9 %"
	}
	return fmt.Sprintf("%.1f %%", 100*p)
}

// mostRows is how many objects the table lists.
const mostRows = 10

// sayMatch says it for people.
func sayMatch(m matching, all []matched, fits bool) string {
	silent := slices.DeleteFunc(slices.Clone(m.marks), heard)
	text := item("", fmt.Sprintf("%s, %s (%d heard) over %s",
		count(len(all), "object"), count(len(m.marks), "mark"), len(m.marks)-len(silent), sayPlace(m.site)))
	text += item("", sayVerdict(all, fits)) + "\n"
	rows := newTable("satellite", ">number", ">probability", "time error", ">frequency off by Hz")
	for _, one := range all[:min(mostRows, len(all))] {
		late, offset := "ruled out", ""
		if one.probability > 0 {
			late = one.sayLate()
		}
		if one.knowsOffset() {
			offset = fmt.Sprintf("%+.0f ± %.0f", one.offsetHz, one.offsetSigmaHz)
		}
		rows.add(name(one.set), fmt.Sprint(one.set.CatalogueNumber), sayOdds(one.probability), late, offset)
	}
	text += rows.String()
	if more := len(all) - mostRows; more > 0 {
		text += fmt.Sprintf("and %d less likely ones\n", more)
	}
	return text
}

// sayLate says the time error with its side; with a decimal where it is known
// that well.
func (m matched) sayLate() string {
	decimals := 0
	if m.lateSigmaS < 2 {
		decimals = 1
	}
	late, side := math.Abs(m.lateS), "late"
	switch {
	case late < math.Pow10(-decimals)/2:
		late, side = 0, ""
	case m.lateS < 0:
		side = "early"
	}
	return strings.TrimSpace(fmt.Sprintf("%.*f ± %.*f s %s", decimals, late, decimals, m.lateSigmaS, side))
}
