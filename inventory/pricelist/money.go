package pricelist

import (
	"errors"
	"fmt"
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
}

// ParseMoney reads a price as lists have it: "12.50", "£1,234.50", "1.234,50 €", "EUR 12,5", "12.50 each", "85p", "12,-". Of a
// single mark with three digits behind it ("1,234") the list's habit decides: decimalComma says that its decimal mark is the
// comma.
func ParseMoney(text string, decimalComma bool) (Money, error) {
	if d, ok := storedFigure(text); ok {
		return Money{Amount: d}, nil
	}
	cell, err := cutFigure(text)
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
	m := Money{Amount: d}
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

// cutFigure finds the one figure in a cell, past currency signs and words.
func cutFigure(text string) (figureCell, error) {
	var c figureCell
	var figure, word strings.Builder
	ended := false
	endWord := func() {
		if word.Len() == 0 {
			return
		}
		w := strings.ToLower(word.String())
		if c.words = append(c.words, w); figure.Len() > 0 && c.behind == "" {
			c.behind = w
		}
		word.Reset()
	}
	runes := []rune(strings.TrimSpace(text))
	for i, r := range runes {
		if unicode.IsLetter(r) || unicode.Is(unicode.Sc, r) {
			if r == 'E' && figure.Len() > 0 && i+1 < len(runes) && (unicode.IsDigit(runes[i+1]) || runes[i+1] == '+') {
				return c, fmt.Errorf("%q is no price", shorten(text))
			}
			ended = figure.Len() > 0
			if unicode.Is(unicode.Sc, r) && r != '$' {
				endWord()
				word.WriteRune(r)
				endWord()
				continue
			}
			word.WriteRune(r)
			continue
		}
		endWord()
		switch {
		case r >= '0' && r <= '9':
			if ended {
				return c, fmt.Errorf("%q has two figures: one price to a cell", shorten(text))
			}
			figure.WriteRune(r)
		case figure.Len() > 0 && !ended && (r == '.' || r == ',' || r == '\'' || r == '’' || isThinSpace(r)):
			figure.WriteRune(r)
		case isMinus(r):
			// "5-" is below nought, as some systems write it; "5,-" is five and no cents.
			last := figure.String()
			noCents := strings.HasSuffix(last, ",") || strings.HasSuffix(last, ".")
			c.negative = c.negative || figure.Len() == 0 || i == len(runes)-1 && !noCents && (i == 0 || !isMinus(runes[i-1]))
			ended = figure.Len() > 0
		case r == '(':
			c.negative = c.negative || figure.Len() == 0
			ended = figure.Len() > 0
		case unicode.IsControl(r):
			if figure.Len() > 0 {
				return c, fmt.Errorf("%q is no price", shorten(text))
			}
		default:
			ended = figure.Len() > 0
		}
	}
	endWord()
	c.figure = strings.TrimRight(figure.String(), ".,'’ \u00a0\u202f\u2009")
	if c.figure == "" {
		return c, fmt.Errorf("%q is no price", shorten(text))
	}
	return c, nil
}

func isMinus(r rune) bool { return r == '-' || r == '−' || r == '–' || r == '—' }

func isThinSpace(r rune) bool {
	return r == ' ' || r == '\u00a0' || r == '\u202f' || r == '\u2009'
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
	for _, space := range []string{"\u00a0", "\u202f", "\u2009", "’"} {
		figure = strings.ReplaceAll(figure, space, "'")
	}
	figure = strings.ReplaceAll(figure, " ", "'")
	point, comma := strings.LastIndexByte(figure, '.'), strings.LastIndexByte(figure, ',')
	mark := -1 // of the decimals
	switch {
	case point >= 0 && comma >= 0:
		mark = max(point, comma)
	case point >= 0 && strings.Count(figure, ".") == 1 && (len(figure)-point != 4 || !decimalComma):
		mark = point
	case comma >= 0 && strings.Count(figure, ",") == 1 && (len(figure)-comma != 4 || decimalComma):
		mark = comma
	}
	whole, part := figure, ""
	if mark >= 0 {
		whole, part = figure[:mark], figure[mark+1:]
	}
	groups := strings.FieldsFunc(whole, func(r rune) bool { return r == '.' || r == ',' || r == '\'' })
	for i, g := range groups {
		if i > 0 && len(g) != 3 || i == 0 && len(groups) > 1 && len(g) > 3 {
			return "", errGroups
		}
	}
	if strings.ContainsAny(part, ".,'") {
		return "", errGroups
	}
	plain := strings.Join(groups, "")
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

func shorten(s string) string {
	runes := []rune(s)
	if len(runes) <= 40 {
		return s
	}
	return string(runes[:40]) + "…"
}
