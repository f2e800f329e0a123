package desk

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/shelf"
	"stead/pricing"
	"stead/substitution"
)

// Excess is what is on the shelf and will not sell, some of it with who could use it.
type Excess struct {
	Lines    []ExcessLine    `json:"excess"`           // those that were asked for, what ties up most first
	From     int             `json:"from"`             // where the first of them stands among all, counted from 1
	Parts    int             `json:"parts"`            // of which too many are there
	TiedUp   decimal.Decimal `json:"tied_up"`          // in all of them
	Brings   decimal.Decimal `json:"brings"`           // what of them is better parted with
	Doubts   []string        `json:"doubts,omitempty"` // what is strange about the books, and what is left out for it
	Currency string          `json:"-"`
}

// ExcessLine is one part of which too many are there.
type ExcessLine struct {
	shelf.Excess
	Takers   []pricing.Taker  `json:"bikes"`     // in the books that it would fit now
	StandIns []inventory.Part `json:"stands_in"` // parts that sell, the most sold first, in whose stead it does as well
}

// LoadExcess weighs the shelf and asks of the lines that are looked at which bikes they would fit and for what they stand in.
func LoadExcess(ctx context.Context, db inventory.DB, policy shelf.Policy, asked LinesAsked, now time.Time) (Excess, error) {
	out := Excess{Lines: []ExcessLine{}, From: asked.From}
	var err error
	if out.Currency, err = currency(ctx, db); err != nil {
		return out, err
	}
	advice, err := shelf.Load(ctx, db, policy, nil, now)
	if err != nil {
		return out, err
	}
	out.Doubts = advice.Doubts
	all, err := advice.Excess(ctx, db)
	if err != nil {
		return out, err
	}
	out.Parts = len(all)
	for _, e := range all {
		out.TiedUp, out.Brings = out.TiedUp.Add(e.TiedUp), out.Brings.Add(e.Brings)
	}
	if some := linesOf(asked, all); len(some) > 0 {
		out.Lines, err = excessLines(ctx, db, advice, some)
	}
	return out, err
}

// excessLines asks who could use some of what is in excess.
func excessLines(ctx context.Context, db inventory.DB, advice *shelf.Advice, some []shelf.Excess) (lines []ExcessLine, err error) {
	families := map[substitution.Family]bool{}
	var ids []int64
	for _, e := range some {
		families[e.Family] = true
		ids = append(ids, e.PartID)
	}
	best := bestSellers(advice.Parts, families)
	for _, sellers := range best {
		ids = append(ids, sellers...)
	}
	parts, err := inventory.Parts(ctx, db, ids)
	if err != nil {
		return nil, err
	}
	bikes, err := pricing.Builds(ctx, db)
	if err != nil {
		return nil, err
	}
	fleet, err := pricing.FleetOf(bikes)
	if err != nil {
		return nil, err
	}
	for _, e := range some {
		part := parts[e.PartID]
		var others []inventory.Part
		for _, id := range best[e.Family] {
			if id != e.PartID {
				others = append(others, parts[id])
			}
		}
		lines = append(lines, ExcessLine{Excess: e, Takers: fleet.Takers(&part.Part), StandIns: pricing.StandsInFor(&part.Part, others)})
	}
	return lines, nil
}

// mostSellers is how many parts of a family are asked whether what is in excess does in their stead: those that sell most.
// A hundred rings beside a thousand others are a hundred thousand questions.
const mostSellers = 40

// bestSellers are the parts of some families that sell most, the most sold first.
func bestSellers(all []shelf.Keeping, families map[substitution.Family]bool) map[substitution.Family][]int64 {
	var sold []*shelf.Keeping
	for i := range all {
		if all[i].Sales > 0 && families[all[i].Family] {
			sold = append(sold, &all[i])
		}
	}
	slices.SortStableFunc(sold, func(a, b *shelf.Keeping) int { return b.Sales - a.Sales })
	out := map[substitution.Family][]int64{}
	for _, k := range sold {
		if len(out[k.Family]) < mostSellers {
			out[k.Family] = append(out[k.Family], k.PartID)
		}
	}
	return out
}

// Words say what to do with them, and why.
func (v Excess) Words(e ExcessLine) string {
	if e.Price.IsZero() {
		return "What it cost is not known, so nothing can be weighed."
	}
	if e.How == shelf.KeepThem {
		return fmt.Sprintf("Keep: sold in its time a piece is worth more than the %s that it brings now.", pricing.Amount(v.Currency, e.Piece))
	}
	words := fmt.Sprintf("%s %d: they bring %s, and to wait for their sale is worth less", Sentence(string(e.How)), e.Part, pricing.Amount(v.Currency, e.Brings))
	if e.Part == 1 {
		words = fmt.Sprintf("%s 1: it brings %s, and to wait for its sale is worth less", Sentence(string(e.How)), pricing.Amount(v.Currency, e.Brings))
	}
	if e.Keep > 0 {
		words += fmt.Sprintf("; keep the other %d", e.Keep)
	}
	return words + "."
}

// SaidWords tell that quotes prefer it, where that was said; empty where it was not.
func (e ExcessLine) SaidWords() string {
	if e.Said == "" {
		return ""
	}
	return Sentence(e.Said) + "."
}

// SoldWords are the month in which a piece was last sold.
func (e ExcessLine) SoldWords() string {
	if e.Sold == nil {
		return "never"
	}
	return e.Sold.Time().Format("Jan 2006")
}

// fewUses is how many bikes, and how many parts, are named that could do with what is in excess.
const fewUses = 3

// UseWords say which bikes in the books it would fit, and for which parts that sell it stands in.
func (e ExcessLine) UseWords() []string {
	var out []string
	for i, t := range e.Takers {
		if i == fewUses {
			out = append(out, fmt.Sprintf("and %s more", Several(len(e.Takers)-fewUses, "place")))
			break
		}
		if site, err := substitution.SiteOf(t.Place); err == nil { // else a place of an older vocabulary
			out = append(out, fmt.Sprintf("fits %s's %s, %s", t.Bike.Customer.Name, t.Bike.Words, site.Words))
		}
	}
	for i, p := range e.StandIns {
		if i == fewUses {
			out = append(out, fmt.Sprintf("and for %s more", Several(len(e.StandIns)-fewUses, "part")))
			break
		}
		out = append(out, fmt.Sprintf("does as well in the stead of %s, which sells", p.Name))
	}
	return out
}

// TotalWords are what all of it ties up, and what the part of it brings that is better parted with.
func (v Excess) TotalWords() string {
	words := fmt.Sprintf("In excess: %s tied up", pricing.Amount(v.Currency, v.TiedUp))
	if v.Brings.IsPositive() {
		words += fmt.Sprintf("; %s for what is better parted with", pricing.Amount(v.Currency, v.Brings))
	}
	return words + "."
}

// SomeWords say which lines of how many are shown; empty where all are.
func (v Excess) SomeWords() string { return v.shown().words() }

// Next is where the lines begin that come after these; 0 where there are none.
func (v Excess) Next() int { return v.shown().next() }

func (v Excess) shown() shown { return shown{v.From, len(v.Lines), v.Parts, "what ties up most first"} }
