package inventory

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/substitution"
)

// CorrectPart changes what is on record of a part and keeps the trail. Dimensions that a person has said, or has said not
// to be known, stand from then on against what lists say; so does a retail price that is changed. A part of another family
// keeps those dimensions that this one has too. A code that another part bears is a *[TakenError].
func CorrectPart(ctx context.Context, tx pgx.Tx, id int64, hand Hand, change func(*Part) error) (Part, error) {
	if _, err := tx.Exec(ctx, `SELECT FROM part WHERE id = $1 FOR NO KEY UPDATE`, id); err != nil {
		return Part{}, fmt.Errorf("lock part %d: %w", id, err)
	}
	was, err := PartByID(ctx, tx, id)
	if err != nil {
		return Part{}, err
	}
	if became, err := Became(ctx, tx, id); err != nil || became != id {
		return Part{}, cmpErr(err, fmt.Errorf("part %d has become one with part %d: correct that one", id, became))
	}
	is := was
	is.Spec = maps.Clone(was.Spec)
	if is.Spec == nil {
		is.Spec = substitution.Spec{}
	}
	if err := change(&is); err != nil {
		return Part{}, err
	}
	if is.Family != was.Family {
		table, err := substitution.TableOf(is.Family)
		if err != nil {
			return Part{}, err
		}
		maps.DeleteFunc(is.Spec, func(name string, _ substitution.Fact) bool { _, has := table.Dimension(name); return !has })
	}
	if is, err = is.Check(); err != nil {
		return Part{}, fmt.Errorf("part %d, %s: %w", id, was.Name, err)
	}
	if is.MakerCode != "" && is.Brand == "" {
		return Part{}, errors.New("a maker's code needs its brand: say whose it is")
	}
	changes, said := was.changes(is)
	if err := Correct(ctx, tx, hand, OfPart, id, changes...); err != nil {
		return Part{}, err
	}
	var binID *int64
	if is.Bin != "" {
		found, err := binNamed(ctx, tx, is.Bin)
		if err != nil {
			return Part{}, err
		}
		binID = &found
	}
	if err := othersCode(ctx, tx, is); err != nil {
		return Part{}, err
	}
	retail := !sameAmount(was.Retail, is.Retail)
	if _, err := tx.Exec(ctx, `
		UPDATE part SET family = $2, name = $3, dims = $4, origins = $5, notes = $6, brand = $7, maker_code = $8, gtin = NULLIF($9, ''),
		    reorder_level = $10, reorder_to = $11, bin_id = $12,
		    retail = CASE WHEN $13 THEN $14 ELSE retail END, retail_by = CASE WHEN $13 THEN NULL ELSE retail_by END, retail_as_of = CASE WHEN $13 THEN NULL ELSE retail_as_of END,
		    said = ARRAY(SELECT DISTINCT unnest(said || $15::text[]) ORDER BY 1)
		WHERE id = $1`,
		id, is.Family, is.Name, is.Spec.Values(), is.Spec.Origins(), is.Spec.Notes(), is.Brand, is.MakerCode, is.GTIN,
		is.ReorderLevel, is.ReorderTo, binID, retail, is.Retail, said); err != nil {
		return Part{}, fmt.Errorf("correct part %d: %w", id, err)
	}
	return PartByID(ctx, tx, id)
}

// cmpErr is the first error that is one.
func cmpErr(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// othersCode is a *[TakenError] where another part bears a code of the part.
func othersCode(ctx context.Context, db DB, p Part) error {
	var other int64
	err := db.QueryRow(ctx, `
		SELECT id FROM part WHERE id <> $1 AND (gtin = NULLIF($2, '') OR $3 <> '' AND $4 <> '' AND lower(maker_code) = lower($3) AND lower(brand) = lower($4))
		LIMIT 1`, p.ID, p.GTIN, p.MakerCode, p.Brand).Scan(&other)
	if errors.Is(err, pgx.ErrNoRows) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("look for a part like %q: %w", p.Name, err)
	}
	has, err := PartByID(ctx, db, other)
	if err != nil {
		return err
	}
	by := fmt.Sprintf("part %d, %s,", has.ID, has.Name)
	if p.GTIN != "" && has.GTIN == p.GTIN {
		return &TakenError{What: "GTIN", Value: p.GTIN, By: by}
	}
	return &TakenError{What: "maker's code", Value: p.MakerCode, By: by}
}

