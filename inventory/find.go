package inventory

import (
	"cmp"
	"context"
	"fmt"
	"strconv"
	"strings"

	"stead/substitution"
)

// Search says which parts to find. What is left empty does not matter.
type Search struct {
	Words  string // of the family, brand, maker's code and name, slightly misspelt too; or a GTIN, a maker's or a supplier's code
	Family substitution.Family
	Dims   map[string]substitution.Value // a list of counts must be among the part's own
	Limit  int                           // 50 if not positive
}

const usualLimit = 50

// mostRanked is how many parts that have all words are put in order. A word that more have says too little.
const mostRanked = 1000

// FindParts finds parts: those that bear a code first, then those that have every word, and only without any such those
// spelt like it.
func FindParts(ctx context.Context, db DB, s Search) ([]Part, error) {
	if s.Family != "" {
		if _, err := substitution.TableOf(s.Family); err != nil {
			return nil, err
		}
	}
	q := query{conditions: []string{stands}}
	if s.Family != "" {
		q.where(`part.family = ` + q.arg(s.Family))
	}
	if len(s.Dims) > 0 {
		q.where(`part.dims @> ` + q.arg(s.Dims))
	}
	words := strings.Fields(strings.ToLower(s.Words))
	if len(words) == 0 {
		return q.parts(ctx, db, `part.name, part.id`, s.Limit)
	}
	text := strings.Join(words, " ")

	coded := q.clone()
	code := coded.arg(text)
	coded.where(`part.id IN (
		SELECT COALESCE(merged_into, id) FROM part WHERE gtin = ` + code + `
		UNION ALL SELECT COALESCE(merged_into, id) FROM part WHERE lower(maker_code) = ` + code + ` AND brand <> '' AND maker_code <> ''
		UNION ALL SELECT part_id FROM offer WHERE lower(code) = ` + code + `)`)
	if found, err := coded.parts(ctx, db, `part.name, part.id`, s.Limit); err != nil || len(found) > 0 {
		return found, err
	}

	worded := q.clone()
	worded.atMost = mostRanked
	for _, w := range words {
		worded.where(`part.words LIKE ` + worded.arg("%"+literal.Replace(w)+"%"))
	}
	if found, err := worded.parts(ctx, db, `length(part.words), part.name, part.id`, s.Limit); err != nil || len(found) > 0 {
		return found, err
	}

	spelt := q.clone()
	spelt.from = `JOIN parts_spelt_like(` + spelt.arg(text) + `) AS spelt ON spelt.id = part.id`
	return spelt.parts(ctx, db, `spelt.likeness DESC, part.name, part.id`, s.Limit)
}

// literal takes the meaning from LIKE's own signs.
var literal = strings.NewReplacer(`\`, `\\`, `%`, `\%`, `_`, `\_`)

// PartNamed is the one part that bears a number, GTIN, maker's code or supplier's code; one that has become one
// with another is that other. None is an *[UnknownError] with the
// nearest names; several are an error that lists them.
func PartNamed(ctx context.Context, db DB, name string) (Part, error) {
	name = strings.TrimSpace(name)
	number, err := strconv.ParseInt(name, 10, 64)
	if err != nil {
		number = 0 // no part's
	}
	found, err := collect(ctx, db, partReader(), `
		SELECT `+partColumns+` FROM part WHERE id IN (
			SELECT COALESCE(merged_into, id) FROM part WHERE id = $2
			UNION ALL SELECT COALESCE(merged_into, id) FROM part WHERE gtin = $1
			UNION ALL SELECT COALESCE(merged_into, id) FROM part WHERE lower(maker_code) = lower($1) AND brand <> '' AND maker_code <> ''
			UNION ALL SELECT part_id FROM offer WHERE lower(code) = lower($1))
		ORDER BY id LIMIT 10`, name, number)
	if err != nil {
		return Part{}, fmt.Errorf("look for part %q: %w", name, err)
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		near, err := FindParts(ctx, db, Search{Words: name, Limit: 3})
		if err != nil {
			return Part{}, err
		}
		return Part{}, &UnknownError{Kind: "part", Name: name, Near: numbered(near)}
	}
	return Part{}, fmt.Errorf("%q names several parts, %s: say which by its number", name, list(numbered(found), "and"))
}

func numbered(parts []Part) []string {
	var names []string
	for _, p := range parts {
		names = append(names, fmt.Sprintf("%d (%s)", p.ID, p.Name))
	}
	return names
}

// query is a search of the catalogue as it is put together.
type query struct {
	inner      string // what stands for part, if not the table itself
	from       string // joined to part
	conditions []string
	args       []any
	atMost     int // how many parts are looked at, if not all
}

// arg adds a value and gives the sign that stands for it.
func (q *query) arg(v any) string {
	q.args = append(q.args, v)
	return fmt.Sprintf("$%d", len(q.args))
}

func (q *query) where(condition string) { q.conditions = append(q.conditions, condition) }

func (q *query) clone() *query {
	return &query{from: q.from, conditions: append([]string(nil), q.conditions...), args: append([]any(nil), q.args...)}
}

// sql is the whole statement for parts in an order.
func (q *query) sql(order string, limit int) string {
	where := "true"
	if len(q.conditions) > 0 {
		where = strings.Join(q.conditions, "\n\t\t  AND ")
	}
	from := cmp.Or(q.inner, `part`) + ` ` + q.from + ` WHERE ` + where
	if q.atMost > 0 {
		from = fmt.Sprintf(`(SELECT part.* FROM %s LIMIT %d) AS part`, from, q.atMost)
	}
	if limit <= 0 {
		limit = usualLimit
	}
	return fmt.Sprintf(`SELECT %s FROM %s ORDER BY %s LIMIT %d`, partColumns, from, order, limit)
}

func (q *query) parts(ctx context.Context, db DB, order string, limit int) ([]Part, error) {
	found, err := collect(ctx, db, partReader(), q.sql(order, limit), q.args...)
	if err != nil {
		return nil, fmt.Errorf("search the catalogue: %w", err)
	}
	return found, nil
}
