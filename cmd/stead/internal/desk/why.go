package desk

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

// Why sets what an option has at one place beside what it could have there.
type Why struct {
	pricing.Comparison
	Clock
	Currency string   `json:"-"`
	From     string   `json:"-"` // where what it has comes from
	Others   []Others `json:"-"` // the alternatives in words
}

// Others is an alternative in words.
type Others struct {
	pricing.Alternative
	From string
	Pays string   // what the customer would pay more or less; empty where it cannot be had
	Days string   // how many days later or sooner; empty where it cannot be had
	But  []string // what speaks against it, what it makes different, and at what price it would win
}

// LoadWhy compares what an option of a job has at a place with the nearest alternatives, as things stand at a moment.
func LoadWhy(ctx context.Context, db inventory.DB, jobID int64, option string, place substitution.Place, now time.Time) (v Why, err error) {
	s, err := pricing.LoadSituation(ctx, db, jobID, now)
	if err != nil {
		return v, err
	}
	v = Why{Clock: At(now), Currency: s.Shop.Currency}
	if v.Comparison, err = s.Why(ctx, option, place); err != nil {
		return v, err
	}
	v.From = strings.Join(sources(v.Chosen, v.Clock), ", ")
	for _, a := range v.Alternatives {
		v.Others = append(v.Others, v.other(a))
	}
	return v, nil
}

func (v Why) other(a pricing.Alternative) Others {
	o := Others{Alternative: a, From: fromWords(a.From), But: slices.Clone(a.Against)}
	if a.Shelf > 0 {
		o.From = fmt.Sprintf("%d from the shelf, rest from %s", a.Shelf, a.From)
	}
	if a.With != nil {
		o.Pays, o.Days = MoreWords(v.Currency, a.More), "same"
		if a.Days != 0 {
			o.Days = fmt.Sprintf("%+d", a.Days)
		}
		for _, d := range a.With.Deviations {
			if !slices.ContainsFunc(v.Option.Deviations, func(o pricing.Deviation) bool { return o.Words == d.Words }) {
				o.But = append(o.But, d.Words)
			}
		}
	}
	switch {
	case a.Cheaper == nil:
	case a.Cheaper.IsZero():
		o.But = append(o.But, "as good, all else chosen anew")
	default:
		o.But = append(o.But, fmt.Sprintf("wins if we pay %s less", pricing.Amount(v.Currency, *a.Cheaper)))
	}
	return o
}
