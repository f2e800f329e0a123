package pricelist

import (
	"fmt"
	"iter"
	"regexp"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
)

// Row is one article of a list. What a cell does not say, or says in a way that cannot be meant, is absent.
type Row struct {
	Sheet     string // of a list with several; else empty
	Line      int
	Code      string
	Name      string
	Brand     string
	MakerCode string
	GTIN      string              // 13 digits with the right check digit
	Price     decimal.NullDecimal // before tax
	Gross     decimal.NullDecimal // as the list has it, where tax is in it
	PriceEach bool                // the price is of one piece, and not of what is sold together
	EachNamed bool                // and that piece is what the line names, be it a pair: the heading says "each"
	Per       int                 // pieces that both prices are of, where the list has a column or a word for that; else 0
	Breaks    []inventory.Break   // prices from a number of packs on, or of pieces as PriceEach says; nil when the list has none at all
	RRP       decimal.NullDecimal
	RRPEach   bool             // and so is the recommended price
	RRPOf     int              // pieces that it is of, where its cell says that; else 0
	Pack      int              // pieces; 0 when the list does not say
	Lot       string           // "box", where it is sold by that and the list's columns do not say how many are in one
	ByMetre   bool             // pieces are metres
	Minimum   int              // packs; 0 when the list does not say
	Stock     inventory.Signal // Unknown when the list does not say
	Gone      bool             // the list names it as no longer to be had
	Due       *calendar.Day    // when it is there again; absent when it is there, or the list does not say
	Problems  []Problem
}

// Good reports whether the row can be loaded: it has a code, a name and a price.
func (r Row) Good() bool {
	for _, p := range r.Problems {
		if p.Grave {
			return false
		}
	}
	return true
}

// Problem is what is wrong with one cell or one row.
type Problem struct {
	Sheet  string `json:"sheet,omitempty"` // of a list with several
	Line   int    `json:"line"`
	Column string `json:"column,omitempty"` // absent when it is the whole row
	Grave  bool   `json:"grave"`            // the row cannot be loaded; otherwise only this cell is left out
	Says   string `json:"says"`
}

func (p Problem) String() string {
	where := fmt.Sprintf("line %d", p.Line)
	if p.Sheet != "" {
		where = fmt.Sprintf("sheet %s, %s", p.Sheet, where)
	}
	if p.Column != "" {
		where += ", " + p.Column
	}
	return where + ": " + p.Says
}

// Rows are the articles of a list: every line under the headings that is none of a heading said again, a title between
// sections or a remark. The mapping is complete ([Mapping.CheckComplete]); the error is the file's.
func Rows(f *File, m Mapping) iter.Seq2[Row, error] { return NewList(f, m).Rows() }

// List is a file that is read by its columns, one sheet after the other. It listens to what stands beside the tables while it
// reads.
type List struct {
	file   *File
	sheets []Mapping
	heard  []terms // below the headings of each
}

// NewList is a list to be read once, from its first row to its last.
func NewList(f *File, m Mapping) *List {
	sheets := m.Sheets()
	return &List{file: f, sheets: sheets, heard: make([]terms, len(sheets))}
}

// Rows are as the function of that name has them.
func (l *List) Rows() iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		for i := range l.sheets {
			for row, err := range l.rowsOf(i) {
				if !yield(row, err) || err != nil {
					return
				}
			}
		}
	}
}

// rowsOf are the rows of one sheet, which each names where there are several.
func (l *List) rowsOf(i int) iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		m := l.sheets[i]
		if err := m.CheckComplete(); err != nil {
			yield(Row{}, err)
			return
		}
		m.legend, m.money, m.gross = map[string]standing{}, m.currencyColumn(), m.grossColumn()
		m.starts, m.ends = m.headed(startWords), m.headed(endWords)
		for line, err := range l.file.Lines(m.Sheet) {
			if err != nil {
				yield(Row{}, err)
				return
			}
			if line.Number <= m.Header {
				legendIn(line, m.legend)
				continue
			}
			if m.isBeside(line) {
				l.heard[i].hear(line)
			}
			if m.isRemark(line) {
				continue
			}
			row := m.Read(line)
			if len(l.sheets) > 1 {
				row.onSheet(m.Sheet)
			}
			if !yield(row, nil) {
				return
			}
		}
	}
}

