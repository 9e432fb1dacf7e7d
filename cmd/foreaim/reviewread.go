package main

import (
	"foreaim/track/outing"
)

const recordHint = `records are the files that end in .jsonl in foreaim/outings, in the place for state`

// readOuting reads the record of one outing.
func (sys system) readOuting(path string) (outing.Log, error) {
	logs, err := sys.readOutings(path)
	if err != nil {
		return outing.Log{}, err
	}
	if len(logs) > 1 {
		return outing.Log{}, wrong("put each into a file of its own", "%s: there are %d outings in it, want one", path, len(logs))
	}
	return logs[0], nil
}

// readOutings reads the outings of a file and warns of what can't be read of it.
func (sys system) readOutings(path string) ([]outing.Log, error) {
	file, err := openFile(path, recordHint)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	logs, err := outing.ReadAll(file, path)
	if err != nil {
		sys.warn("%v", err)
		sys.sayHint(err)
	}
	var faults []*outing.Fault
	records, more := 0, 0
	for _, log := range logs {
		records += len(log.Records)
		faults, more = append(faults, log.Faults...), more+log.MoreFaults
	}
	switch {
	case records > 0:
	case len(faults) > 0:
		return nil, wrong(recordHint, "%w", faults[0])
	default:
		return nil, wrong(recordHint, "%s: there is nothing in it", path)
	}
	for _, f := range faults[:min(len(faults), maxFaults)] {
		sys.warn("%v", f)
		sys.sayHint(f)
	}
	if more += len(faults) - maxFaults; more > 0 {
		sys.warn("%s: %d more lines are not understood", path, more)
	}
	return logs, nil
}
