package orderplan

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/bits"
	"slices"
	"strings"

	"stead/substitution/supply"
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
		NoSplit   bool           `json:"no_split,omitempty"`
	}
	wireLine struct {
		ID     *string `json:"id"`
		Need   *int    `json:"need"`
		Max    *int    `json:"max"`
		DueDay *int    `json:"due_day,omitempty"`
	}
	wireSupplier struct {
		ID             *string `json:"id"`
		Carriage       *int64  `json:"carriage"`
		CarriagePaidAt *int64  `json:"carriage_paid_at,omitempty"`
		MinimumOrder   int64   `json:"minimum_order,omitempty"`
	}
	wireOffer struct {
		Line       *string     `json:"line"`
		Supplier   *string     `json:"supplier"`
		Pack       *int        `json:"pack"`
		ArrivalDay *int        `json:"arrival_day,omitempty"`
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
		out.Suppliers = append(out.Suppliers, Supplier{value(s.ID), supply.Supplier{Carriage: value(s.Carriage),
			PaidAt: value(s.CarriagePaidAt), MinimumOrder: s.MinimumOrder}})
		if s.CarriagePaidAt != nil && *s.CarriagePaidAt == 0 {
			out.Suppliers[i].Carriage = 0 // every order reaches that level
		}
	}
	for i, o := range w.Offers {
		at := InputError{Offer: i + 1, Line: value(o.Line), Supplier: value(o.Supplier)}
		lack(at, o.Line != nil, "line")
		lack(at, o.Supplier != nil, "supplier")
		lack(at, o.Pack != nil, "pack")
		lack(at, o.Breaks != nil, "breaks")
		// With one price the two discounts are the same thing.
		lack(at, o.Discount != nil || len(o.Breaks) == 1, "discount")
		for _, b := range o.Breaks {
			lack(at, b.Min != nil, "min of a break")
			lack(at, b.UnitPrice != nil, "unit_price of a break")
		}
		if missing != nil {
			continue
		}
		offer, err := o.offer(out)
		if err != nil {
			at.Kind, at.Detail = err.Kind, err.Detail
			return &at
		}
		out.Offers = append(out.Offers, offer)
	}
	if missing != nil {
		return missing
	}
	*p = out
	return nil
}

// offer puts a written offer into packs and indices.
func (o wireOffer) offer(p Problem) (Offer, *InputError) {
	out := Offer{Line: slices.IndexFunc(p.Lines, func(l Line) bool { return l.ID == *o.Line }), Offer: supply.Offer{Pack: *o.Pack, Day: Undated,
		Supplier: slices.IndexFunc(p.Suppliers, func(s Supplier) bool { return s.ID == *o.Supplier })}}
	switch {
	case out.Line < 0:
		return out, &InputError{Kind: ErrUnknownID, Detail: fmt.Sprintf("line %q is not among lines", *o.Line)}
	case out.Supplier < 0:
		return out, &InputError{Kind: ErrUnknownID, Detail: fmt.Sprintf("supplier %q is not among suppliers", *o.Supplier)}
	case out.Pack < 1:
		return out, &InputError{Kind: ErrPack, Detail: fmt.Sprintf("pack is %d", out.Pack)}
	}
	if o.ArrivalDay != nil {
		out.Day = min(max(*o.ArrivalDay, Undated), supply.MaxDay)
	}
	tiers := make([]supply.Tier, len(o.Breaks))
	for i, b := range o.Breaks {
		tiers[i] = supply.Tier{From: *b.Min, Price: *b.UnitPrice}
	}
	if detail, kind := wrongPrices(supply.Offer{Tiers: tiers}); kind != nil {
		return out, &InputError{Kind: kind, Detail: detail}
	}
	switch discount := value(o.Discount); discount {
	case "", allUnits:
		out.Breaks = breaks(tiers, out.Pack)
	case incremental:
		out.Tiers = tiers
	default:
		return out, &InputError{Kind: ErrDiscount, Detail: fmt.Sprintf("%q is neither %q nor %q", discount, allUnits, incremental)}
	}
	return out, nil
}

// The two discounts, as they are written. All units: the highest tier reached
// prices every unit. Incremental: each unit costs the price of the tier it lies in.
const (
	allUnits    = "all-units"
	incremental = "incremental"
)

// breaks are prices of a unit from so many units on as prices of a pack from so
// many packs on. A pack is sold whole, so that a tier holds from the first pack
// that reaches it.
func breaks(tiers []supply.Tier, pack int) []supply.Break {
	var out []supply.Break
	for _, t := range tiers {
		b := supply.Break{Packs: max(1, (t.From-1)/pack+1), Price: MaxPence + 1} // too large, as Validate says, unless it is less
		if hi, price := bits.Mul64(uint64(t.Price), uint64(pack)); hi == 0 && price <= MaxPence {
			b.Price = int64(price)
		}
		if n := len(out); n > 0 && out[n-1].Packs == b.Packs {
			out[n-1] = b
		} else {
			out = append(out, b)
		}
	}
	return out
}

// MarshalJSON writes the problem as it is read. It is for problems whose prices
// of a pack are whole prices of a unit, as those that were read are.
func (p Problem) MarshalJSON() ([]byte, error) {
	w := wireProblem{Lines: []wireLine{}, Suppliers: []wireSupplier{}, Offers: []wireOffer{}, NoSplit: p.NoSplit}
	for _, l := range p.Lines {
		w.Lines = append(w.Lines, wireLine{ID: &l.ID, Need: &l.Need, Max: &l.Max, DueDay: l.DueDay})
	}
	for _, s := range p.Suppliers {
		out := wireSupplier{ID: &s.ID, Carriage: &s.Carriage, MinimumOrder: s.MinimumOrder}
		if s.PaidAt > 0 {
			out.CarriagePaidAt = &s.PaidAt
		}
		w.Suppliers = append(w.Suppliers, out)
	}
	for _, o := range p.Offers {
		out := wireOffer{Line: &p.Lines[o.Line].ID, Supplier: &p.Suppliers[o.Supplier].ID, Pack: &o.Pack, Breaks: []wireBreak{}}
		if o.Day != Undated {
			out.ArrivalDay = &o.Day
		}
		discount := allUnits
		for _, b := range o.Breaks {
			from, price := b.Packs*o.Pack, b.Price/int64(o.Pack)
			if price*int64(o.Pack) != b.Price {
				return nil, fmt.Errorf("a pack of %d at %d has no whole price of a unit", o.Pack, b.Price)
			}
			out.Breaks = append(out.Breaks, wireBreak{&from, &price})
		}
		for _, t := range o.Tiers {
			discount = incremental
			out.Breaks = append(out.Breaks, wireBreak{&t.From, &t.Price})
		}
		out.Discount = &discount
		w.Offers = append(w.Offers, out)
	}
	return json.Marshal(w)
}

func value[T any](p *T) T {
	if p == nil {
		var zero T
		return zero
	}
	return *p
}
