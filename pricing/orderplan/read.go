package orderplan

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
)

// ReadProblem reads one problem in JSON. A key that the format does not have,
// or a required key that is missing, is an error that names it: a misspelt
// "carriage_paid" must not turn into carriage that is always charged. The
// problem is not validated further; Solve does that.
func ReadProblem(r io.Reader) (Problem, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return Problem{}, fmt.Errorf("reading the order problem: %w", err)
	}
	var p Problem
	if err := json.Unmarshal(data, &p); err != nil {
		var in *InputError
		if errors.As(err, &in) {
			return Problem{}, in
		}
		return Problem{}, &InputError{Kind: ErrJSON, Detail: err.Error()}
	}
	return p, nil
}

// The wire types have a pointer wherever "absent" must be told from zero.
type (
	wireProblem struct {
		Lines     []wireLine     `json:"lines"`
		Suppliers []wireSupplier `json:"suppliers"`
		Offers    []wireOffer    `json:"offers"`
		NoSplit   bool           `json:"no_split"`
	}
	wireLine struct {
		ID     *string `json:"id"`
		Need   *int    `json:"need"`
		Max    *int    `json:"max"`
		DueDay *int    `json:"due_day"`
	}
	wireSupplier struct {
		ID             *string `json:"id"`
		Carriage       *int64  `json:"carriage"`
		CarriagePaidAt *int64  `json:"carriage_paid_at"`
		MinimumOrder   int64   `json:"minimum_order"`
	}
	wireOffer struct {
		Line       *string     `json:"line"`
		Supplier   *string     `json:"supplier"`
		Pack       *int        `json:"pack"`
		ArrivalDay *int        `json:"arrival_day"`
		Discount   *string     `json:"discount"`
		Breaks     []wireBreak `json:"breaks"`
	}
	wireBreak struct {
		Min       *int   `json:"min"`
		UnitPrice *int64 `json:"unit_price"`
	}
)

// UnmarshalJSON refuses unknown keys and names missing ones.
func (p *Problem) UnmarshalJSON(data []byte) error {
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	var w wireProblem
	if err := dec.Decode(&w); err != nil {
		if _, key, ok := strings.Cut(err.Error(), "unknown field "); ok {
			return &InputError{Kind: ErrUnknownKey, Detail: key + " (remove it or correct its spelling)"}
		}
		return &InputError{Kind: ErrJSON, Detail: err.Error()}
	}
	var missing error
	lack := func(e InputError, has bool, key string) {
		if !has && missing == nil {
			e.Kind, e.Detail = ErrMissingKey, key
			missing = &e
		}
	}
	lack(InputError{}, w.Lines != nil, "lines")
	lack(InputError{}, w.Suppliers != nil, "suppliers")
	lack(InputError{}, w.Offers != nil, "offers")
	out := Problem{NoSplit: w.NoSplit}
	for i, l := range w.Lines {
		lack(InputError{}, l.ID != nil, fmt.Sprintf("id of line %d", i+1))
		at := InputError{Line: value(l.ID)}
		lack(at, l.Need != nil, "need")
		lack(at, l.Max != nil, "max")
		out.Lines = append(out.Lines, Line{ID: value(l.ID), Need: value(l.Need), Max: value(l.Max), DueDay: l.DueDay})
	}
	for i, s := range w.Suppliers {
		lack(InputError{}, s.ID != nil, fmt.Sprintf("id of supplier %d", i+1))
		lack(InputError{Supplier: value(s.ID)}, s.Carriage != nil, "carriage")
		out.Suppliers = append(out.Suppliers, Supplier{ID: value(s.ID), Carriage: value(s.Carriage),
			CarriagePaidAt: s.CarriagePaidAt, MinimumOrder: s.MinimumOrder})
	}
	for i, o := range w.Offers {
		at := InputError{Offer: i + 1, Line: value(o.Line), Supplier: value(o.Supplier)}
		lack(at, o.Line != nil, "line")
		lack(at, o.Supplier != nil, "supplier")
		lack(at, o.Pack != nil, "pack")
		lack(at, o.Breaks != nil, "breaks")
		// With one price the two discounts are the same thing.
		lack(at, o.Discount != nil || len(o.Breaks) == 1, "discount")
		offer := Offer{Line: value(o.Line), Supplier: value(o.Supplier), Pack: value(o.Pack),
			ArrivalDay: o.ArrivalDay, Discount: AllUnits}
		if o.Discount != nil {
			offer.Discount = Discount(*o.Discount)
		}
		for _, b := range o.Breaks {
			lack(at, b.Min != nil, "min of a break")
			lack(at, b.UnitPrice != nil, "unit_price of a break")
			offer.Breaks = append(offer.Breaks, Break{Min: value(b.Min), UnitPrice: value(b.UnitPrice)})
		}
		out.Offers = append(out.Offers, offer)
	}
	if missing != nil {
		return missing
	}
	*p = out
	return nil
}

func value[T any](p *T) T {
	if p == nil {
		var zero T
		return zero
	}
	return *p
}
