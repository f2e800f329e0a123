package exchange

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/substitution"
)

// Parts is the catalogue. sizes, origins and notes are JSON objects by the name of a dimension; sizes may also be written as
// they are typed, "teeth=50 bcd_mm=110". retail is in the shop's currency, tax included.
var Parts = Table{File: "parts.csv",
	Columns: []string{"part", "family", "brand", "maker_code", "name", "gtin", "sizes", "origins", "notes", "said", "retail", "reorder_level", "reorder_to", "bin", "merged_into"},
	Must:    []string{"part", "family", "name"}}

// part is a line of Parts.
type part struct {
	inventory.Part
	Said   []string // dimensions that a person has said: no list changes them
	Merged *int64
}

// WriteParts gives the lines of the catalogue.
func WriteParts(ctx context.Context, db inventory.DB) ([][]string, error) {
	rows, err := db.Query(ctx, `
		SELECT part.id, family, brand, maker_code, part.name, coalesce(gtin, ''), dims, origins, notes, said,
		       CASE WHEN retail_by IS NULL THEN retail ELSE home_retail(retail, retail_by, retail_as_of) END, reorder_level, reorder_to, coalesce(bin.name, ''), merged_into
		FROM part LEFT JOIN bin ON bin.id = bin_id ORDER BY part.id`)
	if err != nil {
		return nil, fmt.Errorf("read the parts: %w", err)
	}
	lines, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) ([]string, error) {
		var id int64
		var family, brand, code, name, gtin, bin string
		var dims, origins, notes json.RawMessage
		var said []string
		var retail decimal.NullDecimal
		var level, to *int64
		var merged *int64
		if err := row.Scan(&id, &family, &brand, &code, &name, &gtin, &dims, &origins, &notes, &said, &retail, &level, &to, &bin, &merged); err != nil {
			return nil, err
		}
		price := ""
		if retail.Valid {
			price = retail.Decimal.String()
		}
		return []string{strconv.FormatInt(id, 10), family, brand, code, name, gtin, object(dims), object(origins), object(notes), strings.Join(said, " "),
			price, Maybe(level), Maybe(to), bin, Maybe(merged)}, nil
	})
	if err != nil {
		return nil, fmt.Errorf("read the parts: %w", err)
	}
	return lines, nil
}

// object is a JSON object as it stands in a table; nothing where it is empty.
func object(text json.RawMessage) string {
	if string(text) == "{}" {
		return ""
	}
	return string(text)
}

// readPart reads a line and checks it against the vocabulary.
func readPart(r *Row) part {
	p := part{Part: inventory.Part{ID: r.ID("part"), Brand: r.Text("brand"), MakerCode: r.Text("maker_code"), GTIN: r.Text("gtin"), Bin: r.Text("bin")},
		Said: strings.Fields(r.Text("said")), Merged: r.Maybe("merged_into")}
	p.Family, p.Name = substitution.Family(r.Needed("family")), r.Needed("name")
	if r.Wrong() != nil {
		return p
	}
	p.Spec = readSpec(r, p.Family)
	if r.Text("retail") != "" {
		p.Retail = decimal.NewNullDecimal(r.Amount("retail"))
	}
	for _, f := range []struct {
		name string
		into **int
	}{{"reorder_level", &p.ReorderLevel}, {"reorder_to", &p.ReorderTo}} {
		if r.Text(f.name) == "" {
			continue
		}
		n := int(r.Number(f.name))
		*f.into = &n
	}
	if r.Wrong() != nil {
		return p
	}
	checked, err := p.Check()
	if err != nil {
		r.Refuse("", "%s", err)
	}
	p.Part = checked
	return p
}

func readSpec(r *Row, family substitution.Family) substitution.Spec {
	text := strings.TrimSpace(r.Text("sizes"))
	if text != "" && !strings.HasPrefix(text, "{") {
		typed, err := substitution.ParsePart(family, text)
		if err != nil {
			r.Refuse("sizes", "%s", err)
		}
		return typed.Spec
	}
	var values map[string]substitution.Value
	var origins map[string]substitution.Origin
	var notes map[string]string
	for field, into := range map[string]any{"sizes": &values, "origins": &origins, "notes": &notes} {
		if err := json.Unmarshal([]byte(cmp.Or(strings.TrimSpace(r.Text(field)), "{}")), into); err != nil {
			r.Refuse(field, `is a JSON object such as {"teeth":50}, not %q`, r.Text(field))
		}
	}
	return substitution.MakeSpec(values, origins, notes)
}

