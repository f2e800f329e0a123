package inventory

import (
	"context"
	"fmt"
	"math"
	"slices"

	"stead/substitution"
)

// Candidates are the parts of a family that satisfy the conditions a fit rule sets. Known ones have every dimension that
// a condition names. Unknown ones lack at least one and satisfy what can be told of the others: they are to be measured, and
// never offered as fitting. Of each kind there are at most limit (50 if not positive), those on the shelf first, then those a
// supplier offers, then the rest.
func Candidates(ctx context.Context, db DB, family substitution.Family, conditions []substitution.Condition, limit int) (known, unknown []Part, err error) {
	k, u, err := narrow(family, conditions)
	if err != nil {
		return nil, nil, err
	}
	if limit <= 0 {
		limit = usualLimit
	}
	if known, err = k.parts(ctx, db, obtainableFirst, limit); err != nil {
		return nil, nil, err
	}
	if len(conditions) == 0 {
		return known, nil, nil
	}
	if unknown, err = u.parts(ctx, db, obtainableFirst, limit); err != nil {
		return nil, nil, err
	}
	return known, unknown, nil
}

// obtainableFirst is the order in which candidates are worth a look.
const obtainableFirst = `
		  EXISTS (SELECT FROM shelf WHERE shelf.part_id = part.id AND on_hand > reserved) DESC,
		  EXISTS (SELECT FROM offer WHERE offer.part_id = part.id AND gone_at IS NULL) DESC,
		  part.id`

// narrow puts conditions into SQL: one search for parts of which all is known, one for the others.
func narrow(family substitution.Family, conditions []substitution.Condition) (known, unknown *query, err error) {
	table, err := substitution.TableOf(family)
	if err != nil {
		return nil, nil, err
	}
	known, unknown = &query{}, &query{}
	var named []string
	for _, q := range []*query{known, unknown} {
		q.where(`part.family = ` + q.arg(family))
	}
	for _, c := range conditions {
		dims := dimensionsOf(c)
		named = append(named, dims...)
		if marks := marksOf(table, c); marks != nil {
			known.where(`part_marks(part.family, part.dims) && ` + known.arg(marks))
		}
		known.where(condition(known, c)) // which is not true where a dimension is absent
		unknown.where(`(NOT part.dims ?& ` + unknown.arg(dims) + ` OR ` + condition(unknown, c) + `)`)
	}
	slices.Sort(named)
	unknown.where(`NOT part.dims ?& ` + unknown.arg(slices.Compact(named)))
	return known, unknown, nil
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
