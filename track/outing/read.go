package outing

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
)

// Log is what was read of a record.
type Log struct {
	File    string
	Records []Record // in the order of the file
	// Faults are the lines that were skipped or are not understood, in order;
	// at most 1000, MoreFaults are only counted.
	Faults     []*Fault
	MoreFaults int
	// Torn tells that the last record was being written when it all ended. It
	// is not in Records, and a Fault says so.
	Torn bool
}

const (
	// maxLine is longer than any line that is written: a few texts of 2000
	// characters of 4 bytes.
	maxLine = 64 << 10
	// maxFile bounds memory: ten hours with a sensor's ten records a second
	// are under 64 MB.
	maxFile   = 128 << 20
	maxFaults = 1000
)

// Read reads a record line by line. Lines that are damaged, edited or not
// understood are told in the log's Faults and hide no others; a last record cut
// off by a crash is left out. The error, a *Fault, is of what ends the reading:
// a second outing in the same file, a file over 128 MB, or the reader's own
// error. The log is good up to there.
func Read(r io.Reader, file string) (Log, error) {
	s := scan{log: Log{File: file}}
	lines := bufio.NewReaderSize(r, maxLine)
	var size int64
	for {
		line, err := lines.ReadSlice('\n')
		s.line++
		size += int64(len(line))
		long := false
		for errors.Is(err, bufio.ErrBufferFull) && size <= maxFile {
			var more []byte
			more, err = lines.ReadSlice('\n')
			size += int64(len(more))
			long = true // line is overwritten by now
		}
		switch {
		case size > maxFile:
			return s.log, s.fault(TooLarge, fmt.Sprintf("over %d MB, which is no record of one outing", maxFile>>20))
		case err != nil && err != io.EOF:
			fault := s.fault(Unreadable, Clean(err.Error()))
			fault.Err = err
			return s.log, fault
		case long:
			s.add(s.fault(TooLong, fmt.Sprintf("over %d kB, want one record a line", maxLine>>10)))
		default:
			if fault := s.take(line, err == io.EOF); fault != nil {
				return s.log, fault
			}
		}
		if err == io.EOF {
			return s.log, nil
		}
	}
}

// scan is the state of reading one record.
type scan struct {
	log    Log
	line   int
	outing Text // the name in the first start; empty before it
}

func (s *scan) fault(reason Reason, detail string) *Fault {
	return &Fault{File: s.log.File, Line: s.line, Reason: reason, Detail: detail}
}

func (s *scan) add(f *Fault) {
	if len(s.log.Faults) == maxFaults {
		s.log.MoreFaults++
		return
	}
	s.log.Faults = append(s.log.Faults, f)
}

// take reads one line. It returns only a fault that ends the reading.
func (s *scan) take(line []byte, last bool) *Fault {
	whole := bytes.HasSuffix(line, []byte("\n"))
	line = bytes.TrimRight(line, " \t\r\n") // an editor's line ends change nothing
	if len(line) == 0 {
		return nil
	}
	entry, fault := s.decode(line)
	if fault != nil {
		if last && !whole && fault.Reason != Newer && fault.Reason != UnknownKind {
			s.log.Torn = true
			fault = s.fault(Cut, "the last record was being written when recording ended, the records before it are whole")
		}
		s.add(fault)
	}
	if entry.Entry == nil {
		return nil
	}
	if start, ok := entry.Entry.(StartEntry); ok {
		if s.outing != "" && start.Outing != s.outing {
			fault := s.fault(Several, fmt.Sprintf("%q after %q", start.Outing, s.outing))
			fault.Advice = fmt.Sprintf("one file holds one outing: put the lines from %d on into a file of their own", s.line)
			return fault
		}
		s.outing = start.Outing
	} else if len(s.log.Records) == 0 {
		s.add(s.fault(NoStart, fmt.Sprintf("the first record is %q, want %q", Clean(string(entry.Entry.Kind())), KindStart)))
	}
	s.log.Records = append(s.log.Records, entry)
	return nil
}
