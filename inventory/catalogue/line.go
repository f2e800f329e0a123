package catalogue

import (
	"context"
	"fmt"
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
	Breaks []inventory.Break   // of a pack, from a number of packs on; nil where the list has none at all
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
	name := row.Name
	if row.ByMetre {
		name += ", per metre" // as lists without a column for it say
	}
	l := Line{Row: row, Read: r.read(row.Code, name), Pack: max(row.Pack, 1)}
	priced := row // with what its columns say of how much is sold together
	switch said, ok := l.Read.Spec["pack"]; {
	case row.Pack == 0 && row.Per > 1:
		l.Pack = row.Per
	case ok && row.Pack <= 1:
		l.Pack = max(int(said.Value.Float()), 1)
		if row.EachNamed || row.Per == 1 { // "pads, pair" at 5.40 each are two for 5.40
			priced.Per, priced.PriceEach = 0, false
		}
	}
	l.Price = ofPack(row.Price, priced.Of(l.Pack), l.Pack)
	l.Breaks = breaksOf(priced, l.Pack)
	if len(l.Breaks) > 0 && l.Breaks[0].FromPacks == 1 { // one pack holds as many
		l.Price.Decimal, l.Breaks = l.Breaks[0].Price, l.Breaks[1:]
	}
	l.Retail = ofPack(row.RRP, row.RRPIn(l.Pack), l.Pack)
	pieces, off, ok := substitution.Roll(l.Read.Family, l.Read.Spec, l.Read.Roll)
	if ok && (l.Pack == 1 || l.Pack == pieces) { // the pack of a roll is what comes off it; several rolls are not parted
		l.Read.Spec, l.Pack = off, pieces
	}
	return l
}

// read reads a description. What a person has said of the line stands against whatever its words say.
func (r Reader) read(code, name string) describe.Reading {
	said := r.lines[code]
	if len(said) == 0 {
		return r.words.Read(name)
	}
	return r.words.ReadAs(name, said)
}

// ofPack is the price of a pack, where one of so many pieces is known.
func ofPack(price decimal.NullDecimal, of, pack int) decimal.NullDecimal {
	if price.Valid && of != pack {
		price.Decimal = inventory.Rounded(price.Decimal.Mul(decimal.NewFromInt(int64(pack))), decimal.NewFromInt(int64(of)), 4)
	}
	return price
}

// breaksOf are a row's prices for many. Those of one piece hold from so many pieces on: from the packs that make as many.
func breaksOf(row pricelist.Row, pack int) []inventory.Break {
	of := row.Of(pack)
	if of == pack || row.Breaks == nil {
		return row.Breaks
	}
	out := []inventory.Break{}
	for _, b := range row.Breaks {
		packs := (b.FromPacks*of + pack - 1) / pack
		b.Price = ofPack(decimal.NewNullDecimal(b.Price), of, pack).Decimal
		if n := len(out); n > 0 && out[n-1].FromPacks == packs {
			out = out[:n-1] // so many packs have the better price as well
		}
		out = append(out, inventory.Break{FromPacks: packs, Price: b.Price})
	}
	return out
}

// waits says why a line is no offer; empty for one that names a kind of part.
func (l Line) waits() string {
	switch {
	case l.Read.Failed != nil:
		return "the reader failed on its description"
	case l.Read.Wrong != nil:
		return "it contradicts itself: " + l.Read.Wrong.Error()
	case l.cutOtherwise() != "":
		return l.cutOtherwise()
	case l.lotUnknown() != "":
		return l.lotUnknown()
	case l.Read.Family != "":
		return ""
	case l.Read.Other != "":
		return fmt.Sprintf("“%s” is no kind of part that is kept here", l.Read.Other)
	case len(l.Read.Unread) > 0:
		return "no word of it names a kind of part; not read: " + strings.Join(l.Read.Unread, ", ")
	}
	return "no word of it names a kind of part"
}

// lotUnknown says that a line is sold by the box and nothing of it says how many are in one; empty where it does.
func (l Line) lotUnknown() string {
	if l.Lot == "" || l.Pack > 1 {
		return ""
	}
	return fmt.Sprintf("it is sold by the %s, and how many pieces are in one is not said: enter its offer by hand", l.Lot)
}

// family is what the line is of, empty for one that waits.
func (l Line) family() substitution.Family {
	if l.Read.Wrong != nil || l.cutOtherwise() != "" || l.lotUnknown() != "" {
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

// cutOtherwise says how a line counts what comes off a roll where no whole number of its pieces is one of ours; empty
// where it does not.
func (l Line) cutOtherwise() string {
	table, err := substitution.TableOf(l.Read.Family)
	switch {
	case err != nil:
	case l.Read.Per == describe.PerFoot && table.ByMetre:
		return "it is sold by the foot, and what comes off a roll is counted in metres here: ask for a roll of so many feet, or enter its offer by hand"
	case l.Read.Per != "" && !table.ByMetre:
		return fmt.Sprintf("it is sold by the %s, and %s are counted in wheels' lengths here, of some 2.1 m: ask for a roll of so many metres, or enter its offer by hand", l.Read.Per, table.Plural)
	}
	return ""
}
