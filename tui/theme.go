package tui

import "strings"

// ink says what a cell is for; a theme says how that looks.
type ink uint8

// The inks.
const (
	plain   ink = iota
	strong      // the words that matter
	digit       // the big digits
	block       // a state: move, wait
	still       // a state: keep still
	burst       // a state: burst now
	warning     // something is not as it should be
	trail       // the satellite's path
	beam        // the edge of the antenna's beam
	goal        // the hold to be in
	horizon     // the ground and its graduation
	land        // what the skyline hides
	inks
)

// theme gives each ink the parameters of its SGR sequence (ECMA-48, 8.3.117);
// empty for the terminal's own colours.
//
// In sunlight only contrast is left: numbers are the terminal's own colours,
// bold; states are reversed blocks; hue comes second to both.
type theme [inks]string

// solid returns the theme for digits made of letters: reversed, a letter is
// nearly as solid as a block.
func (t theme) solid() theme {
	if t[digit] != "" {
		t[digit] += ";7"
	}
	return t
}

// fills tells whether a blank in this ink can be seen.
func (t theme) fills(i ink) bool {
	style := t[i]
	return style == "7" || strings.HasPrefix(style, "7;") || strings.HasSuffix(style, ";7") || strings.Contains(style, ";7;")
}

var themes = map[string]theme{
	// Nobody knows the paper: no hue that could drown in it.
	"neutral": {strong: "1", digit: "1", block: "1;7", still: "1;7", burst: "1;7", warning: "1;4", beam: "2", goal: "1;7", land: "2"},
	"dark":    {strong: "1", digit: "1", block: "1;7", still: "1;7;93", burst: "1;7;91", warning: "1;93", trail: "96", beam: "2;33", goal: "1;7", land: "32"},
	"light":   {strong: "1", digit: "1", block: "1;7", still: "1;7;34", burst: "1;7;31", warning: "1;31", trail: "34", beam: "2;35", goal: "1;7", land: "32"},
	"mono":    {strong: "1", digit: "1", block: "1;7", still: "1;7", burst: "1;7", warning: "1", goal: "1;7"},
	// bare is for terminals that know no sequences at all.
	"bare": {},
}

// chooseTheme returns the theme of a name: dark, light or mono; any other name
// is auto, which goes by what the terminal says of its colours in COLORFGBG. A
// dumb terminal gets no sequences, and who wants no colour (NO_COLOR) gets none.
func chooseTheme(name string, getenv func(string) string) theme {
	switch {
	case getenv("TERM") == "dumb":
		name = "bare"
	case getenv("NO_COLOR") != "":
		name = "mono"
	}
	if t, ok := themes[name]; ok {
		return t
	}
	return themes[paper(getenv("COLORFGBG"))]
}

// paper tells the paper from COLORFGBG, "FOREGROUND;BACKGROUND" in the numbers
// of the 16 colours (common practice, no source).
func paper(colours string) string {
	switch colours[strings.LastIndexByte(colours, ';')+1:] {
	case "0", "1", "2", "3", "4", "5", "6", "8":
		return "dark"
	case "7", "15":
		return "light"
	default:
		return "neutral"
	}
}
