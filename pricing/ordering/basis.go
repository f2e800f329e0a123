package ordering

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// basis is what an order list rests on: each thing and how it stood.
type basis map[fact]string

// fact is a thing that an order list rests on, under the words that name it. Of several that have changed the one that ranks
// first is told: an offer is none any more where nothing is wanted.
type fact struct {
	rank  int
	words string
}

// basis is what the plan of this bench rests on.
func (b bench) basis() basis {
	out := basis{{3, "how orders are planned"}: fmt.Sprintf("%+v, %s times what is wanted", b.policy, b.overbuy)}
	b.ridesFacts(out)
	for id, d := range b.wanted {
		wanted := fact{0, "what is wanted of " + d.Part.Name}
		out[wanted] += fmt.Sprintf("%d: %d for the shelf", id, d.ForShelf)
		for _, c := range d.Claims {
			out[wanted] += fmt.Sprintf(", %d for claim %d by %s", c.Pieces, c.ID, c.DueOn)
		}
		for _, o := range b.usable(id) {
			s := b.deliveries.Supplier(o.SupplierID)
			out[fact{1, fmt.Sprintf("what %s offers of %s", s.Name, d.Part.Name)}] += fmt.Sprintf("%d: %v in packs of %d, at least %d, %s, here by %s; ",
				o.ID, o.Breaks, o.Pack, o.MinimumPacks, o.Stock, o.here)
			out[fact{2, "what " + s.Name + " asks of an order"}] = fmt.Sprintf("%s %s, free from %v, at least %s", s.Currency, s.Carriage, s.CarriagePaidAt, s.MinimumOrder)
			if open, joins := b.open[o.SupplierID]; joins {
				out[fact{3, "what is on today's order to " + s.Name}] = fmt.Sprintf("%d: %d lines, %s, carriage %s", open.ID, len(open.Lines), open.Goods(), open.Carriage)
			}
		}
	}
	return out
}

func (b basis) facts() []fact {
	return slices.SortedFunc(maps.Keys(b), func(x, y fact) int { return cmp.Or(cmp.Compare(x.rank, y.rank), cmp.Compare(x.words, y.words)) })
}

// since names the first thing that has changed from another basis to this one; nothing where both are the same.
func (b basis) since(before basis) string {
	all := maps.Clone(b)
	maps.Copy(all, before)
	for _, f := range all.facts() {
		if b[f] != before[f] {
			return f.words
		}
	}
	return ""
}

// name is short enough to be typed, and another for another basis.
func (b basis) name() string {
	var all strings.Builder
	for _, f := range b.facts() {
		fmt.Fprintf(&all, "%s\x00%s\x00", f.words, b[f])
	}
	sum := sha256.Sum256([]byte(all.String()))
	return hex.EncodeToString(sum[:4])
}
