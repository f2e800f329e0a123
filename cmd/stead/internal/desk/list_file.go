package desk

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/catalogue"
	"stead/inventory/pricelist"
	"stead/inventory/pricelist/describe"
	"stead/pricing"
)

// ListFile is a supplier's file with the columns by which it is to be read.
type ListFile struct {
	Supplier  inventory.Supplier
	File      *pricelist.File
	Mapping   pricelist.Mapping
	Confirmed bool            // by a person; otherwise as the file itself suggests
	Doubts    []string        // about a suggestion
	Asks      []pricelist.Ask // what the person knows and no list says
}

// ColumnsError says that the columns of a supplier's list must be said, or said anew, before it can be read.
type ColumnsError struct {
	Supplier string // its code
	err      error
}

func (e *ColumnsError) Error() string { return e.err.Error() }
func (e *ColumnsError) Unwrap() error { return e.err }

// ReadListFile finds out by which columns a supplier's file is to be read. The file is the caller's to close.
func ReadListFile(ctx context.Context, db inventory.DB, supplier string, file *pricelist.File) (l ListFile, err error) {
	l.File = file
	if l.Supplier, err = inventory.SupplierByCode(ctx, db, supplier); err != nil {
		return l, err
	}
	saved, ok, err := catalogue.MappingOf(ctx, db, l.Supplier.ID)
	if err != nil {
		return l, err
	}
	if ok {
		l.Confirmed = true
		l.Mapping, err = saved.Check(file)
		if errors.As(err, new(*pricelist.OtherListError)) {
			err = &ColumnsError{l.Supplier.Code, err}
		}
	} else {
		var proposal pricelist.Proposal
		proposal, err = pricelist.ProposeFile(file)
		l.Mapping, l.Doubts, l.Asks = proposal.Mapping, proposal.Doubts, proposal.Asks
	}
	l.Mapping = l.Mapping.In(l.Supplier.Currency)
	return l, err
}

// HeadingsFrom takes the headings from a line that a person names.
func HeadingsFrom(file *pricelist.File, m *pricelist.Mapping, number int) error {
	for line, err := range file.Lines(m.Sheet) {
		if err != nil {
			return err
		}
		if line.Number == number {
			m.Header, m.Headings = number, slices.Clone(line.Cells)
			return nil
		}
		if line.Number > number {
			break
		}
	}
	return fmt.Errorf("line %d of the file is empty or not there", number)
}

// CheckColumns is a *[ColumnsError] where a column that is needed is not known.
func (l ListFile) CheckColumns() error {
	if err := l.Mapping.CheckComplete(); err != nil {
		return &ColumnsError{l.Supplier.Code, fmt.Errorf("%s: %w", l.File.Name(), err)}
	}
	return nil
}

// Load is the file as it is to be loaded or looked at.
func (l ListFile) Load(tax decimal.Decimal, now time.Time) catalogue.Load {
	return catalogue.Load{SupplierID: l.Supplier.ID, File: l.File, Mapping: l.Mapping, AsOf: now, Now: now, Tax: tax}
}

// Columns are which column of a supplier's lists is what.
type Columns struct {
	Supplier  string            `json:"supplier"`
	Confirmed bool              `json:"confirmed"`
	Mapping   pricelist.Mapping `json:"mapping"`
	Doubts    []string          `json:"doubts,omitempty"`
	Asks      []pricelist.Ask   `json:"asks,omitempty"`
}

// LoadColumns are the columns that a person has confirmed for a supplier's lists.
func LoadColumns(ctx context.Context, db inventory.DB, supplier inventory.Supplier) (Columns, error) {
	m, ok, err := catalogue.MappingOf(ctx, db, supplier.ID)
	return Columns{Supplier: supplier.Code, Confirmed: ok, Mapping: m}, err
}

// Unused are the headings of columns that are nothing.
func (v Columns) Unused() []string {
	used := map[int]bool{}
	for _, column := range v.Mapping.Columns {
		used[column] = true
	}
	for _, b := range v.Mapping.BreaksIn() {
		used[b.Column] = true
	}
	var out []string
	for i, heading := range v.Mapping.Headings {
		if heading != "" && !used[i+1] {
			out = append(out, ColumnWords(v.Mapping.ColumnName(i+1)))
		}
	}
	return out
}

