package pricelist

import (
	"fmt"
	"math"
	"regexp"
)

// withTax are the words of a heading over prices that contain tax, in plain letters.
var withTax = regexp.MustCompile(`(^| )(brutto|ivato|ivata|ttc|(c|con|incl|inc|inkl|inclusief|compresa) (vat|gst|tax|iva|btw|mwst|ust)|(vat|gst|tax|iva|btw|mwst|ust) (incl|inc|inkl|in|included|inclusa|incluido|inclusief|compresa))( |$)`)

// OtherPaper says by the headings why the prices are not those of a trade list, before tax, or nothing.
func (m Mapping) OtherPaper() string {
	var orders, sends bool
	for _, heading := range m.Headings {
		f, _ := headingOf(heading)
		orders, sends = orders || f == ordered, sends || f == sent
	}
	switch column := m.Columns[Price]; {
	case withTax.MatchString(plain(m.heading(column))):
		return fmt.Sprintf("%s says that tax is in its prices, and prices are kept here before tax: ask the supplier for a list without", m.ColumnName(column))
	case orders && sends:
		return "the headings are those of an order that is confirmed or sent, not of a list: what is not on it would be taken for gone"
	}
	return ""
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
