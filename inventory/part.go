package inventory

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/substitution"
)

// Part is an article of the catalogue.
type Part struct {
	ID                int64
	substitution.Part // family, name and spec: what fits about it
	Brand             string
	MakerCode         string              // unique within the brand
	GTIN              string              // thirteen digits; empty where not known
	Retail            decimal.NullDecimal // recommended retail price a piece, tax included, in the shop's currency; absent without a rate for another
	ReorderLevel      *int                // order again when what is free and on its way falls to this
	ReorderTo         *int                // then order up to this; both or neither
	Bin               string              // where it belongs on the shelf; empty: nowhere in particular
}

// partJSON is how a part is written. It is spelt out because the part that is embedded writes itself otherwise.
type partJSON struct {
	ID           int64                          `json:"id,omitempty"`
	Family       substitution.Family            `json:"family"`
	Brand        string                         `json:"brand,omitempty"`
	MakerCode    string                         `json:"maker_code,omitempty"`
	Name         string                         `json:"name"`
	GTIN         string                         `json:"gtin,omitempty"`
	Spec         map[string]substitution.Value  `json:"spec"`
	Origins      map[string]substitution.Origin `json:"origins,omitempty"`
	Notes        map[string]string              `json:"notes,omitempty"`
	Retail       *decimal.Decimal               `json:"retail,omitempty"`
	ReorderLevel *int                           `json:"reorder_level,omitempty"`
	ReorderTo    *int                           `json:"reorder_to,omitempty"`
	Bin          string                         `json:"bin,omitempty"`
}

// MarshalJSON writes the part flat, with plain values in "spec" and their origins in "origins".
func (p Part) MarshalJSON() ([]byte, error) {
	out := partJSON{
		ID: p.ID, Family: p.Family, Brand: p.Brand, MakerCode: p.MakerCode, Name: p.Name, GTIN: p.GTIN,
		Spec: p.Spec.Values(), Origins: p.Spec.Origins(), Notes: p.Spec.Notes(),
		ReorderLevel: p.ReorderLevel, ReorderTo: p.ReorderTo, Bin: p.Bin,
	}
	if p.Retail.Valid {
		out.Retail = &p.Retail.Decimal
	}
	return json.Marshal(out)
}

// UnmarshalJSON reads a part and checks its spec against the vocabulary. A key that is not known is an error.
func (p *Part) UnmarshalJSON(data []byte) error {
	var in partJSON
	dec := json.NewDecoder(strings.NewReader(string(data)))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&in); err != nil {
		return err
	}
	fit, err := substitution.Part{Family: in.Family, Name: in.Name, Spec: substitution.MakeSpec(in.Spec, in.Origins, in.Notes)}.Check()
	if err != nil {
		return err
	}
	*p = Part{
		ID: in.ID, Part: fit, Brand: in.Brand, MakerCode: in.MakerCode, GTIN: in.GTIN,
		ReorderLevel: in.ReorderLevel, ReorderTo: in.ReorderTo, Bin: in.Bin,
	}
	if in.Retail != nil {
		p.Retail = decimal.NewNullDecimal(*in.Retail)
	}
	return nil
}

// Check returns the part with its spec in the vocabulary's forms, or says what is wrong with it.
func (p Part) Check() (Part, error) {
	fit, err := p.Part.Check()
	if err != nil {
		return Part{}, err
	}
	p.Part = fit
	p.Name, p.Brand, p.MakerCode = strings.TrimSpace(p.Name), strings.TrimSpace(p.Brand), strings.TrimSpace(p.MakerCode)
	if p.Name == "" {
		return Part{}, errNoName
	}
	if table, err := substitution.TableOf(p.Family); err != nil {
		return Part{}, err
	} else if table.NeverSold {
		return Part{}, fmt.Errorf("a %s stays with its bike: it is no part of the catalogue", p.Family)
	}
	p.GTIN = asGTIN13(p.GTIN)
	if err := checkOptionalGTIN(p.GTIN); err != nil {
		return Part{}, err
	}
	p.Bin = strings.TrimSpace(p.Bin)
	if p.Retail.Valid && !p.Retail.Decimal.IsPositive() {
		return Part{}, fmt.Errorf("a retail price of %s cannot be meant: leave it out if it is not known", p.Retail.Decimal)
	}
	if (p.ReorderLevel == nil) != (p.ReorderTo == nil) {
		return Part{}, errors.New("a reorder level and a quantity to reorder up to go together: give both or neither")
	}
	if p.ReorderLevel != nil && (*p.ReorderLevel < 0 || *p.ReorderTo <= *p.ReorderLevel) {
		return Part{}, fmt.Errorf("a part is reordered up to more than its reorder level: not from %d to %d", *p.ReorderLevel, *p.ReorderTo)
	}
	return p, nil
}

const partColumns = `part.id, part.family, part.name, part.dims, part.origins, part.notes, part.brand, part.maker_code,
	COALESCE(part.gtin, ''), CASE WHEN part.retail_by IS NULL THEN part.retail ELSE home_retail(part.retail, part.retail_by, part.retail_as_of) END, part.reorder_level, part.reorder_to,
	COALESCE((SELECT name FROM bin WHERE bin.id = part.bin_id), '')`

