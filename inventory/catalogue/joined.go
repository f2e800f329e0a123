package catalogue

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/pricelist/describe"
	"stead/substitution"
)

// DoubtfulJoin is an offer that need not be of the part under which it stands.
type DoubtfulJoin struct {
	PartID      int64  `json:"part_id"`
	Part        string `json:"name"`
	Supplier    string `json:"supplier"` // its code
	Code        string `json:"code"`
	Description string `json:"description"`
	Why         string `json:"why"`
}

// Joined are the offers that a list joined with a part that they cannot be of, as their descriptions read now. What a
// person has said of an offer is not doubted. [PartOffer] gives one a part of its own.
func Joined(ctx context.Context, db inventory.DB) ([]DoubtfulJoin, error) {
	rows, err := db.Query(ctx, `
		SELECT part.id, part.name, supplier.id, supplier.code, offer.code, offer.description, part.family, part.dims
		FROM offer JOIN part ON part.id = offer.part_id JOIN supplier ON supplier.id = offer.supplier_id
		WHERE offer.gone_at IS NULL AND NOT offer.said AND part.id IN (SELECT part_id FROM offer WHERE gone_at IS NULL GROUP BY part_id HAVING count(*) > 1)
		ORDER BY part.id, offer.id`)
	if err != nil {
		return nil, fmt.Errorf("look for parts that were joined wrongly: %w", err)
	}
	var all []joinedOffer
	var o joinedOffer
	_, err = pgx.ForEachRow(rows, []any{&o.PartID, &o.Part, &o.supplierID, &o.Supplier, &o.Code, &o.Description, &o.family, &o.dims}, func() error {
		all = append(all, o)
		o.dims = nil
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("look for parts that were joined wrongly: %w", err)
	}
	readers := map[int64]Reader{}
	for i := range all {
		supplier := all[i].supplierID
		if _, known := readers[supplier]; !known {
			if readers[supplier], err = ReaderOf(ctx, db, supplier); err != nil {
				return nil, err
			}
		}
		all[i].read = readers[supplier].read(all[i].Code, all[i].Description)
		delete(all[i].read.Spec, "pack")
	}
	var doubtful []DoubtfulJoin
	for offers := range slices.Values(byPart(all)) {
		for i, o := range offers {
			if o.Why = o.against(offers[:i]); o.Why != "" {
				doubtful = append(doubtful, o.DoubtfulJoin)
			}
		}
	}
	return doubtful, nil
}

type joinedOffer struct {
	DoubtfulJoin
	supplierID int64
	family     substitution.Family
	dims       map[string]substitution.Value
	read       describe.Reading
}

func byPart(all []joinedOffer) [][]joinedOffer {
	var out [][]joinedOffer
	for i, o := range all {
		if i == 0 || all[i-1].PartID != o.PartID {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], o)
	}
	return out
}

// against says why an offer is not of its part, or not the same thing as another of that part's offers; empty if it may be.
func (o joinedOffer) against(others []joinedOffer) string {
	switch {
	case o.read.Other != "":
		return fmt.Sprintf("“%s” is no %s", o.read.Other, o.family)
	case o.read.Family != "" && o.read.Family != o.family:
		return fmt.Sprintf("reads as a %s, and the part is a %s", o.read.Family, o.family)
	}
	if d := differIn(o.read.Spec.Values(), o.dims); d != "" {
		return fmt.Sprintf("has %s %s, and the part %s", d, o.read.Spec[d].Value, o.dims[d])
	}
	for _, other := range others {
		if d := differIn(o.read.Spec.Values(), other.read.Spec.Values()); d != "" {
			return fmt.Sprintf("has %s %s, and %s %s", d, o.read.Spec[d].Value, other.Code, other.read.Spec[d].Value)
		}
		if o.supplierID == other.supplierID && !slices.Equal(lowered(o.read.Unread), lowered(other.read.Unread)) {
			return fmt.Sprintf("of %s and %s different words are not read: %s", o.Code, other.Code, strings.Join(append(slices.Clone(o.read.Unread), other.read.Unread...), ", "))
		}
	}
	return ""
}

