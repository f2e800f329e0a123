package shelf

import (
	"cmp"
	"context"
	"crypto/sha256"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/reorder"
	"stead/substitution"
)

// The share of customers who must have taken a difference for stock to count on it, and what is believed before anybody was
// asked: one of two. So three who took it and none who did not are enough. The project's own judgement.
const (
	usuallyTaken = 0.75
	takenBefore  = 1.0
	askedBefore  = 2.0
)

// mostAlike is how many parts of a family are asked for one another: those that sell most.
const mostAlike = 40

// tastes are which share of the customers took a difference in looks, by its rule.
type tastes map[string]float64

// loadTastes reads what customers said to differences.
func loadTastes(ctx context.Context, db inventory.DB) (tastes, error) {
	rows, err := db.Query(ctx, `SELECT rule, accepted, asked FROM differences_taken()`)
	if err != nil {
		return nil, fmt.Errorf("read which differences customers took: %w", err)
	}
	t := tastes{}
	var rule string
	var accepted, asked int
	if _, err := pgx.ForEachRow(rows, []any{&rule, &accepted, &asked}, func() error {
		t[rule] = (float64(accepted) + takenBefore) / (float64(asked) + askedBefore)
		return nil
	}); err != nil {
		return nil, fmt.Errorf("read which differences customers took: %w", err)
	}
	return t, nil
}

// take is the share of customers who take a part in another's stead: all where it fits, works and looks as that does,
// and of those that look otherwise as many as took the difference so far, where most did. Else it is 0.
func (t tastes) take(was, now *substitution.Part) float64 {
	v, err := substitution.Instead(was, now)
	if err != nil || !v.WorksAlike() {
		return 0
	}
	share := 1.0
	for _, d := range v.Deviations() {
		taken, asked := t[d.Rule.ID]
		if !asked {
			taken = takenBefore / askedBefore
		}
		share *= taken
	}
	if share < usuallyTaken {
		return 0
	}
	return share
}

// shared is who stands in for whom, as it was asked last: 3,000 parts are a hundred thousand questions, whose answers stay
// as long as the parts, what sells most and the customers' tastes do.
var shared struct {
	sync.Mutex
	by [sha256.Size]byte
	in map[int][]reorder.StandIn // by item
}

// shareStock says of each item of the families, whose parts these are, which others its customers take in its stead, the
// likest first.
func (t tastes) shareStock(items []reorder.Item, families [][]int, parts map[int]inventory.Part) error {
	by, err := digest([]any{t, families, parts})
	if err != nil {
		return fmt.Errorf("ask what stands in for what: %w", err)
	}
	shared.Lock()
	defer shared.Unlock()
	if shared.by != by {
		shared.by, shared.in = by, map[int][]reorder.StandIn{}
		for _, of := range families {
			for _, was := range of {
				if in := t.standIns(was, of, parts); len(in) > 0 {
					shared.in[was] = in
				}
			}
		}
	}
	for item, in := range shared.in {
		items[item].StandIns = in
	}
	return nil
}

// soldMost are the items of each family that sell most.
func soldMost(book reorder.StockBook) [][]int {
	families := map[string][]int{}
	sales := make([]int, len(book.Items))
	var room []reorder.Sale
	for i, item := range book.Items {
		if room = book.Sold[i].Sales(room[:0]); len(room) > 0 && item.Lead != nil {
			sales[i] = len(room)
			families[item.Kind] = append(families[item.Kind], i)
		}
	}
	var out [][]int
	for _, family := range slices.Sorted(maps.Keys(families)) {
		of := families[family]
		slices.SortStableFunc(of, func(a, b int) int { return sales[b] - sales[a] })
		out = append(out, of[:min(len(of), mostAlike)])
	}
	return out
}

// standIns are the others of a family that are taken in one's stead.
func (t tastes) standIns(was int, family []int, parts map[int]inventory.Part) (in []reorder.StandIn) {
	old := parts[was]
	for _, now := range family {
		if was == now {
			continue
		}
		other := parts[now]
		if share := t.take(&old.Part, &other.Part); share > 0 {
			in = append(in, reorder.StandIn{Item: now, Accept: share})
		}
	}
	slices.SortStableFunc(in, func(a, b reorder.StandIn) int {
		return cmp.Or(cmp.Compare(b.Accept, a.Accept), a.Item-b.Item)
	})
	return in
}

// countsOn says which other parts a part's level counts on; empty for none.
func (s *Advice) countsOn(k *Keeping, keeps []reorder.Keep) string {
	chance, by := s.weighed.Cover(k.item, keeps)
	if chance < 0.01 {
		return ""
	}
	var names []string
	for _, item := range by {
		names = append(names, s.Parts[item].Name)
	}
	last := names[len(names)-1]
	if len(names) > 1 {
		last = strings.Join(names[:len(names)-1], ", ") + " or " + last
	}
	return fmt.Sprintf(" This counts on %s, taken in its stead %d times in 100 when it is out.", last, int(100*chance+0.5))
}
