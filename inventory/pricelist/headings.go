package pricelist

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// What else stands in the columns of lists. It is none of the fields, and is known so that no price is read from it.
const (
	amount   Field = "amount"   // of a whole line
	discount Field = "discount" // what is taken off a price
	ordered  Field = "ordered"  // how many were ordered
	sent     Field = "sent"     // and how many of them are confirmed or sent
	position Field = "position" // a line's number
	validity Field = "validity" // the first or the last day of a line's price
)

// headings are the words over a column, best first, in the languages of the suppliers: English, German, French, Dutch,
// Italian and Spanish. Accents are left out, for lists do too. A heading that is one of them says more than one that contains it.
var headings = map[Field][]string{
	Code: {"code", "item code", "product code", "stock code", "item no", "item number", "item", "sku", "order code", "order no", "article number", "article no",
		"article", "art nr", "artnr", "bestel nr", "produkt nr", "teile nr", "art no", "art code", "artikelnummer", "artikelnr", "artikel nr", "artikel", "catalogue no", "cat no", "cat ref", "reference", "ref",
		"our code", "our ref", "supplier code", "part no", "part number", "part code", "product no", "stock no", "id", "bestellnummer", "bestell nr", "best nr",
		"sachnummer", "nr", "code article", "reference article", "ref article", "artikelcode", "productcode", "bestelnummer", "bestelcode", "codice", "codice articolo",
		"cod", "cod art", "cod articolo", "articolo", "codigo", "codigo articulo", "cod articulo", "articulo", "referencia"},
	Name: {"description", "product description", "item description", "name", "product name", "title", "bezeichnung", "artikelbezeichnung", "beschreibung",
		"details", "desc", "designation", "article name", "product", "text", "particulars", "artikeltext", "artikelname", "produkt", "produktname", "produktbezeichnung",
		"warenbezeichnung", "libelle", "intitule", "denomination", "descriptif", "produit", "omschrijving", "artikelomschrijving", "productomschrijving", "benaming",
		"descrizione", "descrizione articolo", "descr", "descr art", "denominazione", "prodotto", "descripcion", "denominacion", "concepto", "producto"},
	Brand: {"brand", "make", "maker", "herst", "fabricant", "fabrikant", "merk", "marque", "marca", "manufacturer", "marke", "hersteller", "mfr", "brand name", "vendor",
		"produttore", "fabricante"},
	MakerCode: {"maker code", "makers code", "maker s code", "manufacturer code", "manufacturers code", "manufacturer s code", "mfr code", "mpn", "mfr part no",
		"manufacturer part number", "maker no", "makers no", "maker s no", "hersteller nr", "herstellernummer", "herst nr", "hst nr", "herst art nr", "hersteller art nr", "herstellerartikelnummer", "hersteller artikelnummer", "mfr no", "mfg no", "mfr part", "mfg part no", "makers part no", "maker part number", "supplier part no", "ref fabricant", "fabrikant code", "vendor code", "factory code", "mfr ref", "maker ref",
		"manufacturer ref", "maker part no", "mfg code", "oem code", "ref fabricante", "cod fabricante", "codice produttore", "cod produttore", "fabrieksnummer", "code fabricant"},
	GTIN: {"gtin", "ean", "barcode", "bar code", "ean13", "ean 13", "gtin 13", "ean code", "upc", "ean barcode", "ean upc", "gtin ean", "ean nr", "ean nummer", "gencod",
		"gencode", "code barres", "code a barres", "code barre", "streepjescode", "codice a barre", "cod barre", "codice ean", "codigo de barras", "codigo barras", "cod barras", "cod ean"},
	Price: {"price", "trade price", "trade", "net price", "net", "nett", "cost", "cost price", "dealer price", "dealer", "wholesale", "wholesale price", "wsp",
		"your price", "unit price", "trade ex vat", "price ex vat", "trade price ex vat", "ek", "hek", "ek preis", "einkaufspreis", "handlerpreis", "preis", "price each",
		"nett price", "net cost", "buy price", "pack price", "price per pack", "trade gbp", "price gbp", "price eur", "trade eur", "ek netto", "netto", "nettopreis",
		"einzelpreis", "stuckpreis", "prix", "prix net", "prix ht", "prix unitaire", "prix achat", "prix d achat", "prix revendeur", "tarif", "p u", "pu", "pu ht", "p u ht", "pu net",
		"prijs", "nettoprijs", "inkoop", "inkoopprijs", "inkoop excl", "dealerprijs", "stuksprijs", "prezzo", "prezzo netto", "prezzo unitario", "prezzo rivenditore",
		"precio", "precio neto", "precio distribuidor", "precio unitario", "neto", "tarifa", "pvd"},
	RRP: {"rrp", "srp", "retail", "rrp inc vat", "retail price", "recommended retail price", "recommended price", "msrp", "uvp", "vk", "vk preis", "verkaufspreis",
		"srp inc vat", "rrp inc", "rrp gbp", "retail inc vat", "list price", "rrp eur", "uvp eur", "vk brutto", "ladenpreis", "listenpreis", "prix public", "prix conseille",
		"prix de vente", "ppc", "adviesprijs", "verkoopprijs", "consumentenprijs", "listino", "prezzo al pubblico", "prezzo pubblico", "prezzo consigliato", "pvp",
		"precio venta publico", "precio recomendado"},
	Pack: {"pack", "pack size", "pack qty", "pack quantity", "qty per pack", "units per pack", "pcs", "pieces", "ve", "vpe", "pk", "uom", "uom qty", "unit", "pack of",
		"sold in", "selling unit", "verpakt per", "verpackt zu", "emballage", "pu qty", "pieces per pack", "pack pcs", "inh", "inhalt", "gebinde", "verpackungseinheit", "cond", "conditionnement", "colisage", "lot",
		"verp", "verpakking", "per verpakking", "inhoud", "conf", "confezione", "pz cf", "pz conf", "pezzi", "env", "envase", "embalaje", "uds", "ud", "uds caja", "unidades"},
	Minimum: {"minimum", "min order", "moq", "min qty", "minimum order", "min order qty", "minimum qty", "mindestmenge", "min", "mbm", "mindestbestellmenge",
		"mindestabnahme", "qte min", "quantite minimum", "minimum de commande", "afname", "min afname", "minimumafname", "qta min", "quantita minima", "ordine minimo", "ud min",
		"uds min", "cantidad minima", "pedido minimo", "minimo"},
	Stock: {"stock", "availability", "available", "in stock", "stock level", "stock status", "lager", "bestand", "verfugbarkeit", "avail", "qty available",
		"free stock", "status", "stock qty", "on hand", "verfugbar", "lagerbestand", "ampel", "dispo", "disponibilite", "disponible", "en stock", "voorraad", "vrd", "lieferbar", "lieferbarkeit", "leverbaar",
		"beschikbaar", "beschikbaarheid", "disp", "disponibilita", "giacenza", "giac", "existencias", "exist", "disponibilidad"},
	Per: {"per", "u m", "um", "udm", "unita di misura", "unita", "me", "mengeneinheit", "einheit", "preiseinheit", "pe", "price per", "preis per", "preis je", "prijs per",
		"prix par", "prezzo per", "precio por", "eenheid", "prijseenheid", "unite", "unite de vente", "unite de prix", "unidad", "unit of measure", "sales unit", "price unit",
		"verkaufseinheit", "verkoopeenheid"},
	amount: {"amount", "line total", "total", "net amount", "betrag", "summe", "gesamt", "gesamtpreis", "montant", "montant ht", "bedrag", "totaal", "regeltotaal", "importo",
		"totale", "importe"},
	validity: append(strings.Split(startWords, "|"), strings.Split(endWords, "|")...),
	discount: {"discount", "disc", "rabatt", "rab", "remise", "korting", "sconto", "descuento", "dto"},
	ordered: append(strings.Split(quantityWords, "|"), "ordered", "qty ordered", "order qty", "bestellt", "bestellmenge", "qte cdee", "qte commandee", "commande", "besteld", "ordinato", "qta ordinata", "pedido",
		"cantidad pedida"),
	sent: {"confirmed", "qty confirmed", "delivered", "qty delivered", "despatched", "dispatched", "shipped", "to follow", "bestatigt", "geliefert", "liefermenge", "qte conf",
		"qte confirmee", "qte livree", "confirme", "livre", "geleverd", "bevestigd", "nalevering", "confermato", "qta confermata", "consegnato", "confirmado", "servido"},
	Due: {"due", "due date", "date due", "eta", "back in", "back in stock", "expected", "delivery", "delivery date", "lieferbar ab", "wieder da", "wieder lieferbar",
		"liefertermin", "liefertag", "reassort", "livraison", "delai", "livraison prevue", "date de livraison", "reappro", "verwacht", "leverdatum", "levertijd", "arrivo",
		"arr prev", "arrivo previsto", "consegna", "llegada", "reposicion", "entrega", "fecha entrega"},
	position: {"pos", "position", "line", "line no", "zeile", "ligne", "rgl", "regel", "riga", "linea"},
}

