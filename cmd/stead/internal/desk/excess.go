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

// Excess is what is on the shelf and will not sell, with who could use it.
type Excess struct {
	Lines    []ExcessLine `json:"excess"`
	Doubts   []string     `json:"doubts,omitempty"` // what is strange about the books, and what is left out for it
	Currency string       `json:"-"`
}

// ExcessLine is one part of which too many are there.
type ExcessLine struct {
	shelf.Excess
	Takers   []pricing.Taker  `json:"bikes"`     // in the books that it would fit now
	StandIns []inventory.Part `json:"stands_in"` // parts that sell, the most sold first, in whose stead it does as well
}

// LoadExcess weighs the shelf and asks of everything in excess which bikes it would fit and for what it stands in.
func LoadExcess(ctx context.Context, db inventory.DB, policy shelf.Policy, now time.Time) (Excess, error) {
	out := Excess{Lines: []ExcessLine{}}
	var err error
	if out.Currency, err = currency(ctx, db); err != nil {
		return out, err
	}
	advice, err := shelf.Load(ctx, db, policy, nil, now)
	if err != nil {
		return out, err
	}
	out.Doubts = advice.Doubts
	excess, err := advice.Excess(ctx, db)
	if err != nil || len(excess) == 0 {
		return out, err
	}
	var ids []int64
	for _, k := range advice.Parts {
		ids = append(ids, k.PartID)
	}
	parts, err := inventory.Parts(ctx, db, ids)
	if err != nil {
		return out, err
	}
	bikes, err := pricing.Builds(ctx, db)
	if err != nil {
		return out, err
	}
	sellers := bestSellers(advice.Parts, parts)
	for _, e := range excess {
		part := parts[e.PartID]
		others := slices.DeleteFunc(slices.Clone(sellers[part.Family]), func(p inventory.Part) bool { return p.ID == part.ID })
		out.Lines = append(out.Lines, ExcessLine{Excess: e, Takers: pricing.Takers(bikes, &part.Part), StandIns: pricing.StandsInFor(&part.Part, others)})
	}
	return out, nil
}

// mostSellers is how many parts of a family are asked whether what is in excess does in their stead: those that sell most.
// A hundred rings beside a thousand others are a hundred thousand questions.
const mostSellers = 40

// bestSellers are the parts of each family that sell most, the most sold first.
func bestSellers(all []shelf.Keeping, parts map[int64]inventory.Part) map[substitution.Family][]inventory.Part {
	sold := slices.DeleteFunc(slices.Clone(all), func(k shelf.Keeping) bool { return k.Sales == 0 })
	slices.SortStableFunc(sold, func(a, b shelf.Keeping) int { return b.Sales - a.Sales })
	out := map[substitution.Family][]inventory.Part{}
	for _, k := range sold {
		if p := parts[k.PartID]; len(out[p.Family]) < mostSellers {
			out[p.Family] = append(out[p.Family], p)
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
	tied, brings := decimal.Zero, decimal.Zero
	for _, e := range v.Lines {
		tied, brings = tied.Add(e.TiedUp), brings.Add(e.Brings)
	}
	words := fmt.Sprintf("In excess: %s tied up", pricing.Amount(v.Currency, tied))
	if brings.IsPositive() {
		words += fmt.Sprintf("; %s for what is better parted with", pricing.Amount(v.Currency, brings))
	}
	return words + "."
}
