package elements

// maxName is the longest name kept, in characters. Line 0 of a three-line set
// has 24; an OMM sets no limit.
const maxName = 64

// maxDesignator is the longest designator kept, in characters.
const maxDesignator = 20

// clip shortens text to limit characters and says so with three dots.
func clip(text string, limit int) string {
	if len(text) <= limit {
		return text
	}
	n := 0
	for i := range text {
		if n == limit {
			return text[:i] + "..."
		}
		n++
	}
	return text
}