// changes are what is otherwise in another state of the part, and what of it a person has said from now on.
func (p Part) changes(is Part) (changes []Change, said []string) {
	add := func(what, was, became string) { changes = append(changes, Change{what, was, became}) }
	add("family", string(p.Family), string(is.Family))
	add("name", p.Name, is.Name)
	add("brand", p.Brand, is.Brand)
	add("maker's code", p.MakerCode, is.MakerCode)
	add("GTIN", p.GTIN, is.GTIN)
	add("bin", p.Bin, is.Bin)
	if !sameAmount(p.Retail, is.Retail) {
		add("retail price", amountWords(p.Retail), amountWords(is.Retail))
	}
	add("reorder", levelWords(p.ReorderLevel, p.ReorderTo), levelWords(is.ReorderLevel, is.ReorderTo))
	names := slices.Concat(p.Spec.Names(), is.Spec.Names())
	slices.Sort(names)
	for _, name := range slices.Compact(names) {
		was, became := factWords(p.Spec, name), factWords(is.Spec, name)
		if add(name, was, became); was != became {
			said = append(said, name)
		}
	}
	if p.Family != is.Family && len(said) == 0 {
		said = append(said, "family")
	}
	return changes, said
}

// factWords is a dimension with where it comes from; empty where it is not known.
func factWords(s substitution.Spec, name string) string {
	fact, known := s[name]
	if !known {
		return ""
	}
	words := fmt.Sprintf("%s (%s", fact.Value, fact.Origin)
	if fact.Note != "" {
		words += ": " + fact.Note
	}
	return words + ")"
}

func sameAmount(a, b decimal.NullDecimal) bool {
	return a.Valid == b.Valid && (!a.Valid || a.Decimal.Equal(b.Decimal))
}

func amountWords(a decimal.NullDecimal) string {
	if !a.Valid {
		return ""
	}
	return a.Decimal.String()
}

func levelWords(level, to *int) string {
	if level == nil || to == nil {
		return ""
	}
	return fmt.Sprintf("at %d up to %d", *level, *to)
}

// AlikeLacking are the other parts that say the same as a part and like it lack a dimension, so that one answer is for
// all of them: of its family and brand, or where it has no brand of one supplier's lists, and alike in every dimension
// that is known of either but for the finish and the pack. Where the dimension is a word and no size, sizes may differ:
// the same product in other sizes.
func AlikeLacking(ctx context.Context, db DB, p Part, dimension string) ([]Part, error) {
	table, err := substitution.TableOf(p.Family)
	if err != nil {
		return nil, err
	}
	d, has := table.Dimension(dimension)
	if !has {
		return nil, fmt.Errorf("a %s has no dimension %q", p.Family, dimension)
	}
	found, err := Collect(ctx, db, partReader(), `
		SELECT `+partColumns+` FROM part
		WHERE id <> $1 AND family = $2 AND `+stands+` AND NOT dims ? $3 AND lower(brand) = lower($4) AND NOT $3 = ANY(said)
		  AND ($4 <> '' OR EXISTS (SELECT FROM offer mine JOIN offer other ON other.supplier_id = mine.supplier_id WHERE mine.part_id = $1 AND other.part_id = part.id))
		ORDER BY id`, p.ID, p.Family, dimension, p.Brand)
	if err != nil {
		return nil, fmt.Errorf("look for parts that say the same as part %d: %w", p.ID, err)
	}
	aside := []string{"colour", "material", "treatment", "pack"}
	sizes := d.Form == substitution.Word
	return slices.DeleteFunc(found, func(o Part) bool {
		for _, name := range slices.Concat(p.Spec.Names(), o.Spec.Names()) {
			kind, _ := table.Dimension(name)
			if slices.Contains(aside, name) || sizes && kind.Form != substitution.Word {
				continue
			}
			a, inP := p.Get(name)
			b, inO := o.Get(name)
			if inP != inO || !a.Equal(b) {
				return true
			}
		}
		return false
	}), nil
}

// CodeKind is what a code of a part is.
type CodeKind string

// The kinds of code that a part may be known by.
const (
	barcodeNumber CodeKind = "GTIN"
	makersCode    CodeKind = "maker's code"
	suppliersCode CodeKind = "supplier's code"
)

