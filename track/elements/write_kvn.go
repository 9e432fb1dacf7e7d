package elements

import (
	"bufio"
	"io"
)

// WriteKVN writes the sets as OMM in keyword = value notation, version 3.0,
// one message after the other, without units, which are the standard's. It
// knows no date: CREATION_DATE and ORIGINATOR, which the standard asks for,
// are left empty unless Rest has them. Comments stand together after the first
// line. Read gives the same sets back, but for Format, File and Line. An error
// of a set that can't be written says why; what comes before it may have been
// written.
func WriteKVN(w io.Writer, sets []Set) error {
	return writeAll(w, sets, func(b *bufio.Writer, _ int, fields []field) {
		b.WriteString("CCSDS_OMM_VERS = 3.0\n")
		for _, f := range asked(fields) {
			switch {
			case f.key == comment:
				b.WriteString("COMMENT " + f.value + "\n")
			case f.value == "":
				b.WriteString(f.name + " =\n")
			default:
				b.WriteString(f.name + " = " + f.value + "\n")
			}
		}
	})
}

// asked adds what the standard asks for where the set has nothing, and leaves
// out what else is empty.
func asked(fields []field) []field {
	var all []field
	dated, from := false, false
	for _, f := range fields {
		dated = dated || f.key == creationDate
		from = from || f.key == originator
		if f.key > creationDate && !dated {
			all, dated = append(all, field{creationDate, creationDate.String(), ""}), true
		}
		if f.key > originator && !from {
			all, from = append(all, field{originator, originator.String(), ""}), true
		}
		if f.value == "" && (f.key == objectName || f.key == objectID) {
			f.value = unknown
		}
		if f.value != "" {
			all = append(all, f)
		}
	}
	return all
}