// onSheet says on which sheet a row stands.
func (r *Row) onSheet(sheet string) {
	r.Sheet = sheet
	for i := range r.Problems {
		r.Problems[i].Sheet = sheet
	}
}

// About is about how many lines the list has; 0 where that is not known.
func (l *List) About() int {
	n := 0
	for _, m := range l.sheets {
		n += l.file.About(m.Sheet)
	}
	return n
}

// OtherPaper says, once all rows are read, why their prices are not those of a trade list; both are empty for one that is. What
// stands at the foot of a long list nobody has heard before.
func (l *List) OtherPaper() (Paper, string) {
	for i, m := range l.sheets {
		m.terms = m.terms.with(l.heard[i])
		paper, says := m.OtherPaper()
		if says != "" && len(l.sheets) > 1 {
			says = fmt.Sprintf("sheet %s: %s", m.Sheet, says)
		}
		if says != "" {
			return paper, says
		}
	}
	return "", ""
}

// BeforeTax reports, once all rows are read, whether each sheet says that no tax is in its prices.
func (l *List) BeforeTax() bool {
	for i, m := range l.sheets {
		m.terms = m.terms.with(l.heard[i])
		if within, without := m.taxInPrices(); within || !without {
			return false
		}
	}
	return true
}

// isRemark reports whether a line is no article: the headings again, a section's title, a remark at the end.
func (m Mapping) isRemark(l Line) bool {
	filled := 0
	for _, c := range l.Cells {
		if c != "" {
			filled++
		}
	}
	if filled <= 1 && !l.Cut {
		return true
	}
	again := 0
	for f, column := range m.Columns {
		cell := m.cell(l, f)
		if cell != "" && same(cell, m.heading(column)) {
			again++
		}
	}
	if again >= 2 {
		return true
	}
	if (m.cell(l, Code) == "" || m.cell(l, Name) == "") && isSum(l) {
		return true
	}
	return m.cell(l, Code) == "" && m.cell(l, Price) == "" && filled <= 2 && !l.Cut
}

// sums are how lines begin that sum up, or say where the list goes on or ends.
var sums = regexp.MustCompile(`(?i)^(grand |sub[- ]?)?totals?\b|^(gesamt|summe|zwischensumme|übertrag|(sub)?totaal|totale|subtotale|(sous-)?total|somme|btw|mwst|ust|tva|iva|vat|carried forward|brought forward|page|seite|end of (list|file|report)|\*+ ?end)\b`)

func isSum(l Line) bool {
	for _, c := range l.Cells {
		if c != "" {
			return sums.MatchString(c)
		}
	}
	return false
}

func (m Mapping) cell(l Line, f Field) string {
	column := m.Columns[f]
	if column < 1 || column > len(l.Cells) {
		return ""
	}
	return l.Cells[column-1]
}

// Read makes a row of a line.
func (m Mapping) Read(l Line) Row {
	r := Row{Line: l.Number, Stock: inventory.Unknown}
	read := rowReader{m: m, line: l, row: &r}
	read.shape()
	r.Code = read.text(Code, 80, true)
	r.Name = read.text(Name, 2000, true)
	r.Brand = read.code(Brand)
	r.MakerCode = read.code(MakerCode)
	r.GTIN = read.gtin()
	read.soldAs()
	r.Price, read.priceOf = read.price()
	r.Breaks = read.breaks()
	r.RRP, r.RRPOf = read.money(RRP, false)
	read.priced()
	r.Minimum = read.count(Minimum)
	r.Stock, r.Gone = read.stock()
	r.Gone = r.Gone || standingOf(m.cell(l, Due), nil) == ended
	r.Due = read.due()
	read.againstRetail()
	read.againstGross()
	read.dated()
	return r
}

