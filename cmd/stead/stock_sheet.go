package main

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
)

// newStockSheet prints what to count.
func newStockSheet() *cobra.Command {
	var next int
	var file string
	cmd := &cobra.Command{Use: "sheet [BIN …]", Short: "Print sheets for a stocktake, a bin at a time", Args: cobra.ArbitraryArgs,
		Long: `Prints what to count, a sheet a bin: of the bins named, of all, or with --next
of those best counted next, by what is in them, how much has moved since they
were last counted, and how far off that was. How many there should be stands on
no sheet. --csv writes a file with an empty column for the counts, which
` + "`stead stock take`" + ` reads.`,
		Example: "  stead stock sheet D2\n  stead stock sheet --next 2 --csv sheet.csv"}
	cmd.Flags().IntVar(&next, "next", 0, "so many bins that are best counted next")
	cmd.Flags().StringVar(&file, "csv", "", "where to write them, to be filled in")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, bins []string) error {
		if next < 0 || next > 0 && len(bins) > 0 {
			return usage(cmd, errors.New("name the bins, or give --next with a number of them"))
		}
		var why []inventory.NextBin
		if next > 0 {
			all, err := inventory.NextBins(cmd.Context(), w, now())
			if err != nil {
				return err
			}
			why = all[:min(next, len(all))]
			for _, b := range why {
				bins = append(bins, b.Bin)
			}
		}
		sheets, err := inventory.Sheets(cmd.Context(), w, now(), bins...)
		if err != nil {
			return err
		}
		if file != "" {
			if err := writeNew("the sheets", file, func(out io.Writer) error { return writeSheets(out, sheets) }); err != nil {
				return err
			}
			return show(cmd, sheets, func() { say(cmd, "%s in %s", desk.Several(len(sheets), "sheet"), file) })
		}
		return show(cmd, sheets, func() { saySheets(cmd, sheets, why) })
	})
	return cmd
}

func writeSheets(to io.Writer, sheets []inventory.Sheet) error {
	out, err := terminal.NewCSV(to)
	if err != nil {
		return err
	}
	if err := out.Write("bin", "part", "name", "counted"); err != nil {
		return err
	}
	for _, s := range sheets {
		for _, l := range s.Lines {
			if err := out.Write(s.Bin, strconv.FormatInt(l.PartID, 10), l.Name, ""); err != nil {
				return err
			}
		}
	}
	return out.Close()
}

func saySheets(cmd *cobra.Command, sheets []inventory.Sheet, why []inventory.NextBin) {
	if len(sheets) == 0 {
		say(cmd, "There is nothing to count.")
	}
	for _, s := range sheets {
		say(cmd, "Bin %s", s.Bin)
		for _, b := range why {
			if b.Bin == s.Bin {
				say(cmd, "  %s", desk.At(now()).NextBinWords(b))
			}
		}
		var rows [][]string
		for _, l := range s.Lines {
			rows = append(rows, []string{strconv.FormatInt(l.PartID, 10), l.Code, l.Name, "______"})
		}
		terminal.Table(cmd.OutOrStdout(), []string{">PART", "CODE", "NAME", "COUNTED"}, rows)
		say(cmd, "")
	}
}

// newStockTake books sheets that were filled in.
func newStockTake() *cobra.Command {
	var note string
	cmd := &cobra.Command{Use: "take FILE", Short: "Book the sheets of a stocktake, and see what differs", Args: exactly("FILE"),
		Long: `Books a stocktake from a file with the columns bin, part and counted, as
` + "`stead stock sheet --csv`" + ` writes it: all of it, or nothing where a line is
wrong. Lines without a count are left as they are. What differs is told beside
the movements since the last count that may explain it.`,
		Example: "  stead stock take counted.csv --note \"year's end\""}
	cmd.Flags().StringVar(&note, "note", "", "a remark")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		rows, err := readSheets(args[0])
		if err != nil {
			return err
		}
		var counts []inventory.Counting
		for i, r := range rows {
			p, err := inventory.PartNamed(cmd.Context(), w, r.part)
			if err != nil {
				return fmt.Errorf("row %d of the sheet: %w", rows[i].row, err)
			}
			counts = append(counts, inventory.Counting{Bin: r.bin, PartID: p.ID, Counted: r.counted})
		}
		if len(counts) == 0 {
			return errors.New("no line of the sheet has a count: fill the last column in first")
		}
		found, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, key string) ([]inventory.Difference, error) {
			return inventory.Stocktake(ctx, tx, key, counts, note)
		})
		if err != nil {
			return err
		}
		return show(cmd, found, func() {
			first, more := desk.StocktakeWords(len(counts), found)
			say(cmd, "%s", first)
			for _, words := range more {
				say(cmd, "%s", words)
			}
		})
	})
	return cmd
}

// sheetRow is a line of a sheet with a count.
type sheetRow struct {
	row       int
	bin, part string
	counted   int
}

// readSheets reads the lines of a file that were counted.
func readSheets(file string) ([]sheetRow, error) {
	from, err := os.Open(file)
	if err != nil {
		return nil, fmt.Errorf("open the sheet: %w", err)
	}
	defer from.Close()
	r := csv.NewReader(from)
	r.FieldsPerRecord, r.TrimLeadingSpace = -1, true
	heads, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("read the sheet: %w", err)
	}
	at := map[string]int{"bin": -1, "part": -1, "counted": -1}
	for i, h := range heads {
		if _, wanted := at[strings.ToLower(strings.TrimSpace(strings.TrimPrefix(h, "\ufeff")))]; wanted {
			at[strings.ToLower(strings.TrimSpace(strings.TrimPrefix(h, "\ufeff")))] = i
		}
	}
	for _, name := range []string{"bin", "part", "counted"} {
		if at[name] < 0 {
			return nil, fmt.Errorf("the sheet has no column %q: its first row names bin, part and counted", name)
		}
	}
	var out []sheetRow
	for row := 2; ; row++ {
		fields, err := r.Read()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return nil, fmt.Errorf("read the sheet: %w", err)
		}
		field := func(name string) string {
			if at[name] >= len(fields) {
				return ""
			}
			return strings.TrimSpace(fields[at[name]])
		}
		if field("counted") == "" {
			continue
		}
		n, err := strconv.Atoi(field("counted"))
		if err != nil || n < 0 {
			return nil, fmt.Errorf("row %d of the sheet: a count is a whole number, not %q", row, field("counted"))
		}
		out = append(out, sheetRow{row, field("bin"), field("part"), n})
	}
}
