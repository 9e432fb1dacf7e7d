package runner

import "sync"

// maxOutput is how much of a program's output is kept: its end, where errors
// are.
const maxOutput = 4 << 10

// capture keeps the end of what is written to it. It may be read while a
// program that nobody can stop still writes.
type capture struct {
	mu   sync.Mutex
	data []byte
	cut  bool
}

func (c *capture) Write(p []byte) (int, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.data = append(c.data, p...)
	if over := len(c.data) - maxOutput; over > 0 {
		c.data = append(c.data[:0], c.data[over:]...)
		c.cut = true
	}
	return len(p), nil
}

// text returns what was kept, cleaned, and whether anything was dropped.
func (c *capture) text() (string, bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	return cleanOutput(c.data), c.cut
}
