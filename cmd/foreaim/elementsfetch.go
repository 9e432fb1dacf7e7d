package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"path"
	"path/filepath"
	"strconv"

	"foreaim/cmd/foreaim/internal/fetch"
	"foreaim/cmd/foreaim/internal/store"
	"foreaim/track/elements"

	"github.com/spf13/cobra"
)

func newElementsFetchCommand(sys system) *cobra.Command {
	o := newOptions(sys)
	var numbers values[int]
	numbers.parse, numbers.kind = parseCatalogueNumber, "NUMBER"
	var whole bool
	cmd := &cobra.Command{
		Use:   "fetch [URL...]",
		Short: "fetch elements over the network into the store",
		Long: `Fetch elements over HTTP or HTTPS and keep every set in the store: from the
addresses that are given, or else from those of the configuration ([[source]]
url). {number} in an address stands for a catalogue number: it is asked once for
each --number or else for each satellite of the configuration.

Servers are spared: each address is asked once in two hours at most (interval of
its [[source]]), and only for what is new. Nothing is ever fetched unasked.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			c, err := sys.configFor(cmd)
			if err != nil {
				return err
			}
			questions, err := c.questions(args, numbers.all)
			if err != nil {
				return err
			}
			return sys.fetch(cmd.Context(), questions, whole, o.json)
		},
	}
	cmd.Flags().Var(&numbers, "number", "ask for this catalogue number, where the address has {number} (repeatable)")
	cmd.Flags().BoolVar(&whole, "whole", false, "ask for the content also where the server has nothing new")
	o.addJSON(cmd.Flags())
	return cmd
}

func parseCatalogueNumber(text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > maxNumber {
		return 0, wrong("", "%q is not a catalogue number, 1 to %d", text, maxNumber)
	}
	return n, nil
}

// question is one address to ask.
type question struct {
	source
	number int // the object that it is about; 0: any
}

// questions are the addresses to ask: those given, or else the configured ones,
// with the numbers put in.
func (c config) questions(addresses []string, numbers []int) ([]question, error) {
	sources := c.sources
	if len(addresses) > 0 {
		sources = nil
		for _, address := range addresses {
			s, err := newSource(address)
			if err != nil {
				return nil, err
			}
			sources = append(sources, c.configured(s))
		}
	}
	if len(sources) == 0 {
		return nil, wrong("give a URL, or write it to [[source]] url in the configuration; no address is built in",
			"there is nowhere to fetch from")
	}
	if len(numbers) == 0 {
		for _, s := range c.satellites {
			if s.catalogueNumber > 0 {
				numbers = append(numbers, s.catalogueNumber)
			}
		}
	}
	var all []question
	for _, s := range sources {
		if !fetch.ForEach(s.url) {
			all = append(all, question{s, 0})
			continue
		}
		if len(numbers) == 0 {
			return nil, wrong("add --number, or catalogue_number to a [[satellite]] of the configuration",
				"an address has {number} in it, but no catalogue number is known")
		}
		for _, n := range numbers {
			one := s
			one.url = fetch.Expand(s.url, n)
			all = append(all, question{one, n})
		}
	}
	return all, nil
}

// fetch asks one address after the other. One that fails does not keep the
// others from being asked.
func (sys system) fetch(ctx context.Context, questions []question, whole, quiet bool) error {
	s, err := sys.openStore()
	if err != nil {
		return err
	}
	folder := filepath.Join(s.Folder(), "fetched") // goes with the store: what isn't kept must be asked for
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return failed("", "%w", err)
	}
	k := keeper{sys: sys, store: s, quiet: quiet}
	var faults []error
	for _, q := range questions {
		if err := sys.fetchOne(ctx, folder, q, whole || k.lacks(q), &k); err != nil {
			faults = append(faults, err)
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
	}
	return errors.Join(k.answer(), errors.Join(faults...))
}

// lacks tells whether the store has nothing of what an address is for, so that
// an answer "nothing new" would be of no use.
func (k *keeper) lacks(q question) bool {
	if q.number == 0 {
		found, err := filepath.Glob(filepath.Join(k.store.Folder(), "sets-*"))
		return err == nil && len(found) == 0
	}
	sets, _ := k.store.History(store.Number(q.number)) // damage is told where sets are used
	return len(sets) == 0
}

func (sys system) fetchOne(ctx context.Context, folder string, q question, whole bool, k *keeper) error {
	client := fetch.New(folder, "foreaim/"+sys.version)
	defer client.Close()
	client.Now, client.Whole, client.Limits.Interval = sys.now, whole, q.interval
	progress := sys.newProgress()
	client.Progress = func(done, total int64) { progress.tell(sayBytes(done, total)) }
	var sets []elements.Set
	var counts store.Counts
	result, err := client.Fetch(ctx, q.url, func(r io.Reader) (err error) {
		progress.clear()
		if sets, err = elements.Read(r, fileOf(q.url)); len(sets) == 0 {
			return err
		}
		for _, fault := range faultsOf(err) {
			sys.say("warning", fault.Error())
		}
		counts, err = k.keep(ctx, sets)
		return err
	})
	progress.clear()
	if err != nil {
		return err
	}
	text := result.Address + ": " + result.Words(sys.now())
	if result.Outcome == fetch.Fetched {
		text += ": " + sayCounts(len(sets), counts)
	}
	k.tell("%s", text)
	return nil
}

// fileOf is the name of the file of an address, for messages: nothing secret is
// in it.
func fileOf(address string) string {
	u, err := url.Parse(address)
	if err != nil {
		return "what came"
	}
	if base := path.Base(u.Path); base != "." && base != "/" {
		return plain(base)
	}
	return u.Hostname()
}

// sayBytes says the bytes that came and how many will, -1: not known.
func sayBytes(done, total int64) string {
	text := fmt.Sprintf("%.1f MB", float64(done)/1e6)
	if total > 0 {
		text += fmt.Sprintf(" of %.1f MB", float64(total)/1e6)
	}
	return text
}