// The words over the first and the last day of a line's price, in plain letters.
const (
	startWords = "valid from|from|from date|start|start date|gultig ab|gultig von|valable du|valable des|date debut|geldig vanaf|ingangsdatum|valido dal|dal|valido desde"
	endWords   = "valid to|valid until|until|to date|end|end date|gultig bis|bis|valable jusqu au|date fin|geldig tot|einddatum|valido fino al|fino al|valido hasta"
)

// quantityWords head what is ordered where they stand alone. Within other headings, "minimum quantity" and "Menge pro VE", they say nothing.
const quantityWords = "qty|quantity|menge|anzahl|aantal|quantite|qte|quantita|qta|cantidad|cant"

// bareUnits are words that head the pack where no other column does, and else what the prices are of.
var bareUnits = []string{"unit", "uom"}

// eitherWay are words that head the code in some lists and the description in others.
var eitherWay = []string{"item", "article", "artikel", "articolo", "articulo"}

// kinds are what a heading may mean, in the order in which they are tried.
var kinds = append(slices.Clone(Fields), amount, discount, ordered, sent, position, validity)

// plain is a heading in the letters of the table: without case, accents, punctuation and signs of currency.
func plain(cell string) string {
	return normal(strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Sc, r) {
			return ' '
		}
		return r
	}, unaccented(cell)))
}