// MoveCode gives a code that one part bears to another: a GTIN, a maker's code, or a supplier's code with all that is
// offered under it. A supplier's code that several suppliers use is written SUPPLIER:CODE. What lists say under a moved
// code is of its new part from then on. It says what kind of code it was.
func MoveCode(ctx context.Context, tx pgx.Tx, code string, to int64, hand Hand) (kind CodeKind, from Part, err error) {
	code = strings.TrimSpace(code)
	target, err := PartByID(ctx, tx, to)
	if err != nil {
		return "", Part{}, err
	}
	bearer, err := Collect(ctx, tx, partReader(), `
		SELECT `+partColumns+` FROM part WHERE gtin = $1 OR brand <> '' AND maker_code <> '' AND lower(maker_code) = lower($1) ORDER BY id`, code)
	if err != nil {
		return "", Part{}, fmt.Errorf("look for code %s: %w", code, err)
	}
	offers, err := Collect(ctx, tx, pgx.RowToStructByPos[offerCode], `
		SELECT offer.id, supplier.code, offer.code, offer.part_id FROM offer JOIN supplier ON supplier.id = supplier_id
		WHERE lower(offer.code) = lower($1) OR lower(supplier.code || ':' || offer.code) = lower($1) ORDER BY offer.id`, code)
	if err != nil {
		return "", Part{}, fmt.Errorf("look for code %s: %w", code, err)
	}
	switch {
	case len(bearer)+len(offers) == 0:
		return "", Part{}, &UnknownError{Kind: OfCode, Name: code}
	case len(bearer)+len(offers) > 1:
		var names []string
		for _, o := range offers {
			names = append(names, o.Supplier+":"+o.Code)
		}
		return "", Part{}, fmt.Errorf("%d things bear the code %s: name the supplier's as %s, or change a maker's code or GTIN on the part itself", len(bearer)+len(offers), code, list(names, "or"))
	case len(offers) == 1:
		if from, err = PartByID(ctx, tx, offers[0].PartID); err != nil {
			return "", Part{}, err
		}
		kind, code = suppliersCode, offers[0].Supplier+":"+offers[0].Code
	default:
		from, kind = bearer[0], makersCode
		if from.GTIN == code {
			kind = barcodeNumber
		}
	}
	if from.ID == to {
		return "", Part{}, &NothingToCorrectError{"part", to}
	}
	if from.Family != target.Family {
		return "", Part{}, fmt.Errorf("part %d is a %s and part %d a %s: a code cannot stand for both; correct the family of one of them first", from.ID, from.Family, to, target.Family)
	}
	if kind == suppliersCode {
		if err := Correct(ctx, tx, hand, OfPart, from.ID, Change{string(kind), code, ""}); err != nil {
			return "", Part{}, err
		}
		hand.Seen = nil // of the part that the code leaves
		if err := Correct(ctx, tx, hand, OfPart, to, Change{string(kind), "", code}); err != nil {
			return "", Part{}, err
		}
		_, err = tx.Exec(ctx, `UPDATE offer SET part_id = $2, said = true WHERE id = $1`, offers[0].ID, to)
		return kind, from, err
	}
	brand := from.Brand
	if kind == makersCode {
		code = from.MakerCode // as it was written
	}
	if _, err := CorrectPart(ctx, tx, from.ID, hand, func(p *Part) error { return p.giveCode(kind, "", p.Brand) }); err != nil {
		return "", Part{}, err
	}
	hand.Seen = nil
	_, err = CorrectPart(ctx, tx, to, hand, func(p *Part) error { return p.giveCode(kind, code, brand) })
	return kind, from, err
}

type offerCode struct {
	ID       int64
	Supplier string
	Code     string
	PartID   int64
}

// giveCode gives a part a code that is its own, or takes it away.
func (p *Part) giveCode(kind CodeKind, code, brand string) error {
	has := &p.MakerCode
	if kind == barcodeNumber {
		has = &p.GTIN
	}
	if code != "" && *has != "" {
		return fmt.Errorf("part %d, %s, has a %s of its own, %s: take that away first", p.ID, p.Name, kind, *has)
	}
	*has = code
	if kind == makersCode && code != "" {
		p.Brand = brand
	}
	return nil
}
