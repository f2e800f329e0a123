package pricelist

import (
	"regexp"
	"slices"
	"strings"

	"github.com/shopspring/decimal"
)

// terms are what a paper says of its prices beside the table: in its title, below its headings' line, at its foot.
type terms struct {
	taxIn      bool              // tax is in them
	taxOut     bool              // it is not
	rates      []decimal.Decimal // per cent, of the tax that is in them
	currencies []string          // that they are in
	words      string            // by which it says that tax is in them
	ordered    bool              // its lines have a quantity and what that comes to
	certain    bool              // and those words speak of these prices: not, perhaps, of a charge
}

// with is what a paper says in two places.
func (t terms) with(more terms) terms {
	t.taxIn, t.taxOut, t.words = t.taxIn || more.taxIn, t.taxOut || more.taxOut, orElse(t.words, more.words)
	t.certain, t.ordered = t.certain || more.certain, t.ordered || more.ordered
	t.rates, t.currencies = slices.Concat(t.rates, more.rates), slices.Concat(t.currencies, more.currencies)
	slices.SortFunc(t.rates, decimal.Decimal.Cmp)
	t.rates = slices.CompactFunc(t.rates, decimal.Decimal.Equal)
	slices.Sort(t.currencies)
	t.currencies = slices.Compact(t.currencies)
	return t
}

// termsIn are what the lines of a list that are no articles say of its prices.
func (m Mapping) termsIn(lines []Line) terms {
	var t terms
	for i, l := range lines {
		over := i+1 < len(lines) && lines[i+1].Number == m.Header && slices.Equal(joined(l, lines[i+1]).Cells, m.Headings)
		if l.Number != m.Header && !over && m.isBeside(l) {
			t.hear(l)
		}
	}
	return t
}

// isBeside reports whether a line stands beside the table: above its headings, or without a price below them.
func (m Mapping) isBeside(l Line) bool {
	return l.Number < m.Header || m.isRemark(l) || !strings.ContainsAny(m.cell(l, Price), "0123456789")
}

// hear adds what a line that is no article says. A clause that names nothing itself may belong to the charge named before it:
// "Transportkosten pauschal, inkl. MwSt.".
func (t *terms) hear(l Line) {
	ofCharge := false
	for _, cell := range l.Cells {
		for _, clause := range clausesOf(cell) {
			var said terms
			said.hearClause(clause)
			text := plain(clause)
			if ofPrices := priceWords.MatchString(text); ofPrices || isOfCharge(text, clause) {
				ofCharge = !ofPrices
			} else if ofCharge {
				said.certain, said.rates = false, nil
			}
			*t = t.with(said)
		}
	}
}

// isOfCharge reports whether a clause speaks of what is charged beside the goods, or of an amount.
func isOfCharge(text, clause string) bool {
	return orderWords.MatchString(text) || chargeWords.MatchString(text) || amountSaid.MatchString(clause)
}

var (
	initials     = regexp.MustCompile(`(?:\b\pL\.){2,}`)                                                        // P.V.P.
	decimals     = regexp.MustCompile(`(\d)[.,](\d)`)                                                           // a mark that ends no clause
	cutWords     = regexp.MustCompile(`(?i)\b(gesetzl|einschl|zuzgl|compr|inclus|exclus|escl|prec|prez|art)\.`) // and so does that of these
	sentenceEnds = regexp.MustCompile(`(\pL{5,}|\d|%|(?i:vat|gst|mwst|ust|tva|btw|iva))\s*\.\s+(\pL)`)          // ends behind a whole word or a figure
	clauseEnds   = regexp.MustCompile(`[,;:!?|]`)
)

// clausesOf parts what is said: "Preise inkl. 19 % MwSt., UVP unverbindlich" says two things.
func clausesOf(text string) []string {
	text = initials.ReplaceAllStringFunc(text, func(s string) string { return strings.ReplaceAll(s, ".", "") })
	text = decimals.ReplaceAllString(text, "$1·$2")
	text = cutWords.ReplaceAllString(text, "$1 ")
	// A bracket belongs to what stands before it: "prices in GBP (ex VAT)", "IVA incluida (21 %)".
	text = strings.NewReplacer("(", " ", ")", " ", "[", " ", "]", " ", " - ", ";", " – ", ";").Replace(text)
	return clauseEnds.Split(sentenceEnds.ReplaceAllString(text, "$1;$2"), -1)
}

