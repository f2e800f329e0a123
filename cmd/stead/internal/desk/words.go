package desk

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"stead/inventory/catalogue"
	"stead/pricing"
	"stead/substitution"
)

// Several is a number of things with its noun: "1 line", "2 lines".
func Several(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// SiteWords is a place as it is called on paper.
func SiteWords(p substitution.Place) string {
	if site, err := substitution.SiteOf(p); err == nil {
		return site.Words
	}
	return "for the other parts"
}

// fromWords is where pieces come from: the supplier by its name, or the shelf where none is named.
func fromWords(supplier string) string {
	if supplier == "" {
		return "shelf"
	}
	return supplier
}

// sourceWords is the name of a supplier that a limit names by its code, or the shelf in words.
func sourceWords(code string, names map[string]string) string {
	if code == pricing.Shelf {
		return "the shelf"
	}
	return cmp.Or(names[code], code)
}

// PacksWords is a number of packs: "3", or "3 × 144" where a pack is more than a piece.
func PacksWords(n, pack int) string {
	if pack == 1 {
		return strconv.Itoa(n)
	}
	return fmt.Sprintf("%d × %d", n, pack)
}

// MoreWords is a difference in money: "same", "£1.20 more", "£1.20 less".
func MoreWords(currency string, x decimal.Decimal) string {
	switch {
	case x.IsZero():
		return "same"
	case x.IsPositive():
		return pricing.Amount(currency, x) + " more"
	}
	return pricing.Amount(currency, x.Neg()) + " less"
}

// PieceWords is the price of one piece, with more decimals where a piece costs less than one of the currency: a ball costs
// less than a penny.
func PieceWords(currency string, piece decimal.Decimal) string {
	if piece.LessThan(decimal.NewFromInt(1)) && !piece.Equal(piece.Truncate(2)) {
		return strings.TrimSuffix(pricing.Amount(currency, decimal.Zero), "0.00") + piece.StringFixed(4)
	}
	return pricing.Amount(currency, piece)
}

// MarkUpWords is what a retail price, tax taken off, is above a price, with a mark where that can hardly be meant.
func MarkUpWords(price, retail, tax decimal.Decimal) string {
	up := catalogue.MarkUp(price, retail, tax).String() + " %"
	if !strings.HasPrefix(up, "-") {
		up = "+" + up
	}
	if catalogue.Doubtful(price, retail, tax) {
		return "! " + up
	}
	return up
}

// Sentence is words as they begin a sentence.
func Sentence(words string) string {
	first, size := utf8.DecodeRuneInString(words)
	if first == utf8.RuneError {
		return words
	}
	return string(unicode.ToUpper(first)) + words[size:]
}
