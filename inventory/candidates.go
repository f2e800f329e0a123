package inventory

import (
	"context"
	"fmt"
	"math"
	"strings"

	"stead/substitution"
)

// Candidates are the parts of a family that satisfy the conditions a fit rule sets: both kinds, see [KnownCandidates] and
// [UnknownCandidates]. Of each there are at most limit (50 if not positive), those on the shelf first, then those that a
// supplier offers, then the rest.
func Candidates(ctx context.Context, db DB, family substitution.Family, conditions []substitution.Condition, limit int) (known, unknown []Part, err error) {
	if known, err = KnownCandidates(ctx, db, family, conditions, limit); err != nil {
		return nil, nil, err
	}
	unknown, err = UnknownCandidates(ctx, db, family, conditions, limit)
	return known, unknown, err
}

// KnownCandidates have every dimension that a condition names, and satisfy all conditions. An index finds them, so the size
// of the catalogue hardly matters.
func KnownCandidates(ctx context.Context, db DB, family substitution.Family, conditions []substitution.Condition, limit int) ([]Part, error) {
	q, err := narrowKnown(family, conditions)
	if err != nil {
		return nil, err
	}
	return q.parts(ctx, db, obtainableFirst, limit)
}

// ObtainableCandidates are those [KnownCandidates] of which some piece is on the shelf for nobody else, or which a supplier
// offers: all that a job can choose from.
func ObtainableCandidates(ctx context.Context, db DB, family substitution.Family, conditions []substitution.Condition, limit int) ([]Part, error) {
	q, err := narrowKnown(family, conditions)
	if err != nil {
		return nil, err
	}
	q.where(`part.traded`) // for the index: true of all that can be had
	return q.among(`part.reach < 2`).parts(ctx, db, `part.reach, part.id`, limit)
}

// UnknownCandidates lack at least one dimension that a condition names, and break no condition as far as can be told.
// They are to be measured, and never offered as fitting. No index knows what is absent: the dimensions of the whole
// family are read.
func UnknownCandidates(ctx context.Context, db DB, family substitution.Family, conditions []substitution.Condition, limit int) ([]Part, error) {
	if len(conditions) == 0 {
		return nil, nil
	}
	q, err := narrowUnknown(family, conditions, limit)
	if err != nil {
		return nil, err
	}
	return q.parts(ctx, db, obtainableFirst, limit)
}

// reach is how far away a part is: 0 on the shelf, 1 offered, 2 neither. A subquery that gives a value is asked for each
// candidate, by index; an EXISTS might read all offers there are first.
const reach = `CASE WHEN (SELECT true FROM shelf WHERE shelf.part_id = part.id AND on_hand > reserved) THEN 0
	WHEN (SELECT true FROM offer WHERE offer.part_id = part.id AND gone_at IS NULL LIMIT 1) THEN 1 ELSE 2 END`

// stands is true of a part that has not become one with another.
const stands = `part.merged_into IS NULL`

// obtainableFirst is the order in which candidates are worth a look.
const obtainableFirst = reach + `, part.id`

// among is a search among the parts of another, of which each has its reach. OFFSET keeps the two apart, so that the
// reach is worked out once for each part and not wherever it is named.
func (q *query) among(condition string) *query {
	return &query{args: q.args, conditions: []string{condition},
		inner: `(SELECT part.*, ` + reach + ` AS reach FROM part WHERE ` + strings.Join(q.conditions, "\n\t\t  AND ") + ` OFFSET 0) AS part`}
}

func narrowKnown(family substitution.Family, conditions []substitution.Condition) (*query, error) {
	table, err := substitution.TableOf(family)
	if err != nil {
		return nil, err
	}
	q := &query{}
	marked := false
	for _, c := range conditions {
		if marks := marksOf(table, c); marks != nil {
			q.where(`part_marks(part.family, part.dims) && ` + q.arg(marks))
			marked = true
		}
		q.where(condition(q, c)) // which is not true where a dimension is absent
	}
	if !marked { // a mark names the family already
		q.where(`part.family = ` + q.arg(family))
	}
	q.where(stands)
	return q, nil
}

