package outing

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
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

// mostOutings is how many outings of one file are read.
const mostOutings = 1000

// Read reads a record line by line. Lines that are damaged, edited or not
// understood are told in the log's Faults and hide no others; a last record cut
// off by a crash is left out. The error, a *Fault, is of what ends the reading:
// a second outing in the same file, a file over 128 MB, or the reader's own
// error. The log is good up to there.
func Read(r io.Reader, file string) (Log, error) {
	s := newScan(file, 1)
	err := s.read(r)
	return *s.logs[0], err
}

// ReadAll reads a file as Read does, in which there may be several outings, as
// where records were put together: each becomes a log of its own, in the order
// in which they begin. What comes before the first start belongs to the first.
// There is always one log.
func ReadAll(r io.Reader, file string) ([]Log, error) {
	s := newScan(file, mostOutings)
	err := s.read(r)
	var all []Log
	for _, log := range s.logs {
		all = append(all, *log)
	}
	return all, err
}

func newScan(file string, most int) *scan {
	log := &Log{File: file}
	return &scan{log: log, logs: []*Log{log}, most: most}
}

// scan is the state of reading one file.
type scan struct {
	log   *Log   // of the outing that the lines are of
	logs  []*Log // of all outings
	names []Text // of the outings, in their starts; empty before the first
	most  int    // outings
	line  int
}

// read returns nil, or a *Fault.
func (s *scan) read(r io.Reader) error {
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
			return s.fault(TooLarge, fmt.Sprintf("over %d MB, which is no record of one outing", maxFile>>20))
		case err != nil && err != io.EOF:
			fault := s.fault(Unreadable, Clean(err.Error()))
			fault.Err = err
			return fault
		case long:
			s.add(s.fault(TooLong, fmt.Sprintf("over %d kB, want one record a line", maxLine>>10)))
		default:
			if fault := s.take(line, err == io.EOF); fault != nil {
				return fault
			}
		}
		if err == io.EOF {
			return nil
		}
	}
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
	if rest, ok := s.behindTorn(line, fault); ok {
		s.add(s.fault(Cut, "a part of a record, recording was interrupted here; the next one is right behind it"))
		entry, fault = rest, nil
	}
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
		if fault := s.begin(start.Outing); fault != nil {
			return fault
		}
	} else if len(s.log.Records) == 0 {
		s.add(s.fault(NoStart, fmt.Sprintf("the first record is %q, want %q", Clean(string(entry.Entry.Kind())), KindStart)))
	}
	s.log.Records = append(s.log.Records, entry)
	return nil
}

// behindTorn returns the record behind a part of another in one line, as where a
// file that was cut off and another one were put together. In the texts of a
// record there are no bare quotation marks to be taken for its beginning.
func (s *scan) behindTorn(line []byte, fault *Fault) (Record, bool) {
	at := bytes.LastIndex(line, []byte(`{"v":`))
	if fault == nil || at <= 0 {
		return Record{}, false
	}
	record, fault := s.decode(line[at:])
	return record, fault == nil
}

// begin turns to the log of an outing that begins, or is gone on with.
func (s *scan) begin(outing Text) *Fault {
	if i := slices.Index(s.names, outing); i >= 0 {
		s.log = s.logs[i]
		return nil
	}
	switch {
	case len(s.names) == 0: // its log is there
	case len(s.names) == s.most:
		fault := s.fault(Several, fmt.Sprintf("%q after %q", outing, s.names[len(s.names)-1]))
		fault.Advice = fmt.Sprintf("put the lines from %d on into a file of their own", s.line)
		if s.most == 1 {
			fault.Advice = "one file holds one outing: " + fault.Advice
		}
		return fault
	default:
		s.log = &Log{File: s.log.File}
		s.logs = append(s.logs, s.log)
	}
	s.names = append(s.names, outing)
	return nil
}
