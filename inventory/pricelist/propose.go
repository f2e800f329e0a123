package pricelist

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"stead/inventory"
)

// Proposal is a mapping as the file itself suggests it, for a person to confirm.
type Proposal struct {
	Mapping
	Doubts []string // what the person should look at first
	Asks   []Ask    // what no list says, and the person knows
	Sample []Line   // the first lines under the headings
}

// Propose says which column of a sheet is what, from the headings and from what stands under them. The error is the file's.
func Propose(f *File, sheet string) (Proposal, error) {
	lines, err := linesUpTo(f, sheet, sampled)
	if err != nil {
		return Proposal{}, err
	}
	p := Proposal{Mapping: Mapping{Sheet: sheet, Columns: map[Field]int{}}}
	if len(lines) == 0 {
		return p, f.refuse(sheetName(sheet), "there is nothing in it")
	}
	header, rest := findHeader(lines)
	content := contentOf(rest)
	var others map[int]bool
	if header != nil {
		p.Header, p.Headings = header.Number, header.Cells
		p.discount = p.discountColumn(content)
		others = p.fromHeadings(content)
	} else {
		p.doubt("no line looks like headings: the columns are told by what stands in them")
	}
	p.Sample = rest[:min(len(rest), 10)]
	p.fromContent(content, others)
	p.DecimalComma = p.commas(content)
	p.marksUnsure = p.unsureMarks(content)
	p.terms.ordered = p.isOrdered(content)
	if i := p.Columns[Due]; i > 0 && i <= len(content) {
		p.MonthFirst = content[i-1].monthFirst > content[i-1].dayFirst
	}
	p.perPiece()
	p.compare(content)
	p.terms = p.termsIn(lines).with(p.terms)
	p.settleTax(content)
	if _, says := p.OtherPaper(); says != "" {
		p.doubt(says)
	}
	switch err := p.CheckComplete(); {
	case err != nil && p.Header == 0 && p.Columns[Code] == 0:
		p.doubt("it reads like a letter or a printed page and not like a table: no line has headings, and no column has codes; enter its prices by hand, or ask for the list as CSV or XLSX")
	case err != nil:
		p.doubt(err.Error())
	}
	return p, nil
}

// ProposeFile proposes for the sheets of a file that look like a list.
func ProposeFile(f *File) (Proposal, error) {
	var proposals []Proposal
	var left []LeftSheet
	var firstErr error
	for _, sheet := range f.Sheets() {
		if f.isHidden(sheet) {
			left = append(left, LeftSheet{sheet, hiddenSheet})
			continue
		}
		p, err := Propose(f, sheet)
		if err == nil {
			proposals = append(proposals, p)
			continue
		}
		left = append(left, LeftSheet{sheet, "it cannot be read, or there is nothing in it"})
		if firstErr == nil {
			firstErr = err
		}
	}
	switch {
	case len(proposals) == 0 && firstErr == nil:
		return Proposal{}, f.refuse("", "each of its sheets is hidden: open it, show the sheet with the list, and save it again")
	case len(proposals) == 0:
		return Proposal{}, firstErr
	case len(f.Sheets()) == 1:
		return proposals[0], nil
	}
	return joinSheets(proposals, left), nil
}

func sheetName(sheet string) string {
	if sheet == "" {
		return ""
	}
	return "sheet " + sheet
}

func (p *Proposal) doubt(says string) { p.Doubts = append(p.Doubts, says) }

// findHeader is the line among the first that has the most headings in it, at least two; and the lines under it. Headings may
// take two lines, where some stand under one that spans several columns.
func findHeader(lines []Line) (*Line, []Line) {
	var best Line
	at, most := -1, 1
	for i := range lines {
		if lines[i].Number > searched {
			break
		}
		if hits := hitsIn(lines[i].Cells); hits > most {
			best, at, most = lines[i], i, hits
		}
		if i == 0 {
			continue
		}
		if both := joined(lines[i-1], lines[i]); hitsIn(both.Cells) > max(most, hitsIn(lines[i-1].Cells)) {
			best, at, most = both, i, hitsIn(both.Cells)
		}
	}
	if at < 0 {
		return nil, lines
	}
	if at+1 < len(lines) && isSecondLine(best, lines[at+1]) {
		best, at = joined(best, lines[at+1]), at+1
	}
	return &best, lines[at+1:]
}

