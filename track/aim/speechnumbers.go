package aim

import "fmt"

var tens = [...]string{"", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"}

// Spell says a number from 0 to 999 in words, so that every speech engine reads
// it in the same way: "one hundred and forty-three". Others are left to the
// engine as digits.
func Spell(n int) string {
	switch {
	case n < 0 || n > 999:
		return fmt.Sprint(n)
	case n == 0:
		return "zero"
	case n < len(numbers):
		return numbers[n]
	case n == 19:
		return "nineteen"
	case n < 100 && n%10 == 0:
		return tens[n/10]
	case n < 100:
		return tens[n/10] + "-" + numbers[n%10]
	case n%100 == 0:
		return numbers[n/100] + " hundred"
	default:
		return numbers[n/100] + " hundred and " + Spell(n%100)
	}
}
