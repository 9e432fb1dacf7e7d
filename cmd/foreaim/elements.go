package main

import (
	"errors"

	"foreaim/track"
	"foreaim/track/elements"

	"github.com/spf13/cobra"
)

func newElementsCommand(sys system) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "elements",
		Short: "fetch, keep and look into orbital elements",
		Long: `Fetch, keep and look into orbital elements. What is imported or fetched is kept
in a store of your own, every set of every object: the newest is used wherever
no --elements names a file, and the older ones tell how fast the elements of
this object go bad.`,
		Args: cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return unknownCommand(cmd, args[0])
			}
			return cmd.Help()
		},
	}
	cmd.AddCommand(
		newElementsListCommand(sys),
		newElementsCheckCommand(sys),
		newElementsImportCommand(sys),
		newElementsFetchCommand(sys),
		newElementsShowCommand(sys),
		newElementsRemoveCommand(sys),
		newElementsGroupCommand(sys),
	)
	return cmd
}

func newElementsListCommand(sys system) *cobra.Command {
	o := newOptions(sys)
	var part string
	cmd := &cobra.Command{
		Use:   "list [PATH...]",
		Short: "list the objects of the store, or the sets of element files",
		Long: `List the objects of the store with their newest elements or, with files or
folders named, every set of these.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			l, err := sys.openLibrary(append(o.elements, args...))
			if err != nil {
				return err
			}
			sets := l.files
			if l.store != nil {
				if sets, err = l.newest(); err != nil {
					return err
				}
			}
			if sets = withPart(sets, part); len(sets) == 0 {
				return wrong(`"foreaim elements list" without --only shows all`, "no name, number or designator has %q in it", plain(part))
			}
			return sys.printSets(o, l, sets)
		},
	}
	o.addElements(cmd.Flags())
	cmd.Flags().StringVar(&part, "only", "", "only objects with `TEXT` in their name, number or designator")
	o.addJSON(cmd.Flags())
	return cmd
}

// withPart returns the sets of the objects that a part of a name, number or
// designator fits.
func withPart(sets []elements.Set, part string) []elements.Set {
	if part == "" {
		return sets
	}
	var c elements.Catalogue
	for _, s := range sets {
		c.Add(s)
	}
	return c.Match(part, len(sets))
}

func newElementsCheckCommand(sys system) *cobra.Command {
	o := newOptions(sys)
	cmd := &cobra.Command{
		Use:   "check PATH...",
		Short: "check element files: form, checksums, values, orbit",
		Long: `Check element files: each fault is an error of one line, with its place. The
sets without a fault are listed.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			paths := append(o.elements, args...)
			if err := arguments(1, -1, "an element file")(cmd, paths); err != nil {
				return err
			}
			files, err := elementFiles(paths)
			if err != nil {
				return err
			}
			sets, faults := readElements(files)
			var good []elements.Set
			for _, set := range sets {
				if _, err := track.NewOrbit(set); err != nil {
					faults = append(faults, wrong("", "%s%w", placeOfSet(set), err))
					continue
				}
				good = append(good, set)
			}
			if err := sys.printSets(o, &library{sys: sys, files: good}, good); err != nil {
				return err
			}
			return errors.Join(faults...)
		},
	}
	o.addElements(cmd.Flags())
	o.addJSON(cmd.Flags())
	return cmd
}
