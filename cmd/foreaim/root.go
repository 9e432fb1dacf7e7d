package main

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"strings"

	"foreaim/track/elements"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// run runs one command line and returns the exit status.
func run(args []string, sys system) int {
	if !sys.drawsUnicode() {
		width := cmp.Or(sys.width, screenWidth)
		sys.stdout, sys.stderr = asciiWriter{sys.stdout, width}, asciiWriter{sys.stderr, width}
	}
	ctx, stop := sys.interruptible()
	defer stop()
	root := newRoot(sys)
	root.SetArgs(append([]string{}, args...)) // nil would mean those of the process
	return sys.report(root.ExecuteContext(ctx))
}

// newRoot builds the whole command tree.
func newRoot(sys system) *cobra.Command {
	p := newPointing(sys)
	root := &cobra.Command{
		Use:   "foreaim [SAT]",
		Short: "point a hand-held antenna where the satellite's next burst will come from",
		Long: `Foreaim helps somebody outdoors with a hand-held antenna to hear a small
satellite that sends one short burst every so often: where to point, and when.

Every command prints a table for people or, with --json, fields for programs.`,
		SilenceErrors:     true,
		SilenceUsage:      true,
		DisableAutoGenTag: true,
		Version:           sys.version,
		Args:              cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			return sys.bare(cmd, p, args)
		},
	}
	p.add(root)
	root.SetIn(sys.stdin)
	root.SetOut(sys.stdout)
	root.SetErr(sys.stderr)
	root.SetFlagErrorFunc(flagError)
	root.SetHelpCommand(newHelpCommand())
	root.SetUsageTemplate(strings.ReplaceAll(root.UsageTemplate(), "FlagUsages", fmt.Sprint("FlagUsagesWrapped ", screenWidth)))
	root.SetVersionTemplate("foreaim {{.Version}}\n")
	root.Flags().Bool("version", false, "print the version")
	root.PersistentFlags().String("config", "", "read the configuration from `FILE`")
	root.AddCommand(
		newPointCommand(sys),
		newDemoCommand(sys),
		newLookCommand(sys),
		newPassesCommand(sys),
		newBurstsCommand(sys),
		newAdviseCommand(sys),
		newMatchCommand(sys),
		newRehearseCommand(sys),
		newReviewCommand(sys),
		newNorthCommand(sys),
		newSkylineCommand(sys),
		newSitesCommand(sys),
		newProfileCommand(sys),
		newGPSCommand(sys),
		newElementsCommand(sys),
		newLinkCommand(sys),
		newSurveyCommand(sys),
		newFilterCommand(sys),
		newCompletionCommand(sys),
		newManCommand(sys),
		newVersionCommand(sys),
		newConfigTopic(),
		newFilesTopic(),
	)
	return root
}

// bare answers a command line without a command: it points, where there is
// something to point at, and else explains.
func (sys system) bare(cmd *cobra.Command, p *pointing, args []string) error {
	nothing := cmd.Flags().NFlag() == 0 && !exists(sys.configFile) && !exists(sys.storeFolder())
	switch {
	case len(args) == 0 && nothing:
		return explain(sys.stdout)
	case len(args) > 0 && (nothing || len(cmd.SuggestionsFor(args[0])) > 0):
		return unknownCommand(cmd, args[0])
	}
	err := sys.point(cmd, p, args)
	var choice *elements.ChoiceError
	if near := nearCommands(cmd, args...); errors.As(err, &choice) && near != "" {
		return wrong("did you mean the command "+near+"?", "%w", err)
	}
	return err
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

func newVersionCommand(sys system) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "print the version",
		Args:  arguments(0, 0, ""),
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprintln(sys.stdout, "foreaim", sys.version)
			return err
		},
	}
}

func newHelpCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "explain a command",
		RunE: func(cmd *cobra.Command, args []string) error {
			found, rest, err := cmd.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return unknownCommand(cmd.Root(), strings.Join(args, " "))
			}
			return found.Help()
		},
	}
}

func unknownCommand(cmd *cobra.Command, name string) error {
	hint := fmt.Sprintf("%q lists the commands", cmd.Root().Name()+" help")
	if near := nearCommands(cmd, name); near != "" {
		hint = "did you mean " + near + "?"
	}
	return wrong(hint, "there is no command %q", name)
}

// nearCommands names the commands that differ from the first name by a slip of
// the keys; empty where there are none.
func nearCommands(cmd *cobra.Command, names ...string) string {
	if len(names) == 0 {
		return ""
	}
	cmd.SuggestionsMinimumDistance = 2 // letters
	return strings.Join(cmd.SuggestionsFor(names[0]), " or ")
}

// flagError words the flag library's errors as ours.
func flagError(cmd *cobra.Command, err error) error {
	hint := fmt.Sprintf("%q explains the flags", cmd.CommandPath()+" --help")
	var (
		unknown   *pflag.NotExistError
		valued    *pflag.InvalidValueError
		valueless *pflag.ValueRequiredError
		p         *problem
	)
	switch {
	case errors.As(err, &unknown):
		name := "--" + unknown.GetSpecifiedName()
		if unknown.GetSpecifiedShortnames() != "" {
			name = "-" + unknown.GetSpecifiedName()
		}
		return wrong(hint, "%s has no flag %s", cmd.CommandPath(), name)
	case errors.As(err, &valued):
		if errors.As(err, &p) {
			hint = p.hint
		}
		return wrong(hint, "--%s: %w", valued.GetFlag().Name, valued.Unwrap())
	case errors.As(err, &valueless):
		kind, _ := pflag.UnquoteUsage(valueless.GetFlag())
		return wrong(hint, "--%s needs a value, %s", valueless.GetFlag().Name, kind)
	case errors.Is(err, pflag.ErrHelp):
		return err
	}
	return wrong(hint, "%w", err)
}

// arguments wants between low and high arguments; high < 0 is no limit.
func arguments(low, high int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		hint := "it is used so: " + cmd.UseLine()
		switch {
		case len(args) < low:
			return wrong(hint, "%s needs %s", cmd.CommandPath(), what)
		case high >= 0 && len(args) > high:
			return wrong(hint, "%s: there is no use for %q", cmd.CommandPath(), args[high])
		}
		return nil
	}
}
