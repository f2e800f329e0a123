package desk

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"stead/inventory"
	"stead/inventory/barcode"
	"stead/pricing"
)

// Label is what is stuck on a bin, a part, or a bike, by itself or for a job.
type Label struct {
	Code  string   // what a scanner reads: see [barcode.Label]
	Words []string // for people
}

// LoadLabel gathers the label of a bin by its name, a part by what it is called, a bike or a job by its number.
func LoadLabel(ctx context.Context, db inventory.DB, kind barcode.Kind, name string) (Label, error) {
	switch kind {
	case barcode.OnBin:
		bins, err := inventory.Bins(ctx, db)
		if err != nil {
			return Label{}, err
		}
		i := slices.IndexFunc(bins, func(b string) bool { return strings.EqualFold(b, name) })
		if i < 0 {
			return Label{}, &inventory.UnknownError{Kind: inventory.OfBin, Name: name}
		}
		return Label{Code: barcode.Label{Kind: kind, Name: bins[i]}.String()}, nil
	case barcode.OnPart:
		p, err := inventory.PartNamed(ctx, db, name)
		if err != nil {
			return Label{}, err
		}
		l := Label{Code: barcode.Label{Kind: kind, ID: p.ID}.String(), Words: []string{p.Name}}
		if p.MakerCode != "" {
			l.Words = append(l.Words, p.MakerCode)
		}
		if p.Bin != "" {
			l.Words = append(l.Words, "bin "+p.Bin)
		}
		return l, nil
	case barcode.OnBike:
		id, err := strconv.ParseInt(name, 10, 64)
		if err != nil {
			return Label{}, fmt.Errorf("a bike is named by its number, not %q", name)
		}
		b, err := pricing.BikeByID(ctx, db, id)
		if err != nil {
			return Label{}, err
		}
		l := Label{Code: barcode.Label{Kind: kind, ID: b.ID}.String(), Words: []string{b.Customer.Name, b.Words}}
		if b.FrameNumber != "" {
			l.Words = append(l.Words, "frame "+b.FrameNumber)
		}
		return l, nil
	case barcode.OnJob:
		id, err := strconv.ParseInt(name, 10, 64)
		if err != nil {
			return Label{}, fmt.Errorf("a job is named by its number, not %q", name)
		}
		j, err := pricing.JobByID(ctx, db, id)
		if err != nil {
			return Label{}, err
		}
		return Label{Code: barcode.Label{Kind: kind, ID: j.ID}.String(), Words: []string{j.Bike.Customer.Name, j.Bike.Words}}, nil
	}
	return Label{}, fmt.Errorf("labels are of a bin, a part, a bike or a job, not of %q", kind)
}
