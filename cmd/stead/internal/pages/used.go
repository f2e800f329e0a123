package pages

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"net/url"
	"slices"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

// usedPage takes parts for a job beyond what it holds, and puts back what a customer brings back. Which part is asked first,
// then how many and where on the bike: a kind of part sits in a few places, a bike has a gross of them.
type usedPage struct {
	desk.Job
	Bins  []string
	Used  []usedPart // what was used, and has not come back
	Named string     // the part that was asked for, as it was named
	Part  *takenPart // the part that is to be taken; nil: none was named yet
	Near  []inventory.Part
	Sorry string // why no part goes by that name
}

// usedPart is how many pieces of a part were used on the job.
type usedPart struct {
	inventory.Part
	Pieces int
}

// takenPart is a part to be taken, how many there are, and where on the bike it is likely to go, the likeliest first.
type takenPart struct {
	inventory.Part
	Stock  inventory.Stock
	Held   int // of them for this very job
	Places []substitution.Place
	Likely substitution.Place // empty: none is likelier than the others
}

func showUsed(v *visit) (string, any, error) {
	id, err := v.number("job")
	if err != nil {
		return "", nil, err
	}
	p := usedPage{Named: v.asked("part")}
	if p.Job, err = desk.LoadJob(v.ctx, v.db(), id, v.now); err != nil {
		return "", nil, err
	}
	used, err := inventory.UsedOn(v.ctx, v.db(), id)
	if err != nil {
		return "", nil, err
	}
	parts, err := inventory.Parts(v.ctx, v.db(), slices.Collect(maps.Keys(used)))
	if err != nil {
		return "", nil, err
	}
	for _, part := range parts {
		p.Used = append(p.Used, usedPart{part, used[part.ID]})
	}
	slices.SortFunc(p.Used, func(a, b usedPart) int { return cmp.Compare(a.Name, b.Name) })
	if p.Bins, err = inventory.Bins(v.ctx, v.db()); err == nil && p.Named != "" {
		err = p.take(v)
	}
	return "Parts used", p, err
}

// take finds the part that was named, or those that may be meant.
func (p *usedPage) take(v *visit) error {
	part, err := inventory.PartNamed(v.ctx, v.db(), p.Named)
	if unknown := (*inventory.UnknownError)(nil); errors.As(err, &unknown) {
		p.Near, err = inventory.FindParts(v.ctx, v.db(), inventory.Search{Words: p.Named, Limit: mostGiven})
		if len(p.Near) == 0 {
			p.Sorry = fmt.Sprintf("No part goes by “%s”.", p.Named)
		}
		return ofTheQuestion(err)
	}
	if err != nil {
		return ofTheQuestion(err)
	}
	stock, err := inventory.StockOf(v.ctx, v.db(), []int64{part.ID})
	if err != nil {
		return err
	}
	p.Part = &takenPart{Part: part, Stock: stock[part.ID]}
	for _, h := range p.Held {
		if h.PartID == part.ID {
			p.Part.Held += h.Pieces
			p.Part.Places = append(p.Part.Places, h.Place)
		}
	}
	table, err := substitution.TableOf(part.Family)
	if err == nil {
		for _, s := range table.Sites {
			p.Part.Places = append(p.Part.Places, s.Place)
		}
	}
	p.Part.Places = distinct(p.Part.Places)
	switch asked := substitution.Place(v.asked("place")); {
	case slices.Contains(p.Part.Places, asked):
		p.Part.Likely = asked
	case p.Part.Held > 0 || len(p.Part.Places) == 1:
		p.Part.Likely = p.Part.Places[0]
	}
	return nil
}

// distinct are places without those that stood before.
func distinct(places []substitution.Place) (out []substitution.Place) {
	for _, place := range places {
		if !slices.Contains(out, place) {
			out = append(out, place)
		}
	}
	return out
}

// UsePath names a part to be taken for the job.
func (p usedPage) UsePath(part int64) string {
	return jobPath(p.ID, fmt.Sprintf("/used?part=%d", part))
}