// Of is how many pieces the price is of, where pack are sold together.
func (r Row) Of(pack int) int {
	switch {
	case r.PriceEach:
		return 1
	case r.Per > 0:
		return r.Per
	}
	return pack
}

// RRPIn is how many pieces the recommended price is of, where pack are sold together.
func (r Row) RRPIn(pack int) int {
	switch {
	case r.RRPEach:
		return 1
	case r.RRPOf > 0:
		return r.RRPOf
	case r.Per > 0:
		return r.Per
	}
	return pack
}

// priced settles what the prices are of: what the cell says goes before the line's unit, and that before the whole list's word.
func (r *rowReader) priced() {
	row := r.row
	row.PriceEach = r.priceOf == 1 || r.priceOf == 0 && row.Per == 0 && r.m.PriceEach
	if r.priceOf > 1 {
		row.Per = r.priceOf
	}
	row.RRPEach = row.RRPOf == 1 || row.RRPOf == 0 && r.m.RetailEach
	row.EachNamed = row.PriceEach && r.m.ofUnit()
}

// againstRetail looks at the price beside the recommended one. What is sold together for more than twice a recommended price,
// and a piece of it for less, has that recommended price by the piece: nobody recommends to sell below cost.
func (r *rowReader) againstRetail() {
	row := r.row
	if !row.Price.Valid || !row.RRP.Valid {
		return
	}
	price, retail := row.Price.Decimal, row.RRP.Decimal
	if price.LessThanOrEqual(retail) && row.PriceEach == row.RRPEach && row.RRPOf == 0 {
		return // as nearly all are
	}
	of, ofRetail := decimal.NewFromInt(int64(row.Of(max(row.Pack, 1)))), decimal.NewFromInt(int64(row.RRPIn(max(row.Pack, 1))))
	far := func() bool { return price.Mul(ofRetail).GreaterThan(retail.Mul(of).Mul(two)) }
	if far() && ofRetail.GreaterThan(one) && price.LessThanOrEqual(retail.Mul(of)) {
		row.RRPEach, ofRetail = true, one
	}
	if far() {
		r.problem(Price, true, fmt.Sprintf("the price %s is more than twice the recommended price %s: is one of them in the wrong column, or the recommended one of a single piece?", price, retail))
	}
}

// againstGross looks at the price beside the same with tax in it, where the list has both.
func (r *rowReader) againstGross() {
	if r.m.gross == 0 || r.m.gross > len(r.line.Cells) || !r.row.Price.Valid {
		return
	}
	gross, err := parseMoney(r.line.Cells[r.m.gross-1], r.m.DecimalComma)
	if err == nil && gross.Amount.IsPositive() && gross.Amount.LessThanOrEqual(r.row.Price.Decimal) {
		r.problem(Price, true, fmt.Sprintf("the price %s before tax is not below %s with it, in %s: ask which is right", r.row.Price.Decimal, gross.Amount, r.m.ColumnName(r.m.gross)))
	}
}

// dated holds a price of other days than the list's.
func (r *rowReader) dated() {
	day := func(column int) (calendar.Day, bool) {
		if column == 0 || column > len(r.line.Cells) || r.m.Day == 0 {
			return 0, false
		}
		return dayOf(r.line.Cells[column-1], r.m.MonthFirst, r.m.Day)
	}
	if from, ok := day(r.m.starts); ok && from > r.m.Day {
		r.problem(Price, true, fmt.Sprintf("it is the price from %s on, and not of today", from))
	}
	if until, ok := day(r.m.ends); ok && until < r.m.Day {
		r.problem(Price, true, fmt.Sprintf("it was the price until %s", until))
	}
}

