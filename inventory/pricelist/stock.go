package pricelist

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"stead/inventory"
)

// standing is what a list says of the supplier's stock of a part.
type standing int

const (
	unsaid standing = iota
	asked           // somebody must be asked
	has
	fewLeft
	out
	ended // no longer to be had
)

// standings are the words of lists, without accents, in English, German, French, Dutch, Italian and Spanish.
var standings = phrases(map[standing][]string{
	has: {"in stock", "yes", "y", "available", "in", "ok", "good", "high", "green",
		"ja", "auf lager", "lieferbar", "sofort", "sofort lieferbar", "vorratig", "verfugbar", "lagernd", "ab lager", "grun",
		"oui", "en stock", "disponible", "dispo", "vert", "op voorraad", "uit voorraad", "voorradig", "leverbaar", "groen",
		"si", "disponibile", "disp", "in magazzino", "verde", "disponibles", "en existencia", "hay"},
	fewLeft: {"low", "low stock", "limited", "few", "amber", "last few", "wenige", "geringer bestand", "knapp", "gelb", "stock faible", "faible", "limite", "orange",
		"beperkt", "laag", "weinig", "geel", "oranje", "pochi", "ultimi", "limitato", "giallo", "poco", "pocas", "pocos", "ultimas", "limitado", "amarillo"},
	out: {"out", "no", "n", "out of stock", "none", "nil", "zero", "red", "to order", "on order", "due", "due in", "expected", "back order", "backorder", "special order", "sold out",
		"awaiting stock", "nein", "nicht lieferbar", "nicht verfugbar", "nicht vorratig", "derzeit nicht lieferbar", "momentan nicht lieferbar", "ausverkauft", "nachbestellt", "rot",
		"non", "rupture", "en rupture", "rupture de stock", "epuise", "indisponible", "non disponible", "sur commande", "rouge",
		"nee", "niet leverbaar", "niet op voorraad", "niet voorradig", "uitverkocht", "tijdelijk niet leverbaar", "in bestelling", "rood",
		"esaurito", "non disponibile", "in arrivo", "su ordinazione", "rosso", "agotado", "sin stock", "sin existencias", "no disponible", "bajo pedido", "rojo"},
	ended: {"discontinued", "discont", "disc", "eol", "end of line", "end of life", "deleted", "obsolete", "no longer available", "no longer made",
		"auslauf", "auslaufartikel", "ausgelaufen", "nicht mehr lieferbar", "entfallt", "entfallen", "arrete", "supprime", "fin de serie", "fin de vie", "abandonne",
		"vervallen", "uit assortiment", "uitlopend", "niet meer leverbaar", "fuori produzione", "fuori prod", "fuori catalogo", "esaurito definitivamente", "esaurito def",
		"descatalogado", "descat", "obsoleto", "fin de stock"},
	asked: {"call", "ask", "ring", "phone", "enquire", "please ask", "tbc", "tba", "poa", "on request", "unknown", "n a", "anfragen", "bitte anfragen", "auf anfrage", "a anfr",
		"tel", "telefonisch", "telefonisch anfragen", "tel anfragen", "unbekannt", "k a", "nous consulter", "consulter", "sur demande", "n c", "bellen", "op aanvraag", "navragen",
		"onbekend", "telefonare", "su richiesta", "chiamare", "n d", "consultar", "llamar", "a consultar"},
})

func phrases(by map[standing][]string) map[string]standing {
	out := map[string]standing{}
	for s, words := range by {
		for _, w := range words {
			out[w] = s
		}
	}
	return out
}

// mostWords is how many words the longest phrase has.
const mostWords = 4

// few is the stock from which on a supplier's count no longer reads as low: below it one more shop's order may empty
// the shelf.
const few = 5

// standingOf reads what a cell says: a word, several ("rot - Auslauf"), a number, "10+", "5 Stk", a day on which it is due.
// With legend the list's own words go before. It is unsaid where any of it is not understood.
func standingOf(cell string, legend map[string]standing) standing {
	text := plain(cell)
	if s, ok := legend[text]; ok {
		return s
	}
	if s, ok := standings[text]; ok {
		return s
	}
	if s, ok := countOf(cell); ok {
		return s
	}
	if at := insteadOf.FindStringIndex(text); at != nil { // "sold out, replaced by X"
		switch s := settled(strings.Fields(text[:at[0]]), legend); {
		case s == ended, s == out, at[0] == 0:
			return ended
		}
	}
	if isDay(text) || strings.HasPrefix(text, "due ") || strings.HasPrefix(text, "expected ") {
		return out
	}
	return settled(strings.Fields(text), legend)
}