// Words say how the prices of the lists are written and what they are of.
func (v Columns) Words() []string {
	var out []string
	out = append(out, v.sheetWords()...)
	if v.Mapping.DecimalComma {
		out = append(out, "prices have a decimal comma")
	}
	for _, each := range []struct {
		field pricelist.Field
		so    bool
		what  string
	}{{pricelist.Price, v.Mapping.PriceEach, "prices"}, {pricelist.RRP, v.Mapping.RetailEach, "recommended prices"}} {
		if _, given := v.Mapping.Columns[each.field]; given {
			of := "what is sold together"
			switch per := v.Mapping.Columns[pricelist.Per]; {
			case each.so:
				of = "one piece"
			case per > 0:
				of = "the unit in " + ColumnWords(v.Mapping.ColumnName(per))
			}
			out = append(out, fmt.Sprintf("%s are of %s", each.what, of))
		}
	}
	if words := v.taxWords(); words != "" {
		out = append(out, words)
	}
	for _, b := range v.Mapping.BreaksIn() {
		of := "packs"
		if v.Mapping.PriceEach {
			of = "pieces"
		}
		out = append(out, fmt.Sprintf("prices from %d %s on stand in %s", b.From, of, ColumnWords(v.Mapping.ColumnName(b.Column))))
	}
	return out
}

// sheetWords say which sheets of a workbook are read, and which are not.
func (v Columns) sheetWords() []string {
	var out []string
	if len(v.Mapping.Others) > 0 {
		var names []string
		for _, m := range v.Mapping.Sheets() {
			names = append(names, m.Sheet)
		}
		out = append(out, "sheets read: "+strings.Join(names, ", "))
	}
	for _, m := range v.Mapping.Others {
		out = append(out, otherColumns(v.Mapping, m)...)
	}
	for _, l := range v.Mapping.Left {
		out = append(out, fmt.Sprintf("sheet %s is not read: %s", l.Sheet, l.Why))
	}
	return out
}

// otherColumns say which column is what on another sheet, where that is not as on the first: nobody would see it otherwise.
func otherColumns(first, other pricelist.Mapping) []string {
	var words []string
	for _, f := range pricelist.Fields {
		if column, given := other.Columns[f]; given && (column != first.Columns[f] || other.ColumnName(column) != first.ColumnName(column)) {
			words = append(words, fmt.Sprintf("%s %s", f, ColumnWords(other.ColumnName(column))))
		}
	}
	if len(words) == 0 {
		return nil
	}
	return []string{fmt.Sprintf("on sheet %s: %s", other.Sheet, strings.Join(words, ", "))}
}

// taxWords say which tax is in the prices; empty where none is known to be.
func (v Columns) taxWords() string {
	switch m := v.Mapping; {
	case m.TaxColumn > 0:
		return fmt.Sprintf("tax is taken out of the prices, by each line's rate in %s", ColumnWords(m.ColumnName(m.TaxColumn)))
	case m.TaxIn.Valid && m.TaxIn.Decimal.IsPositive():
		return fmt.Sprintf("tax of %s %% is taken out of the prices", m.TaxIn.Decimal)
	}
	return ""
}

// ListPreview is what loading a file would do.
type ListPreview struct {
	Columns
	File string             `json:"file"`
	Form string             `json:"form"`
	Rows []PreviewRow       `json:"rows"`
	Load *catalogue.Summary `json:"load"` // what loading would do; null while a column is missing

	Currency string          `json:"-"` // of the list's prices
	Tax      decimal.Decimal `json:"-"` // per cent in a recommended price
}

// PreviewRow is one line as it would be taken.
type PreviewRow struct {
	Sheet  string              `json:"sheet,omitempty"` // of a list with several
	Line   int                 `json:"line"`
	Code   string              `json:"code"`
	Gross  decimal.NullDecimal `json:"gross,omitzero"` // as the list has it, where tax is in it
	Price  decimal.NullDecimal `json:"price"`          // a pack, before tax
	Retail decimal.NullDecimal `json:"retail"`         // recommended, a pack, tax included
	Pack   int                 `json:"pack,omitempty"`
	Breaks []inventory.Break   `json:"breaks,omitempty"` // a pack, from a number of packs on
	Read   describe.Reading    `json:"read"`
	net    decimal.Decimal     // of the gross price
}

