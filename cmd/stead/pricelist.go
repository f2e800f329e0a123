package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/inventory/catalogue"
	"stead/inventory/pricelist"
	"stead/pricing"
)

func newPricelist() *cobra.Command {
	return group("pricelist", "Wholesalers' price lists: read, load, review",
		newListPreview(), newListColumns(), newListLoad(), newListTakeBack(), newListReview(), newListWaiting(), newListLine(),
		newListWords(), newListAlike(), newListSame(), newListDiffer(), newListSplit(), newListHistory())
}

// openedList is a supplier's file with the columns by which it is to be read.
type openedList struct {
	supplier  inventory.Supplier
	file      *pricelist.File
	mapping   pricelist.Mapping
	confirmed bool     // by a person; otherwise as the file itself suggests
	doubts    []string // about a suggestion
	asks      []string // what the person knows and no list says
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
		l.mapping, l.doubts, l.asks = proposal.Mapping, proposal.Doubts, proposal.Asks
	}
	l.mapping.Currency = l.supplier.Currency
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
	Asks      []string          `json:"asks,omitempty"`
}

// printColumns sets which column is what, and which are left.
func printColumns(cmd *cobra.Command, m pricelist.Mapping, doubts, asks []string) {
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
	for _, each := range []struct {
		field pricelist.Field
		so    bool
		what  string
	}{{pricelist.Price, m.PriceEach, "prices"}, {pricelist.RRP, m.RetailEach, "recommended prices"}} {
		if _, given := m.Columns[each.field]; given {
			of := "what is sold together"
			if each.so {
				of = "one piece"
			}
			say(cmd, "%s are of %s", each.what, of)
		}
	}
	for _, d := range doubts {
		say(cmd, "! %s", d)
	}
	for _, a := range asks {
		say(cmd, "? %s", a)
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

// printRetailDoubts sets recommended prices that can hardly be meant.
func printRetailDoubts(cmd *cobra.Command, currency string, tax decimal.Decimal, doubts []catalogue.RetailDoubt) {
	if len(doubts) == 0 {
		return
	}
	var rows [][]string
	for _, d := range doubts[:min(len(doubts), mostShown)] {
		rows = append(rows, []string{d.Code, d.Name, strconv.Itoa(d.Pack), pricing.Amount(currency, d.Price), pricing.Amount(currency, d.Retail),
			markUp(d.Price, d.Retail, tax)})
	}
	say(cmd, "\n! these recommended prices are below what the supplier asks, or beyond four times that:")
	terminal.Table(cmd.OutOrStdout(), []string{"CODE", "NAME", ">PACK", ">A PACK", ">RETAIL", ">MARK-UP"}, rows)
	printMore(cmd, len(doubts))
}

// markUp is what a retail price, tax taken off, is above a price, with a mark where that can hardly be meant.
func markUp(price, retail, tax decimal.Decimal) string {
	up := catalogue.MarkUp(price, retail, tax).String() + " %"
	if !strings.HasPrefix(up, "-") {
		up = "+" + up
	}
	if catalogue.Doubtful(price, retail, tax) {
		return "! " + up
	}
	return up
}

// taxPercent is the tax in a retail price today; nought before any is recorded.
func taxPercent(ctx context.Context, w *workshop) (decimal.Decimal, error) {
	tax, err := pricing.TaxOn(ctx, w, now())
	if errors.Is(err, pricing.ErrNoTax) {
		return decimal.Zero, nil
	}
	return tax.Percent, err
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
		{s.Parts, "new parts in the catalogue"}, {s.Waiting, "name no kind of part that is known: they wait"}, {s.Mended, "read as another kind of part than before"}, {s.Unread, "with words that could not be read"},
		{s.Refused, "refused"}, {len(s.Jumps), "price jumps"}, {len(s.Retail), "recommended prices that can hardly be meant"},
	}
	var rows [][]string
	for i, c := range counts {
		if c.n > 0 || i < 5 {
			rows = append(rows, []string{strconv.Itoa(c.n), c.what})
		}
	}
	terminal.Table(cmd.OutOrStdout(), []string{">", ""}, rows)
}
