package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

func newManCommand(sys system) *cobra.Command {
	return &cobra.Command{
		Use:   "man",
		Short: "print the manual page",
		Long: `Print the manual page, for man: "foreaim man | man -l -" shows it,
"foreaim man > foreaim.1" keeps it.`,
		Args: arguments(0, 0, ""),
		RunE: func(cmd *cobra.Command, _ []string) error {
			var page strings.Builder
			writeManual(&page, cmd.Root())
			_, err := io.WriteString(sys.stdout, page.String())
			return err
		},
	}
}

// writeManual writes one page, in the man macros of roff, about the whole
// command tree and the topics of help.
func writeManual(w io.Writer, root *cobra.Command) {
	fmt.Fprintf(w, ".TH FOREAIM 1\n.SH NAME\nforeaim \\- %s\n", roff(root.Short))
	fmt.Fprintf(w, ".SH SYNOPSIS\n.B foreaim\n[\\fICOMMAND\\fR] [\\fIFLAGS\\fR]\n")
	fmt.Fprintf(w, ".SH DESCRIPTION\n%s\n.SH COMMANDS\n", roff(root.Long))
	writeCommands(w, root)
	for _, topic := range root.Commands() {
		if topic.IsAdditionalHelpTopicCommand() {
			fmt.Fprintf(w, ".SH %s\n%s\n", strings.ToUpper(topic.Name()), roff(asBlock(topic.Long)))
		}
	}
	fmt.Fprint(w, `.SH EXIT STATUS
.TP
.B 0
done
.TP
.B 1
could not be done
.TP
.B 2
the command line or an input file is wrong
.TP
.B 130
interrupted
`)
}

// writeCommands writes a section for each command below another.
func writeCommands(w io.Writer, parent *cobra.Command) {
	for _, cmd := range parent.Commands() {
		if !cmd.IsAvailableCommand() || cmd.Name() == "help" {
			continue
		}
		if cmd.Runnable() {
			about := cmd.Long
			if about == "" {
				about = cmd.Short + "."
			}
			fmt.Fprintf(w, ".SS %s\n%s\n", roff(strings.TrimSuffix(cmd.UseLine(), " [flags]")), roff(about))
			cmd.LocalFlags().VisitAll(func(f *pflag.Flag) {
				if f.Hidden || f.Name == "help" {
					return
				}
				kind, usage := pflag.UnquoteUsage(f)
				fmt.Fprintf(w, ".TP\n\\fB\\-\\-%s\\fR %s\n%s\n", roff(f.Name), roff(kind), roff(usage))
			})
		}
		writeCommands(w, cmd)
	}
}

// asBlock indents a text, so that its lines are kept as they are.
func asBlock(text string) string {
	return "  " + strings.ReplaceAll(strings.TrimRight(text, "\n"), "\n", "\n  ")
}

// roff escapes text for roff and keeps its lines and indented blocks.
func roff(text string) string {
	text = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(text)
	lines := strings.Split(text, "\n")
	block := false
	for i, line := range lines {
		indented := strings.HasPrefix(line, "  ") || strings.HasPrefix(line, "\t")
		prefix := ""
		if indented != block && line != "" {
			prefix, block = ".EX\n", indented
			if !block {
				prefix = ".EE\n"
			}
		}
		if line == "" {
			line = ".sp"
		} else if strings.HasPrefix(line, ".") || strings.HasPrefix(line, "'") {
			line = `\&` + line
		}
		lines[i] = prefix + line
	}
	if block {
		lines = append(lines, ".EE")
	}
	return strings.Join(lines, "\n")
}