var two = decimal.NewFromInt(2)

// rowReader reads one line's cells and notes what is wrong.
type rowReader struct {
	m    Mapping
	line Line
	row  *Row

	priceOf int // pieces that the price's cell says that it is of; else 0
}

func (r *rowReader) problem(f Field, grave bool, says string) {
	p := Problem{Line: r.line.Number, Grave: grave, Says: says}
	if f != "" {
		p.Column = r.m.ColumnName(r.m.Columns[f])
	}
	r.row.Problems = append(r.row.Problems, p)
}

// shape notes a row that is cut off, longer than the headings, or in another encoding.
func (r *rowReader) shape() {
	if r.line.Cut {
		r.problem("", true, "the file ends in the middle of this row: it was not fetched whole, fetch it again")
	}
	if r.line.Loose {
		r.problem("", true, "its cells stand apart by blanks, and which is of which column cannot be told")
		return
	}
	if n := len(r.m.Headings); n > 0 && len(r.line.Cells) > n {
		r.problem("", true, fmt.Sprintf("it has %d cells under %d headings: a separator too many, perhaps in a description that should stand in quotation marks", len(r.line.Cells), n))
	}
	if r.line.Mixed > 0 {
		r.row.Problems = append(r.row.Problems, Problem{Line: r.line.Number, Column: r.m.ColumnName(r.line.Mixed),
			Says: "it is in another encoding than the lines before, so letters with accents may be wrong"})
	}
}

func (r *rowReader) text(f Field, most int, need bool) string {
	cell := strings.Join(strings.Fields(r.m.cell(r.line, f)), " ")
	switch {
	case cell == "" && need && r.m.Columns[f] > len(r.line.Cells) && !r.line.Cut:
		r.problem(f, true, fmt.Sprintf("the row has only %d cells, so the %s is missing", len(r.line.Cells), f.words()))
	case cell == "" && need:
		r.problem(f, true, "the "+f.words()+" is missing")
	case len(cell) > most:
		r.problem(f, need, fmt.Sprintf("the %s is longer than %d letters", f.words(), most))
		return ""
	case f == Code && isBlank(cell):
		r.problem(f, true, fmt.Sprintf("%q is no code", cell))
		return ""
	case f == Code && isMadeDate(cell):
		r.problem(f, true, fmt.Sprintf("%s is a date that a spreadsheet has made of a code: set the column to text and export the list again", cell))
		return ""
	case f == Code && isExponent(cell):
		r.problem(f, true, fmt.Sprintf("%s is a number that a spreadsheet has shortened: set the column to text and export the list again", cell))
		return ""
	}
	return cell
}

// code is a brand or a maker's code; what says that there is none, or was one before a spreadsheet changed it, is none.
func (r *rowReader) code(f Field) string {
	cell := r.text(f, 80, false)
	switch {
	case cell == "" || !isCode(cell):
		return ""
	case isExponent(cell), isMadeDate(cell):
		r.problem(f, false, fmt.Sprintf("%s is a %s that a spreadsheet has changed: set the column to text and export the list again", cell, f.words()))
		return ""
	}
	return cell
}

func (r *rowReader) gtin() string {
	cell := r.m.cell(r.line, GTIN)
	code, says := readGTIN(cell)
	if says != "" {
		r.problem(GTIN, false, says)
	}
	return code
}

// gtinMarks are what stands among the digits of a bar code.
var gtinMarks = strings.NewReplacer(" ", "", "-", "", "\u00a0", "", "'", "")

