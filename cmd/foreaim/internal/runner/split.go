package runner

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
)

// Split cuts a command line into its arguments. Blanks separate them; what
// stands between two ' or two " is taken as it is, blanks and the other kind of
// quote included, and joins what it touches. A backslash is a letter like any
// other, so Windows paths need no care. There is no shell: nothing else has a
// meaning.
func Split(line string) ([]string, error) {
	var args []string
	var arg strings.Builder
	inside := false // an argument, maybe an empty one
	quote, opened := rune(0), 0
	column := 0
	for _, r := range line {
		column++
		switch {
		case r != '\t' && unicode.IsControl(r):
			return nil, fmt.Errorf("control character %q at column %d of the command: leave it out", r, column)
		case quote != 0 && r == quote:
			quote = 0
		case quote != 0:
			arg.WriteRune(r)
		case r == '\'' || r == '"':
			quote, opened, inside = r, column, true
		case r == ' ' || r == '\t':
			if inside {
				args = append(args, arg.String())
			}
			arg.Reset()
			inside = false
		default:
			arg.WriteRune(r)
			inside = true
		}
	}
	if quote != 0 {
		return nil, fmt.Errorf("the %c at column %d of the command %q is never closed: add another %c", quote, opened, line, quote)
	}
	if inside {
		args = append(args, arg.String())
	}
	if len(args) == 0 || args[0] == "" {
		return nil, errors.New("the command is empty: name a program")
	}
	return args, nil
}

// Join writes arguments as a command line that Split cuts into the same.
func Join(args []string) string {
	quoted := make([]string, len(args))
	for i, a := range args {
		if a != "" && !strings.ContainsAny(a, " \t'\"") {
			quoted[i] = a
			continue
		}
		// Each ' stands between double quotes, all else between single ones.
		quoted[i] = "'" + strings.ReplaceAll(a, "'", `'"'"'`) + "'"
	}
	return strings.Join(quoted, " ")
}