// isSecondLine reports whether headings go on in the line below: it has words only, over several columns, and together they are
// headings of no fewer things. "Price" over "list" and "net" is of two columns.
func isSecondLine(head, line Line) bool {
	filled := 0
	for i, cell := range line.Cells {
		if cell == "" {
			continue
		}
		if filled++; strings.ContainsAny(cell, "0123456789") || len(cell) > 40 || i < len(head.Cells) && same(cell, head.Cells[i]) {
			return false
		}
	}
	if filled < 2 || line.Number != head.Number+1 {
		return false
	}
	says := slices.ContainsFunc(line.Cells, func(cell string) bool {
		_, score := headingOf(cell)
		return score > 0 || retailWords.MatchString(plain(cell)) || discountOnly[plain(cell)]
	})
	return says && hitsIn(joined(head, line).Cells) >= hitsIn(head.Cells)
}

// discountOnly are second lines that say by themselves nothing, and below "price" or "discount" which.
var discountOnly = wordSet("list net netto riservato")

// hitsIn counts the headings in a line; a line with figures has none.
func hitsIn(cells []string) int {
	hits, fields := 0, 0
	seen := map[Field]bool{}
	for _, cell := range cells {
		from := breakFrom(cell)
		if from == 0 && isFigure(cell) {
			return 0
		}
		f, score := headingOf(cell)
		switch {
		case from > 1:
			hits++
		case score >= 2 && !seen[f]:
			seen[f] = true
			hits++
			if slices.Contains(Fields, f) {
				fields++
			}
		}
	}
	if fields == 0 {
		return 0
	}
	return hits
}

// isFigure reports whether a cell is a figure, perhaps with a sign of currency or a unit.
func isFigure(cell string) bool {
	digits := 0
	for _, r := range cell {
		if r >= '0' && r <= '9' {
			digits++
		}
	}
	if digits == 0 || digits*2 < len(cell) {
		return false
	}
	_, err := parseMoney(cell, false)
	return err == nil
}

// joined are two lines of headings as one, under the number of the lower.
func joined(upper, lower Line) Line {
	both := Line{Number: lower.Number, Cells: make([]string, max(len(upper.Cells), len(lower.Cells)))}
	for i := range both.Cells {
		var words []string
		for _, l := range []Line{upper, lower} {
			if i < len(l.Cells) && l.Cells[i] != "" {
				words = append(words, l.Cells[i])
			}
		}
		both.Cells[i] = strings.Join(words, " ")
	}
	return both
}

// fromHeadings takes for each field the column whose heading says it most plainly; of two that say it alike, the first. It
// returns the columns whose headings say that they are none of the fields.
func (p *Proposal) fromHeadings(content []column) (others map[int]bool) {
	scores := map[Field]int{}
	others = map[int]bool{}
	var either, units []int
	p.Breaks = breakColumns(p.Headings)
	for _, b := range p.Breaks {
		others[b.Column] = true
	}
	for i, cell := range p.Headings {
		if slices.Contains(eitherWay, plain(cell)) {
			either = append(either, i+1)
			continue
		}
		if slices.Contains(bareUnits, plain(cell)) {
			units = append(units, i+1)
			continue
		}
		f, score := headingOf(cell)
		if f == Per && (i >= len(content) || !content[i].saysUnits()) {
			continue
		}
		switch {
		case breakFrom(cell) == 1:
			f, score = Price, 4
		case f == Price && retailWords.MatchString(plain(cell)):
			f = RRP // "price, recommended"
		case f == position && i < len(content) && content[i].figures*2 < content[i].filled:
			continue // a line of what is sold
		}
		if f == Price {
			score = p.asTradePrice(i+1, score)
		}
		switch {
		case score == 0 || others[i+1]:
		case !slices.Contains(Fields, f):
			others[i+1] = true
		case score > scores[f]:
			p.Columns[f], scores[f] = i+1, score
		case score == scores[f]:
			p.doubt(fmt.Sprintf("%s and %s both look like the %s: the first is taken", p.ColumnName(p.Columns[f]), p.ColumnName(i+1), f.words()))
		}
	}
	for _, column := range units {
		switch {
		case p.Columns[Pack] == 0:
			p.Columns[Pack] = column
		case p.Columns[Per] == 0 && column <= len(content) && content[column-1].saysUnits():
			p.Columns[Per] = column
		}
	}
	for _, column := range either {
		switch {
		case p.Columns[Code] == 0:
			p.Columns[Code] = column
		case p.Columns[Name] == 0:
			p.Columns[Name] = column
		}
	}
	return others
}

