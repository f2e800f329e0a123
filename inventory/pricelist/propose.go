package pricelist

import (
	"fmt"
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

// headings are the words over a column, best first. A heading that is one of them says more than one that contains it.
var headings = map[Field][]string{
	Code: {"code", "item code", "product code", "stock code", "item no", "item number", "item", "sku", "order code", "order no", "article number", "article no",
		"article", "art nr", "art no", "artikelnummer", "artikel nr", "artikel", "catalogue no", "cat no", "cat ref", "reference", "ref", "our code", "our ref",
		"supplier code", "part no", "part number", "part code", "product no", "stock no", "id"},
	Name: {"description", "product description", "item description", "name", "product name", "title", "bezeichnung", "artikelbezeichnung", "beschreibung",
		"details", "desc", "designation", "article name", "product", "text"},
	Brand: {"brand", "make", "maker", "herst", "fabricant", "fabrikant", "merk", "marque", "manufacturer", "marke", "hersteller", "mfr", "brand name", "vendor"},
	MakerCode: {"maker code", "makers code", "maker s code", "manufacturer code", "manufacturers code", "manufacturer s code", "mfr code", "mpn", "mfr part no",
		"manufacturer part number", "maker no", "makers no", "maker s no", "hersteller nr", "herstellernummer", "herst nr", "hst nr", "herst art nr", "hersteller art nr", "herstellerartikelnummer", "hersteller artikelnummer", "mfr no", "mfg no", "mfr part", "mfg part no", "makers part no", "maker part number", "supplier part no", "ref fabricant", "fabrikant code", "vendor code", "factory code", "mfr ref", "maker ref",
		"manufacturer ref", "maker part no", "mfg code", "oem code"},
	GTIN: {"gtin", "ean", "barcode", "bar code", "ean13", "ean 13", "gtin 13", "ean code", "upc", "ean barcode", "ean upc", "gtin ean"},
	Price: {"price", "trade price", "trade", "net price", "net", "nett", "cost", "cost price", "dealer price", "dealer", "wholesale", "wholesale price", "wsp",
		"your price", "unit price", "trade ex vat", "price ex vat", "trade price ex vat", "ek", "ek preis", "einkaufspreis", "händlerpreis", "preis", "price each",
		"nett price", "net cost", "buy price", "pack price", "price per pack", "trade gbp", "price gbp", "price eur", "trade eur", "ek netto"},
	RRP: {"rrp", "srp", "retail", "rrp inc vat", "retail price", "recommended retail price", "recommended price", "msrp", "uvp", "vk", "vk preis", "verkaufspreis",
		"srp inc vat", "rrp inc", "rrp gbp", "retail inc vat", "list price", "rrp eur", "uvp eur", "vk brutto"},
	Pack: {"pack", "pack size", "pack qty", "pack quantity", "qty per pack", "units per pack", "pcs", "pieces", "ve", "vpe", "pk", "uom", "unit", "pack of",
		"sold in", "selling unit", "pu", "pieces per pack", "pack pcs"},
	Minimum: {"minimum", "min order", "moq", "min qty", "minimum order", "min order qty", "minimum qty", "mindestmenge", "min"},
	Stock: {"stock", "availability", "available", "in stock", "stock level", "stock status", "lager", "bestand", "verfügbarkeit", "avail", "qty available",
		"free stock", "status", "stock qty", "on hand", "verfügbar"},
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
	if header != nil {
		p.Header, p.Headings = header.Number, header.Cells
		p.fromHeadings()
	} else {
		p.doubt("no line looks like headings: the columns are told by what stands in them")
	}
	p.Sample = rest[:min(len(rest), 10)]
	content := contentOf(rest)
	p.fromContent(content)
	p.DecimalComma = p.commas(content)
	p.perPiece()
	p.compare(content)
	if err := p.CheckComplete(); err != nil {
		p.doubt(err.Error())
	}
	return p, nil
}

// ProposeFile proposes for the sheet of a file that looks most like a list.
func ProposeFile(f *File) (Proposal, error) {
	var best Proposal
	var firstErr error
	found := false
	for _, sheet := range f.Sheets() {
		p, err := Propose(f, sheet)
		if err != nil {
			if firstErr == nil {
				firstErr = err
			}
			continue
		}
		if !found || len(p.Columns) > len(best.Columns) {
			best, found = p, true
		}
	}
	if !found {
		return Proposal{}, firstErr
	}
	if n := len(f.Sheets()); n > 1 {
		best.doubt(fmt.Sprintf("the workbook has %d sheets; %q looks most like the list", n, best.Sheet))
	}
	return best, nil
}

func sheetName(sheet string) string {
	if sheet == "" {
		return ""
	}
	return "sheet " + sheet
}

func (p *Proposal) doubt(says string) { p.Doubts = append(p.Doubts, says) }

// findHeader is the line among the first that has the most headings in it, at least two; and the lines under it.
func findHeader(lines []Line) (*Line, []Line) {
	best, most := -1, 1
	for i := range lines {
		if lines[i].Number > searched {
			break
		}
		hits := 0
		seen := map[Field]bool{}
		for _, cell := range lines[i].Cells {
			if f, score := headingOf(cell); score >= 2 && !seen[f] {
				seen[f] = true
				hits++
			}
		}
		if hits > most {
			best, most = i, hits
		}
	}
	if best < 0 {
		return nil, lines
	}
	return &lines[best], lines[best+1:]
}

// headingOf is the field that a heading means, with how sure that is: 4 for the very word, 2 for a heading that holds it.
func headingOf(cell string) (Field, int) {
	text := normal(cell)
	if text == "" || len(text) > 40 {
		return "", 0
	}
	best, score := Field(""), 0
	for _, f := range Fields {
		for _, h := range headings[f] {
			s := 0
			switch {
			case text == h:
				s = 100
			case strings.HasPrefix(text, h+" "), strings.HasSuffix(text, " "+h), strings.Contains(text, " "+h+" "):
				s = len(h)
			}
			if s > score {
				best, score = f, s
			}
		}
	}
	switch {
	case score == 100:
		return best, 4
	case score > 0:
		return best, 2
	}
	return "", 0
}

// fromHeadings takes for each field the column whose heading says it most plainly; of two that say it alike, the first.
func (p *Proposal) fromHeadings() {
	scores := map[Field]int{}
	for i, cell := range p.Headings {
		f, score := headingOf(cell)
		switch {
		case score == 0:
		case score > scores[f]:
			p.Columns[f], scores[f] = i+1, score
		case score == scores[f]:
			p.doubt(fmt.Sprintf("%s and %s both look like the %s: the first is taken", p.ColumnName(p.Columns[f]), p.ColumnName(i+1), f.words()))
		}
	}
}

// column is what stands in one column of the sample.
type column struct {
	filled, distinct      int
	gtins, money, figures int
	pointed, comma        int // prices with a decimal point, with a decimal comma
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
	c.letters += len(cell) - digits
	if strings.Contains(cell, " ") {
		c.spaced++
	}
	if digits == 0 || len(cell) > 20 {
		return
	}
	if m, err := parseMoney(cell, false); err == nil && digits*2 >= len(cell) {
		c.figures++
		c.amounts = append(c.amounts, m.Amount)
		mark := strings.LastIndexAny(cell, ".,")
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

// fromContent looks for the fields that no heading gave.
func (p *Proposal) fromContent(columns []column) {
	taken := map[int]bool{}
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
		return share(c.money, c)
	})
	pick(Code, func(c column) float64 {
		if share(c.distinct, c) < 0.95 || share(c.spaced, c) > 0.2 || share(c.money, c) > 0.5 {
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
		*kind.each = eachHeadings.MatchString(normal(p.heading(column)))
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