// The words by which a paper speaks of tax and prices, in plain letters.
var (
	taxWords    = wordSet("vat gst tax taxes mwst ust mehrwertsteuer umsatzsteuer steuer tva taxe btw iva moms")
	withinWords = wordSet("incl inc inclusive included includes including include inkl inklusive einschl einschliesslich einschließlich enthalten enthalt inclus incluse incluses compris comprise " +
		"comprises inclusief inbegrepen inclusa incluso inclusi compresa compreso comprensivi comprensivo con avec incluido incluida incluidos incluidas")
	withoutWords = wordSet("excl ex exc exclusive excluding exclude excludes excluded without before plus zzgl zuzuglich exkl exklusive ohne hors exclusief zonder esclusa escluso esclusi escluse escl " +
		"senza piu oltre sin mas eks ekskl sus")
	notWords    = wordSet("not no non nicht niet pas ne")
	noneWords   = wordSet("no keine kein aucune geen nessuna ninguna")
	wholeIn     = wordSet("ttc ivato ivata ivati") // the tax and that it is in, in one
	wholeOut    = wordSet("ht htva")
	retailWords = regexp.MustCompile(`(^| )(rrps?|srps?|msrps?|retail|consumer|recommended|suggested|uvp|vk|ladenpreise?|endkundenpreise?|publics?|conseilles?|ppc|advies\w*|consument\w*|pvp|pubblico|consigliat[oi]|recomendad[oa]s?)( |$)`)
	priceWords  = regexp.MustCompile(`(^| )(prices?|pricing|pricelist|trade list|\w*preise?n?|\w*preisliste|prix|tarifs?|tarifas?|prijs|prijzen|\w*prijzen|prijslijst|prezzi|prezzo|listino|precios?|currency|wahrung|devise|valuta|divisa|moneda)( |$)`)
	orderWords  = regexp.MustCompile(`(^| )(orders?|carriage|delivery|shipping|postage|freight|\w*versand\w*|fracht\w*|\w*bestell\w*|porto|lieferung|frei haus|port|livraison|franco|commandes?|verzending|verzendkosten|spedizione|consegna|trasporto|ordin[ei]|spese|portes|envios?|pedidos?)( |$)`)
	// What is charged beside the goods; and a clause with an amount of money speaks of that amount.
	chargeWords = regexp.MustCompile(`(^| )(charges?|surcharges?|fees?|handling|packing|packaging|pallets?|deposits?|minimum|\w*zuschlag\w*|\w*zuschlage\w*|\w*transport\w*|\w*gebuhr\w*|\w*pauschale?n?|\w*pfand|verpackung\w*|frais|emballage|consigne|toeslag\w*|kosten|\w+kosten|statiegeld|supplement[oi]|imballo|recargos?|gastos?|embalaje)( |$)`)
	amountSaid  = regexp.MustCompile(`(?i)[£€$] ?\d|\d ?[£€$]|\d ?(gbp|eur|euros?|usd|chf|fr)\b|\b(gbp|eur|usd|chf) ?\d`)
	saysNothing = wordSet("all alle alles at of the a an rate at von zu mit der die das sind ist is are sont est son zijn le la les l di il al del de el los toutes taxes tous tutti todo todos und and et y e o or oder en " +
		"gesetzl gesetzliche gesetzlichen gesetzlicher geltende geltenden current currently applicable legal standard uk gb bzw jeweils bereits already stand our onze unsere nos figures amounts betrage werte montants bedragen importi importes eur gbp chf usd euro euros sterling")
	exWorks     = regexp.MustCompile(`\bex (works|warehouse|store|depot)\b`)
	ratePattern = regexp.MustCompile(`(\d{1,2}(?:·\d{1,2})?) ?%`)
)

func wordSet(words string) map[string]bool {
	out := map[string]bool{}
	for w := range strings.FieldsSeq(words) {
		out[w] = true
	}
	return out
}