// asTradePrice is how well a column of prices serves as that before tax, with what is taken off: of "Preis, Rabatt, netto" the
// last does best, and one that says that tax is in it only where there is no other.
func (p *Proposal) asTradePrice(column, score int) int {
	within, _ := taxSaid(plain(p.Headings[column-1]))
	switch {
	case within:
		return 1
	case p.discount > 0 && column > p.discount:
		return score + 3
	}
	return score
}

// discountColumn is the column with what is taken off a price, in per cent, or 0.
func (m Mapping) discountColumn(columns []column) int {
	for i, heading := range m.Headings {
		if f, _ := headingOf(heading); f != discount || i >= len(columns) {
			continue
		}
		c := columns[i]
		for _, d := range c.amounts {
			if d.IsPositive() && d.LessThan(hundred) {
				return i + 1
			}
		}
	}
	return 0
}

// column is what stands in one column of the sample.
type column struct {
	filled, distinct      int
	gtins, money, figures int
	pointed, comma        int // prices with a decimal point, with a decimal comma
	stocks                int // what may be said of a stock
	dayFirst, monthFirst  int // days whose first figure is no month, or whose second is none
	next                  int // figures that follow the one above, as the numbers of lines do
	units                 int // how much is sold together, or a price is of
	letters               int // letters and blanks in all
	spaced                int
	amounts               []decimal.Decimal
}

func contentOf(lines []Line) []column {
	width := 0
	for _, l := range lines {
		width = max(width, len(l.Cells))
	}
	columns := make([]column, width)
	seen := make([]map[string]bool, width)
	for _, l := range lines {
		if len(l.Cells) < 2 {
			continue
		}
		for i, cell := range l.Cells {
			if cell == "" {
				continue
			}
			c := &columns[i]
			c.filled++
			if seen[i] == nil {
				seen[i] = map[string]bool{}
			}
			if !seen[i][cell] {
				seen[i][cell] = true
				c.distinct++
			}
			c.look(cell)
		}
	}
	return columns
}

func (c *column) look(cell string) {
	digits := 0
	for _, r := range cell {
		if r >= '0' && r <= '9' {
			digits++
		}
	}
	if digits == len(cell) && inventory.CheckGTIN13(cell) == nil {
		c.gtins++
	}
	if _, ok := stockSignal(cell); ok {
		c.stocks++
	}
	if _, ok := quantityIn(cell, false); ok {
		c.units++
	}
	if f := plainDay.FindStringSubmatch(plain(cell)); f != nil {
		c.dayFirst += min(1, max(0, number(f[1])-12))
		c.monthFirst += min(1, max(0, number(f[2])-12))
	}
	c.letters += len(cell) - digits
	if strings.Contains(cell, " ") {
		c.spaced++
	}
	if digits == 0 || len(cell) > 20 {
		return
	}
	if m, err := parseMoney(cell, false); err == nil && digits*2 >= len(cell) {
		c.figures++
		if n := len(c.amounts); n > 0 && digits == len(cell) && m.Amount.Equal(c.amounts[n-1].Add(decimal.NewFromInt(1))) {
			c.next++
		}
		c.amounts = append(c.amounts, m.Amount)
		mark := strings.LastIndexAny(cell, ".,")
		if strings.HasPrefix(cell, "0,") || strings.HasPrefix(cell, "0.") {
			if c.money++; cell[1] == ',' { // "0,855": no thousands begin with nought
				c.comma++
			} else {
				c.pointed++
			}
			return
		}
		after := 0
		if mark >= 0 {
			for _, r := range cell[mark+1:] {
				if r >= '0' && r <= '9' {
					after++
				}
			}
		}
		if mark >= 0 && (after == 2 || after == 1) {
			c.money++
			if cell[mark] == ',' {
				c.comma++
			} else {
				c.pointed++
			}
		}
	}
}

