package main

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"wellstowed/measure/wood"
	"wellstowed/orders/act"
)

type moistureFlags struct {
	planFlags
	ask wood.AskReadings
	old bool // not of freshly split faces
}

func (m machine) moistureCommand() *cobra.Command {
	var f moistureFlags
	cmd := &cobra.Command{
		Use:   "moisture READINGS",
		Short: "Whether a meter's readings show wood to be dry enough",
		Long: "Judges moisture readings, piece by piece: the pieces are separated by semicolons or\n" +
			"line ends, several readings of a piece by spaces. They are held against the limit of\n" +
			"the rules of sale (--under), else against 20 % dry basis or less, with the meter's own\n" +
			"accuracy, the wood's temperature and the spread between the pieces.\n" +
			"Exit code: 0 when it was answered; 2 when the readings were refused.",
		Example: "  wellstowed moisture \"16.5; 17; 15 15.5; 18; 16\" --basis dry --temperature 60F\n  wellstowed moisture \"22; 21.5; 23; 22; 21\" --basis dry --temperature 15C --accuracy 1 --under england",
		Args:    exactArgs("READINGS"),
		RunE: func(_ *cobra.Command, args []string) error {
			f.ask.Readings = args[0]
			return m.moisture(f)
		},
	}
	cmd.Flags().StringVar(&f.ask.Basis, "basis", "", "what the meter shows: dry (water over dry wood) or wet (water over the whole)")
	cmd.Flags().StringVar(&f.ask.Method, "method", string(wood.PinMeter), "how it was read: pin meter, pinless scan, oven")
	cmd.Flags().BoolVar(&f.old, "old-faces", false, "the readings are not all of freshly split faces")
	cmd.Flags().StringVar(&f.ask.Temperature, "temperature", "", "the wood's, such as 60F or 15C")
	cmd.Flags().StringVar(&f.ask.Accuracy, "accuracy", "", "the meter's by its manual, in points either way (default 2, common practice)")
	cmd.Flags().StringVar(&f.ask.Correction, "correction", "", "points to add for the species by the meter's manual; 0 where it was set to it")
	cmd.Flags().StringVar(&f.ask.Limit, "limit", "", "another limit, with its basis: \"20% wet\"")
	f.add(cmd)
	return cmd
}

// moisture prints what readings show.
func (m machine) moisture(f moistureFlags) error {
	a, err := f.answerer(m)
	if err != nil {
		return err
	}
	defer a.out.Flush()
	limit, err := f.limit(m.clock())
	if err != nil {
		return err
	}
	f.ask.FreshFace = "yes"
	if f.old {
		f.ask.FreshFace = "no"
	}
	_, season, err := f.ask.Judge(limit)
	switch {
	case err != nil:
		return a.misput(err)
	case f.json:
		return a.indented(season)
	}
	fmt.Fprintln(a.out, a.print.Season(season))
	for _, fact := range a.print.SeasonFacts(season) {
		fmt.Fprintf(a.out, "%s: %s\n", fact.Label, fact.Text)
	}
	a.section("Notes", a.print.SeasonNotes(season))
	return nil
}

// limit is that of the rules of sale, else what the EPA advises.
func (f moistureFlags) limit(now time.Time) (wood.Limit, error) {
	set, _, err := under(strings.TrimSpace(f.under), act.Imperial)
	if err != nil || set == nil {
		return wood.ReadyToBurn(), err
	}
	return set.MoistureLimit(now.UTC().Format(time.DateOnly)), nil
}
