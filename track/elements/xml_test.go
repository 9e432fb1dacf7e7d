package elements

import (
	"strconv"
	"strings"
	"testing"
)

// xmlOMM is a good message in one line, a keyword's element replaced by text.
func xmlOMM(keyword, text string) string {
	all := ""
	for _, e := range [][2]string{
		{"OBJECT_NAME", "KELPIE"}, {"EPOCH", "2026-11-20T06:12:34.567488"}, {"MEAN_MOTION", "15.2"}, {"ECCENTRICITY", "0.001"},
		{"INCLINATION", "97.5"}, {"RA_OF_ASC_NODE", "24.1"}, {"ARG_OF_PERICENTER", "87.6"}, {"MEAN_ANOMALY", "272.6"},
		{"NORAD_CAT_ID", "99001"}, {"BSTAR", "0.0002"},
	} {
		if e[0] == keyword {
			all += text
		} else {
			all += "<" + e[0] + ">" + e[1] + "</" + e[0] + ">"
		}
	}
	return "<omm><body>" + all + "</body></omm>"
}

func TestXMLAccepted(t *testing.T) {
	plain := mustRead(t, omm())[0].bare()
	for name, text := range map[string]string{
		"plain":             xmlOMM("", ""),
		"mark":              "\xef\xbb\xbf<?xml version='1.0' encoding='utf-8'?>\r\n<!-- <omm> & -- -->" + xmlOMM("", ""),
		"Latin-1, declared": `<?xml version="1.0" encoding="ISO-8859-1"?>` + xmlOMM("", ""),
		"prefix":            `<n:ndm xmlns:n="urn:x" a='>'><MESSAGE_ID>1</MESSAGE_ID><n:omm><COMMENT/>` + strings.TrimPrefix(strings.ReplaceAll(xmlOMM("", ""), "omm>", "n:omm>"), "<n:omm>") + "</n:ndm >\n<!---->",
		"units":             xmlOMM("INCLINATION", "<INCLINATION units = \"deg\"\n>\n97.5 <!-- 98 --></INCLINATION>"),
		"entities":          xmlOMM("OBJECT_NAME", "<OBJECT_NAME>&#75;&#x45;LP<![CDATA[IE]]></OBJECT_NAME>"),
		"empty":             xmlOMM("OBJECT_NAME", "<OBJECT_ID/><OBJECT_ID2><A><B/>x</A></OBJECT_ID2><OBJECT_NAME>KELPIE</OBJECT_NAME><CLASSIFICATION_TYPE></CLASSIFICATION_TYPE>"),
		"unknown name":      xmlOMM("OBJECT_NAME", "<OBJECT_NAME>KELPIE</OBJECT_NAME><OBJECT_ID>UNKNOWN</OBJECT_ID>"),
	} {
		if got := mustRead(t, text)[0].bare(); got != plain {
			t.Errorf("%s:\n%+v, want\n%+v", name, got, plain)
		}
	}
	odd := xmlOMM("OBJECT_NAME", "<OBJECT_NAME>a]]]&gt;&amp;lt;<![CDATA[<&]]]]]><?x ??>\n\tb</OBJECT_NAME>")
	if got, want := mustRead(t, odd)[0].Name, "a]]]>&lt;<&]]] b"; got != want && got != "a]]]>&lt;<&]]]  b" {
		t.Errorf("name %q, want %q", got, want)
	}
}

// placed puts, for @TEXT@N in want, the column where TEXT stands in a text of
// one line, or in its first line, and N more.
func placed(want, text string) string {
	parts := strings.Split(want, "@")
	if len(parts) != 3 {
		return want
	}
	rest := parts[2]
	column := 1 + strings.LastIndex(text, parts[1]) + int(rest[0]-'0')
	return parts[0] + strconv.Itoa(column) + rest[1:]
}

