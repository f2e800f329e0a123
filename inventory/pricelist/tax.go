package pricelist

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"stead/inventory"
)

// mostTax is more per cent than any country asks.
const mostTax = 40

// TaxDoubt says that prices have fallen as if the tax that is taken out of them were not in them any more, or nothing: moved is the
// middle of what each price is by what it was. The whole rate need not be gone from it, for prices rise meanwhile.
func TaxDoubt(rate, moved decimal.Decimal) string {
	if !rate.IsPositive() {
		return ""
	}
	fall := rate.Div(hundred.Add(rate)).Mul(mostOfIt)
	if moved.GreaterThan(one.Sub(fall)) {
		return ""
	}
	return fmt.Sprintf("the middle price has fallen by %s %% since the last list, as it would if the tax of %s %% that is taken out of these prices were not in them any more: ask whether they are before tax now",
		one.Sub(moved).Mul(hundred).Round(0), rate)
}

// TaxRise is the rate of tax, in per cent, by which a middle price that is moved times what it was may have risen because tax is
// in it now: the shop's own, or any that is a state's main rate; 0 where it is none. Rates are whole or half per cents.
func TaxRise(moved, own decimal.Decimal) decimal.Decimal {
	rise := moved.Sub(one).Mul(hundred)
	if own.IsPositive() && rise.Sub(own).Abs().LessThan(halfCent) {
		return own
	}
	rate := rise.Mul(two).Round(0).Div(two)
	if rate.LessThan(leastMain) || rate.GreaterThan(mostMain) || rise.Sub(rate).Abs().GreaterThan(quarter) {
		return decimal.Zero
	}
	return rate
}

// No main rate of the Union is below 15 per cent (Council Directive 2006/112/EC, article 97); the highest is Hungary's, 27 (from
// memory). A shop's own may be lower.
var (
	leastMain = decimal.NewFromInt(15)
	mostMain  = decimal.NewFromInt(27)
	quarter   = decimal.New(25, -2)
	halfCent  = decimal.New(5, -1)
)

// TaxComeDoubt says that so many of the prices that are known have all risen by a rate of tax.
func TaxComeDoubt(rate decimal.Decimal, risen, known int) string {
	return fmt.Sprintf("%d of %d prices are %s %% above those of the last list, as they would be if tax of %s %% were in them now, and the list does not say that it is not: ask the supplier",
		risen, known, rate, rate)
}

var (
	one      = decimal.NewFromInt(1)
	mostOfIt = decimal.New(6, -1)
)

// CheckTax says what is wrong with a rate of tax in per cent.
func CheckTax(rate decimal.Decimal) error {
	if rate.IsNegative() || rate.GreaterThan(decimal.NewFromInt(mostTax)) {
		return fmt.Errorf("a tax of %s %% cannot be meant: it is between 0, where none is in the prices, and %d", rate, mostTax)
	}
	return nil
}

// taxInPrices is whether the paper says that tax is in its prices, and whether it says that it is not. A heading knows better
// than a title. "Brutto" may also be a price that something is taken off: it never says at which rate.
func (m Mapping) taxInPrices() (within, without bool) {
	heading := plain(m.heading(m.Columns[Price]))
	within, without = taxSaid(heading)
	if !within && !without {
		within, without = m.terms.taxIn, m.terms.taxOut
	}
	return within || m.headedBrutto(), without
}

// headedBrutto reports whether the price is headed "brutto" and nothing there says whether tax is meant.
func (m Mapping) headedBrutto() bool {
	heading := plain(m.heading(m.Columns[Price]))
	within, without := taxSaid(heading)
	return !within && !without && slices.Contains(strings.Fields(heading), "brutto")
}

// surelyTaxed reports whether what says that tax is in speaks of these prices: the heading over them, or a sentence that names
// nothing else.
func (m Mapping) surelyTaxed() bool {
	within, without := taxSaid(plain(m.heading(m.Columns[Price])))
	return within || without || m.terms.certain || !m.terms.taxIn
}

// ratesSaid are the rates at which the paper says that tax is in its prices.
func (m Mapping) ratesSaid() []decimal.Decimal {
	if rates := ratesIn(m.heading(m.Columns[Price])); len(rates) > 0 {
		return rates
	}
	return m.terms.rates
}

// WithTax is the mapping with what a person says of the tax in the prices, in per cent: 0 says that none is.
func (m Mapping) WithTax(rate decimal.Decimal) Mapping {
	m.Others = slices.Clone(m.Others)
	m.Each(func(m *Mapping) { m.TaxIn, m.TaxColumn = decimal.NewNullDecimal(rate), 0 })
	return m
}

// settleTax takes the rate that the list itself names where it says that tax is in its prices. Two rates, or none, are
// settled by a person, or by a column that gives each line's own.
func (m *Mapping) settleTax(columns []column) {
	within, without := m.taxInPrices()
	if !within || without || m.TaxIn.Valid || !m.surelyTaxed() {
		return
	}
	if m.TaxColumn = m.rateColumn(columns); m.TaxColumn > 0 {
		return
	}
	if rates := m.ratesSaid(); len(rates) == 1 && rates[0].IsPositive() && CheckTax(rates[0]) == nil {
		m.TaxIn = decimal.NewNullDecimal(rates[0])
	}
}

