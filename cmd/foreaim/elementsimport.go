package main

import (
	"context"
	"errors"
	"fmt"

	"foreaim/cmd/foreaim/internal/store"
	"foreaim/track/elements"

	"github.com/spf13/cobra"
)

func newElementsImportCommand(sys system) *cobra.Command {
	o := newOptions(sys)
	cmd := &cobra.Command{
		Use:   "import PATH...",
		Short: "keep the sets of element files in the store",
		Long: `Keep every set of element files and folders in the store. A set that is there
already is not kept twice, and an older one never takes the place of a newer
one. Each fault is an error of one line, with its place; the sets without a
fault are kept nevertheless.`,
		Args: arguments(1, -1, "an element file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			files, err := elementFiles(args)
			if err != nil {
				return err
			}
			s, err := sys.openStore()
			if err != nil {
				return err
			}
			k := keeper{sys: sys, store: s, quiet: o.json}
			var faults []error
			for _, file := range files {
				sets, bad := readElementFile(file)
				faults = append(faults, bad...)
				if len(sets) == 0 {
					continue
				}
				counts, err := k.keep(cmd.Context(), sets)
				if err != nil {
					return errors.Join(append(faults, err)...)
				}
				k.tell("%s: %s", file, sayCounts(len(sets), counts))
			}
			return errors.Join(k.answer(), errors.Join(faults...))
		},
	}
	o.addJSON(cmd.Flags())
	return cmd
}

// keeper puts sets into the store and tells of them.
type keeper struct {
	sys   system
	store *store.Store
	quiet bool // standard output is for programs

	kept []setAnswer
}

// keep imports sets.
func (k *keeper) keep(ctx context.Context, sets []elements.Set) (store.Counts, error) {
	counts, err := k.store.Import(ctx, sets)
	if err != nil && ctx.Err() == nil {
		err = storeFailed(err)
	}
	if k.quiet {
		for _, s := range sets {
			k.kept = append(k.kept, newSetAnswer(s, k.sys.now()))
		}
	}
	return counts, err
}

// tell says what was done: to people, or aside.
func (k *keeper) tell(format string, args ...any) {
	if k.quiet {
		k.sys.note(format, args...)
		return
	}
	fmt.Fprintln(k.sys.stdout, plain(fmt.Sprintf(format, args...)))
}

// answer prints the sets that came, for programs.
func (k *keeper) answer() error {
	if !k.quiet {
		return nil
	}
	if k.kept == nil {
		k.kept = []setAnswer{}
	}
	return printJSON(k.sys.stdout, k.kept)
}

// sayCounts says what became of sets.
func sayCounts(all int, c store.Counts) string {
	text := fmt.Sprintf("%d sets", all)
	if all == 1 {
		text = "1 set"
	}
	for _, part := range []struct {
		count int
		words string
	}{{c.New, "new"}, {c.Older, "older than what is there, kept as history"}, {c.Known, "there already"}} {
		if part.count > 0 {
			text += fmt.Sprintf(", %d %s", part.count, part.words)
		}
	}
	return text
}
