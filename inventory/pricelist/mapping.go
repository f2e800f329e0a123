package pricelist

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"stead/inventory/calendar"
)

// Field is what a column of a list holds.
type Field string

// The fields of a list. Code, name and price every list must have.
const (
	Code      Field = "code"       // the supplier's own
	Name      Field = "name"       // the description
	Brand     Field = "brand"      //
	MakerCode Field = "maker_code" // the maker's own number
	GTIN      Field = "gtin"       // under the bar code
	Price     Field = "price"      // of what is sold together, before tax, for the trade
	RRP       Field = "rrp"        // recommended retail price of the same
	Pack      Field = "pack"       // pieces sold together
	Minimum   Field = "minimum"    // packs to be ordered at least
	Stock     Field = "stock"      // what the supplier says of its own stock
	Due       Field = "due"        // the day on which it expects what it is out of
	Per       Field = "per"        // what the prices are of: a piece, a pair, a hundred, a metre
)

// Fields are all fields, in the order in which a person checks them.
var Fields = []Field{Code, Name, Brand, MakerCode, GTIN, Price, RRP, Pack, Minimum, Stock, Due, Per}

// needed are the fields without which a list is none.
var needed = []Field{Code, Name, Price}

// Mapping says which column of a supplier's lists holds what. It is confirmed once and kept for the supplier.
type Mapping struct {
	Sheet        string        `json:"sheet,omitempty"`         // of a workbook
	Header       int           `json:"header"`                  // the line of the headings; 0 if there is none
	Headings     []string      `json:"headings,omitempty"`      // as they stood there, to know the supplier's list again
	Columns      map[Field]int `json:"columns"`                 // from 1
	Breaks       []BreakColumn `json:"breaks,omitempty"`        // prices for many
	DecimalComma bool          `json:"decimal_comma,omitempty"` // of "1,234": one and a bit, not over a thousand
	PriceEach    bool          `json:"price_each,omitempty"`    // prices are of one piece, though several are sold together
	RetailEach   bool          `json:"retail_each,omitempty"`   // and so are recommended prices

	MonthFirst bool `json:"month_first,omitempty"` // days are written 5/31, not 31/5

	Others []Mapping   `json:"others,omitempty"` // of the further sheets that belong to the list
	Left   []LeftSheet `json:"left,omitempty"`   // that do not

	TaxIn     decimal.NullDecimal `json:"tax_in,omitzero"`      // per cent of tax in the prices; absent: nobody says that any is
	TaxColumn int                 `json:"tax_column,omitempty"` // that holds each line's own, where tax is in the prices; 0: none

	Day         calendar.Day        `json:"-"` // of the list, for days without a year; 0 where it is not known
	terms       terms               // what the list says of its prices beside the table
	discount    int                 // the column with what is taken off, where the list has one
	legend      map[string]standing // and of its words for the stock
	gross       int                 // the column of the prices with tax in them, where the list has both
	starts      int                 // the column with the first day of a line's price, where the list has one
	ends        int                 // and with the last
	marksUnsure bool                // of "1,250" it cannot be told what it is
	money       int                 // the column that names each price's currency, where the list has one
	Currency    string              `json:"-"` // the supplier's, where it is known: a price in another is not taken
}

// BreaksIn are the columns with prices for many that hold nothing else.
func (m Mapping) BreaksIn() []BreakColumn {
	return slices.DeleteFunc(slices.Clone(m.Breaks), func(b BreakColumn) bool {
		for _, column := range m.Columns {
			if column == b.Column {
				return true
			}
		}
		return b.Column > mostColumns || b.From < 2
	})
}

// currencyHeadings are the words over a column with each price's currency.
var currencyHeadings = wordSet("currency curr ccy cur currencycode pricecurrency wahrung waehrung devise monnaie valuta munt moneda divisa")

// currencyColumn is the column with each line's currency: the first behind the price, or else any; 0 where there is none.
func (m Mapping) currencyColumn() int {
	at := 0
	for i, heading := range m.Headings {
		if !currencyHeadings[strings.ReplaceAll(plain(heading), " ", "")] || m.holds(i+1) {
			continue
		}
		if at = i + 1; at > m.Columns[Price] {
			break
		}
	}
	return at
}

// currencyOf is the currency that a line names in that column, where it is not the supplier's.
func (m Mapping) currencyOf(l Line) string {
	if m.Currency == "" || m.money < 1 {
		return ""
	}
	cell := ""
	if m.money <= len(l.Cells) {
		cell = strings.TrimSpace(l.Cells[m.money-1])
	}
	switch named := currencies[strings.ToLower(cell)]; {
	case cell == "":
		return "no currency that is said"
	case cell == "$" && !m.isOther(Money{Dollars: true}):
		return ""
	case named == "":
		return shorten(cell)
	case named != m.Currency:
		return named
	}
	return ""
}