// HeldPath takes what is held where it is held for.
func (p usedPage) HeldPath(h inventory.Reservation) string {
	return p.UsePath(h.PartID) + "&place=" + url.QueryEscape(string(h.Place))
}

// HeldPart is a part that is held for the job, and where it goes.
func (p usedPage) HeldPart(h inventory.Reservation) string {
	return fmt.Sprintf("%d of %s, %s", h.Pieces, p.Parts[h.PartID].Name, desk.SiteWords(h.Place))
}

// Which asks for the part, anew where one was named.
func (p usedPage) Which() Field {
	return Field{Kind: "line", Name: "part", ID: "which", Label: "Which part?", Value: p.Named, Scans: true, How: "Scan it, or type some words of it, its number or its code."}
}

// Back asks which of the parts that were used comes back.
func (p usedPage) Back(f *Form) Field {
	var choices []string
	for _, u := range p.Used {
		choices = append(choices, fmt.Sprint(u.ID), u.Name)
	}
	return f.Choice("part", "Which part?", "", choices...)
}

// Ended reports whether the bike has gone home.
func (p usedPage) Ended() bool { return p.State == pricing.Closed || p.State == pricing.Cancelled }

// Extra is what was used beyond what was agreed.
func (p usedPage) Extra(x pricing.Extra) string { return desk.ExtraWords(x, p.Currency) }

// Place and Bin ask where the pieces go.
func (p usedPage) Place(f *Form) Field {
	var choices []string
	for _, place := range p.Part.Places {
		if place != inventory.Bench {
			choices = append(choices, string(place), desk.SiteWords(place))
		}
	}
	return f.Choice("place", "Where does it go?", string(p.Part.Likely), append(choices, string(inventory.Bench), "on the bench")...)
}

func (p usedPage) Bin(f *Form) Field {
	return f.Select("bin", "Into which bin?", "", append([]string{"", "where it belongs"}, twice(p.Bins)...)...)
}

// namedPart is the part that a field names, by number, GTIN or code.
func (v *visit) namedPart(t *typed, field string) inventory.Part {
	name := t.needed(field, "say which part: its number, code or bar code")
	if name == "" {
		return inventory.Part{}
	}
	p, err := inventory.PartNamed(v.ctx, v.db(), name)
	t.take(field, err)
	return p
}

func usePart(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	part, err := inventory.PartNamed(v.ctx, v.db(), t.line("part")) // the form itself names it, so it is no field to be wrong
	if err != nil {
		return "", err
	}
	use := pricing.Use{JobID: id, Place: inventory.Bench, Pieces: t.count("pieces"), Free: t.ticked("free")}
	switch use.PartID = part.ID; t.needed("place", "say where it goes") {
	case "", string(inventory.Bench):
	default:
		use.Place = t.site("place")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	used, err := change(v, fmt.Sprintf("used %d of %s", use.Pieces, part.Name), func(ctx context.Context, tx pgx.Tx, key string) (pricing.Used, error) {
		return pricing.UsePart(ctx, tx, key, use, v.now)
	})
	words := fmt.Sprintf("%d of %s used on job %d", use.Pieces, part.Name, id)
	if x := used.Extra; x != nil && x.Amount.IsPositive() {
		words += fmt.Sprintf("; %d of them beyond what was agreed, %s", x.Pieces, pricing.Amount(v.shop.Currency, x.Amount))
	}
	return v.done(jobPath(id, "/used"), words, err)
}

func bringBack(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	part, n, bin, note := v.namedPart(t, "part"), t.count("pieces"), t.line("bin"), t.line("note")
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done(jobPath(id, "/used"), fmt.Sprintf("%d of %s back from job %d", n, part.Name, id), v.do("put back "+part.Name, func(ctx context.Context, tx pgx.Tx, key string) error {
		return inventory.BringBack(ctx, tx, key, id, part.ID, bin, n, note)
	}))
}
