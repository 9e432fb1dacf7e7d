package main

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"foreaim/track"
	"foreaim/track/outing"
	"foreaim/track/outing/review"
	"foreaim/track/outing/review/page"

	"github.com/spf13/cobra"
)

// reviewFlags are what review is asked for, and what a record doesn't hold.
type reviewFlags struct {
	keep, forget bool // the errors that stay
	html, export string
	place        value[disclosure]
	group        string // a launch or a file; empty: none
	*options
	hearingFlags
}

func newReviewCommand(sys system) *cobra.Command {
	r := &reviewFlags{
		place:        value[disclosure]{parse: parsePlaceWord, kind: "WORD"},
		hearingFlags: newHearingFlags(),
		options:      newOptions(sys),
	}
	cmd := &cobra.Command{
		Use:   "review [LOG...]",
		Short: "tell what happened on an outing, and what to change",
		Long: `Tell from the record of an outing what was expected and what was heard, where
the antenna was held and where the satellite was, what is known of the errors by
now, what was probably wrong, and what to change next time. Without LOG it is
the newest record. Of several records, in a file each or in one, it also tells
what stays from one to the other.

With --group it may have been another object of the launch, and it tells how
likely it was each: by the same marks, as match does.

The odds are of eight causes; two may be at work at once, so they may add up to
more than 100 %. A record that says too little gives no verdict.

What --keep keeps is the error of north by one way, such as a compass, used
where the facing is found by it, and that of a satellite's time, used as long as
its elements are the same set; the screen says so.

The HTML file needs nothing else: no network and no scripts. The export is a
file of marks, the heard bursts only, for the satellite's team. With --place
rounded the place is rounded to a tenth of a degree and directions to 5°; with
none both are left out of the export, and the place of the rest. Look angles in
--html and --json tell a careful reader where you stood even so.`,
		RunE: func(cmd *cobra.Command, args []string) error { return sys.review(cmd, r, args) },
	}
	f := cmd.Flags()
	r.addJSON(f)
	f.BoolVar(&r.keep, "keep", false, "keep the errors that stay over these outings, and point with them from now on")
	f.BoolVar(&r.forget, "forget", false, "remove the errors that were kept")
	f.StringVar(&r.html, "html", "", "write the review with its figures to the HTML `FILE`")
	f.StringVar(&r.export, "export", "", "write the heard bursts to the CSV `FILE`")
	f.StringVar(&r.group, "group", "", "it may have been any object of the launch `PREFIX`, such as 2026-014, or of a file")
	r.addElements(f)
	f.Var(&r.place, "place", "how the place is told: exact, rounded or none (exact without it)")
	r.hearingFlags.add(f, promisedOr+"6", promisedOr+"4")
	return cmd
}

// review reads the records and tells of them.
func (sys system) review(cmd *cobra.Command, r *reviewFlags, args []string) error {
	config, err := sys.configFor(cmd)
	if err != nil {
		return err
	}
	if len(r.elements) > 0 && r.group == "" {
		return wrong("name the launch, or its file, with --group", "--elements has nothing to do without a group: a record holds the elements that were used")
	}
	if r.forget {
		if r.keep || r.json || r.html != "" || r.export != "" || len(args) > 0 {
			return wrong("leave out the records and all other flags", "--forget removes all that was kept, and does nothing else")
		}
		return sys.forgetLasting()
	}
	if len(args) == 0 {
		newest, err := newestRecord(sys.records)
		switch {
		case err != nil:
			return failed("", "%w", err)
		case newest == "":
			return wrong("name the file of a record: foreaim review LOG", "there is no record of an outing yet in %s", sys.records)
		}
		args = []string{newest}
	}
	var logs []outing.Log
	for _, file := range args {
		all, err := sys.readOutings(file)
		if err != nil {
			return err
		}
		logs = append(logs, all...)
	}
	if err := r.spareRecords(args); err != nil {
		return err
	}
	settings := r.settings(config)
	if !r.marginDB.given {
		f := newLinkFlags()
		f.beamwidthDeg = r.widthDeg
		settings.Margin = config.marginOf(f, told(r.marginErrorDB))
	}
	if r.group != "" {
		g, err := sys.readGroup(r.options, config, []string{r.group}, "")
		if err != nil {
			return err
		}
		settings.Group = g.members
	}
	answer := review.Of(logs, settings)
	kept := ""
	if r.keep {
		if kept, err = sys.keepLasting(cmd.Context(), answer); err != nil {
			return err
		}
	}
	if r.html != "" {
		var b bytes.Buffer
		options := page.Options{Local: sys.local, Place: r.placeWords, Program: sys.version}
		if err := page.Write(&b, answer, options); err != nil {
			return err
		}
		if err := writeWhole(r.html, b.Bytes()); err != nil {
			return err
		}
	}
	if r.export != "" {
		var b bytes.Buffer
		if err := r.writeHeard(&b, answer); err != nil {
			return err
		}
		if err := writeWhole(r.export, b.Bytes()); err != nil {
			return err
		}
	}
	if r.json {
		return printJSON(sys.stdout, newReviewAnswer(answer, r.place.or(placeExact)))
	}
	_, err = io.WriteString(sys.stdout, kept+sys.reviewText(answer, r))
	return err
}