// differIn is the first dimension in which two cannot both be right, as the schema's function dims_differ_in has it.
func differIn(a, b map[string]substitution.Value) string {
	var names []string
	for name, v := range a {
		w, both := b[name]
		if !both || v.Equal(w) || v.Form() == substitution.Ints && w.Form() == substitution.Ints && (within(v.Ints(), w.Ints()) || within(w.Ints(), v.Ints())) {
			continue
		}
		names = append(names, name)
	}
	slices.Sort(names)
	if len(names) == 0 {
		return ""
	}
	return names[0]
}

func within(some, all []int) bool {
	return !slices.ContainsFunc(some, func(n int) bool { return !slices.Contains(all, n) })
}

// PartOffer gives an offer a part of its own, as its description reads: it was joined with something else. What is on
// order of the offer for the shelf is of the new part; what a job waits for from it is to be cancelled first. It stays
// so with the next list.
func PartOffer(ctx context.Context, tx pgx.Tx, supplierID int64, code string) (inventory.Part, error) {
	var offerID, partID int64
	var description string
	var others int
	err := tx.QueryRow(ctx, `
		SELECT id, part_id, description, (SELECT count(*) FROM offer other WHERE other.part_id = offer.part_id AND other.id <> offer.id)
		FROM offer WHERE supplier_id = $1 AND code = $2 FOR UPDATE`, supplierID, code).Scan(&offerID, &partID, &description, &others)
	switch {
	case err == pgx.ErrNoRows:
		return inventory.Part{}, &UnknownLineError{code}
	case err != nil:
		return inventory.Part{}, fmt.Errorf("part offer %s: %w", code, err)
	case others == 0:
		return inventory.Part{}, &MergeError{fmt.Sprintf("nothing else is offered of part %d: %s stands for itself", partID, code)}
	}
	if err := lockWaiting(ctx, tx, partID); err != nil {
		return inventory.Part{}, err
	}
	var waiting *int64
	err = tx.QueryRow(ctx, `
		SELECT min(job_id) FROM claim LEFT JOIN order_line ON order_line.id = order_line_id
		WHERE claim.part_id = $1 AND state IN ('wanted', 'ordered') AND COALESCE(order_line.offer_id, claim.offer_id) = $2`, partID, offerID).Scan(&waiting)
	if err != nil {
		return inventory.Part{}, fmt.Errorf("part offer %s: %w", code, err)
	}
	if waiting != nil {
		return inventory.Part{}, &MergeError{fmt.Sprintf("job %d waits for part %d from offer %s: cancel that first, for it is something else", *waiting, partID, code)}
	}
	reader, err := ReaderOf(ctx, tx, supplierID)
	if err != nil {
		return inventory.Part{}, err
	}
	read := reader.read(code, description)
	if read.Family == "" {
		return inventory.Part{}, &MergeError{fmt.Sprintf("nobody knows what %s is (%s): say so first with family NAME, or that it is none of our parts", code, description)}
	}
	delete(read.Spec, "pack")
	own, err := inventory.AddPart(ctx, tx, inventory.Part{Part: substitution.Part{Family: read.Family, Name: description, Spec: read.Spec}})
	if err != nil {
		return inventory.Part{}, fmt.Errorf("part offer %s: %w", code, err)
	}
	for _, sql := range []string{
		`UPDATE offer SET part_id = $1, said = true WHERE id = $2 AND part_id = $3`,
		`UPDATE order_line SET part_id = $1 WHERE offer_id = $2 AND part_id = $3 AND received + cancelled < packs * order_line.pack`,
		`UPDATE part SET retail = h.retail, retail_by = h.supplier_id, retail_as_of = h.as_of
		 FROM (SELECT trim_scale(round(retail / h.pack, 6)) AS retail, supplier_id, h.as_of FROM retail_history h JOIN offer ON offer.id = h.offer_id
		       WHERE h.offer_id = $2 AND $3::bigint > 0 ORDER BY h.as_of DESC LIMIT 1) AS h WHERE part.id = $1`,
	} {
		if _, err := tx.Exec(ctx, sql, own.ID, offerID, partID); err != nil {
			return inventory.Part{}, fmt.Errorf("part offer %s: %w", code, err)
		}
	}
	return inventory.PartByID(ctx, tx, own.ID)
}