// TakeParts puts parts with their numbers into a catalogue that is empty, and labels the bins that they name. It gives the
// numbers, each by itself.
func TakeParts(ctx context.Context, tx pgx.Tx, rows []*Row) (numbers map[int64]int64, err error) {
	list, bins, err := readParts(rows)
	if err != nil {
		return nil, err
	}
	ids, err := label(ctx, tx, bins)
	if err != nil {
		return nil, err
	}
	numbers = map[int64]int64{}
	for i, p := range list {
		if numbers[p.ID] != 0 {
			rows[i].Refuse("part", "%d is there twice", p.ID)
			return nil, rows[i].Wrong()
		}
		numbers[p.ID] = p.ID
	}
	for i, p := range list {
		if p.Merged == nil {
			continue
		}
		if numbers[*p.Merged] == 0 || *p.Merged == p.ID {
			rows[i].Refuse("merged_into", "there is no other part %d in the file", *p.Merged)
			return nil, rows[i].Wrong()
		}
	}
	for at, p := range list { // one by one: what is taken already is told with its line
		var bin *int64
		if p.Bin != "" {
			id := ids[strings.ToLower(p.Bin)]
			bin = &id
		}
		tag, err := tx.Exec(ctx, `
			INSERT INTO part (id, family, name, dims, origins, notes, brand, maker_code, gtin, retail, reorder_level, reorder_to, bin_id, said, traded)
			OVERRIDING SYSTEM VALUE VALUES ($1, $2, $3, $4, $5, $6, $7, $8, NULLIF($9, ''), $10, $11, $12, $13, $14, false) ON CONFLICT DO NOTHING`,
			p.ID, p.Family, p.Name, p.Spec.Values(), p.Spec.Origins(), p.Spec.Notes(), p.Brand, p.MakerCode, p.GTIN, p.Retail, p.ReorderLevel, p.ReorderTo, bin, append([]string{}, p.Said...))
		if err != nil {
			return nil, fmt.Errorf("take in part %d: %w", p.ID, err)
		}
		if tag.RowsAffected() == 0 {
			rows[at].Refuse("", "another part of the file has its GTIN, or its brand and maker's code")
			return nil, rows[at].Wrong()
		}
	}
	for _, p := range list {
		if p.Merged == nil {
			continue
		}
		if _, err := tx.Exec(ctx, `UPDATE part SET merged_into = $2 WHERE id = $1`, p.ID, *p.Merged); err != nil {
			return nil, fmt.Errorf("take in part %d: %w", p.ID, err)
		}
	}
	return numbers, GoOnFrom(ctx, tx, "part")
}

func readParts(rows []*Row) (list []part, bins []string, err error) {
	for _, r := range rows {
		p := readPart(r)
		if err := r.Wrong(); err != nil {
			return nil, nil, err
		}
		if p.Bin != "" {
			bins = append(bins, p.Bin)
		}
		list = append(list, p)
	}
	return list, bins, nil
}

// AddParts adds to a running catalogue the parts that are not in it yet, each with a number of its own, and gives how many
// those are, and the numbers here by those in the file. A part whose GTIN, or brand and maker's code, is known is there
// already.
func AddParts(ctx context.Context, tx pgx.Tx, rows []*Row) (numbers map[int64]int64, added int, err error) {
	list, bins, err := readParts(rows)
	if err != nil {
		return nil, 0, err
	}
	if _, err := label(ctx, tx, bins); err != nil {
		return nil, 0, err
	}
	numbers = map[int64]int64{}
	for i, p := range list {
		if p.Merged != nil {
			continue // it is the other one
		}
		there, err := alike(ctx, tx, p)
		if err != nil {
			return nil, 0, err
		}
		if there != 0 {
			numbers[p.ID] = there
			continue
		}
		if p.GTIN == "" && (p.MakerCode == "" || p.Brand == "") {
			rows[i].Refuse("", "a part without GTIN, and without brand and maker's code, cannot be told from one that is there: give it one of them")
			return nil, 0, rows[i].Wrong()
		}
		part, err := inventory.AddPart(ctx, tx, p.Part)
		if err != nil {
			rows[i].Refuse("", "%s", err)
			return nil, 0, rows[i].Wrong()
		}
		numbers[p.ID] = part.ID
		added++
	}
	for _, p := range list {
		if p.Merged != nil {
			numbers[p.ID] = numbers[*p.Merged]
		}
	}
	return numbers, added, nil
}

// alike is the part of the catalogue that is the same article, or what that has become; 0 where there is none.
func alike(ctx context.Context, tx pgx.Tx, p part) (id int64, err error) {
	err = tx.QueryRow(ctx, `
		SELECT coalesce(min(coalesce(merged_into, id)), 0) FROM part
		WHERE gtin = NULLIF($1, '') OR $2 <> '' AND $3 <> '' AND lower(maker_code) = lower($2) AND lower(brand) = lower($3)`, p.GTIN, p.MakerCode, p.Brand).Scan(&id)
	if err != nil {
		return 0, fmt.Errorf("look for part %q: %w", p.Name, err)
	}
	return id, nil
}

// label labels bins that are not there yet, and gives the numbers of all by their names in small letters.
func label(ctx context.Context, tx pgx.Tx, names []string) (map[string]int64, error) {
	known := map[string]int64{}
	read := func() error {
		rows, err := tx.Query(ctx, `SELECT lower(name), id FROM bin ORDER BY id DESC`)
		if err != nil {
			return fmt.Errorf("read the bins: %w", err)
		}
		var name string
		var id int64
		_, err = pgx.ForEachRow(rows, []any{&name, &id}, func() error { known[name] = id; return nil })
		return err
	}
	if err := read(); err != nil {
		return nil, err
	}
	for _, name := range names {
		if _, there := known[strings.ToLower(name)]; there {
			continue
		}
		if err := inventory.AddBin(ctx, tx, name); err != nil {
			return nil, err
		}
		known[strings.ToLower(name)] = 0
	}
	return known, read()
}

// GoOnFrom lets the numbers of a table's rows go on behind those that were taken in with theirs.
func GoOnFrom(ctx context.Context, tx pgx.Tx, table string) error {
	_, err := tx.Exec(ctx, fmt.Sprintf(`SELECT setval(pg_get_serial_sequence('%[1]s', 'id'), greatest(max(id), nextval(pg_get_serial_sequence('%[1]s', 'id')) - 1)) FROM %[1]s HAVING max(id) IS NOT NULL`, table))
	if err != nil {
		return fmt.Errorf("number each %s on: %w", table, err)
	}
	return nil
}
