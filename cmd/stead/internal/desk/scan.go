package desk

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"stead/inventory"
	"stead/inventory/barcode"
	"stead/pricing"
)

// Scanned is what a code leads to: one thing, several, or none.
type Scanned struct {
	Code  string  `json:"code"`
	Found []Thing `json:"found"`
	Note  string  `json:"note,omitempty"` // what is to be known of the code itself: that it is on a box, or was misread
	Ours  bool    `json:"-"`              // it is a label of the workshop's own
}

// Thing is a part, a bin, a bike or a job that bears a code.
type Thing struct {
	Kind  barcode.Kind `json:"kind"`
	ID    int64        `json:"number,omitempty"` // of all but a bin
	Name  string       `json:"name"`
	Words string       `json:"words,omitempty"` // how it stands
}

// Label is what is printed on it.
func (t Thing) Label() string { return barcode.Label{Kind: t.Kind, ID: t.ID, Name: t.Name}.String() }

// UnknownCodeError says that a code is of nothing that is on record.
type UnknownCodeError struct{ Scanned }

func (e *UnknownCodeError) Error() string {
	switch {
	case e.Ours:
		return fmt.Sprintf("“%s” is the label of something that is not on record", e.Code)
	case e.Note != "":
		return fmt.Sprintf("no part bears the code %s: %s", e.Code, e.Note)
	}
	return fmt.Sprintf("no part bears the code %s", e.Code)
}

// LoadScanned finds what a code leads to.
func LoadScanned(ctx context.Context, db inventory.DB, text string) (Scanned, error) {
	code, err := barcode.Read(text)
	if err != nil {
		return Scanned{}, err
	}
	s := Scanned{Code: code.Text, Found: []Thing{}, Ours: code.Label != nil}
	if code.Label != nil {
		thing, err := labelled(ctx, db, *code.Label)
		if errors.As(err, new(*inventory.UnknownError)) {
			return s, nil
		}
		s.Found = append(s.Found, thing)
		return s, err
	}
	parts, err := inventory.PartsCoded(ctx, db, code)
	if err != nil {
		return s, err
	}
	for _, p := range parts {
		thing, err := partThing(ctx, db, p)
		if err != nil {
			return s, err
		}
		s.Found = append(s.Found, thing)
	}
	want := code.Misread()
	switch {
	case code.Box && len(parts) > 0:
		s.Note = "the code is on a box of several, or on what is sold by weight: look how many are in it"
	case len(parts) == 0 && want != 0:
		s.Note = fmt.Sprintf("were it a GTIN, it would end in %c: a digit may be misread", want)
	}
	return s, nil
}

// labelled is the thing of a label; one that is not there is an *[inventory.UnknownError].
func labelled(ctx context.Context, db inventory.DB, l barcode.Label) (Thing, error) {
	switch l.Kind {
	case barcode.OnBin:
		bins, err := inventory.Bins(ctx, db)
		if err != nil {
			return Thing{}, err
		}
		i := slices.IndexFunc(bins, func(b string) bool { return strings.EqualFold(b, l.Name) })
		if i < 0 {
			return Thing{}, &inventory.UnknownError{Kind: inventory.OfBin, Name: l.Name}
		}
		in, err := inventory.ContentsOfBin(ctx, db, bins[i])
		words := "empty"
		if len(in) > 0 {
			words = Several(len(in), "part") + " in it"
		}
		return Thing{Kind: barcode.OnBin, Name: bins[i], Words: words}, err
	case barcode.OnPart:
		id, err := inventory.Became(ctx, db, l.ID)
		if err != nil {
			return Thing{}, err
		}
		p, err := inventory.PartByID(ctx, db, id)
		if err != nil {
			return Thing{}, err
		}
		return partThing(ctx, db, p)
	case barcode.OnBike:
		b, err := pricing.BikeByID(ctx, db, l.ID)
		if err != nil {
			return Thing{}, err
		}
		open, err := pricing.Jobs(ctx, db, pricing.JobSearch{BikeID: b.ID})
		thing := Thing{Kind: barcode.OnBike, ID: b.ID, Name: b.Customer.Name + "'s " + b.Words}
		if len(open) > 0 {
			thing.Words = fmt.Sprintf("here for job %d, %s", open[0].ID, open[0].State)
		}
		return thing, err
	}
	j, err := pricing.JobByID(ctx, db, l.ID)
	if err != nil {
		return Thing{}, err
	}
	return Thing{Kind: barcode.OnJob, ID: j.ID, Name: j.Bike.Customer.Name + "'s " + j.Bike.Words, Words: string(j.State)}, nil
}

// partThing is a part with how many are free and where they lie.
func partThing(ctx context.Context, db inventory.DB, p inventory.Part) (Thing, error) {
	thing := Thing{Kind: barcode.OnPart, ID: p.ID, Name: p.Name}
	stock, err := inventory.StockOf(ctx, db, []int64{p.ID})
	if err != nil {
		return thing, err
	}
	in, err := inventory.ContentsOf(ctx, db, p.ID)
	words := []string{fmt.Sprintf("%d free", stock[p.ID].Free())}
	for _, c := range in {
		words = append(words, fmt.Sprintf("%d in %s", c.Pieces, c.Bin))
	}
	thing.Words = strings.Join(words, ", ")
	return thing, err
}
