package elements

import (
	"encoding/csv"
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"

	"foreaim/track/internal/csvfile"
)

// What the standard library's parser finds damaged is no whole file here
// either; what both read has the same messages with the same mean motions.
func FuzzXML(f *testing.F) {
	f.Add(readFile(f, "omm/invented1.xml"))
	f.Add(readFile(f, "omm/ccsds_502_0_B_3_figure_G10.xml"))
	f.Add(xmlOMM("OBJECT_NAME", "<OBJECT_NAME units='m'>a&#x41;<![CDATA[<]]]]><!-- - --><?x?></OBJECT_NAME><USER_DEFINED parameter='A'>1</USER_DEFINED>"))
	f.Add("<ndm>" + xmlOMM("BSTAR", "<BSTAR>NaN</BSTAR>") + "<oem/><omm/></ndm>")
	f.Add(`<!DOCTYPE omm [<!ENTITY a "b">]>` + xmlOMM("OBJECT_NAME", "<OBJECT_NAME>&a;</OBJECT_NAME>"))
	f.Fuzz(func(t *testing.T, text string) {
		sets, err := Read(strings.NewReader(text), "f")
		checkRead(t, sets, err)
		checkRoundTrip(t, sets)
		if err != nil || sets[0].Format != XML {
			return
		}
		motions, err := motionsOf(text)
		if err != nil {
			return // it minds more: names, control characters, attributes twice
		}
		var got []string
		for _, s := range sets {
			got = append(got, number(s.MeanMotionRevPerDay))
		}
		for i := range motions {
			motions[i] = number(numberOf(motions[i]))
		}
		if !slices.Equal(got, motions) {
			t.Errorf("mean motions %q, the standard library reads %q", got, motions)
		}
	})
}

// motionsOf returns the text of every MEAN_MOTION, as the standard library's
// parser finds it.
func motionsOf(text string) ([]string, error) {
	d := xml.NewDecoder(strings.NewReader(strings.TrimPrefix(text, "\xef\xbb\xbf")))
	d.CharsetReader = func(_ string, r io.Reader) (io.Reader, error) { return r, nil }
	var all []string
	within := 0 // depth below the element
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all, nil
		}
		if err != nil {
			return nil, err
		}
		switch token := token.(type) {
		case xml.StartElement:
			switch {
			case within > 0:
				within++
			case token.Name.Local == "MEAN_MOTION" && token.Name.Space == "":
				all, within = append(all, ""), 1
			}
		case xml.EndElement:
			within = max(0, within-1)
		case xml.CharData:
			if within > 0 {
				all[len(all)-1] += string(token)
			}
		}
		for i := range all {
			all[i] = strings.TrimLeft(all[i], " \t\r\n")
		}
	}
}

// What this and the standard library's reader both take has the same names.
func FuzzCSV(f *testing.F) {
	f.Add(readFile(f, "omm/invented_all.csv"))
	f.Add("COMMENT,USER_DEFINED_A,X,\"BSTAR\"\r\n\"a\nb\",\"\"\"\",,\n" + readFile(f, "omm/invented1.csv"))
	f.Add(strings.ReplaceAll(readFile(f, "omm/invented1.csv"), "INVENTED-1", "\"A, \"\"B\"\"\""))
	f.Fuzz(func(t *testing.T, text string) {
		sets, err := Read(strings.NewReader(text), "f")
		checkRead(t, sets, err)
		checkRoundTrip(t, sets)
		if err != nil || sets[0].Format != CSV || strings.Contains(text, "\r") || strings.HasPrefix(text, "\xef") {
			return // a carriage return alone is a blank here, and a byte of the cell there
		}
		table, err := csv.NewReader(strings.NewReader(strings.TrimLeft(text, " \t\n"))).ReadAll()
		if err != nil {
			return // it minds quotes within a cell
		}
		at := slices.Index(table[0], "OBJECT_NAME")
		if len(table) != len(sets)+1 || at < 0 {
			return // it takes lines of blanks for rows
		}
		for i, s := range sets {
			if name := csvfile.Clean(table[i+1][at], maxName); name != s.Name && !strings.EqualFold(name, unknown) && len(name) < maxName {
				t.Errorf("name %q, the standard library reads %q", s.Name, name)
			}
		}
	})
}

// The order of the lines of one message does not matter.
func FuzzKVN(f *testing.F) {
	f.Add(readFile(f, "omm/ccsds_502_0_B_3_figure_G9_units.kvn"))
	f.Add(readFile(f, "omm/ccsds_502_0_B_3_figure_G8_covariance.kvn"))
	f.Add(readFile(f, "omm/kvn_variants/v04_comments_blanks_tabs.kvn"))
	f.Add(kvnOMM("COMMENT x", "USER_DEFINED_B = [km]", "MASS = 1 [kg]") + kvnOMM("BSTAR = 1") + "CCSDS_OEM_VERS = 1\n")
	f.Fuzz(func(t *testing.T, text string) {
		sets, err := Read(strings.NewReader(text), "f")
		checkRead(t, sets, err)
		checkRoundTrip(t, sets)
		if err != nil || len(sets) != 1 || sets[0].Format != KVN || strings.HasPrefix(text, "\xef\xbb\xbf") {
			return
		}
		lines := strings.Split(strings.TrimRight(text, " \t\r\n"), "\n")
		slices.Reverse(lines)
		turned, err := Read(strings.NewReader(strings.Join(lines, "\n")+"\n"), "f")
		if err != nil || len(turned) != 1 || turned[0].needed() != sets[0].needed() {
			t.Errorf("with the lines turned round: %+v, %v, want\n%+v", turned, err, sets[0])
		}
	})
}

// A damaged packed file gives only sets that the whole one has.
func FuzzGzip(f *testing.F) {
	text := readFile(f, "omm/invented_all.json")
	want, err := Read(strings.NewReader(text), "f")
	if err != nil {
		f.Fatal(err)
	}
	whole := packed(f, text)
	f.Add(20, byte(1))
	f.Add(len(whole)-1, byte(255))
	f.Fuzz(func(t *testing.T, at int, flip byte) {
		if at < 0 || at >= len(whole) || flip == 0 {
			return
		}
		damaged := []byte(whole)
		damaged[at] ^= flip
		sets, err := Read(strings.NewReader(string(damaged)), "f")
		checkRead(t, sets, err)
		if err == nil && !slices.Equal(sets, want) {
			t.Errorf("byte %d changed: %+v without an error", at, sets)
		}
	})
}
