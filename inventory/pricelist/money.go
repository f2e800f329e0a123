package pricelist

import (
	"errors"
	"fmt"
	"strings"
	"unicode"

	"github.com/shopspring/decimal"
)

// ParseMoney reads a price as lists have it: "12.50", "£1,234.50", "1.234,50 €", "EUR 12,5", "12.50 each". Of a single mark with
// three digits behind it ("1,234") the list's habit decides: decimalComma says that its decimal mark is the comma. The
// amount is in the list's currency; a minus sign or brackets make it negative.
func ParseMoney(text string, decimalComma bool) (decimal.Decimal, error) {
	figure, negative, err := figureIn(text)
	if err != nil {
		return decimal.Decimal{}, err
	}
	plain, err := plainFigure(figure, decimalComma)
	if err != nil {
		return decimal.Decimal{}, fmt.Errorf("%q is no price: %w", shorten(text), err)
	}
	d, err := decimal.NewFromString(plain)
	if err != nil {
		return decimal.Decimal{}, fmt.Errorf("%q is no price", shorten(text))
	}
	if negative {
		d = d.Neg()
	}
	return d, nil
}

// figureIn finds the one figure in a cell, past currency signs and words.
func figureIn(text string) (figure string, negative bool, err error) {
	var b strings.Builder
	ended := false
	for _, r := range text {
		switch {
		case r >= '0' && r <= '9':
			if ended {
				return "", false, fmt.Errorf("%q has two figures: one price to a cell", shorten(text))
			}
			b.WriteRune(r)
		case b.Len() > 0 && !ended && (r == '.' || r == ',' || r == '\'' || r == '’' || r == ' ' || r == '\u00a0' || r == '\u202f' || r == '\u2009'):
			b.WriteRune(r)
		case r == '-' || r == '−' || r == '(':
			if b.Len() == 0 {
				negative = true
			} else {
				ended = true
			}
		default:
			if b.Len() > 0 {
				ended = true
			}
			if r == 'E' && b.Len() > 0 || unicode.IsControl(r) {
				return "", false, fmt.Errorf("%q is no price", shorten(text))
			}
		}
	}
	figure = strings.TrimRight(b.String(), ".,'’ \u00a0\u202f\u2009")
	if figure == "" {
		return "", false, fmt.Errorf("%q is no price", shorten(text))
	}
	return figure, negative, nil
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
	if len(plain) > 15 || len(part) > 8 {
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