// spareRecords refuses to write over a record: what happened is nowhere else.
func (r *reviewFlags) spareRecords(records []string) error {
	for _, to := range []string{r.html, r.export} {
		there, err := os.Stat(to)
		if err != nil { // also where nothing is to be written
			continue
		}
		for _, record := range records {
			if info, err := os.Stat(record); err == nil && os.SameFile(info, there) {
				return wrong("name another file", "%s is the record itself", to)
			}
		}
	}
	return nil
}

// meanTwistDB is what the twist between two linear polarisations takes on average,
// each as likely: the mean of -20 log10 |cos x|, which is 20 log10 2. From burst to
// burst it is in the fading.
const meanTwistDB = 6.02

// marginOf tells what the configuration's link to the satellite of a pass promises, as
// well as it promises it or to a standard deviation that was told; 0: it wasn't.
func (c config) marginOf(f *linkFlags, toldSigmaDB float64) func(review.Pass) (mean, sigma float64, known bool) {
	return func(p review.Pass) (mean, sigma float64, known bool) {
		if p.Elements == nil {
			return 0, 0, false
		}
		orbit, err := track.NewOrbit(*p.Elements)
		if err != nil {
			return 0, 0, false
		}
		promise, err := c.promised(satellite{orbit: orbit, frequencyHz: p.FrequencyHz}, f)
		if err != nil || promise == nil { // the screen's view of the reception says why
			return 0, 0, false
		}
		mean = promise.MarginDB
		if promise.TwistUnknown {
			mean -= meanTwistDB
		}
		return mean, cmp.Or(toldSigmaDB, promise.SigmaDB), true
	}
}

// settings are the defaults with those that were given.
func (r *reviewFlags) settings(c config) review.Settings {
	return review.Settings{
		BeamwidthDeg: r.widthDeg.or(c.beamwidth.narrower()), HandDeg: told(r.handDeg), FadingDB: told(r.fadingDB),
		MarginDB: r.marginDB.or(0), MarginKnown: r.marginDB.given, MarginSigmaDB: told(r.marginErrorDB),
	}
}

// writeWhole writes a file beside its place and renames it into it. A link is
// followed; what is no file, such as /dev/stdout, is only written to.
func writeWhole(path string, data []byte) error {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	if there, err := os.Stat(path); err == nil && !there.Mode().IsRegular() {
		if err := os.WriteFile(path, data, 0o600); err != nil {
			return failed("", "%w", err)
		}
		return nil
	}
	beside, err := os.CreateTemp(filepath.Dir(path), ".foreaim-*")
	if err != nil {
		return failed("", "%w", err)
	}
	defer os.Remove(beside.Name()) // gone already when all went well
	_, err = beside.Write(data)
	if closed := beside.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Rename(beside.Name(), path)
	}
	if err != nil {
		return failed("", "%s could not be written: %w", path, err)
	}
	return nil
}

// disclosure is how exactly the place is told.
type disclosure string

const (
	placeExact   disclosure = "exact"
	placeRounded disclosure = "rounded"
	placeNone    disclosure = "none"
)

func parsePlaceWord(text string) (disclosure, error) {
	switch p := disclosure(strings.TrimSpace(text)); p {
	case placeExact, placeRounded, placeNone:
		return p, nil
	}
	return "", wrong("", "%q is not exact, rounded or none", text)
}

// placeWords says where a pass was looked at from.
func (r *reviewFlags) placeWords(p review.Pass) string {
	if p.Site == nil {
		return ""
	}
	switch r.place.or(placeExact) {
	case placeNone:
		return ""
	case placeRounded:
		return fmt.Sprintf("near %s %s", degrees(p.Site.LatitudeDeg, 1, "N", "S"), degrees(p.Site.LongitudeDeg, 1, "E", "W"))
	}
	return sayPlace(*p.Site)
}
