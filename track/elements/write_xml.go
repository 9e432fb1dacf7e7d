package elements

import (
	"bufio"
	"io"
	"strings"
)

// WriteXML writes the sets as OMM in XML, version 3.0, in one ndm element. The
// rest is as with WriteKVN.
func WriteXML(w io.Writer, sets []Set) error {
	b := bufio.NewWriter(w)
	b.WriteString("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<ndm>\n")
	err := writeAll(b, sets, func(b *bufio.Writer, _ int, fields []field) {
		b.WriteString("<omm id=\"CCSDS_OMM_VERS\" version=\"3.0\">\n")
		var in block
		for _, f := range asked(fields) {
			if next := f.block(); next != in {
				b.WriteString(leaves[in] + enters[next])
				in = next
			}
			name, attribute := f.name, ""
			if in == blockUser {
				name, attribute = "USER_DEFINED", ` parameter="`+strings.TrimPrefix(f.name, userPrefix)+`"`
			}
			b.WriteString("<" + name + attribute + ">" + xmlText.Replace(f.value) + "</" + name + ">\n")
		}
		b.WriteString(leaves[in] + "</data>\n</segment></body>\n</omm>\n")
	})
	if err != nil {
		return err
	}
	b.WriteString("</ndm>\n")
	return b.Flush()
}

// What stands before and after each block; all but the header and the metadata
// are in data.
var (
	enters = map[block]string{
		blockHeader:     "<header>\n",
		blockMetadata:   "<body><segment>\n<metadata>\n",
		blockElements:   "<data>\n<meanElements>\n",
		blockSpacecraft: "<spacecraftParameters>\n",
		blockTLE:        "<tleParameters>\n",
		blockCovariance: "<covarianceMatrix>\n",
		blockUser:       "<userDefinedParameters>\n",
	}
	leaves = map[block]string{
		blockHeader:     "</header>\n",
		blockMetadata:   "</metadata>\n",
		blockElements:   "</meanElements>\n",
		blockSpacecraft: "</spacecraftParameters>\n",
		blockTLE:        "</tleParameters>\n",
		blockCovariance: "</covarianceMatrix>\n",
		blockUser:       "</userDefinedParameters>\n",
	}
)

var xmlText = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")
