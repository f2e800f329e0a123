package pricelist

import (
	"fmt"
	"math"
	"regexp"
	"strings"
)

// Paper is what a paper is that cannot be read as a trade list in the supplier's currency and before tax.
type Paper string

// What a paper may be. Each is read once a person has said more, or not at all.
const (
	Confirmation  Paper = "confirmation"   // of an order, or what was sent with it
	TaxIn         Paper = "tax-in"         // tax is in its prices, and the rate is not known
	TaxGone       Paper = "tax-gone"       // tax is taken out of its prices, and they have fallen as if none were in them any more
	TaxCome       Paper = "tax-come"       // its prices have risen as if tax were in them now, and it does not say that none is
	OtherCurrency Paper = "other-currency" // its prices are not in the supplier's currency
	Discounted    Paper = "discounted"     // something is taken off its prices
)

// OtherPaper says why a paper's prices are not those of a trade list; both are empty for one that is.
func (m Mapping) OtherPaper() (Paper, string) {
	var orders, sends bool
	for _, heading := range m.Headings {
		f, _ := headingOf(heading)
		orders, sends = orders || f == ordered, sends || f == sent
	}
	if says := m.otherCurrency(); says != "" {
		return OtherCurrency, says
	}
	if orders && sends {
		return Confirmation, "the headings are those of an order that is confirmed or sent, not of a list: what is not on it would be taken for gone"
	}
	if m.terms.ordered {
		return Confirmation, "each line has a quantity and what that comes to, as on an order's confirmation, an invoice or a quote: what is not on it would be taken for gone"
	}
	if says := m.discountDoubt(); says != "" {
		return Discounted, says
	}
	if says := m.taxDoubt(); says != "" {
		return TaxIn, says
	}
	return "", ""
}

// beforeDiscount are the headings over prices that nothing has been taken off yet, where something is: "trade" and "net" are what
// is left.
var beforeDiscount = wordSet("price preis prix prijs prezzo precio list tarif tarifa di de listino brutto bruttopreis bruto brut lordo unitario unitaire einzelpreis stuckpreis")

// listPrices are headings over prices of a catalogue, that each shop has its own discount on.
var listPrices = regexp.MustCompile(`^(list|list price|list prices|list each|price list|listpreis|listenpreis|katalogpreis|prix catalogue|catalogusprijs|prezzo di listino)( (eur|gbp|usd|chf|each|ex vat))?$`)

// discountDoubt says that something is taken off the prices in another column, or nothing.
func (m Mapping) discountDoubt() string {
	column := m.Columns[Price]
	if listPrices.MatchString(plain(m.heading(column))) {
		return fmt.Sprintf("%s has list prices, by its heading, and not what the shop pays: say which column has what is left when all is taken off, or ask the supplier for it", m.ColumnName(column))
	}
	if m.discount == 0 || column > m.discount {
		return ""
	}
	for _, word := range strings.Fields(plain(m.heading(column))) {
		if !beforeDiscount[word] {
			return ""
		}
	}
	return fmt.Sprintf("what stands in %s may have to be taken off the prices in %s: say which column has what is left, or ask the supplier for it", m.ColumnName(m.discount), m.ColumnName(column))
}

// Prices watches whether the prices stand in the column that they should. It keeps counts, not prices.
type Prices struct {
	price, rrp spread
	above      int // rows whose price is above the recommended one
	both       int
}

// Add notes a row's prices.
func (p *Prices) Add(r Row) {
	if r.Price.Valid {
		p.price.add(r.Price.Decimal.InexactFloat64())
	}
	if r.RRP.Valid {
		p.rrp.add(r.RRP.Decimal.InexactFloat64())
	}
	if r.Price.Valid && r.RRP.Valid {
		p.both++
		if r.Price.Decimal.GreaterThan(r.RRP.Decimal) {
			p.above++
		}
	}
}

// Median is the middle price to within two per cent; 0 of no prices.
func (p *Prices) Median() float64 { return p.price.median() }

// Doubt says why the prices look as if they stood in the wrong column, or nothing. last is the middle price of the
// supplier's last list, 0 if there was none.
func (p *Prices) Doubt(m Mapping, last float64) string {
	now := p.price.median()
	switch {
	case p.both >= 5 && p.above*2 > p.both:
		return fmt.Sprintf("%d of %d prices in %s are above the recommended prices in %s: the two columns look the wrong way round",
			p.above, p.both, m.ColumnName(m.Columns[Price]), m.ColumnName(m.Columns[RRP]))
	case last > 0 && now > 0 && (now > 3*last || now < last/3):
		return fmt.Sprintf("the middle price is %.2f and was %.2f in the last list: %s does not look like the price", now, last, m.ColumnName(m.Columns[Price]))
	}
	return ""
}

// spread counts amounts by their logarithm, in steps of two per cent.
type spread struct {
	counts [1200]int
	n      int
}

const step = 0.02

func (s *spread) add(v float64) {
	if v <= 0 {
		return
	}
	i := int(math.Log(v*1000) / step)
	s.counts[min(max(i, 0), len(s.counts)-1)]++
	s.n++
}

func (s *spread) median() float64 {
	below := 0
	for i, n := range s.counts {
		if below += n; s.n > 0 && below*2 >= s.n {
			return math.Exp((float64(i)+0.5)*step) / 1000
		}
	}
	return 0
}
