package pricelist

import (
	"regexp"
	"strings"
	"unicode"
)

// noCodes are what lists write where they have none.
var noCodes = map[string]bool{
	"n a": true, "na": true, "n ap": true, "none": true, "no": true, "nil": true, "null": true, "nan": true, "tba": true, "tbc": true, "tbd": true, "tbn": true,
	"unknown": true, "unbranded": true, "not known": true, "not applicable": true, "not available": true, "no code": true, "no barcode": true, "no brand": true,
	"generic": true, "various": true, "assorted": true, "misc": true, "miscellaneous": true, "other": true, "see description": true, "as description": true, "ask": true,
	"pending": true, "missing": true, "blank": true, "empty": true, "dummy": true, "test": true, "default": true, "new": true, "oem": true, "own brand": true,
	"ref": true, "name": true, "value": true, "div0": true, "div 0": true, "#n a": true, "keine": true, "kein": true, "ohne": true, "k a": true, "entfällt": true,
	"unbekannt": true, "diverse": true, "div": true, "sans": true, "aucun": true, "geen": true, "nvt": true, "n v t": true, "sin": true, "nessuno": true,
}

// isCode reports whether a cell is a code at all: not "N/A", a dash, noughts, one letter over and over, or what a
// spreadsheet writes for an error.
func isCode(cell string) bool {
	text := normal(cell)
	if text == "" || noCodes[text] {
		return false
	}
	var first rune
	one := true
	letters := 0
	for _, r := range text {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			continue
		}
		letters++
		if first == 0 {
			first = r
		}
		one = one && r == first
	}
	switch {
	case letters == 0, one && first == '0':
		return false
	case one && letters > 2 && (first == 'x' || first == '9' || first == '1'):
		return false // XXX, 99999, 11111
	}
	return true
}

// isBlank reports whether the supplier's own code, which stands on one line only, is none: a dash, noughts, N/A, TBA.
func isBlank(cell string) bool {
	switch normal(cell) {
	case "true", "false", "wahr", "falsch", "vrai", "faux", "waar", "onwaar", "vero", "falso", "verdadero": // of a spreadsheet
		return true
	case "n a", "tba", "tbc", "tbd", "none", "null", "ref", "name", "value", "div 0":
		return true
	}
	return strings.Trim(normal(cell), "0 ") == ""
}

// madeDate is a code that a spreadsheet has taken for a date: 11-32 becomes Nov-32, 5/4 becomes 2026-04-05.
var madeDate = regexp.MustCompile(`^(\d{1,2}-)?(Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)(-\d{2})?$|^(19|20)\d\d-\d\d-\d\d([ T]00:00:00.*)?$`)

func isMadeDate(cell string) bool {
	return madeDate.MatchString(cell) && strings.ContainsAny(cell, "-")
}