// saysUnits reports whether nearly all cells say how much of something there is.
func (c column) saysUnits() bool { return c.units > 0 && c.units*10 >= c.filled*8 }

// fromContent looks for the fields that no heading gave.
func (p *Proposal) fromContent(columns []column, others map[int]bool) {
	taken := maps.Clone(others)
	if taken == nil {
		taken = map[int]bool{}
	}
	for _, c := range p.Columns {
		taken[c] = true
	}
	pick := func(f Field, better func(c column) float64) {
		if p.Columns[f] > 0 {
			return
		}
		best, most := 0, 0.0
		for i, c := range columns {
			if taken[i+1] || c.filled == 0 {
				continue
			}
			if score := better(c); score > most {
				best, most = i+1, score
			}
		}
		if best > 0 {
			p.Columns[f], taken[best] = best, true
			p.doubt(fmt.Sprintf("%s has no heading that says so, but looks like the %s", p.ColumnName(best), f.words()))
		}
	}
	share := func(n int, c column) float64 { return float64(n) / float64(c.filled) }
	pick(GTIN, func(c column) float64 {
		if share(c.gtins, c) < 0.8 {
			return 0
		}
		return share(c.gtins, c)
	})
	pick(Name, func(c column) float64 {
		if share(c.spaced, c) < 0.5 {
			return 0
		}
		return float64(c.letters) / float64(c.filled)
	})
	pick(Price, func(c column) float64 {
		if share(c.money, c) < 0.7 {
			return 0
		}
		return float64(c.money) // a price for many is not given of every part
	})
	pick(Stock, func(c column) float64 {
		if share(c.stocks, c) < 0.9 || share(c.stocks-c.figures, c) < 0.1 {
			return 0
		}
		return share(c.stocks, c)
	})
	pick(Code, func(c column) float64 {
		if share(c.distinct, c) < 0.95 || share(c.next+1, c) > 0.8 || share(c.spaced, c) > 0.2 || share(c.money, c) > 0.5 {
			return 0
		}
		return share(c.distinct, c)
	})
}

// commas reports whether the prices have decimal commas.
func (p *Proposal) commas(columns []column) bool {
	comma, pointed := 0, 0
	for _, f := range []Field{Price, RRP} {
		if i := p.Columns[f]; i >= 1 && i <= len(columns) {
			comma, pointed = comma+columns[i-1].comma, pointed+columns[i-1].pointed
		}
	}
	if comma > 0 && pointed > 0 {
		p.doubt("some prices have a decimal comma and some a decimal point")
	}
	return comma > pointed
}

// unsureMarks reports whether of "1,250" in this list it cannot be told what it is: the prices have both marks, or only such figures.
func (m Mapping) unsureMarks(columns []column) bool {
	comma, pointed := 0, 0
	for _, f := range []Field{Price, RRP} {
		if i := m.Columns[f]; i >= 1 && i <= len(columns) {
			comma, pointed = comma+columns[i-1].comma, pointed+columns[i-1].pointed
		}
	}
	return comma > 0 && pointed > 0
}