func TestXMLRefused(t *testing.T) {
	bomb := `<?xml version="1.0"?><!DOCTYPE ndm [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>` + xmlOMM("OBJECT_NAME", "<OBJECT_NAME>&b;</OBJECT_NAME>")
	outside := `<!DOCTYPE omm SYSTEM "file:///etc/hostname">` + xmlOMM("", "")
	for _, c := range []struct{ name, text, want string }{
		{"entity bomb", bomb, `f:1:23: a document type declaration, which an OMM has not, want elements only; entities are not taken in`},
		{"outside", outside, `f:1:2: a document type declaration, which an OMM has not, want elements only; entities are not taken in`},
		{"entity", xmlOMM("OBJECT_NAME", "<OBJECT_NAME>&b;</OBJECT_NAME>"), `f:1:28: an entity that XML does not have, found "b", want amp, lt, gt, quot, apos or a character's number`},
		{"no character", xmlOMM("OBJECT_NAME", "<OBJECT_NAME>&#x110000;</OBJECT_NAME>"), `f:1:35: an entity that XML does not have, found "#x110000", want amp, lt, gt, quot, apos or a character's number`},
		{"bare &", xmlOMM("OBJECT_NAME", "<OBJECT_NAME>A & B</OBJECT_NAME>"), `f:1:28: the XML is damaged, found " ", want an entity such as &amp;`},
		{"other message", "<oem/>", `f:1:2: XML of another kind, found "oem", want omm, alone or in ndm`},
		{"other root", "<rss><channel/></rss>", `f:1:2: XML of another kind, found "rss", want omm, alone or in ndm`},
		{"none", "<ndm></ndm>", `f:1:1: no element sets in the file`},
		{"empty message", "<ndm>\n <omm/></ndm>", "f:2:2: the message has no EPOCH, MEAN_MOTION, ECCENTRICITY, INCLINATION, RA_OF_ASC_NODE, ARG_OF_PERICENTER, MEAN_ANOMALY, BSTAR"},
		{"cut in a tag", xmlOMM("", "")[:40], `f:1:41: the XML ends too early`},
		{"cut in a value", xmlOMM("", "")[:55], `f:1:56: the XML ends too early, within <EPOCH>`},
		{"cut tag", xmlOMM("", "")[:3], `f:1:4: the XML ends too early`},
		{"end tag", xmlOMM("INCLINATION", "<INCLINATION>97.5</INCLINATOIN>"), `f:1:@</INCLINATOIN@2: an end tag without its start, found "INCLINATOIN", want </INCLINATION>`},
		{"end of nothing", "</omm>", `f:1:3: an end tag without its start, found "omm", want no end tag here`},
		{"two roots", xmlOMM("", "") + "<omm/>", `f:1:@<omm/>@1: a second root element, found "omm", want one omm or ndm`},
		{"text after", xmlOMM("", "") + "x", `f:1:@>x@1: text outside of the XML's elements, found "x", want a tag`},
		{"attribute", "<omm id></omm>", `f:1:8: the XML is damaged, found ">", want = after an attribute`},
		{"attribute's quote", "<omm id=1></omm>", `f:1:9: the XML is damaged, found "1", want a quote`},
		{"no name", "<ndm><></ndm>", `f:1:7: the XML is damaged, found ">", want a name`},
		{"slash", "<omm/x>", `f:1:6: the XML is damaged, found "x", want > after the slash`},
		{"comment", "<!-- x", `f:1:7: the XML ends too early, want -->`},
		{"mark", "<ndm><!x></ndm>", `f:1:7: the XML is damaged, found "!", want a comment`},
		{"deep", strings.Repeat("<ndm>", 5000), `f:1:506: XML nested too deeply, want at most 100 levels`},
		{"unit", xmlOMM("INCLINATION", `<INCLINATION units="rad">1.7</INCLINATION>`), `f:1:@INCLINATION units@0: INCLINATION has the unit of something else, found "rad", want deg`},
		{"unit of none", xmlOMM("ECCENTRICITY", `<ECCENTRICITY units="deg">0.1</ECCENTRICITY>`), `f:1:@ECCENTRICITY units@0: ECCENTRICITY has no unit, found "deg", want the number alone`},
		{"element in a value", xmlOMM("INCLINATION", "<INCLINATION>9<x/>7</INCLINATION>"), `f:1:@9<x@0: INCLINATION is not a number, found "97", want 0 to 180 degrees`},
		{"SGP4-XP", xmlOMM("BSTAR", "<BTERM>0.02</BTERM><MEAN_ELEMENT_THEORY>SGP4-XP</MEAN_ELEMENT_THEORY>"), `f:1:@SGP4-XP@0: MEAN_ELEMENT_THEORY does not fit SGP4, found "SGP4-XP", want SGP4 or SGP/SGP4`},
		{"ballistic term", xmlOMM("BSTAR", "<BTERM>0.02</BTERM>"), `f:1:1: KELPIE has no BSTAR; BTERM does not stand in for it`},
	} {
		sets, err := Read(strings.NewReader(c.text), "f")
		c.want = placed(c.want, c.text)
		good := strings.Contains(c.name, "two roots") || c.name == "text after"
		if err == nil || err.Error() != c.want || (len(sets) != 0) != good {
			t.Errorf("%s: %d sets and error\n%v\nwant\n%s", c.name, len(sets), err, c.want)
		}
	}
}

func TestMessagesOfOtherKindsHideNoGoodOne(t *testing.T) {
	text := "<ndm>" + xmlOMM("", "") + "<oem><EPOCH>1</EPOCH></oem><cdm/>" + xmlOMM("NORAD_CAT_ID", "<NORAD_CAT_ID>7</NORAD_CAT_ID>") + "</ndm>"
	sets, err := Read(strings.NewReader(text), "f")
	if f := faults(t, err); len(sets) != 2 || sets[1].CatalogueNumber != 7 || len(f) != 2 || f[0].Found != "oem" || f[1].Found != "cdm" {
		t.Errorf("%d sets, %v, want 2 and a fault for each of the others", len(sets), err)
	}
}
