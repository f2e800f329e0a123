package pricelist

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode"

	"github.com/shopspring/decimal"
)

// Money is what a cell says of a price.
type Money struct {
	Amount   decimal.Decimal // below nought with a minus sign before or behind it, or in brackets
	Currency string          // GBP; empty when the cell names none
	Dollars  bool            // a plain $, which several currencies write
	Each     bool            // the cell says that it is of one piece: "0.85 each"
	Of       int             // pieces that it is of, where the cell says another number: "19.00 per 100"; else 0
}

// of is how many pieces the price is of, by the cell; 0 where it does not say it.
func (m Money) of() int {
	if m.Each {
		return 1
	}
	return m.Of
}

// parseMoney reads a price as lists have it: "12.50", "£1,234.50", "1.234,50 €", "EUR 12,5", "12.50 each", "85p",
// "12,-". Of a single mark with three digits behind it ("1,234") the list's habit decides: decimalComma says that its
// decimal mark is the comma.
func parseMoney(text string, decimalComma bool) (Money, error) {
	if strings.Contains(text, "-") && isMadeDate(strings.TrimSpace(text)) {
		return Money{}, fmt.Errorf("%q is a date that a spreadsheet has made of a price: set the column to text and export the list again", text)
	}
	if d, ok := storedFigure(text); ok {
		return Money{Amount: d}, nil
	}
	amount, of := cutUnit(text)
	cell, err := cutFigure(amount)
	if err != nil {
		return Money{}, err
	}
	plain, err := plainFigure(cell.figure, decimalComma)
	if err != nil {
		return Money{}, fmt.Errorf("%q is no price: %w", shorten(text), err)
	}
	d, err := decimal.NewFromString(plain)
	if err != nil {
		return Money{}, fmt.Errorf("%q is no price", shorten(text))
	}
	m := Money{Amount: d, Each: of == 1}
	if of > 1 {
		m.Of = of
	}
	for _, w := range cell.words {
		m.Currency = orElse(m.Currency, currencies[w])
		m.Dollars = m.Dollars || w == "$"
		m.Each = m.Each || ofOnePiece[w]
	}
	if cell.hundredths() && m.Currency == "" {
		if _, part, ok := strings.Cut(plain, "."); ok && len(part) > 1 {
			return Money{}, fmt.Errorf("%q may be pence or pounds: write it without the %s", shorten(text), cell.behind)
		}
		m.Amount = m.Amount.Shift(-2)
		if strings.HasPrefix(cell.behind, "p") {
			m.Currency = "GBP"
		}
	}
	if cell.negative {
		m.Amount = m.Amount.Neg()
	}
	return m, nil
}

// perUnit is how a cell says what its price is of: "19.00 per 100", "3.20/pr", "4,50 la paire".
var perUnit = regexp.MustCompile(`(?i)^(.*\d\D*?)(?:\s*/\s*|\s+(?:per|pro|je|par|la|le|al|por)\s+)(\D*?\d*\D*)$`)

// cutUnit takes off what a cell says that its price is of, in pieces; 0 where it does not say it.
func cutUnit(text string) (amount string, pieces int) {
	if !strings.ContainsAny(text, "/aeiou") { // none of the words is without
		return text, 0
	}
	found := perUnit.FindStringSubmatch(text)
	if found == nil {
		return text, 0
	}
	q, ok := quantityIn(found[2], false)
	if !ok || !q.unit && q.count < 100 || q.lot != "" { // "11.00 / 12.10" and "8/9" are two prices
		return text, 0
	}
	return found[1], q.pieces()
}

// storedFigure reads a number as a workbook stores it, with all the digits that it calculates with: 7.4999999999999991,
// 5.0000000000000003E-2. A number in the short form of ten thousand and more is a code that a spreadsheet has shortened.
func storedFigure(text string) (decimal.Decimal, bool) {
	mantissa, exponent, small := strings.Cut(text, "E-")
	_, part, long := strings.Cut(mantissa, ".")
	if !small && (!long || len(part) <= mostDecimals) || len(text) > 30 || small && len(exponent) > 2 ||
		strings.Trim(mantissa, "-0123456789.") != "" || strings.Trim(exponent, "0123456789") != "" {
		return decimal.Decimal{}, false
	}
	d, err := decimal.NewFromString(text)
	return d.Round(mostDecimals), err == nil
}

