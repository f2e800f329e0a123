package catalogue

import (
	"context"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/pricelist"
	"stead/inventory/pricelist/describe"
	"stead/substitution"
)

// Line is a row of a list with its description read: what is sold together, and what that costs.
type Line struct {
	pricelist.Row
	Read   describe.Reading
	Pack   int                 // pieces sold together, at least 1
	Price  decimal.NullDecimal // of a pack
	Retail decimal.NullDecimal // recommended, of a pack, tax included
}

// Reader reads the lines of one supplier's lists: with the trade's words, the shop's own for the supplier, and what a person
// has said of single lines.
type Reader struct {
	words *describe.Reader
	lines map[string][]string // by code, what a person has said of the line
}

// ReaderOf is the reader of a supplier's lists.
func ReaderOf(ctx context.Context, db inventory.DB, supplierID int64) (Reader, error) {
	words, err := WordsOf(ctx, db, supplierID)
	if err != nil {
		return Reader{}, err
	}
	own, err := describe.NewReader(words)
	if err != nil {
		return Reader{}, err
	}
	lines, err := saidOfLines(ctx, db, supplierID)
	return Reader{words: own, lines: lines}, err
}

// saidOfLines is what a person has said of single lines of a supplier's lists, by their codes.
func saidOfLines(ctx context.Context, db inventory.DB, supplierID int64) (map[string][]string, error) {
	rows, err := db.Query(ctx, `SELECT code, meanings FROM list_line WHERE supplier_id = $1`, supplierID)
	if err != nil {
		return nil, fmt.Errorf("read what was said of lines: %w", err)
	}
	lines := map[string][]string{}
	var code string
	var meanings []string
	if _, err := pgx.ForEachRow(rows, []any{&code, &meanings}, func() error { lines[code] = meanings; return nil }); err != nil {
		return nil, fmt.Errorf("read what was said of lines: %w", err)
	}
	return lines, nil
}

// Line reads a row's description and settles what is sold together and at what price. A price of one piece is taken
// that many times.
func (r Reader) Line(row pricelist.Row) Line {
	l := Line{Row: row, Read: r.read(row.Code, row.Name), Pack: max(row.Pack, 1)}
	if said, ok := l.Read.Spec["pack"]; ok && row.Pack <= 1 {
		l.Pack = max(int(said.Value.Float()), 1)
	}
	l.Price = ofPack(row.Price, row.PriceEach, l.Pack)
	l.Retail = ofPack(row.RRP, row.RRPEach, l.Pack)
	if metres, off, ok := substitution.Roll(l.Read.Family, l.Read.Spec); ok { // the pack of a roll is its metres
		l.Read.Spec = off
		if l.Pack == 1 {
			l.Pack = metres
		}
	}
	l.partTape()
	return l
}

// lengthOfRoll is how a list says how many metres a roll holds.
var lengthOfRoll = regexp.MustCompile(`(?i)(\d+(?:[.,]\d+)?) ?(?:m|mtrs?|met(?:er|re)s?|mètres?|metri|meter)(?:[^\pL]|$)`)

// partTape makes a roll of rim tape as many wheels' lengths as it holds.
func (l *Line) partTape() {
	if l.Read.Family != "rim-tape" || l.Pack > 1 {
		return
	}
	found := lengthOfRoll.FindStringSubmatch(l.Row.Name)
	if found == nil {
		return
	}
	metres, err := strconv.ParseFloat(strings.Replace(found[1], ",", ".", 1), 64)
	if err != nil {
		return
	}
	if wheels, off, ok := substitution.TapeRoll(l.Read.Spec, metres); ok {
		l.Read.Spec, l.Pack = off, wheels
	}
}

// read reads a description. What a person has said of the line stands against whatever its words say.
func (r Reader) read(code, name string) describe.Reading {
	said := r.lines[code]
	if len(said) == 0 {
		return r.words.Read(name)
	}
	return r.words.ReadAs(name, said)
}

func ofPack(price decimal.NullDecimal, each bool, pack int) decimal.NullDecimal {
	if price.Valid && each {
		price.Decimal = price.Decimal.Mul(decimal.NewFromInt(int64(pack)))
	}
	return price
}

// waits says why a line is no offer; empty for one that names a kind of part.
func (l Line) waits() string {
	switch {
	case l.Read.Failed != nil:
		return "the reader failed on its description"
	case l.Read.Wrong != nil:
		return "it contradicts itself: " + l.Read.Wrong.Error()
	case l.soldByTheFoot():
		return "it is sold by the foot, and what comes off a roll is counted in metres here: ask for a roll of so many feet, or enter its offer by hand"
	case l.tapeByTheMetre():
		return "it is sold by the metre, and rim tape is counted in wheels' lengths here, of some 2.1 m: ask for a roll of so many metres, or enter its offer by hand"
	case l.Read.Family != "":
		return ""
	case l.Read.Other != "":
		return fmt.Sprintf("“%s” is no kind of part that is kept here", l.Read.Other)
	case len(l.Read.Unread) > 0:
		return "no word of it names a kind of part; not read: " + strings.Join(l.Read.Unread, ", ")
	}
	return "no word of it names a kind of part"
}

// family is what the line is of, empty for one that waits.
func (l Line) family() substitution.Family {
	if l.Read.Wrong != nil || l.soldByTheFoot() || l.tapeByTheMetre() {
		return ""
	}
	return l.Read.Family
}

// spec is what the line says of the part. How many pieces are sold together is the offer's, not the part's: another
// wholesaler sells it otherwise.
func (l Line) spec() substitution.Spec {
	delete(l.Read.Spec, "pack")
	return l.Read.Spec
}

// byTheFoot is how a list says that its piece is a foot.
var byTheFoot = regexp.MustCompile(`(?i)\b(?:per|by the|/) ?(?:foot|ft)\b`)

// soldByTheFoot tells of what comes off a roll and is sold by the foot: no whole number of its pieces is a metre.
func (l Line) soldByTheFoot() bool {
	table, err := substitution.TableOf(l.Read.Family)
	return err == nil && table.ByMetre && byTheFoot.MatchString(l.Row.Name)
}

// byTheMetre is how a list says that its piece is a metre.
var byTheMetre = regexp.MustCompile(`(?i)(?:\b(?:per|by the|pro|je|al|au) ?|/ ?)(?:m|met(?:er|re)|mètre|metro)(?:[^\pL]|$)|\b(?:lfm|meterware)\b`)

// tapeByTheMetre tells of rim tape that is sold by the metre: no piece of it goes round a wheel.
func (l Line) tapeByTheMetre() bool {
	return l.Read.Family == "rim-tape" && byTheMetre.MatchString(l.Row.Name)
}
