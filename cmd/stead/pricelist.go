package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/inventory/catalogue"
	"stead/inventory/pricelist"
)

func newPricelist() *cobra.Command {
	return group("pricelist", "Wholesalers' price lists: read, load, review",
		newListPreview(), newListColumns(), newListLoad(), newListReview(), newListWords(), newListAlike(), newListSame(), newListDiffer(), newListSplit(), newListHistory())
}

// openedList is a supplier's file with the columns by which it is to be read.
type openedList struct {
	supplier  inventory.Supplier
	file      *pricelist.File
	mapping   pricelist.Mapping
	confirmed bool     // by a person; otherwise as the file itself suggests
	doubts    []string // about a suggestion
}

// openList opens a supplier's file. The caller closes it.
func openList(ctx context.Context, w *workshop, supplier, path string) (openedList, error) {
	var l openedList
	var err error
	if l.file, err = pricelist.OpenPath(path); err != nil {
		return l, err
	}
	if l.supplier, err = inventory.SupplierByCode(ctx, w, supplier); err != nil {
		return l, errors.Join(err, l.file.Close())
	}
	saved, ok, err := catalogue.MappingOf(ctx, w, l.supplier.ID)
	if err != nil {
		return l, errors.Join(err, l.file.Close())
	}
	if ok {
		l.confirmed = true
		l.mapping, err = saved.Check(l.file)
		var other *pricelist.OtherListError
		if errors.As(err, &other) {
			err = fmt.Errorf("%w with `stead pricelist columns %s FILE`", err, l.supplier.Code)
		}
	} else {
		var proposal pricelist.Proposal
		proposal, err = pricelist.ProposeFile(l.file)
		l.mapping, l.doubts = proposal.Mapping, proposal.Doubts
	}
	if err != nil {
		return l, errors.Join(err, l.file.Close())
	}
	return l, nil
}

// columnsView is a mapping as it is shown.
type columnsView struct {
	Supplier  string            `json:"supplier"`
	Confirmed bool              `json:"confirmed"`
	Mapping   pricelist.Mapping `json:"mapping"`
	Doubts    []string          `json:"doubts,omitempty"`
}

// printColumns sets which column is what, and which are left.
func printColumns(cmd *cobra.Command, m pricelist.Mapping, doubts []string) {
	var rows [][]string
	used := map[int]bool{}
	for _, f := range pricelist.Fields {
		if column, ok := m.Columns[f]; ok {
			used[column] = true
			rows = append(rows, []string{string(f), strings.TrimPrefix(m.ColumnName(column), "column ")})
		}
	}
	terminal.Table(cmd.OutOrStdout(), []string{"FIELD", "COLUMN"}, rows)
	var left []string
	for i, heading := range m.Headings {
		if heading != "" && !used[i+1] {
			left = append(left, strings.TrimPrefix(m.ColumnName(i+1), "column "))
		}
	}
	if len(left) > 0 {
		say(cmd, "not used: %s", strings.Join(left, ", "))
	}
	if m.DecimalComma {
		say(cmd, "prices have a decimal comma")
	}
	for _, d := range doubts {
		say(cmd, "! %s", d)
	}
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
		rows = append(rows, []string{strconv.Itoa(p.Line), strings.TrimPrefix(p.Column, "column "), p.Says, left})
	}
	say(cmd, "")
	terminal.Table(cmd.OutOrStdout(), []string{">LINE", "COLUMN", "WHAT IS WRONG", "LEFT OUT"}, rows)
	printMore(cmd, len(problems))
}

// printJumps sets prices that moved far.
func printJumps(cmd *cobra.Command, jumps []catalogue.Jump) {
	if len(jumps) == 0 {
		return
	}
	var rows [][]string
	for _, j := range jumps[:min(len(jumps), mostShown)] {
		percent := j.Now.Sub(j.Was).Div(j.Was).Shift(2).Round(0)
		sign := ""
		if percent.IsPositive() {
			sign = "+"
		}
		rows = append(rows, []string{j.Code, j.Name, j.Was.StringFixed(2), j.Now.StringFixed(2), sign + percent.String() + " %"})
	}
	say(cmd, "")
	terminal.Table(cmd.OutOrStdout(), []string{"CODE", "NAME", ">WAS A PIECE", ">NOW", ">MOVED"}, rows)
	printMore(cmd, len(jumps))
}

func printMore(cmd *cobra.Command, n int) {
	if n > mostShown {
		say(cmd, "and %d more (--json lists them)", n-mostShown)
	}
}

// printCounts sets what a load did or would do.
func printCounts(cmd *cobra.Command, s catalogue.Summary) {
	counts := []struct {
		n    int
		what string
	}{
		{s.Rows, "lines read"}, {s.New, "new"}, {s.Changed, "changed price"}, {s.Same, "as before"}, {s.Gone, "gone from the list"}, {s.Back, "back in the list"},
		{s.Parts, "new parts in the catalogue"}, {s.Waiting, "name no kind of part that is known: they wait"}, {s.Unread, "with words that could not be read"},
		{s.Refused, "refused"}, {len(s.Jumps), "price jumps"},
	}
	var rows [][]string
	for i, c := range counts {
		if c.n > 0 || i < 5 {
			rows = append(rows, []string{strconv.Itoa(c.n), c.what})
		}
	}
	terminal.Table(cmd.OutOrStdout(), []string{">", ""}, rows)
}
