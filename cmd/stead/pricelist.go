package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory/catalogue"
	"stead/inventory/pricelist"
	"stead/pricing"
)

func newPricelist() *cobra.Command {
	return group("pricelist", "Wholesalers' price lists: read, load, review",
		newListPreview(), newListColumns(), newListLoad(), newListTakeBack(), newListReview(), newListWaiting(), newListLine(),
		newListWords(), newListAlike(), newListSame(), newListDiffer(), newListSplit(), newListHistory())
}

// openList opens a supplier's file and finds out by which columns it is read. The caller closes it.
func openList(ctx context.Context, w *workshop, supplier, path string) (desk.ListFile, error) {
	file, err := pricelist.OpenPath(path)
	if err != nil {
		return desk.ListFile{}, err
	}
	l, err := desk.ReadListFile(ctx, w, supplier, file)
	if err != nil {
		return l, errors.Join(err, file.Close())
	}
	return l, nil
}

// printColumns sets which column is what, and which are left.
func printColumns(cmd *cobra.Command, v desk.Columns) {
	var rows [][]string
	for _, f := range pricelist.Fields {
		if column, ok := v.Mapping.Columns[f]; ok {
			rows = append(rows, []string{string(f), desk.ColumnWords(v.Mapping.ColumnName(column))})
		}
	}
	terminal.Table(cmd.OutOrStdout(), []string{"FIELD", "COLUMN"}, rows)
	if left := v.Unused(); len(left) > 0 {
		say(cmd, "not used: %s", strings.Join(left, ", "))
	}
	for _, words := range v.Words() {
		say(cmd, "%s", words)
	}
	for _, d := range v.Doubts {
		say(cmd, "! %s", d)
	}
	for _, a := range v.Asks {
		say(cmd, "? %s with %s", a.Words, answerFlag(a))
	}
}

// answerFlag is the flag that says that a price is of the other than it is taken to be.
func answerFlag(a pricelist.Ask) string {
	flag, of := "--price-of", ofPiece
	if a.Field == pricelist.RRP {
		flag = "--retail-of"
	}
	if a.Each {
		of = ofPack
	}
	return flag + " " + string(of)
}

// mostShown is how many lines of problems and the like a person is shown at once; --json has more.
const mostShown = 20

// printProblems sets what is wrong with a list's lines.
func printProblems(cmd *cobra.Command, problems []pricelist.Problem) {
	if len(problems) == 0 {
		return
	}
	var rows [][]string
	for _, p := range problems[:min(len(problems), mostShown)] {
		left := "cell"
		if p.Grave {
			left = "line"
		}
		rows = append(rows, []string{placeWords(p.Sheet, p.Line), desk.ColumnWords(p.Column), p.Says, left})
	}
	say(cmd, "")
	terminal.Table(cmd.OutOrStdout(), []string{">LINE", "COLUMN", "WHAT IS WRONG", "LEFT OUT"}, rows)
	printMore(cmd, len(problems))
}

// placeWords are a line's number, with its sheet where the list has several.
func placeWords(sheet string, line int) string {
	if sheet == "" {
		return strconv.Itoa(line)
	}
	return fmt.Sprintf("%s %d", sheet, line)
}

// printLeftOut names what a new list leaves out.
func printLeftOut(cmd *cobra.Command, left []catalogue.LeftOut) {
	if len(left) == 0 {
		return
	}
	var rows [][]string
	for _, l := range left[:min(len(left), mostShown)] {
		means := ""
		if l.Nobody {
			means = "nobody else offers it"
		}
		for _, job := range l.Wanted {
			means = strings.TrimPrefix(fmt.Sprintf("%s; job %d waits for it", means, job), "; ")
		}
		rows = append(rows, []string{l.Code, strconv.FormatInt(l.PartID, 10), l.Name, means})
	}
	say(cmd, "")
	terminal.Table(cmd.OutOrStdout(), []string{"LEFT OUT", ">PART", "NAME", ""}, rows)
	printMore(cmd, len(left))
}

// printJumps sets prices that moved far.
func printJumps(cmd *cobra.Command, jumps []catalogue.Jump) {
	if len(jumps) == 0 {
		return
	}
	var rows [][]string
	for _, j := range jumps[:min(len(jumps), mostShown)] {
		rows = append(rows, []string{j.Code, j.Name, j.Was.StringFixed(2), j.Now.StringFixed(2), desk.JumpWords(j)})
	}
	say(cmd, "")
	terminal.Table(cmd.OutOrStdout(), []string{"CODE", "NAME", ">WAS A PIECE", ">NOW", ">MOVED"}, rows)
	printMore(cmd, len(jumps))
}

// printRetailDoubts sets recommended prices that can hardly be meant.
func printRetailDoubts(cmd *cobra.Command, currency string, tax decimal.Decimal, doubts []catalogue.RetailDoubt) {
	if len(doubts) == 0 {
		return
	}
	var rows [][]string
	for _, d := range doubts[:min(len(doubts), mostShown)] {
		rows = append(rows, []string{d.Code, d.Name, strconv.Itoa(d.Pack), pricing.Amount(currency, d.Price), pricing.Amount(currency, d.Retail),
			desk.MarkUpWords(d.Price, d.Retail, tax)})
	}
	say(cmd, "\n! these recommended prices are below what the supplier asks, or beyond four times that:")
	terminal.Table(cmd.OutOrStdout(), []string{"CODE", "NAME", ">PACK", ">A PACK", ">RETAIL", ">MARK-UP"}, rows)
	printMore(cmd, len(doubts))
}

func printMore(cmd *cobra.Command, n int) {
	if n > mostShown {
		say(cmd, "and %d more (--json lists them)", n-mostShown)
	}
}

// printCounts sets what a load did or would do.
func printCounts(cmd *cobra.Command, s catalogue.Summary) {
	var rows [][]string
	for _, c := range desk.ListCounts(s) {
		rows = append(rows, []string{strconv.Itoa(c.N), c.Words})
	}
	terminal.Table(cmd.OutOrStdout(), []string{">", ""}, rows)
}
