package ordering

import (
	"context"
	"fmt"
	"maps"
	"slices"

	"stead/inventory"
	"stead/inventory/calendar"
)

// PutOff is a part that is wanted and not ordered, because somebody put it off.
type PutOff struct {
	PartID int64        `json:"part_id"`
	Name   string       `json:"name"`
	Jobs   []int64      `json:"jobs,omitempty"`
	Until  calendar.Day `json:"until"`
	Why    string       `json:"why"`
	By     string       `json:"by"`
}

// putOff takes out of what is wanted the parts that are not to be ordered yet. The part of which the day has come is
// ordered.
func (b *bench) putOff() {
	for _, id := range slices.Sorted(maps.Keys(b.wanted)) {
		h := b.byHand[id]
		if h.Until == nil || *h.Until <= b.deliveries.Today {
			continue
		}
		d := b.wanted[id]
		b.later = append(b.later, PutOff{PartID: id, Name: d.Part.Name, Jobs: d.jobs(), Until: *h.Until, Why: h.Why, By: h.By})
		delete(b.wanted, id)
	}
}

// standIn puts what the shelf lacks of a part that another stands in for to that other, less what there is of it beyond its
// own level. What jobs want of the part stays what they were promised.
func (b *bench) standIn(ctx context.Context, db inventory.DB) error {
	b.instead = map[int64][]string{}
	var others []int64
	for _, h := range b.byHand {
		if h.StandInID != nil {
			others = append(others, *h.StandInID)
		}
	}
	if len(others) == 0 {
		return nil
	}
	parts, err := inventory.Parts(ctx, db, others)
	if err != nil {
		return err
	}
	stock, err := inventory.StockOf(ctx, db, others)
	if err != nil {
		return err
	}
	hands, err := inventory.OrderedByHand(ctx, db, others)
	if err != nil {
		return err
	}
	spare := map[int64]int{}
	for id, s := range stock {
		spare[id] = s.Free() + s.OnOrder - s.ForJobs
		if level := parts[id].ReorderTo; level != nil {
			spare[id] -= *level
		}
	}
	for _, id := range slices.Sorted(maps.Keys(b.wanted)) {
		h := b.byHand[id]
		d := b.wanted[id]
		if h.StandInID == nil || d.ForShelf == 0 {
			continue
		}
		other := *h.StandInID
		there := max(0, min(spare[other], d.ForShelf))
		spare[other] -= there
		if lacks := d.ForShelf - there; lacks > 0 {
			if b.wanted[other] == nil {
				b.wanted[other] = &Demand{Part: parts[other]}
			}
			b.wanted[other].ForShelf += lacks
			b.instead[other] = append(b.instead[other], fmt.Sprintf("%s: %s (%s)", d.Part.Name, h.Why, h.By))
		}
		if d.ForShelf = 0; d.ForJobs == 0 {
			delete(b.wanted, id)
		}
	}
	maps.Copy(b.byHand, hands)
	return nil
}

// boughtHere reports whether an offer may be bought where its part comes from one supplier by hand.
func (b bench) boughtHere(o inventory.Offer) bool {
	from := b.byHand[o.PartID].SupplierID
	return from == nil || *from == o.SupplierID
}

// notOffered says that nobody sells a part, or not the one from whom alone it is bought.
func (b bench) notOffered(d *Demand) string {
	if h := b.byHand[d.Part.ID]; h.SupplierID != nil {
		return fmt.Sprintf("%s: %s does not offer it now, and by hand it is bought from there alone (%s)", d.Part.Name, b.deliveries.Supplier(*h.SupplierID).Name, h.Why)
	}
	return d.Part.Name + ": no supplier offers it"
}

// chosen says which lines of a supplier's list were not left to the planner.
func (b bench) chosen(d Draft) (out []string) {
	for _, l := range d.Lines {
		if h := b.byHand[l.PartID]; h.SupplierID != nil {
			out = append(out, fmt.Sprintf("%s is bought here by hand: %s (%s)", l.Name, h.Why, h.By))
		}
		for _, words := range b.instead[l.PartID] {
			out = append(out, l.Name+" is bought in place of "+words)
		}
	}
	return out
}
