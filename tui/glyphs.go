package tui

import "strings"

// glyphs are the characters that drawings and text are made of.
type glyphs struct {
	full                     rune // of the digits
	whole, upper, lower      rune // of the beam's edge: a whole cell, its upper half, its lower half
	dotUpper, dotLower, dots rune // a point of the path in the upper half, the lower half, both
	satellite                rune
	ground, tick             rune
	ahead                    rune // the facing, on the ground
	left, right              rune // an edge mark: which way round is shorter
	land, low                rune // what the skyline hides: a whole cell, the lower part of one
	point                    rune // of the skyline
	sun, moon                rune
	boom                     rune // where a sensor says that it points
	landmark                 rune // on the ground
	half                     rune // the lower half of a full cell
	room                     rune // the edge of the room that a wave needs
	words                    *strings.Replacer
}

var unicodeGlyphs = glyphs{
	full: '█', whole: '█', upper: '▀', lower: '▄',
	dotUpper: '˙', dotLower: '.', dots: ':',
	satellite: '●',
	ground:    '─', tick: '┬',
	ahead: '▲', left: '◀', right: '▶',
	land: '░', low: '_', point: 'x',
	sun: '☼', moon: ')', boom: '□', landmark: '♦', half: '▄', room: '·',
	words: strings.NewReplacer(),
}

var asciiGlyphs = glyphs{
	full: '#', whole: 'o', upper: 'o', lower: 'o',
	dotUpper: '\'', dotLower: '.', dots: ':',
	satellite: '@',
	ground:    '-', tick: '+',
	ahead: '^', left: '<', right: '>',
	land: '%', low: '_', point: 'x',
	sun: '*', moon: ')', boom: 'H', landmark: '!', half: '_', room: '.',
	words: strings.NewReplacer(" °", " deg", "° ", " deg ", "°T", "T", "°M", "M", "* or ☼", "*", "a square or H", "H", "°", " deg", "±", "+-", "→", "->", "←", "left", "↑", "up", "↓", "down", "·", "-", "−", "-", "…", "..."),
}

// pickGlyphs returns the set to use.
func pickGlyphs(ascii bool) glyphs {
	if ascii {
		return asciiGlyphs
	}
	return unicodeGlyphs
}

// say makes cleaned text printable with the set: without ASCII's degree signs
// they become words, and whatever else is left of other scripts a question mark.
func (g glyphs) say(s string) string {
	s = g.words.Replace(s)
	if g.full != asciiGlyphs.full {
		return s
	}
	return strings.Map(func(r rune) rune {
		if r > 0x7e {
			return '?'
		}
		return r
	}, s)
}