// readGTIN reads a bar code's number: 13 digits, or 8 or 12 with noughts before them, perhaps with blanks or dashes
// among them. The second result says what is wrong with it; an empty cell and a line of noughts are no code and nothing
// wrong.
func readGTIN(cell string) (code, says string) {
	digits := gtinMarks.Replace(strings.TrimSuffix(cell, ".0"))
	switch {
	case strings.Trim(digits, "0") == "", !isCode(cell):
		return "", ""
	case isExponent(cell):
		return "", fmt.Sprintf("%s is a bar code that a spreadsheet has shortened, and its last digits are lost: set the column to text and export the list again", cell)
	case len(digits) == 12:
		digits = "0" + digits
	case len(digits) == 14 && digits[0] == '0':
		digits = digits[1:]
	case len(digits) == 8:
		digits = "00000" + digits
	}
	if err := inventory.CheckGTIN13(digits); err != nil {
		return "", err.Error()
	}
	return digits, ""
}

// isExponent reports whether a cell is a number in the short form of spreadsheets: 5.0123E+12.
func isExponent(cell string) bool {
	e := strings.IndexAny(cell, "eE")
	if e < 1 || e+1 >= len(cell) {
		return false
	}
	exponent := strings.TrimPrefix(cell[e+1:], "+")
	if n, err := strconv.Atoi(exponent); err != nil || n < 4 || n > 30 {
		return false
	}
	mantissa := strings.ReplaceAll(cell[:e], ",", ".")
	_, err := strconv.ParseFloat(mantissa, 64)
	return err == nil && strings.Contains(mantissa, ".") || err == nil && strings.HasPrefix(cell[e+1:], "+")
}

var mostPrice = decimal.NewFromInt(100_000)

// money reads a price; of is how many pieces it is of by the cell's own words, 0 where they do not say it.
func (r *rowReader) money(f Field, need bool) (amount decimal.NullDecimal, of int) {
	cell := r.m.cell(r.line, f)
	if cell == "" {
		if need {
			r.problem(f, true, "the "+f.words()+" is missing")
		}
		return amount, 0
	}
	d, of, says := r.m.amountIn(cell, f.words())
	if says != "" {
		r.problem(f, need, says)
		return amount, 0
	}
	return decimal.NewNullDecimal(d), of
}

// price reads the price before tax, and keeps what the list has where tax is in it.
func (r *rowReader) price() (amount decimal.NullDecimal, of int) {
	rate, says := r.m.taxOf(r.line)
	amount, of = r.money(Price, true)
	if named := r.m.currencyOf(r.line); named != "" && amount.Valid {
		r.problem(Price, true, fmt.Sprintf("the price is in %s, by %s, and the supplier's currency is %s", named, r.m.ColumnName(r.m.money), r.m.Currency))
		return decimal.NullDecimal{}, of
	}
	switch {
	case says != "" && amount.Valid:
		r.problem(Price, true, says)
		return decimal.NullDecimal{}, of
	case amount.Valid && rate.IsPositive():
		r.row.Gross = amount
		amount.Decimal = beforeTax(amount.Decimal, rate)
	}
	return amount, of
}

// eitherThousands is a figure whose one mark may be of thousands or of decimals.
var eitherThousands = regexp.MustCompile(`^\D*[1-9]\d{0,2}[.,]\d{3}\D*$`)

// amountIn reads what can be a price, to hundredths of a penny; says is what is wrong with it.
func (m Mapping) amountIn(cell, words string) (d decimal.Decimal, of int, says string) {
	said, err := parseMoney(cell, m.DecimalComma)
	d = said.Amount
	switch {
	case err != nil:
		return d, 0, err.Error()
	case m.isOther(said):
		return d, 0, fmt.Sprintf("the %s %q is not in %s, the supplier's currency", words, shorten(cell), m.Currency)
	case m.marksUnsure && eitherThousands.MatchString(strings.TrimSpace(cell)):
		return d, 0, fmt.Sprintf("%q may be thousands or decimals, for this list writes both: ask which", shorten(cell))
	case d.IsNegative():
		return d, 0, fmt.Sprintf("the %s %s is below nothing", words, d)
	case d.IsZero():
		return d, 0, "the " + words + " is nought"
	case d.GreaterThan(mostPrice):
		return d, 0, fmt.Sprintf("the %s %s cannot be meant: perhaps a bar code or a quantity stands in this column", words, d)
	}
	if d = inventory.Rounded(d, decimal.NewFromInt(1), 4); d.IsZero() {
		return d, 0, "the " + words + " is less than a hundredth of a penny"
	}
	return d, said.of(), ""
}