// partReader reads the rows of one query. Many parts know the same dimensions from the same sources: what says so is decoded
// once, and so are notes, of which most parts have none.
func partReader() pgx.RowToFunc[Part] {
	origins, notes := decoded[map[string]substitution.Origin]{}, decoded[map[string]string]{}
	return func(row pgx.CollectableRow) (Part, error) {
		var p Part
		var dims, from, remarks []byte
		err := row.Scan(&p.ID, &p.Family, &p.Name, &dims, &from, &remarks, &p.Brand, &p.MakerCode,
			&p.GTIN, &p.Retail, &p.ReorderLevel, &p.ReorderTo, &p.Bin)
		if err != nil {
			return Part{}, err
		}
		known, errOrigins := origins.read(from)
		said, errNotes := notes.read(remarks)
		part, errPart := substitution.ReadPart(p.Family, p.Name, dims, known, said)
		if err := cmp.Or(errOrigins, errNotes, errPart); err != nil {
			return Part{}, fmt.Errorf("part %d: %w", p.ID, err)
		}
		p.Part = part
		return p, nil
	}
}

// decoded are pieces of JSON by their text.
type decoded[T any] map[string]T

func (d decoded[T]) read(text []byte) (T, error) {
	v, before := d[string(text)]
	if before {
		return v, nil
	}
	if err := json.Unmarshal(text, &v); err != nil {
		return v, err
	}
	d[string(text)] = v
	return v, nil
}

// AddPart checks a part against the vocabulary and adds it to the catalogue. A GTIN or a maker's code of the brand that
// another part has is a *[TakenError].
func AddPart(ctx context.Context, tx pgx.Tx, p Part) (Part, error) {
	p, err := p.Check()
	if err != nil {
		return Part{}, fmt.Errorf("part %q: %w", p.Name, err)
	}
	if p.Bin != "" {
		if _, err := binNamed(ctx, tx, p.Bin); err != nil {
			return Part{}, err
		}
	}
	added, err := collectOne(ctx, tx, partReader(), `
		INSERT INTO part (family, name, dims, origins, notes, brand, maker_code, gtin, retail, reorder_level, reorder_to, bin_id, traded)
		VALUES ($1, $2, $3, $4, $5, $6, $7, NULLIF($8, ''), $9, $10, $11, (SELECT id FROM bin WHERE lower(name) = lower($12)), false)
		ON CONFLICT DO NOTHING
		RETURNING `+partColumns,
		p.Family, p.Name, p.Spec.Values(), p.Spec.Origins(), p.Spec.Notes(), p.Brand, p.MakerCode, p.GTIN, p.Retail, p.ReorderLevel, p.ReorderTo, p.Bin)
	if errors.Is(err, pgx.ErrNoRows) {
		return Part{}, takenBy(ctx, tx, p)
	}
	if err != nil {
		return Part{}, fmt.Errorf("add part %q: %w", p.Name, err)
	}
	return added, nil
}

// takenBy says which code of the part another part has.
func takenBy(ctx context.Context, db DB, p Part) error {
	other, err := collectOne(ctx, db, partReader(), `
		SELECT `+partColumns+` FROM part
		WHERE gtin = NULLIF($1, '') OR lower(maker_code) = lower($2) AND lower(brand) = lower($3)
		ORDER BY gtin = $1 DESC NULLS LAST LIMIT 1`, p.GTIN, p.MakerCode, p.Brand)
	if err != nil {
		return fmt.Errorf("look for a part like %q: %w", p.Name, err)
	}
	by := fmt.Sprintf("part %d, %s,", other.ID, other.Name)
	if p.GTIN != "" && other.GTIN == p.GTIN {
		return &TakenError{What: "GTIN", Value: p.GTIN, By: by}
	}
	return &TakenError{What: "maker's code", Value: p.MakerCode, By: by}
}

// Became is the part that another has become one with, or the part itself.
func Became(ctx context.Context, db DB, partID int64) (int64, error) {
	var id int64
	err := db.QueryRow(ctx, `SELECT COALESCE(merged_into, id) FROM part WHERE id = $1`, partID).Scan(&id)
	if errors.Is(err, pgx.ErrNoRows) {
		return 0, &UnknownError{Kind: OfPart, Name: fmt.Sprint(partID)}
	}
	if err != nil {
		return 0, fmt.Errorf("read part %d: %w", partID, err)
	}
	return id, nil
}

// PartByID is a part by its number; an unknown one is an *[UnknownError].
func PartByID(ctx context.Context, db DB, id int64) (Part, error) {
	p, err := collectOne(ctx, db, partReader(), `SELECT `+partColumns+` FROM part WHERE id = $1`, id)
	if errors.Is(err, pgx.ErrNoRows) {
		return Part{}, &UnknownError{Kind: OfPart, Name: fmt.Sprint(id)}
	}
	if err != nil {
		return Part{}, fmt.Errorf("read part %d: %w", id, err)
	}
	return p, nil
}

// CountParts is how many parts the catalogue has.
func CountParts(ctx context.Context, db DB) (n int, err error) {
	if err = db.QueryRow(ctx, `SELECT count(*) FROM part`).Scan(&n); err != nil {
		return 0, fmt.Errorf("count the parts: %w", err)
	}
	return n, nil
}

// Parts are the parts of those numbers; a number without a part is left out.
func Parts(ctx context.Context, db DB, ids []int64) (map[int64]Part, error) {
	all, err := Collect(ctx, db, partReader(), `SELECT `+partColumns+` FROM part WHERE id = ANY($1)`, ids)
	if err != nil {
		return nil, fmt.Errorf("read parts: %w", err)
	}
	m := make(map[int64]Part, len(all))
	for _, p := range all {
		m[p.ID] = p
	}
	return m, nil
}

// PartsWatched are the parts with a reorder level and those of also that stand, by their names.
func PartsWatched(ctx context.Context, db DB, also []int64) ([]Part, error) {
	parts, err := Collect(ctx, db, partReader(), `
		SELECT `+partColumns+` FROM part
		WHERE merged_into IS NULL AND (reorder_level IS NOT NULL OR id = ANY($1))
		ORDER BY name, id`, also)
	if err != nil {
		return nil, fmt.Errorf("read the parts with a reorder level: %w", err)
	}
	return parts, nil
}
