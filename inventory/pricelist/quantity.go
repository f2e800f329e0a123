package pricelist

import (
	"regexp"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// quantity is what a cell says of how much is sold together, or of how much a price is of: "10", "25 pairs", "box of 100",
// "30 m", "per 100", "gross", "carton".
type quantity struct {
	count   int     // of the unit; 1 where the cell says the unit alone
	size    int     // pieces in one of it: 2 in a pair
	unit    bool    // the cell names a unit, and not a number alone
	measure measure // of what is not counted in pieces
	lot     string  // a box, a bag: how many are in one the cell does not say
}

// pieces are how many it is in all.
func (q quantity) pieces() int { return q.count * q.size }

// measure is by what goods are sold that are not counted; empty for those that are.
type measure string

const (
	metres    measure = "metre"
	litres    measure = "litre"
	kilograms measure = "kilogram"
	portions  measure = "portion" // millilitres and grams: how much is in a bottle, and never how many
)

// The words for what is sold together, in plain letters, in English, German, French, Dutch, Italian and Spanish; common
// practice, no source.
var (
	unitSizes = sizesOf(map[int]string{
		1: "each ea single singles loose boxed unit units item stk stck stuck nr c62 h87 pc pce pcs piece pieces st stuks stuk piece pz pezzo pezzi ud uds unidad unidades unite unites " +
			"set sets satz jeu jeux kit stel serie roll reel rolle rol rouleau rotolo rollo tube tub can bottle dose flasche flacon fles bidon barattolo bote",
		2:    "pair pairs pr prs paar paare paire paires paio paia par pares",
		12:   "dozen doz dz dutzend douzaine dozijn dozzina docena",
		100:  "c hundred hundert honderd cent cento cien",
		144:  "gross gros grosse",
		1000: "thousand tausend duizend mille millar",
	})
	lotWords = wordSet("box boxes bx bag bags bg pack packs packet packets pk carton cartons ctn case cases lot lots card karton kartons beutel packung schachtel pck vpe " +
		"boite boites sachet sachets paquet paquets doos dozen zak zakje pak verpakking scatola busta confezione conf cf caja cajas bolsa paquete")
	measures = map[string]measure{
		"m": metres, "mt": metres, "mtr": metres, "mtrs": metres, "metre": metres, "metres": metres, "meter": metres, "meters": metres, "lfm": metres, "metri": metres, "metro": metres,
		"metros": metres, "l": litres, "lt": litres, "ltr": litres, "litre": litres, "litres": litres, "liter": litres, "litro": litres, "litri": litres, "litros": litres,
		"kg": kilograms, "kilo": kilograms, "kilogram": kilograms, "ml": portions, "cl": portions, "g": portions, "gr": portions,
	}
	fillers = wordSet("of per pro je a x de du d di da zu van von the by par al au le la")
)

func sizesOf(words map[int]string) map[string]int {
	out := map[string]int{}
	for size, of := range words {
		for w := range strings.FieldsSeq(of) {
			out[w] = size
		}
	}
	return out
}

var (
	times   = regexp.MustCompile(`(\d)\s*[x×]\s*(\d)`)
	numbers = regexp.MustCompile(`^[\d.,'’]*\d$`)
	glued   = regexp.MustCompile(`(\d)(\pL)`)
	behind  = regexp.MustCompile(`(\pL{2})(\d)`) // "PK10"
	ofThem  = regexp.MustCompile(`(\d)['’]s\b`)  // "10's"
)

// quantityIn reads a cell; false where a word or a figure of it is not understood.
func quantityIn(cell string, decimalComma bool) (quantity, bool) {
	q := quantity{count: 1, size: 1}
	if n, err := strconv.Atoi(cell); err == nil { // as nearly all cells are
		q.count = n
		return q, n > 0 && n <= mostPieces
	}
	text := ofThem.ReplaceAllString(strings.ToLower(unaccented(cell)), "$1")
	text = times.ReplaceAllString(text, "$1 times $2")
	words := strings.FieldsFunc(behind.ReplaceAllString(glued.ReplaceAllString(text, "$1 $2"), "$1 $2"), func(r rune) bool { return strings.ContainsRune(" \u00a0\u202f/()+*:;-–", r) })
	figures, product := 0, false
	for _, w := range words {
		w = strings.TrimRight(w, ".")
		size, sized := unitSizes[w]
		by, measured := measures[w]
		switch {
		case numbers.MatchString(w):
			n, ok := countOfPieces(w, decimalComma)
			if !ok || figures > 0 && !product {
				return quantity{}, false
			}
			q.count, figures, product = q.count*n, figures+1, false
		case w == "times":
			product = true
		case sized && (!q.unit || q.lot != "" || q.size == 1):
			q.size, q.unit = max(q.size, size), true
		case lotWords[w]:
			q.lot, q.unit = w, true
		case measured:
			q.measure, q.unit = by, true
		case w != "" && !fillers[w]:
			return quantity{}, false
		}
	}
	if q.measure != "" && q.measure != metres { // a bottle of 125 ml, a can of five litres: it is one
		q.count = 1
	}
	if q.lot != "" && (figures > 0 || q.size > 1) {
		q.lot = ""
	}
	return q, (figures > 0 || q.unit) && !product && q.count > 0 && q.count <= mostPieces && q.pieces() <= mostPieces
}

// countOfPieces is a whole number as a list writes it: "10", "10.00", "1,000".
func countOfPieces(figure string, decimalComma bool) (int, bool) {
	plain, err := plainFigure(figure, decimalComma)
	if err != nil {
		return 0, false
	}
	d, err := decimal.NewFromString(plain)
	if err != nil || !d.Equal(d.Truncate(0)) || d.LessThan(decimal.NewFromInt(1)) || d.GreaterThan(decimal.NewFromInt(mostPieces)) {
		return 0, false
	}
	n, err := strconv.Atoi(d.Truncate(0).String())
	return n, err == nil
}

// mostPieces is more than any unit holds.
const mostPieces = 100_000