// LoadListPreview reads the first lines of a file and says what loading all of it would do. Of tx nothing is to be
// kept: it is the caller's to roll back. Progress may be nil.
func LoadListPreview(ctx context.Context, tx pgx.Tx, l ListFile, lines, jump int, now time.Time, progress func(read, about int)) (v ListPreview, err error) {
	v = ListPreview{File: l.File.Name(), Form: l.File.Form(), Rows: []PreviewRow{}, Currency: l.Supplier.Currency,
		Columns: Columns{Supplier: l.Supplier.Code, Confirmed: l.Confirmed, Mapping: l.Mapping, Doubts: l.Doubts, Asks: l.Asks}}
	if l.Mapping.CheckComplete() != nil {
		return v, nil
	}
	if v.Rows, err = firstRows(ctx, tx, l, lines); err != nil {
		return v, err
	}
	if v.Tax, err = TaxPercent(ctx, tx, now); err != nil {
		return v, err
	}
	load := l.Load(v.Tax, now)
	load.JumpPercent, load.Progress = jump, progress
	s, err := load.Preview(ctx, tx)
	v.Load = &s
	return v, err
}

// firstRows reads the first lines, descriptions and all.
func firstRows(ctx context.Context, db inventory.DB, l ListFile, n int) ([]PreviewRow, error) {
	reader, err := catalogue.ReaderOf(ctx, db, l.Supplier.ID)
	if err != nil {
		return nil, err
	}
	out := []PreviewRow{}
	if n < 1 {
		return out, nil
	}
	for row, err := range pricelist.Rows(l.File, l.Mapping) {
		if err != nil {
			return nil, err
		}
		line := reader.Line(row)
		out = append(out, PreviewRow{Sheet: row.Sheet, Line: row.Line, Code: row.Code, Gross: row.Gross, net: row.Price.Decimal, Price: line.Price, Retail: line.Retail, Pack: line.Pack, Breaks: line.Breaks, Read: line.Read})
		if len(out) == n {
			break
		}
	}
	return out, nil
}

// PriceWords is the price of a pack, and what many cost; "?" where none could be read.
func (v ListPreview) PriceWords(r PreviewRow) string {
	if !r.Price.Valid {
		return "?"
	}
	words := pricing.Amount(v.Currency, r.Price.Decimal)
	for _, b := range r.Breaks {
		words += fmt.Sprintf(", from %d %s", b.FromPacks, pricing.Amount(v.Currency, b.Price))
	}
	return words
}

// TaxWords set one price as the list has it beside what is kept of it; empty where no tax is taken out.
func (v ListPreview) TaxWords() string {
	for _, r := range v.Rows {
		if r.Gross.Valid {
			return fmt.Sprintf("%s: that of %s is %s there, %s here", v.taxWords(), r.Code, pricing.Amount(v.Currency, r.Gross.Decimal), pricing.Amount(v.Currency, r.net))
		}
	}
	return ""
}

// RetailWords is the recommended price of a pack with its mark-up; empty where none is given.
func (v ListPreview) RetailWords(r PreviewRow) string {
	if !r.Retail.Valid {
		return ""
	}
	words := pricing.Amount(v.Currency, r.Retail.Decimal)
	if r.Price.Valid {
		words += " (" + MarkUpWords(r.Price.Decimal, r.Retail.Decimal, v.Tax) + ")"
	}
	return words
}

// Doubt is something in a list that wants a person's look, and their word, before it is loaded.
type Doubt int

const (
	DoubtColumns Doubt = iota // nobody has confirmed which column is what
	DoubtTax                  // tax is in the prices, and nobody has said at which rate
	DoubtPrices               // the prices may stand in another column
	DoubtGone                 // most of what the supplier had would be gone
	DoubtBad                  // some lines are bad
	DoubtJumps                // some prices moved far
)

// ListDoubts are the doubts about a list, the gravest first.
func ListDoubts(confirmed bool, s catalogue.Summary) []Doubt {
	var out []Doubt
	for _, d := range []struct {
		so    bool
		doubt Doubt
	}{{!confirmed, DoubtColumns}, {s.Paper == pricelist.TaxIn, DoubtTax}, {s.Doubt != "" && s.Paper != pricelist.TaxIn, DoubtPrices}, {s.CutShort(), DoubtGone}, {s.Refused > 0, DoubtBad}, {len(s.Jumps) > 0, DoubtJumps}} {
		if d.so {
			out = append(out, d.doubt)
		}
	}
	return out
}

// TaxPercent is the tax in a retail price at a moment; nought before any is recorded.
func TaxPercent(ctx context.Context, db inventory.DB, now time.Time) (decimal.Decimal, error) {
	tax, err := pricing.TaxOn(ctx, db, now)
	if errors.Is(err, pricing.ErrNoTax) {
		return decimal.Zero, nil
	}
	return tax.Percent, err
}