// grossColumn is the column with the same prices with tax in them, or 0.
func (m Mapping) grossColumn() int {
	for i, heading := range m.Headings {
		text := plain(heading)
		within, without := taxSaid(text)
		if f, _ := headingOf(heading); f == Price && within && !without && !retailWords.MatchString(text) && !m.holds(i+1) {
			return i + 1
		}
	}
	return 0
}

// headed is the column with one of some headings in plain letters, parted by bars, or 0.
func (m Mapping) headed(words string) int {
	for i, heading := range m.Headings {
		if text := plain(heading); text != "" && strings.Contains("|"+words+"|", "|"+text+"|") && !m.holds(i+1) {
			return i + 1
		}
	}
	return 0
}

// isOther reports whether a price names another currency than the supplier's.
func (m Mapping) isOther(said Money) bool {
	switch {
	case m.Currency == "":
		return false
	case said.Currency != "":
		return said.Currency != m.Currency
	}
	return said.Dollars && !slices.Contains([]string{"USD", "AUD", "CAD", "NZD", "HKD", "SGD", "TWD"}, m.Currency)
}

// otherCurrency says that the heading over a price, or else the list beside its table, names another currency than the
// supplier's, or nothing. A list that names several, the supplier's own among them, is taken to be in that.
func (m Mapping) otherCurrency() string {
	if m.Currency == "" {
		return ""
	}
	own := currencyOver(m.Sheet) == m.Currency
	if named := currencyOver(m.Sheet); named != "" && !own {
		return fmt.Sprintf("its name says that its prices are in %s, and the supplier's currency is %s", named, m.Currency)
	}
	for _, f := range []Field{Price, RRP} {
		switch named := currencyOver(m.heading(m.Columns[f])); {
		case named == m.Currency:
			own = true
		case named != "":
			return fmt.Sprintf("%s is headed as %s, and the supplier's currency is %s", m.ColumnName(m.Columns[f]), named, m.Currency)
		}
	}
	if named := m.terms.currencies; !own && len(named) > 0 && !slices.Contains(named, m.Currency) {
		return fmt.Sprintf("the list says that its prices are in %s, and the supplier's currency is %s", strings.Join(named, " and "), m.Currency)
	}
	return ""
}

// currencyOver is the currency that a heading names, or nothing. Names of two letters are too many other things.
func currencyOver(heading string) string {
	for _, word := range strings.FieldsFunc(strings.ToLower(heading), func(r rune) bool { return strings.ContainsRune(" ()[]/.,:-_", r) }) {
		if named := currencies[word]; named != "" && !(len(word) == 2 && isASCII(word)) {
			return named
		}
	}
	return ""
}

// ColumnName names a column as a spreadsheet and its heading do: "column C (Trade price)".
func (m Mapping) ColumnName(column int) string {
	name := "column " + letters(column)
	if column >= 1 && column <= len(m.Headings) && m.Headings[column-1] != "" {
		name += " (" + shorten(m.Headings[column-1]) + ")"
	}
	return name
}

// letters is a spreadsheet's name of a column: A, B, ... Z, AA.
func letters(column int) string {
	var b []byte
	for ; column > 0; column = (column - 1) / 26 {
		b = append([]byte{byte('A' + (column-1)%26)}, b...)
	}
	return string(b)
}

// CheckComplete says which field is missing or which column is said to hold two things.
func (m Mapping) CheckComplete() error {
	for _, f := range needed {
		if m.Columns[f] < 1 {
			return fmt.Errorf("no column is given for the %s: say which one holds it", f.words())
		}
	}
	taken := map[int]Field{}
	for _, f := range Fields {
		column, ok := m.Columns[f]
		if !ok {
			continue
		}
		if column < 1 || column > mostColumns {
			return fmt.Errorf("there is no column %d for the %s", column, f.words())
		}
		if other, twice := taken[column]; twice {
			return fmt.Errorf("%s is given for the %s and for the %s: it can hold one of them", m.ColumnName(column), other.words(), f.words())
		}
		taken[column] = f
	}
	for f := range m.Columns {
		if f.words() == "" {
			return fmt.Errorf("there is no field %q: the fields are %s", f, joinFields(Fields))
		}
	}
	return nil
}

func joinFields(fields []Field) string {
	words := make([]string, len(fields))
	for i, f := range fields {
		words[i] = string(f)
	}
	return strings.Join(words, ", ")
}

func (f Field) words() string {
	return map[Field]string{
		Code: "supplier's code", Name: "description", Brand: "brand", MakerCode: "maker's code", GTIN: "bar code", Price: "price",
		RRP: "recommended price", Pack: "pack", Minimum: "minimum", Stock: "stock", Due: "day it is due", Per: "unit of the price",
	}[f]
}

// OtherListError says that a file's headings are not those of the list that the mapping was made for.
type OtherListError struct {
	File    string
	Column  string
	Wanted  string
	Found   string
	Missing bool // the heading is nowhere in the file
}

func (e *OtherListError) Error() string {
	if e.Missing {
		return fmt.Sprintf("%s: there is no heading %q, which this supplier's lists have: is it another supplier's list? If not, map the columns again", e.File, e.Wanted)
	}
	return fmt.Sprintf("%s: %s is headed %q, and in this supplier's lists %q: is it another supplier's list? If not, map the columns again", e.File, e.Column, e.Found, e.Wanted)
}

