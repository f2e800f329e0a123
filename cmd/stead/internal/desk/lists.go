package desk

import (
	"context"
	"time"

	"stead/inventory"
	"stead/inventory/catalogue"
)

// Lists are where each supplier's list stands.
type Lists struct {
	Clock
	Suppliers []SupplierList
}

// SupplierList is where one supplier's list stands.
type SupplierList struct {
	Supplier  inventory.Supplier
	Confirmed bool            // somebody has said which column is what
	Last      *catalogue.List // that was loaded and not taken back; absent: none was
	Unread    int             // words
	Waiting   int             // lines
}

// LoadLists gathers where each supplier's list stands.
func LoadLists(ctx context.Context, db inventory.DB, now time.Time) (v Lists, err error) {
	v.Clock = At(now)
	suppliers, err := inventory.Suppliers(ctx, db)
	if err != nil {
		return v, err
	}
	loaded, err := catalogue.Lists(ctx, db)
	if err != nil {
		return v, err
	}
	for _, s := range suppliers {
		line := SupplierList{Supplier: s}
		if _, line.Confirmed, err = catalogue.MappingOf(ctx, db, s.ID); err != nil {
			return v, err
		}
		for _, l := range loaded {
			if l.SupplierID == s.ID && l.TakenBackAt == nil {
				line.Last = &l
				break
			}
		}
		review, err := LoadReview(ctx, db, s)
		if err != nil {
			return v, err
		}
		line.Unread, line.Waiting = len(review.Words), len(review.Waiting)
		v.Suppliers = append(v.Suppliers, line)
	}
	return v, nil
}

// Review is what of a supplier's list could not be read, and what waits for it.
type Review struct {
	Supplier inventory.Supplier
	Words    []catalogue.Unread
	Waiting  []catalogue.WaitingLine
}

// LoadReview gathers the words that could not be read and the lines that are no offers yet.
func LoadReview(ctx context.Context, db inventory.DB, supplier inventory.Supplier) (v Review, err error) {
	v = Review{Supplier: supplier, Words: []catalogue.Unread{}, Waiting: []catalogue.WaitingLine{}}
	words, err := catalogue.Review(ctx, db, supplier.ID)
	if err != nil {
		return v, err
	}
	waiting, err := catalogue.Waiting(ctx, db, supplier.ID)
	v.Words, v.Waiting = append(v.Words, words...), append(v.Waiting, waiting...)
	return v, err
}

// Prices are what a part has cost at each supplier, and when.
type Prices struct {
	Clock
	Part inventory.Part   `json:"part"`
	Sold []catalogue.Sold `json:"offers"`
}

// LoadPrices gathers what a part has cost; the part is named by number, GTIN or code.
func LoadPrices(ctx context.Context, db inventory.DB, part string, now time.Time) (v Prices, err error) {
	v = Prices{Clock: At(now), Sold: []catalogue.Sold{}}
	if v.Part, err = inventory.PartNamed(ctx, db, part); err != nil {
		return v, err
	}
	sold, err := catalogue.SoldBy(ctx, db, v.Part.ID)
	v.Sold = append(v.Sold, sold...)
	return v, err
}