// mostDecimals is how many a list writes itself: more are what a workbook calculates with.
const mostDecimals = 8

// currencies are the signs and names that stand beside a price, by ISO 4217.
var currencies = map[string]string{
	"£": "GBP", "gbp": "GBP", "stg": "GBP", "€": "EUR", "eur": "EUR", "euro": "EUR", "euros": "EUR", "usd": "USD", "us$": "USD", "chf": "CHF", "sfr": "CHF", "fr": "CHF",
	"aud": "AUD", "a$": "AUD", "cad": "CAD", "c$": "CAD", "nzd": "NZD", "nz$": "NZD", "sek": "SEK", "nok": "NOK", "dkk": "DKK", "pln": "PLN", "zł": "PLN", "czk": "CZK",
	"kč": "CZK", "huf": "HUF", "ft": "HUF", "jpy": "JPY", "¥": "JPY", "twd": "TWD", "nt$": "TWD", "cny": "CNY", "rmb": "CNY", "inr": "INR", "₹": "INR", "zar": "ZAR",
}

// ofOnePiece are the words by which a cell says that its price is of one piece and not of what is sold together.
var ofOnePiece = map[string]bool{
	"each": true, "ea": true, "apiece": true, "piece": true, "pc": true, "pce": true, "stk": true, "stück": true, "stuk": true, "pièce": true,
}

// figureCell is a cell taken apart: the one figure in it, and the words and signs around.
type figureCell struct {
	figure   string
	words    []string // in lower case
	behind   string   // the first word behind the figure
	negative bool
}

// hundredths reports whether the figure is in pence or cents.
func (c figureCell) hundredths() bool {
	switch c.behind {
	case "p", "pence", "penny", "ct", "cts", "cent", "cents", "¢":
		return true
	}
	return false
}

// Two faults of a cell, said behind its text.
var (
	errNoPrice    = errors.New("is no price")
	errTwoFigures = errors.New("has two figures: one price to a cell")
)

// cutFigure finds the one figure in a cell, past currency signs and words.
func cutFigure(text string) (figureCell, error) {
	var c cutter
	runes := []rune(strings.TrimSpace(text))
	for i := range runes {
		if err := c.take(runes, i); err != nil {
			return figureCell{}, fmt.Errorf("%q %w", shorten(text), err)
		}
	}
	c.endWord()
	c.cell.figure = strings.TrimRight(c.figure.String(), ".,'’ \u00a0\u202f\u2009")
	if c.cell.figure == "" {
		return figureCell{}, fmt.Errorf("%q %w", shorten(text), errNoPrice)
	}
	return c.cell, nil
}

// cutter takes a cell apart, letter by letter.
type cutter struct {
	cell         figureCell
	figure, word strings.Builder
	ended        bool // something has ended the figure
}

func (c *cutter) begun() bool { return c.figure.Len() > 0 }

// take adds the letter at i to the figure, to a word, or to neither.
func (c *cutter) take(runes []rune, i int) error {
	r := runes[i]
	if unicode.IsLetter(r) || isCurrencySign(r) {
		if r == 'E' && c.begun() && i+1 < len(runes) && (unicode.IsDigit(runes[i+1]) || runes[i+1] == '+') {
			return errNoPrice // "1E+04", as a spreadsheet shortens a code
		}
		c.letter(r)
		return nil
	}
	if w := strings.ToLower(c.word.String()); w != "" && r >= '0' && r <= '9' && currencies[w] == "" && w != "kr" && w != "$" {
		return errNoPrice // "see FW0607": letters that are no currency make it a code
	}
	c.endWord()
	switch {
	case r >= '0' && r <= '9':
		if c.ended {
			return errTwoFigures
		}
		c.figure.WriteRune(r)
	case c.begun() && !c.ended && partsDigits(r):
		c.figure.WriteRune(r)
	case unicode.IsControl(r):
		if c.begun() {
			return errNoPrice
		}
	default:
		c.cell.negative = c.cell.negative || r == '(' && !c.begun() || isMinus(r) && c.isBelowNought(runes, i)
		c.ended = c.begun()
	}
	return nil
}