// Check looks whether a file has the headings that the mapping was made for, and gives the mapping for this file: the same
// columns may have moved, and the headings stand on another line. A mapping without headings fits any file.
func (m Mapping) Check(f *File) (Mapping, error) {
	sheet := m.sheetOf(f)
	main, err := m.checkSheet(f, sheet)
	switch {
	case len(f.Sheets()) == 1:
		return main, err
	case err != nil:
		return main, fmt.Errorf("sheet %s: %w", sheet, err)
	}
	return m.checkOthers(f, main)
}

// checkSheet does so with one sheet.
func (m Mapping) checkSheet(f *File, sheet string) (Mapping, error) {
	m.Others, m.Left, m.Sheet = nil, nil, sheet
	if err := m.CheckComplete(); err != nil {
		return Mapping{}, err
	}
	if m.Header == 0 || len(m.Headings) == 0 {
		return m, nil
	}
	first, err := linesUpTo(f, m.Sheet, sampled)
	if err != nil {
		return Mapping{}, err
	}
	head := first[:headOf(first)]
	best, bestHits := Line{}, -1
	for i := range 2 * len(head) {
		line := head[i/2] // each by itself, and then with the one above it
		if i%2 == 1 && i > 1 {
			line = joined(head[i/2-1], line)
		}
		hits := 0
		for _, column := range m.Columns {
			if find(line.Cells, m.heading(column)) > 0 {
				hits++
			}
		}
		if hits > bestHits {
			best, bestHits = line, hits
		}
	}
	moved := Mapping{Sheet: m.Sheet, Header: best.Number, Headings: best.Cells, Columns: map[Field]int{}, DecimalComma: m.DecimalComma,
		PriceEach: m.PriceEach, RetailEach: m.RetailEach, MonthFirst: m.MonthFirst, TaxIn: m.TaxIn, Currency: m.Currency, Day: m.Day}
	for _, field := range Fields {
		column, ok := m.Columns[field]
		if !ok {
			continue
		}
		wanted := m.heading(column)
		if wanted == "" { // a column without a heading stays where it was
			moved.Columns[field] = column
			continue
		}
		if column <= len(best.Cells) && same(best.Cells[column-1], wanted) {
			moved.Columns[field] = column
			continue
		}
		at := find(best.Cells, wanted)
		if at == 0 {
			e := &OtherListError{File: f.name, Wanted: wanted, Missing: true}
			if column <= len(best.Cells) && best.Cells[column-1] != "" && bestHits > 0 {
				e.Missing, e.Column, e.Found = false, m.plainColumn(column), best.Cells[column-1]
			}
			return Mapping{}, e
		}
		moved.Columns[field] = at
	}
	if len(m.Breaks) > 0 {
		moved.Breaks = breakColumns(best.Cells)
	}
	moved.terms = moved.termsIn(first)
	content := contentOf(slices.DeleteFunc(first, func(l Line) bool { return l.Number <= moved.Header }))
	moved.settleTax(content)
	moved.discount, moved.marksUnsure = moved.discountColumn(content), moved.unsureMarks(content)
	moved.terms.ordered = moved.isOrdered(content)
	return moved, nil
}

// headOf is how many of the lines stand where headings may.
func headOf(lines []Line) int {
	n := 0
	for n < len(lines) && lines[n].Number <= searched {
		n++
	}
	return n
}

func (m Mapping) plainColumn(column int) string { return "column " + letters(column) }

func (m Mapping) heading(column int) string {
	if column < 1 || column > len(m.Headings) {
		return ""
	}
	return m.Headings[column-1]
}

// sheetOf is the mapping's sheet, or the only one of a file that names it otherwise.
func (m Mapping) sheetOf(f *File) string {
	sheets := f.Sheets()
	for _, s := range sheets {
		if s == m.Sheet {
			return s
		}
	}
	if len(sheets) == 1 {
		return sheets[0]
	}
	return m.Sheet
}

func same(a, b string) bool { return normal(a) == normal(b) }

// find is the column of a heading, from 1; 0 if it is not there or there twice.
func find(cells []string, heading string) int {
	at := 0
	for i, c := range cells {
		if heading != "" && same(c, heading) {
			if at > 0 {
				return 0
			}
			at = i + 1
		}
	}
	return at
}

// normal is a heading without case, punctuation and doubled blanks.
func normal(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r > 127)
	}), " ")
}

// searched is how many lines from the top the headings are looked for in.
const searched = 20

// sampled is how many lines are looked at to say which column is what.
const sampled = 200

func linesUpTo(f *File, sheet string, last int) ([]Line, error) {
	var lines []Line
	for line, err := range f.Lines(sheet) {
		if err != nil {
			return nil, err
		}
		if line.Number > last {
			break
		}
		line.Cells = append([]string(nil), line.Cells...)
		lines = append(lines, line)
	}
	return lines, nil
}