func (t *terms) hearClause(clause string) {
	text := exWorks.ReplaceAllString(plain(clause), "")
	ofPrices := priceWords.MatchString(text)
	if ofPrices {
		*t = t.with(terms{currencies: currenciesIn(clause)})
	}
	if retailWords.MatchString(text) || !ofPrices && isOfCharge(text, clause) {
		return
	}
	within, without := taxSaid(text)
	t.taxIn, t.taxOut = t.taxIn || within, t.taxOut || without
	if !within {
		return
	}
	if t.words == "" {
		t.words = strings.Join(strings.Fields(strings.ReplaceAll(clause, "·", ",")), " ")
	}
	if ofTheseOnly(text, ofPrices) {
		*t = t.with(terms{rates: ratesIn(clause), certain: true})
	}
}

// ofTheseOnly reports whether what a clause says of tax in plain letters is said of the table's prices: it names them, and nothing
// else before the tax, or it says the tax and nothing else. Any other may speak of a charge: its rate is not taken.
func ofTheseOnly(text string, ofPrices bool) bool {
	words := strings.Fields(text)
	if ofPrices {
		tax := slices.IndexFunc(words, func(w string) bool { return taxWords[w] || wholeIn[w] })
		before := strings.Join(words[:max(tax, 0)], " ")
		return !orderWords.MatchString(before) && !chargeWords.MatchString(before)
	}
	return !slices.ContainsFunc(words, func(w string) bool {
		return strings.Trim(w, "0123456789·%") != "" && !taxWords[w] && !withinWords[w] && !withoutWords[w] && !notWords[w] && !wholeIn[w] && !saysNothing[w]
	})
}

// taxSaid is whether a text in plain letters says that tax is in, or that it is not; both where that cannot be told. Of
// "inclusief btw, exclusief verzendkosten" the word next to the tax decides.
func taxSaid(text string) (within, without bool) {
	words := slices.DeleteFunc(strings.Fields(text), func(w string) bool { return strings.Trim(w, "0123456789·") == "" })
	for i, w := range words {
		switch {
		case wholeIn[w]:
			within = true
		case wholeOut[w]:
			without = true
		case taxWords[w] && i > 0 && noneWords[words[i-1]]: // "no taxes included"
			without = true
		case taxWords[w]:
			in, out := nextTo(words, i)
			within, without = within || in, without || out
		}
	}
	return within, without
}

// nextTo is what the nearest word to the tax at i says of it, before it or behind; a "not" beside that word turns it.
func nextTo(words []string, i int) (within, without bool) {
	for far := 1; far < len(words) && !within && !without; far++ {
		for _, at := range []int{i - far, i + far} {
			if at < 0 || at >= len(words) {
				continue
			}
			in, out := withinWords[words[at]], withoutWords[words[at]]
			if at == i-1 { // "c/IVA" and "s/IVA"
				in, out = in || words[at] == "c", out || words[at] == "s"
			}
			if in && (at > 0 && notWords[words[at-1]] || at+1 < len(words) && notWords[words[at+1]]) {
				in, out = false, true
			}
			within, without = within || in, without || out
		}
	}
	return within, without
}

// ratesIn are the rates of tax that a text names, each once.
func ratesIn(text string) []decimal.Decimal {
	var out []decimal.Decimal
	text = decimals.ReplaceAllString(text, "$1·$2")
	for _, found := range ratePattern.FindAllStringSubmatch(text, -1) {
		rate, err := decimal.NewFromString(strings.ReplaceAll(found[1], "·", "."))
		if err == nil && !slices.ContainsFunc(out, rate.Equal) {
			out = append(out, rate)
		}
	}
	return out
}

// currencyNames are those that a text spells out.
var currencyNames = map[string]string{
	"sterling": "GBP", "pounds": "GBP", "dollars": "USD", "euro": "EUR", "euros": "EUR", "franken": "CHF", "francs suisses": "CHF", "franchi": "CHF",
}

// currenciesIn are the currencies that a text names: by sign, by a code in capitals, or by name.
func currenciesIn(text string) []string {
	var out []string
	add := func(c string) {
		if c != "" && !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	for sign, c := range map[string]string{"£": "GBP", "€": "EUR", "¥": "JPY"} {
		if strings.Contains(text, sign) {
			add(c)
		}
	}
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return !(r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r > 127) }) {
		if len(word) == 3 && word == strings.ToUpper(word) {
			add(currencies[strings.ToLower(word)])
		}
		add(currencyNames[strings.ToLower(word)])
	}
	slices.Sort(out)
	return out
}
