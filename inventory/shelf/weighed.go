package shelf

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"sync"

	"stead/inventory/reorder"
)

// weighed is the shop's shelf as it was weighed, with what became of what was said of it.
type weighed struct {
	*reorder.Shelf
	of [sha256.Size]byte // what it was weighed by

	mu       sync.Mutex
	quarters map[float64]toldQuarter // by target
}

type toldQuarter struct {
	reorder.Quarter
	told bool
}

// LastQuarter is that of the shelf, played once for each target.
func (w *weighed) LastQuarter(target float64) (reorder.Quarter, bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	q, known := w.quarters[target]
	if !known {
		q.Quarter, q.told = w.Shelf.LastQuarter(target)
		w.quarters[target] = q
	}
	return q.Quarter, q.told
}

// remembered are the shelves weighed last. To weigh 3,000 parts takes a second, and who goes through the week's list
// asks for the same a dozen times: it follows from the sales before today, from prices and from what the suppliers
// take, and from nothing else.
var remembered struct {
	sync.Mutex
	shelves []*weighed
}

// mostRemembered is for a shop's own wishes and for what somebody tries beside them.
const mostRemembered = 2

// weigh is [reorder.StockBook.Weigh], remembered. Nobody changes what is remembered.
func weigh(book reorder.StockBook, start, today int, terms reorder.Terms) (*weighed, error) {
	of, err := weighedBy(book, start, today, terms)
	if err != nil {
		return nil, err
	}
	find := func() *weighed {
		for _, w := range remembered.shelves {
			if w.of == of {
				return w
			}
		}
		return nil
	}
	remembered.Lock()
	known := find()
	remembered.Unlock()
	if known != nil {
		return known, nil
	}
	fresh := &weighed{Shelf: book.Weigh(start, today, terms), of: of, quarters: map[float64]toldQuarter{}}
	remembered.Lock()
	defer remembered.Unlock()
	if known := find(); known != nil { // two asked at once
		return known, nil
	}
	remembered.shelves = slices.Insert(remembered.shelves, 0, fresh)
	remembered.shelves = remembered.shelves[:min(len(remembered.shelves), mostRemembered)]
	return fresh, nil
}

// weighedBy is a digest of all that a shelf is weighed by, item by item. Lead times are many items' and told once.
func weighedBy(book reorder.StockBook, start, today int, terms reorder.Terms) (by [sha256.Size]byte, err error) {
	h := sha256.New()
	tell := json.NewEncoder(h)
	if err := tell.Encode([]any{start, today, terms, len(book.Items)}); err != nil {
		return by, fmt.Errorf("weigh the shelf: %w", err)
	}
	number := map[*reorder.LeadTime]int{}
	for i, item := range book.Items {
		n, told := number[item.Lead]
		if !told {
			n = len(number)
			number[item.Lead] = n
		} else {
			item.Lead = nil
		}
		sold := book.Sold[i]
		if err := tell.Encode([]any{n, item, len(sold)}); err != nil {
			return by, fmt.Errorf("weigh the shelf: %w", err)
		}
		io.WriteString(h, string(sold))
	}
	return [sha256.Size]byte(h.Sum(nil)), nil
}

// digest tells apart what is asked of a function that remembers.
func digest(asked any) (by [sha256.Size]byte, err error) {
	h := sha256.New()
	if err := json.NewEncoder(h).Encode(asked); err != nil {
		return by, err
	}
	return [sha256.Size]byte(h.Sum(nil)), nil
}