// isOrdered reports whether lines have a quantity and what it comes to, as those of an order, an invoice or a quote do. Columns that
// are there to be filled in are empty.
func (m Mapping) isOrdered(columns []column) bool {
	filled := func(kind Field) bool {
		for i, heading := range m.Headings {
			if f, _ := headingOf(heading); f == kind && i < len(columns) && columns[i].figures > 0 && columns[i].figures*10 >= columns[max(m.Columns[Price], 1)-1].filled*8 && !m.holds(i+1) {
				return true
			}
		}
		return false
	}
	return m.Columns[Price] <= len(columns) && filled(ordered) && filled(amount)
}

// Ask is what a person is asked of a list: whether a price is of one piece or of all that is sold together.
type Ask struct {
	Field Field // of which price
	Each  bool  // it is taken as of one piece
	Words string
}

// MarshalText is the question.
func (a Ask) MarshalText() ([]byte, error) { return []byte(a.Words), nil }

// eachHeadings are the words of a heading over prices of one piece.
var eachHeadings = regexp.MustCompile(`\b(each|ea|per piece|per pc|per pce|a piece|apiece|per item|per stk|stück|stückpreis|je stk|stk|p st|per stuk|pièce)(\b|$)`)

// unitPrices are the headings over prices of one of what is counted: of a piece, but of a pair where the pack is of pairs.
var unitPrices = regexp.MustCompile(`\b(unit price|price per unit|prix unitaire|prix unit|p u|pu|einzelpreis|e preis|prezzo unitario|precio unitario|stuksprijs|eenheidsprijs)\b`)

// ofUnit reports whether the price is headed as of one of what is counted or named.
func (m Mapping) ofUnit() bool {
	heading := m.heading(m.Columns[Price])
	return unitPrices.MatchString(plain(heading)) || eachHeadings.MatchString(normal(heading))
}

// perPiece looks whether prices are of one piece, or of what is sold together; a heading that does not say so is asked
// about.
func (p *Proposal) perPiece() {
	for _, kind := range []struct {
		field Field
		each  *bool
	}{{Price, &p.PriceEach}, {RRP, &p.RetailEach}} {
		column := p.Columns[kind.field]
		if column < 1 {
			continue
		}
		*kind.each = eachHeadings.MatchString(normal(p.heading(column))) || kind.field == Price && p.ofUnit()
		if p.Columns[Per] > 0 {
			*kind.each = false
			continue // each line says it
		}
		switch {
		case *kind.each:
			p.Asks = append(p.Asks, Ask{kind.field, true, fmt.Sprintf("the %s in %s is taken as of one piece, as its heading says: if it is of all that is sold together, say so", kind.field.words(), p.ColumnName(column))})
		case kind.field == RRP && !strings.Contains(normal(p.heading(column)), "pack"):
			p.Asks = append(p.Asks, Ask{kind.field, false, fmt.Sprintf("the %s in %s is taken as of all that is sold together, such as a pair or a bag: if it is of one piece, say so", kind.field.words(), p.ColumnName(column))})
		}
	}
}

// compare looks at the prices against the recommended prices: a trade price is the lower of the two.
func (p *Proposal) compare(columns []column) {
	at := func(f Field) (decimal.Decimal, bool) {
		i := p.Columns[f]
		if i < 1 || i > len(columns) || len(columns[i-1].amounts) == 0 {
			return decimal.Decimal{}, false
		}
		return median(columns[i-1].amounts), true
	}
	price, okPrice := at(Price)
	rrp, okRRP := at(RRP)
	if okPrice && okRRP && price.GreaterThan(rrp) {
		p.doubt(fmt.Sprintf("the prices in %s are mostly above the recommended prices in %s: are the two columns the other way round?",
			p.ColumnName(p.Columns[Price]), p.ColumnName(p.Columns[RRP])))
	}
}

func median(amounts []decimal.Decimal) decimal.Decimal {
	sorted := slices.SortedFunc(slices.Values(amounts), decimal.Decimal.Cmp)
	return sorted[len(sorted)/2]
}
