package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"foreaim/cmd/foreaim/internal/store"
	"foreaim/track"
	"foreaim/track/elements"

	"github.com/spf13/cobra"
)

// shownSets is how many sets of a history are shown.
const shownSets = 12

// encodings are the ways to write a set.
var encodings = []struct {
	format elements.Format
	write  func(io.Writer, []elements.Set) error
}{
	{elements.JSON, elements.WriteJSON}, {elements.XML, elements.WriteXML}, {elements.CSV, elements.WriteCSV},
	{elements.KVN, elements.WriteKVN}, {elements.TLE, elements.WriteTLE},
}

func newElementsShowCommand(sys system) *cobra.Command {
	o := newOptions(sys)
	var as string
	cmd := &cobra.Command{
		Use:   "show [SAT]",
		Short: "show what is known of an object: its sets, how good they are",
		Long: `Show the sets that there are of an object, the newest first, how late or early
the newest may make it now, and what a two-line set would lose of it. With --as
the newest set is written in another encoding.`,
		Args: arguments(0, 1, ""),
		RunE: func(cmd *cobra.Command, args []string) error {
			c, err := sys.configFor(cmd)
			if err != nil {
				return err
			}
			l, err := sys.openLibrary(o.elements)
			if err != nil {
				return err
			}
			chosen, err := c.chooseAll(l, args)
			if err != nil {
				return err
			}
			switch set := chosen[0]; {
			case as != "" && o.json:
				return wrong("", "--as and --json are two ways to write it: give one of them")
			case as != "":
				return sys.writeSet(set, as)
			default:
				return sys.showObject(o, l, set)
			}
		},
	}
	o.addElements(cmd.Flags())
	cmd.Flags().StringVar(&as, "as", "", "write the newest set as `FORMAT`: omm-json, omm-xml, omm-csv, omm-kvn or tle")
	cmd.RegisterFlagCompletionFunc("as", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return formatNames(), cobra.ShellCompDirectiveNoFileComp
	})
	o.addJSON(cmd.Flags())
	return cmd
}

func formatNames() (names []string) {
	for _, e := range encodings {
		names = append(names, string(e.format))
	}
	return names
}

// writeSet writes a set in an encoding, and says aside what that loses.
func (sys system) writeSet(set elements.Set, as string) error {
	for _, e := range encodings {
		if !strings.EqualFold(as, string(e.format)) {
			continue
		}
		if err := e.write(verbatim(sys.stdout), []elements.Set{set}); err != nil {
			return failed("another --as may hold it, such as omm-json", "%s: %w", title(set), err)
		}
		if e.format == elements.TLE {
			if losses, err := set.TLELosses(); err == nil && len(losses) > 0 {
				sys.note("lost in two lines: %s", strings.Join(losses, "; "))
			}
		}
		return nil
	}
	return wrong("the formats are "+strings.Join(formatNames(), ", "), "--as: there is no format %q", plain(as))
}

func (sys system) showObject(o *options, l *library, set elements.Set) error {
	now := sys.now()
	history := l.history(set)
	slices.Reverse(history)
	likely, err := track.LikelyError(set, history, now)
	if o.json {
		answers := make([]setAnswer, 0, len(history))
		for _, s := range history {
			answers = append(answers, newSetAnswer(s, now))
		}
		if err == nil && len(answers) > 0 {
			answers[0].TimeErrorSigmaS = number(likely.SigmaS, 2)
		}
		return printJSON(sys.stdout, answers)
	}
	about := []string{title(set)}
	if set.Designator != "" {
		about[0] += ", " + set.Designator
	}
	about = append(about, sys.sayElements(set, now))
	if err != nil {
		about = append(about, err.Error())
	} else {
		about = append(about, sentence(likely.Words()))
	}
	about = append(about, sayLosses(set))
	text := ""
	for _, one := range about {
		text += item("", one)
	}
	_, err = fmt.Fprintf(sys.stdout, "%s\n%s%s", text, historyTable(history, now), sayMore(len(history)))
	return err
}

// sayLosses says what a two-line set would lose.
func sayLosses(set elements.Set) string {
	losses, err := set.TLELosses()
	switch {
	case err != nil:
		return "It does not fit a two-line set: " + err.Error() + "."
	case len(losses) == 0:
		return "A two-line set holds all of it."
	}
	return "A two-line set would lose: " + strings.Join(losses, "; ") + "."
}

func historyTable(sets []elements.Set, now time.Time) *table {
	rows := newTable("epoch (UTC)", ">days old", ">rev/day", ">inclination", ">eccentricity", ">drag term", "format")
	for _, s := range sets[:min(len(sets), shownSets)] {
		rows.add(s.Epoch.UTC().Format(time.DateTime), fmt.Sprintf("%.1f", s.Age(now).Hours()/24),
			fmt.Sprintf("%.5f", s.MeanMotionRevPerDay), fmt.Sprintf("%.3f°", s.InclinationDeg),
			fmt.Sprintf("%.6f", s.Eccentricity), fmt.Sprintf("%.2e", s.BStar), string(s.Format))
	}
	return rows
}

func sayMore(all int) string {
	if all <= shownSets {
		return ""
	}
	return fmt.Sprintf("and %d older ones; --json gives them all\n", all-shownSets)
}

func newElementsRemoveCommand(sys system) *cobra.Command {
	return &cobra.Command{
		Use:   "remove SAT",
		Short: "take every set of an object out of the store",
		Args:  arguments(1, 1, "the object to take out"),
		RunE: func(cmd *cobra.Command, args []string) error {
			l, err := sys.openLibrary(nil)
			if err != nil {
				return err
			}
			set, err := l.choose(args[0])
			if err != nil {
				return err
			}
			count, err := l.store.Remove(cmd.Context(), store.ObjectOf(set))
			if err != nil {
				return storeFailed(err)
			}
			_, err = fmt.Fprintf(sys.stdout, "%s: %s removed\n", title(set), sayCounts(count, store.Counts{}))
			return err
		},
	}
}
