package main

import (
	"errors"
	"fmt"
	"time"

	"foreaim/track"
	"foreaim/track/elements"

	"github.com/spf13/cobra"
)

func newElementsCommand(sys system) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "elements",
		Short: "look into files of orbital elements",
		Args:  cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return unknownCommand(cmd, args[0])
			}
			return cmd.Help()
		},
	}
	cmd.AddCommand(newElementsListCommand(sys), newElementsCheckCommand(sys))
	return cmd
}

func newElementsListCommand(sys system) *cobra.Command {
	o := newOptions(sys)
	cmd := &cobra.Command{
		Use:   "list [PATH...]",
		Short: "list the objects of element files",
		RunE: func(cmd *cobra.Command, args []string) error {
			files, err := sys.elementFiles(append(o.elements, args...))
			if err != nil {
				return err
			}
			sets, faults := readElements(files)
			if len(sets) == 0 {
				return errors.Join(faults...)
			}
			for _, fault := range faults {
				sys.say("warning", fault.Error())
			}
			return sys.printSets(o, sets)
		},
	}
	o.addElements(cmd.Flags())
	o.addJSON(cmd.Flags())
	return cmd
}

func newElementsCheckCommand(sys system) *cobra.Command {
	o := newOptions(sys)
	cmd := &cobra.Command{
		Use:   "check [PATH...]",
		Short: "check element files: form, checksums, values, orbit",
		Long: `Check element files: each fault is an error of one line, with its place. The
sets without a fault are listed.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			files, err := sys.elementFiles(append(o.elements, args...))
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
			if err := sys.printSets(o, good); err != nil {
				return err
			}
			return errors.Join(faults...)
		},
	}
	o.addElements(cmd.Flags())
	o.addJSON(cmd.Flags())
	return cmd
}

// setAnswer is one set of the answer.
type setAnswer struct {
	Satellite           string   `json:"satellite"`
	CatalogueNumber     int      `json:"catalogue_number"`
	Epoch               instant  `json:"epoch"`
	AgeDays             *float64 `json:"age_days,omitempty"`
	Format              string   `json:"format"`
	File                string   `json:"file"`
	MeanMotionRevPerDay float64  `json:"mean_motion_rev_per_day"`
	Eccentricity        float64  `json:"eccentricity"`
	InclinationDeg      float64  `json:"inclination_deg"`
	NodeDeg             float64  `json:"node_deg"`
	PerigeeDeg          float64  `json:"perigee_deg"`
	AnomalyDeg          float64  `json:"anomaly_deg"`
	BStar               float64  `json:"bstar_per_earth_radius"`
}

func newSetAnswer(s elements.Set, now time.Time) setAnswer {
	return setAnswer{
		Satellite: name(s), CatalogueNumber: s.CatalogueNumber,
		Epoch: instant(s.Epoch), AgeDays: number(s.Age(now).Hours()/24, 3),
		Format: string(s.Format), File: plain(s.File),
		MeanMotionRevPerDay: s.MeanMotionRevPerDay, Eccentricity: s.Eccentricity,
		InclinationDeg: s.InclinationDeg, NodeDeg: s.NodeDeg, PerigeeDeg: s.PerigeeDeg,
		AnomalyDeg: s.AnomalyDeg, BStar: s.BStar,
	}
}

func (sys system) printSets(o *options, sets []elements.Set) error {
	now := sys.now()
	answers := make([]setAnswer, 0, len(sets))
	rows := newTable("satellite", ">number", "epoch (UTC)", ">days old", ">rev/day", ">inclination", ">eccentricity", "format", "place")
	for _, s := range sets {
		answers = append(answers, newSetAnswer(s, now))
		rows.add(s.Name, fmt.Sprint(s.CatalogueNumber), s.Epoch.UTC().Format(time.DateTime),
			fmt.Sprintf("%.1f", s.Age(now).Hours()/24), fmt.Sprintf("%.5f", s.MeanMotionRevPerDay),
			fmt.Sprintf("%.3f°", s.InclinationDeg), fmt.Sprintf("%.6f", s.Eccentricity),
			string(s.Format), fmt.Sprintf("%s:%d", s.File, s.Line))
	}
	if o.json {
		return printJSON(sys.stdout, answers)
	}
	if len(sets) == 0 {
		return nil
	}
	_, err := fmt.Fprint(sys.stdout, rows)
	return err
}
