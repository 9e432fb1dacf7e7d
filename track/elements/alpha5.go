package elements

import (
	"fmt"
	"strings"
)

// alpha5Letters stand for 10 to 33 in the first place of a catalogue number;
// I and O are left out because they look like digits.
const alpha5Letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"

// maxAlpha5 is the largest catalogue number that a TLE can carry.
const maxAlpha5 = 339999

// ParseAlpha5 reads the five characters of a TLE's catalogue number: five
// digits (leading ones may be blank), or a capital letter other than I and O,
// worth 10 to 33, and four digits.
func ParseAlpha5(text string) (int, error) {
	if len(text) == 5 {
		if tens := strings.IndexByte(alpha5Letters, text[0]); tens >= 0 {
			if rest, ok := digits(text[1:]); ok {
				return (tens+10)*10000 + rest, nil
			}
		} else if n, ok := digits(strings.TrimLeft(text, " ")); ok {
			return n, nil
		}
	}
	return 0, fmt.Errorf("catalogue number %q is not five digits, or a letter A to Z without I and O and four digits", clip(text, 20))
}

// FormatAlpha5 writes a catalogue number from 0 to 339999 as the five
// characters of a TLE.
func FormatAlpha5(number int) (string, error) {
	switch {
	case number < 0 || number > maxAlpha5:
		return "", fmt.Errorf("catalogue number %d does not fit a TLE, which ends at %d", number, maxAlpha5)
	case number < 100000:
		return fmt.Sprintf("%05d", number), nil
	}
	return fmt.Sprintf("%c%04d", alpha5Letters[number/10000-10], number%10000), nil
}

// digits reads text that is one to nine decimal digits and nothing else.
func digits[T string | []byte](text T) (int, bool) {
	if len(text) == 0 || len(text) > 9 {
		return 0, false
	}
	n := 0
	for i := range len(text) {
		d := text[i] - '0'
		if d > 9 {
			return 0, false
		}
		n = n*10 + int(d)
	}
	return n, true
}