// breaks reads the prices for many. An empty cell, a dash or a word says that there is none of this part, and so does
// the price of fewer said again; a higher one cannot be meant.
func (r *rowReader) breaks() []inventory.Break {
	columns := r.m.BreaksIn()
	if len(columns) == 0 {
		return nil
	}
	out := []inventory.Break{}
	last := r.row.Price.Decimal
	rate, _ := r.m.taxOf(r.line) // of a price without its rate there are no breaks
	for _, b := range columns {
		if b.Column > len(r.line.Cells) || !r.row.Price.Valid || !strings.ContainsAny(r.line.Cells[b.Column-1], "0123456789") {
			continue
		}
		words := fmt.Sprintf("price from %d on", b.From)
		d, of, says := r.m.amountIn(r.line.Cells[b.Column-1], words)
		d = beforeTax(d, rate)
		switch {
		case says == "" && of != r.priceOf:
			says = fmt.Sprintf("the %s is not of as many pieces as the price of fewer", words)
		case says == "" && d.GreaterThan(last):
			says = fmt.Sprintf("the %s, %s, is above the %s of fewer", words, d, last)
		}
		if says != "" {
			r.row.Problems = append(r.row.Problems, Problem{Line: r.line.Number, Column: r.m.ColumnName(b.Column), Says: says})
			continue
		}
		if d.LessThan(last) {
			out = append(out, inventory.Break{FromPacks: b.From, Price: d})
			last = d
		}
	}
	return out
}

func (r *rowReader) count(f Field) int {
	q, _ := r.quantity(f, false)
	return q.pieces()
}

// quantity reads how much a cell says; said is false where it says nothing that can be read.
func (r *rowReader) quantity(f Field, grave bool) (q quantity, said bool) {
	cell := r.m.cell(r.line, f)
	if strings.Trim(cell, "-–—?0., ") == "" || isBlank(cell) {
		return quantity{}, false
	}
	if q, said = quantityIn(cell, r.m.DecimalComma); !said {
		r.problem(f, grave, fmt.Sprintf("%q is no number of pieces", shorten(cell)))
		return quantity{}, false
	}
	return q, true
}

// soldAs reads how much is sold together and how much the prices are of. A price of which that cannot be told is none.
func (r *rowReader) soldAs() {
	pack, packed := r.quantity(Pack, true)
	per, priced := quantity{}, false
	if r.m.Columns[Per] > 0 {
		if per, priced = r.quantity(Per, true); !priced && r.m.cell(r.line, Per) == "" {
			r.problem(Per, true, "what the price is of is missing: a piece, a pair or a hundred")
		}
	}
	row := r.row
	switch {
	case per.measure == litres, per.measure == kilograms:
		r.problem(Per, true, fmt.Sprintf("the price is of a %s, and how much is in what is sold is not read: enter its offer by hand", per.measure))
	case priced && per.lot == "":
		row.Per = per.pieces()
		if packed && per.unit && !pack.unit && pack.count != row.Per { // "25" under "pair": so many pairs
			pack.size = row.Per
		}
	case priced && !packed:
		row.Lot = per.lot
	}
	row.Pack, row.ByMetre = pack.pieces(), per.measure == metres || pack.measure == metres
	if pack.lot != "" {
		row.Pack, row.Lot = 0, pack.lot
	}
	if packed && row.Per == 0 && pack.size > 1 && unitPrices.MatchString(plain(r.m.heading(r.m.Columns[Price]))) { // "10 pairs" at a price a unit: a pair
		row.Per = pack.size
	}
}