func narrowUnknown(family substitution.Family, conditions []substitution.Condition, limit int) (*query, error) {
	if _, err := substitution.TableOf(family); err != nil {
		return nil, err
	}
	q := &query{}
	all := []string{`part.family = ` + q.arg(family)}
	var named []string
	for _, c := range conditions {
		dims := dimensionsOf(c)
		named = append(named, dims...)
		all = append(all, `(NOT part.dims ?& `+q.arg(dims)+` OR `+condition(q, c)+`)`)
	}
	all = append(all, `NOT part.dims ?& `+q.arg(named))
	// A query of its own, for which the index part_family has everything. Its limit tells the planner that few rows follow.
	if limit <= 0 {
		limit = usualLimit
	}
	q.where(stands)
	q.where(fmt.Sprintf(`part.id IN (SELECT part.id FROM part WHERE %s ORDER BY %s LIMIT %d)`, strings.Join(all, ` AND `), obtainableFirst, limit))
	return q, nil
}

// dimensionsOf are the dimensions that a condition names.
func dimensionsOf(c substitution.Condition) []string {
	switch c := c.(type) {
	case substitution.Between:
		return []string{c.Dimension}
	case substitution.OneOf:
		return []string{c.Dimension}
	case substitution.SharesAny:
		return []string{c.Dimension}
	case substitution.Weighted:
		var names []string
		for _, t := range c.Terms {
			names = append(names, t.Dimension)
		}
		return names
	}
	panic(fmt.Sprintf("inventory: a condition of a new kind: %T", c))
}

// condition is the exact comparison, in the same arithmetic as the condition's own Admits.
func condition(q *query, c substitution.Condition) string {
	number := func(dimension string) string { return `(part.dims -> ` + q.arg(dimension) + `)::float8` }
	switch c := c.(type) {
	case substitution.Between:
		return number(c.Dimension) + ` BETWEEN ` + q.arg(c.Low) + ` AND ` + q.arg(c.High)
	case substitution.OneOf:
		return `part.dims ->> ` + q.arg(c.Dimension) + ` = ANY(` + q.arg(c.Words) + `)`
	case substitution.SharesAny:
		return `part.dims -> ` + q.arg(c.Dimension) + ` @> ANY(` + q.arg(counts(c.Counts)) + `::jsonb[])`
	case substitution.Weighted:
		sum := `0`
		for _, t := range c.Terms {
			sum += ` + ` + q.arg(t.Weight) + ` * ` + number(t.Dimension)
		}
		return sum + ` <= ` + q.arg(c.AtMost+rounding)
	}
	panic(fmt.Sprintf("inventory: a condition of a new kind: %T", c))
}

// rounding forgives the last binary digit of a sum, as substitution does.
const rounding = 1e-9

// counts are JSON numbers, to be looked for in a list.
func counts(ns []int) []string {
	all := make([]string, len(ns))
	for i, n := range ns {
		all[i] = fmt.Sprint(n)
	}
	return all
}

// mostMarks is how many whole numbers of a range are looked up one by one; a wider range narrows too little to help.
const mostMarks = 64

// marksOf are the marks, as the schema's function part_marks makes them, of which a part that satisfies the condition has
// one. Nil says that an index is no help.
func marksOf(table *substitution.Table, c substitution.Condition) []string {
	mark := func(dimension, value string) string { return fmt.Sprintf("%s %s %s", table.Family, dimension, value) }
	marks := []string{}
	switch c := c.(type) {
	case substitution.Between:
		low, high := c.Low, c.High
		if d, ok := table.Dimension(c.Dimension); ok {
			low, high = max(low, d.Low), min(high, d.High)
		}
		if math.Floor(high)-math.Floor(low) >= mostMarks {
			return nil
		}
		for n := math.Floor(low); n <= high; n++ {
			marks = append(marks, mark(c.Dimension, fmt.Sprintf("%.0f", n)))
		}
	case substitution.OneOf:
		for _, w := range c.Words {
			marks = append(marks, mark(c.Dimension, w))
		}
	case substitution.SharesAny:
		for _, n := range c.Counts {
			marks = append(marks, mark(c.Dimension, fmt.Sprint(n)))
		}
	default:
		return nil
	}
	return marks
}