// letter adds to the word. A currency sign is a word by itself, but a dollar's belongs to the letters beside it: "US$".
func (c *cutter) letter(r rune) {
	c.ended = c.begun()
	alone := isCurrencySign(r) && r != '$'
	if alone {
		c.endWord()
	}
	c.word.WriteRune(r)
	if alone {
		c.endWord()
	}
}

func (c *cutter) endWord() {
	if c.word.Len() == 0 {
		return
	}
	w := strings.ToLower(c.word.String())
	if c.cell.words = append(c.cell.words, w); c.begun() && c.cell.behind == "" {
		c.cell.behind = w
	}
	c.word.Reset()
}

// isBelowNought reports whether the minus sign at i makes the figure negative. "5-" is below nought, as some systems
// write it; "5,-" is five and no cents.
func (c *cutter) isBelowNought(runes []rune, i int) bool {
	if !c.begun() {
		return true
	}
	last := c.figure.String()
	noCents := strings.HasSuffix(last, ",") || strings.HasSuffix(last, ".")
	return i == len(runes)-1 && !noCents && !isMinus(runes[i-1])
}

func isCurrencySign(r rune) bool { return unicode.Is(unicode.Sc, r) }

func isMinus(r rune) bool { return r == '-' || r == '−' || r == '–' || r == '—' }

// partsDigits reports whether the mark or space may stand inside a figure.
func partsDigits(r rune) bool {
	return r == '.' || r == ',' || r == '\'' || r == '’' || r == ' ' || r == '\u00a0' || r == '\u202f' || r == '\u2009'
}

func orElse(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

var errGroups = errors.New("its thousands are not in groups of three")

// plainFigure writes a figure with a decimal point and nothing else.
func plainFigure(figure string, decimalComma bool) (string, error) {
	for _, space := range []string{" ", "\u00a0", "\u202f", "\u2009", "’"} {
		figure = strings.ReplaceAll(figure, space, "'")
	}
	whole, part := figure, ""
	if mark := decimalMark(figure, decimalComma); mark >= 0 {
		whole, part = figure[:mark], figure[mark+1:]
	}
	plain, ok := joinThousands(whole)
	if !ok || strings.ContainsAny(part, ".,'") {
		return "", errGroups
	}
	if plain == "" {
		plain = "0"
	}
	if len(plain) > 15 || len(part) > mostDecimals {
		return "", errors.New("it has too many digits")
	}
	if part != "" {
		plain += "." + part
	}
	return plain, nil
}

// decimalMark is where a figure's decimals begin: at the last mark of two kinds, or at the only one of its kind; a
// single mark with three digits behind it is the decimal mark only if the list's habit says so. -1 for none.
func decimalMark(figure string, decimalComma bool) int {
	point, comma := strings.LastIndexByte(figure, '.'), strings.LastIndexByte(figure, ',')
	if point >= 0 && comma >= 0 {
		return max(point, comma)
	}
	at, habit := point, !decimalComma
	if comma >= 0 {
		at, habit = comma, decimalComma
	}
	if at < 0 || strings.IndexByte(figure, figure[at]) != at || len(figure)-at == 4 && !habit {
		return -1
	}
	return at
}

// joinThousands writes whole digits without the marks between groups of three; false where the groups are not of three.
func joinThousands(whole string) (string, bool) {
	groups := strings.FieldsFunc(whole, func(r rune) bool { return r == '.' || r == ',' || r == '\'' })
	for i, g := range groups {
		if i > 0 && len(g) != 3 || i == 0 && len(groups) > 1 && len(g) > 3 {
			return "", false
		}
	}
	return strings.Join(groups, ""), true
}

func shorten(s string) string {
	runes := []rune(s)
	if len(runes) <= 40 {
		return s
	}
	return string(runes[:40]) + "…"
}