// rateHeadings are the words over a column with each line's rate of tax.
var rateHeadings = wordSet("vat gst tax mwst ust tva btw iva moms steuersatz mwstsatz aliquota btwtarief taxrate vatrate tauxtva mwstsatz ustsatz tvataux aliquotaiva tipoiva percentualeiva vatpercent")

// rateColumn is the column with each line's own rate, or 0. A column of amounts or of a supplier's own keys for its rates
// is none: those are not per cent.
func (m Mapping) rateColumn(columns []column) int {
	for i, heading := range m.Headings {
		if i >= len(columns) || !rateHeadings[strings.ReplaceAll(plain(heading), " ", "")] || m.holds(i+1) {
			continue
		}
		c := columns[i]
		highest := decimal.Zero
		fair := c.figures == c.filled && c.filled > 0
		for _, rate := range c.amounts {
			fair = fair && CheckTax(rate) == nil && (rate.IsZero() || rate.GreaterThanOrEqual(lowestRate))
			highest = decimal.Max(highest, rate)
		}
		if fair && highest.GreaterThanOrEqual(lowestMain) && c.distinct <= mostRates {
			return i + 1
		}
	}
	return 0
}

// The lowest rate that any state of Europe asks of goods is France's 2.1 per cent, and no main rate is below 5: what is less
// is a key (Council Directive 2006/112/EC, articles 97 and 98, with the exceptions of article 110).
var (
	lowestRate = decimal.NewFromInt(2)
	lowestMain = decimal.NewFromInt(5)
)

// mostRates is more rates than one list has.
const mostRates = 5

func (m Mapping) holds(column int) bool {
	for _, c := range m.Columns {
		if c == column {
			return true
		}
	}
	return false
}

// taxOf is the rate of tax in a line's prices; says is why it cannot be told.
func (m Mapping) taxOf(l Line) (rate decimal.Decimal, says string) {
	switch {
	case m.TaxIn.Valid, m.TaxColumn == 0:
		return m.TaxIn.Decimal, ""
	case m.TaxColumn > len(l.Cells) || l.Cells[m.TaxColumn-1] == "":
		return rate, "the rate of the tax in its price is missing"
	}
	cell := l.Cells[m.TaxColumn-1]
	said, err := parseMoney(cell, m.DecimalComma)
	if err != nil || CheckTax(said.Amount) != nil || said.Amount.IsPositive() && said.Amount.LessThan(lowestRate) {
		return rate, fmt.Sprintf("%q is no rate of the tax in its price", shorten(cell))
	}
	return said.Amount, ""
}

var hundred = decimal.NewFromInt(100)

// beforeTax takes the tax out of a price, to hundredths of a penny.
func beforeTax(price, rate decimal.Decimal) decimal.Decimal {
	return inventory.Rounded(price.Mul(hundred), hundred.Add(rate), 4)
}

// taxDoubt says why it cannot be told what the prices are before tax, or nothing.
func (m Mapping) taxDoubt() string {
	within, without := m.taxInPrices()
	where := m.taxWords()
	taken := m.TaxIn.Decimal
	switch rates := m.ratesSaid(); {
	case m.TaxIn.Valid && taken.IsPositive() && within && len(rates) > 0 && !slices.ContainsFunc(rates, taken.Equal):
		return fmt.Sprintf("%s at %s %%, and it was said that tax of %s %% is in these prices", where, joinRates(rates), taken)
	case m.TaxIn.Valid && taken.IsPositive() && without && !within:
		return fmt.Sprintf("the list says that its prices are before tax, and it was said that tax of %s %% is in them", taken)
	case m.TaxIn.Valid, m.TaxColumn > 0:
		return ""
	case m.headedBrutto():
		return fmt.Sprintf("%s may mean with tax, or before something is taken off: say the rate of the tax that is in these prices, 0 where none is, or which column has what is left", m.ColumnName(m.Columns[Price]))
	case within && !m.surelyTaxed():
		return fmt.Sprintf("the list says “%s”, and not whether that is of its prices: say the rate of the tax that is in them, 0 where none is", shorten(m.terms.words))
	case within && without:
		return fmt.Sprintf("%s, and elsewhere that it is not", where)
	case within && len(rates) > 1:
		return fmt.Sprintf("%s, of %s %%, and not which prices have which: say the rate, or ask the supplier for a list without", where, joinRates(rates))
	case within && len(rates) == 1:
		return fmt.Sprintf("%s, which nobody has taken out of them: say the rate", where)
	case within:
		return fmt.Sprintf("%s, and not at which rate: prices are kept here before tax, so say the rate, or ask the supplier for a list without", where)
	}
	return ""
}

// taxWords are where the paper says that tax is in its prices.
func (m Mapping) taxWords() string {
	column := m.Columns[Price]
	heading := plain(m.heading(column))
	if within, _ := taxSaid(heading); within {
		return m.ColumnName(column) + " says that tax is in its prices"
	}
	return fmt.Sprintf("the list says that tax is in its prices (“%s”)", shorten(m.terms.words))
}

func joinRates(rates []decimal.Decimal) string {
	words := make([]string, len(rates))
	for i, r := range rates {
		words[i] = r.String()
	}
	return strings.Join(words, " and ")
}
