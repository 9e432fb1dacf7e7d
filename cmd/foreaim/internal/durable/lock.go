package durable

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"time"
)

// The pause between two tries for a lock that another has.
const (
	firstPause = time.Millisecond
	lastPause  = 20 * time.Millisecond
)

// Lock takes the file at path, which it makes if need be, for the caller alone,
// against other processes and other callers in this one, until unlock is
// called or the process ends, however it ends. It waits for one that has it
// until ctx is done.
func Lock(ctx context.Context, path string) (unlock func(), err error) {
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, err
	}
	for pause := firstPause; ; pause = min(2*pause, lastPause) {
		got, err := tryLock(file)
		if err != nil {
			file.Close()
			return nil, fmt.Errorf("lock %s: %w", path, err)
		}
		if got {
			return func() { file.Close() }, nil
		}
		select {
		case <-ctx.Done():
			file.Close()
			return nil, fmt.Errorf("%s: another program is writing here: %w", path, ctx.Err())
		case <-time.After(pause/2 + rand.N(pause)): // not in step with others
		}
	}
}