// insteadOf is how a list names what there is in its stead, in plain letters.
var insteadOf = regexp.MustCompile(`(?:^| )(?:use|see|replaced by|superseded by|replacement|nachfolger|ersetzt durch|ersatz|siehe|remplace par|voir|vervangen door|opvolger|zie|sostituito da|vedi|sustituido por) \S*\d`)

// settled is what the words of a cell come to together: what is no longer made is out, whatever else is said, but for
// what is still there of it; any other two must agree.
func settled(words []string, legend map[string]standing) standing {
	said := map[standing]bool{}
	for len(words) > 0 {
		n := min(mostWords, len(words))
		for ; n > 0; n-- {
			phrase := strings.Join(words[:n], " ")
			s, ok := legend[phrase]
			if !ok {
				s, ok = standings[phrase]
			}
			if !ok && isDay(phrase) {
				s, ok = out, true
			}
			if ok {
				said[s] = true
				break
			}
		}
		if n == 0 {
			return unsaid
		}
		words = words[n:]
	}
	switch {
	case len(said) == 0:
		return unsaid
	case said[ended] && (said[has] || said[fewLeft]):
		return fewLeft
	case said[ended]:
		return ended
	case said[out] && !said[has] && !said[fewLeft]:
		return out
	case len(said) == 1:
		for s := range said {
			return s
		}
	}
	return asked
}

// counts are how lists count what is there: "12", "10+", "> 100", "1.200", "5 Stk.", "-3".
var counts = regexp.MustCompile(`^[>≥~<]?\s?(-?\d{1,3}(?:[.,' ]\d{3})+|-?\d{1,9}(?:[.,]\d{1,2})?)\s?(\+|stk|stück|st|stuks|pcs|pc|pz|pezzi|units?|uds?|u|pièces)?\.?$`)

func countOf(cell string) (standing, bool) {
	found := counts.FindStringSubmatch(strings.ToLower(cell))
	if found == nil {
		return unsaid, false
	}
	figure := found[1]
	if mark := strings.LastIndexAny(figure, ".,' "); mark >= 0 && len(figure)-mark == 4 {
		figure = strings.NewReplacer(".", "", ",", "", "'", "", " ", "").Replace(figure)
	}
	n, err := strconv.ParseFloat(strings.ReplaceAll(figure, ",", "."), 64)
	switch {
	case err != nil:
		return unsaid, false
	case n <= 0:
		return out, true
	case strings.HasPrefix(strings.TrimSpace(cell), "<"), n < few && !strings.ContainsAny(cell, ">≥+"):
		return fewLeft, true
	}
	return has, true
}

// signals are what each standing lets one expect.
var signals = map[standing]inventory.Signal{
	unsaid: inventory.Unknown, asked: inventory.Unknown, has: inventory.InStock, fewLeft: inventory.Low, out: inventory.ToOrder, ended: inventory.ToOrder,
}

// stockSignal reads what a list says of the supplier's stock; false where it is no word that is known.
func stockSignal(cell string) (inventory.Signal, bool) {
	s := standingOf(cell, nil)
	return signals[s], s != unsaid
}

// stock reads the stock of a row, and whether the part is no longer to be had at all.
func (r *rowReader) stock() (signal inventory.Signal, gone bool) {
	cell := r.m.cell(r.line, Stock)
	if cell == "" {
		return inventory.Unknown, false
	}
	s := standingOf(cell, r.m.legend)
	if s == unsaid && strings.Trim(cell, "?-–—. ") != "" && !spans.MatchString(plain(cell)) {
		r.problem(Stock, false, fmt.Sprintf("%q is no word for a stock that is known here: it is taken as unknown", shorten(cell)))
	}
	return signals[s], s == ended
}

// explains are how a list says above its headings what it means by a word: "gelb = bitte anfragen".
var explains = regexp.MustCompile(`([^\s,;:=]+)\s*=\s*([^,;=]+)`)

// legendIn adds what a line above the headings says of the words for the stock.
func legendIn(l Line, legend map[string]standing) {
	for _, found := range explains.FindAllStringSubmatch(strings.Join(l.Cells, "; "), -1) {
		if s := standingOf(found[2], nil); s != unsaid {
			legend[plain(found[1])] = s
		}
	}
}
