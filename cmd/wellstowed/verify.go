package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/proof"
	"wellstowed/orders/store"
	"wellstowed/orders/witness"
	"wellstowed/receipts/words"
)

func (m machine) verifyCommand() *cobra.Command {
	var db, witnessFile string
	var seals []string
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "verify",
		Short: "Check every receipt and sheet against its bytes, its chain, printed seals and a witness",
		Long: "Reads the file and changes nothing of it, so that it may lie where nothing can be written.\n" +
			"Checks every page of it, walks the receipts in order and recomputes every hash. With --seal it also holds\n" +
			"the seal printed on a paper receipt against the database, and with --witness the\n" +
			"file that serve --witness keeps outside of it.\n" +
			"Exit code: 0 when all agrees, 1 when something does not, 2 when the command line\n" +
			"was not understood.",
		Example: "  wellstowed verify --db shop.db",
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			printed, err := parseSeals(seals)
			if err != nil {
				return err
			}
			testimony, err := readWitness(witnessFile)
			if err != nil {
				return err
			}
			return m.withView(cmd.Context(), db, func(kept *store.View) error {
				return m.verify(cmd.Context(), kept, printed, testimony, asJSON)
			})
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, theDatabase)
	cmd.Flags().StringVar(&witnessFile, "witness", "", "witness file that serve --witness wrote, to hold each paper against")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the answer as JSON")
	cmd.Flags().StringArrayVar(&seals, "seal", nil, "NUMBER:SEAL as printed on a receipt; may be given again")
	return cmd
}

// verificationJSON is a verification for programs.
type verificationJSON struct {
	Agrees    bool     `json:"agrees"`
	Receipts  int      `json:"receipts"`
	Voided    int      `json:"voided"`
	Corrected int      `json:"corrected"`
	Sheets    int      `json:"sheets"`
	Unchained int      `json:"sheets_unchained"`
	Erased    int      `json:"receipts_erased"` // their names
	Blank     int      `json:"sheets_erased"`
	Audits    int      `json:"audits_erased"` // with their reports
	Last      int64    `json:"last"`
	Seal      string   `json:"seal,omitempty"`
	Writes    int64    `json:"writes"` // in the journal
	Faults    []string `json:"faults"`
	Altered   []string `json:"altered"` // by the journal
	Notes     []string `json:"notes"`
	Limit     string   `json:"limit"`
}

func (m machine) verify(ctx context.Context, kept *store.View, printed map[int64]string, testimony *proof.Testimony, asJSON bool) error {
	v, err := proof.Verify(ctx, kept.Proving(), atTheTerminal(), printed, testimony)
	if err != nil {
		return err
	}
	if kept.LacksLog {
		v.Faults = append(v.Faults, measure.Say("the file was copied while a program used it, and its log is not beside it: what was saved last may be lacking"))
	}
	print := words.New("en", act.Imperial)
	answer := verificationJSON{
		Agrees: len(v.Faults)+len(v.Altered) == 0, Writes: v.Writes, Altered: sayAll(print, v.Altered), Receipts: v.Receipts, Voided: v.Voided, Corrected: v.Corrected,
		Sheets: v.Sheets, Unchained: v.Unchained, Erased: v.Erased, Blank: v.Blank, Audits: v.BlankAudits, Last: v.Last, Seal: v.Seal,
		Faults: sayAll(print, v.Faults), Notes: sayAll(print, v.Notes), Limit: print.Say(v.Limit),
	}
	if asJSON {
		err = json.NewEncoder(m.out).Encode(answer)
	} else {
		m.sayVerified(answer)
	}
	if err == nil && !answer.Agrees {
		return &exitError{code: exitFailed}
	}
	return err
}

func sayAll(print *words.Printer, texts []measure.Text) []string {
	said := []string{}
	for _, text := range texts {
		said = append(said, print.Say(text))
	}
	return said
}

// sayVerified prints a verification for people.
func (m machine) sayVerified(v verificationJSON) {
	say := func(format string, args ...any) { fmt.Fprintf(m.out, format+"\n", args...) }
	for _, line := range slices.Concat(v.Faults, v.Altered, v.Notes) {
		say("%s", line)
	}
	say("%d receipts read, of which %d are void and %d corrected; %d measurement sheets read.", v.Receipts, v.Voided, v.Corrected, v.Sheets)
	if !v.Agrees {
		say("What does not agree is named above.")
		return
	}
	say("Every stored row is as the program wrote it, by a journal of %d writes.", v.Writes)
	say("Numbers, stored bytes, chain and PDFs agree.")
	if v.Erased > 0 || v.Blank > 0 {
		say("Names were erased of %d of the receipts and %d of the sheets: their hashes are taken as they stand, and the chain holds.", v.Erased, v.Blank)
	}
	if v.Audits > 0 {
		say("Names were erased of %d of the audits, and their reports with them.", v.Audits)
	}
	if v.Unchained > 0 {
		say("%d of the sheets are from before sheets were chained: what they say has no hash of its own.", v.Unchained)
	}
	if v.Receipts > 0 {
		say("The newest seal is %s, of receipt %d. Write both down on paper; later, verify --seal %d:%s holds them against the database.", v.Seal, v.Last, v.Last, v.Seal)
	}
	say("%s", v.Limit)
}

// readWitness reads a witness file, nil where none is named.
func readWitness(path string) (*proof.Testimony, error) {
	if path == "" {
		return nil, nil
	}
	content, err := os.ReadFile(path)
	if err != nil {
		return nil, refuse("--witness: %w", err)
	}
	lines, faults := witness.Parse(content)
	return proof.Testify(lines, faults...), nil
}

func parseSeals(texts []string) (map[int64]string, error) {
	seals := map[int64]string{}
	for _, text := range texts {
		left, seal, found := strings.Cut(text, ":")
		number, err := strconv.ParseInt(left, 10, 64)
		if !found || err != nil || number < 1 || seal == "" {
			return nil, refuse("--seal: read %q; accepted: the receipt's number, a colon and its seal, such as 12:ABCD-EFGH-JKMN", text)
		}
		seals[number] = seal
	}
	return seals, nil
}
