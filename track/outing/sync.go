package outing

import "time"

// settle syncs what is written if it matters, while others may write on, and
// tells in the record if all works again. When it returns, what was written
// before is synced, whoever did it.
func (w *Writer) settle(now time.Time) error {
	w.syncMu.Lock()
	defer w.syncMu.Unlock()
	for {
		if err := w.sync(now); err != nil {
			return err
		}
		if warned, err := w.again(now); err != nil || !warned {
			return err
		}
	}
}

// sync makes what was written before safe, if it matters.
func (w *Writer) sync(now time.Time) error {
	if !w.beginSync() {
		return nil
	}
	err := w.out.Sync()
	w.mu.Lock()
	defer w.mu.Unlock()
	if err != nil {
		w.mustSync = true
		w.fresh = w.syncing.and(w.fresh)
	}
	w.syncing = batch{}
	w.count()
	if err != nil {
		return w.stop(now, "what was written may not be safe on the disk: ", err)
	}
	return nil
}

// beginSync takes what is written into a sync; false when nothing matters.
func (w *Writer) beginSync() bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	if !w.mustSync {
		return false
	}
	w.mustSync = false
	w.syncing, w.fresh = w.fresh, batch{}
	w.count()
	return true
}