func unaccented(s string) string {
	if isASCII(s) {
		return s
	}
	return strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return r
	}, norm.NFD.String(s))
}

func isASCII(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// headingOf is the field that a heading means, with how sure that is: 4 for the very word, 2 for a heading that holds it.
func headingOf(cell string) (Field, int) {
	text := plain(cell)
	if text == "" || len(text) > 40 {
		return "", 0
	}
	if of, numbered := strings.CutSuffix(text, "nr"); numbered && len(of) > 2 && !strings.HasSuffix(of, " ") {
		text = of + " nr" // "Bestellnr."
	}
	best, score := Field(""), 0
	for _, f := range kinds {
		for _, h := range headings[f] {
			s := 0
			switch {
			case text == h:
				s = 100
			case f == Per, f == validity, f == ordered && strings.Contains("|"+quantityWords+"|", "|"+h+"|"): // within other headings its words say something else
			case strings.HasPrefix(text, h+" "), strings.HasSuffix(text, " "+h), strings.Contains(text, " "+h+" "):
				s = len(h)
			}
			if s > score {
				best, score = f, s
			}
		}
	}
	switch {
	case score == 100:
		return best, 4
	case score > 0:
		return best, 2
	}
	return "", 0
}

// BreakColumn holds the prices of a pack from a number of packs on, or of a piece from a number of pieces where prices are of
// one piece.
type BreakColumn struct {
	From   int `json:"from"`
	Column int `json:"column"`
}

// breakHeadings are how a heading says that prices hold from a quantity on, without accents: "10+", "Q.ta 3+", "ab 10 Stk",
// "desde 10 u.", "10-24".
var breakHeadings = []*regexp.Regexp{
	regexp.MustCompile(`^(?:\D*[^\d\w.,])?(\d{1,4}) ?\+\D*$`),
	regexp.MustCompile(`^(?:\D*\W)?(?:ab|from|over|a partir de|des|vanaf|da|oltre|desde|>=|≥) ?(\d{1,4})(?:\s\D*)?$`),
	regexp.MustCompile(`^(\d{1,4}) ?[-–] ?\d{1,4}(?: \D*)?$`),
}

// breakFrom is the quantity from which on the prices under a heading hold, or 0.
func breakFrom(heading string) int {
	text := strings.ToLower(unaccented(strings.TrimSpace(heading)))
	for _, form := range breakHeadings {
		if found := form.FindStringSubmatch(text); found != nil {
			from, _ := strconv.Atoi(found[1]) // four digits at most
			return from
		}
	}
	return 0
}

// breakColumns are the columns with prices for more than one.
func breakColumns(headings []string) []BreakColumn {
	var out []BreakColumn
	for i, h := range headings {
		if from := breakFrom(h); from > 1 {
			out = append(out, BreakColumn{From: from, Column: i + 1})
		}
	}
	return out
}
