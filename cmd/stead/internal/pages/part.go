package pages

import (
	"context"
	"fmt"
	"slices"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
	"stead/pricing/billing"
)

// partPage is a part: what it is, how many there are and whose, how they came and went, and who sells it.
type partPage struct {
	desk.Clock
	Of     desk.Part
	In     []inventory.Content
	Bins   []string
	Coming []desk.Coming
	Moved  []inventory.Movement // the newest first

	dating
}

func showPart(v *visit) (string, any, error) {
	id, err := v.number("part")
	if err != nil {
		return "", nil, err
	}
	p := partPage{Clock: desk.At(v.now)}
	if p.Of, err = desk.LoadPartNumbered(v.ctx, v.db(), id, v.now); err != nil {
		return "", nil, err
	}
	id = p.Of.Part.ID
	if p.In, err = inventory.ContentsOf(v.ctx, v.db(), id); err != nil {
		return "", nil, err
	}
	if p.Bins, err = inventory.Bins(v.ctx, v.db()); err != nil {
		return "", nil, err
	}
	if p.dating, err = v.dating(); err != nil {
		return "", nil, err
	}
	coming, err := desk.LoadComing(v.ctx, v.db())
	if err != nil {
		return "", nil, err
	}
	p.Coming = coming[id]
	p.Moved, err = inventory.History(v.ctx, v.db(), id)
	slices.Reverse(p.Moved)
	return p.Of.Part.Name, p, err
}

// ComingWords say what an order brings of it.
func (p partPage) ComingWords(c desk.Coming) string {
	return fmt.Sprintf("%s, order %d", c.Words(p.Today()), c.OrderID)
}

// fewMoved is how many movements are shown unfolded.
const fewMoved = 8

// Lately and Before are the newest movements, and all others.
func (p partPage) Lately() []inventory.Movement { return p.Moved[:min(fewMoved, len(p.Moved))] }
func (p partPage) Before() []inventory.Movement { return p.Moved[min(fewMoved, len(p.Moved)):] }

// Why says why pieces moved.
func (p partPage) Why(m inventory.Movement) string { return desk.MovementWords(m) }

// Corrected says what was put right of the part.
func (p partPage) Corrected(c inventory.Correction) string {
	return desk.CorrectedWords(c, p.Zone())
}

// Each is what a pack of an offer costs, in its supplier's currency.
func (p partPage) Each(s desk.Source) string {
	return pricing.Amount(s.Supplier.Currency, s.PriceAt(s.MinimumPacks))
}

// RetailWords are what a piece sells for; empty where that is not known.
func (p partPage) RetailWords() string {
	words := p.Of.Retail.Words(p.Of.Part, p.Of.Offers)
	if words == "" {
		return ""
	}
	return words + p.Of.Retail.PackWords(p.Of.Part, p.Of.Offers)
}

// Bin asks for a bin: first the one in which it lies, else where it belongs.
func (p partPage) Bin(f *Form, name, label string) Field {
	start := p.Of.Part.Bin
	if len(p.In) > 0 {
		start = p.In[0].Bin
	}
	return f.Select(name, label, start, twice(p.Bins)...)
}

// Other asks for a bin to move into: first where it belongs.
func (p partPage) Other(f *Form, name, label string) Field {
	return f.Select(name, label, p.Of.Part.Bin, twice(p.Bins)...)
}

// twice are words that are their own labels, for the choices of a field.
func twice(words []string) (out []string) {
	for _, w := range words {
		out = append(out, w, w)
	}
	return out
}

// stock makes a change to the stock of the page's part; words have its number in them ("counted part %d"), and do gives what
// was done.
func (v *visit) stock(words string, do func(ctx context.Context, tx pgx.Tx, key string, p inventory.Part) (string, error)) (string, error) {
	id, err := v.number("part")
	if err != nil {
		return "", err
	}
	if id, err = inventory.Became(v.ctx, v.db(), id); err != nil {
		return "", err
	}
	done, err := change(v, fmt.Sprintf(words, id), func(ctx context.Context, tx pgx.Tx, key string) (string, error) {
		p, err := inventory.PartByID(ctx, tx, id)
		if err != nil {
			return "", err
		}
		return do(ctx, tx, key, p)
	})
	return v.done(fmt.Sprintf("/parts/%d", id), done, err)
}

func sellPart(v *visit, t *typed) (string, error) {
	n, note, how, at := t.count("pieces"), t.line("note"), t.oneOf("paid", "cash", "card"), v.moment(t)
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.stock(dated("sold part %d", at), func(ctx context.Context, tx pgx.Tx, key string, p inventory.Part) (string, error) {
		words := desk.SoldWords(n, p.Name)
		if how == "" {
			return words, inventory.Sell(ctx, tx, key, p.ID, n, note)
		}
		slip, err := billing.Sell(ctx, tx, key, []billing.Sold{{Part: p, Pieces: n}}, how, at)
		return leading(fmt.Sprintf("%s for %s; bill %d is written", words, pricing.Amount(slip.Currency, slip.Total), slip.Number), fmt.Sprintf("/bills/%d", slip.Number)), err
	})
}

func countPart(v *visit, t *typed) (string, error) {
	n, given := t.pieces("pieces")
	if !given {
		t.mark("pieces", "say how many are there, 0 for none")
	}
	bin, note := t.needed("bin", "say which bin was counted"), t.line("note")
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.stock("counted part %d", func(ctx context.Context, tx pgx.Tx, key string, p inventory.Part) (string, error) {
		difference, err := inventory.CountStock(ctx, tx, key, p.ID, bin, n, note)
		return desk.CountedWords(n, p.Name, bin, difference), err
	})
}

func putInPart(v *visit, t *typed) (string, error) {
	n, bin, note := t.count("pieces"), t.needed("bin", "say into which bin they go"), t.line("note")
	reason := t.oneOf("reason", string(inventory.Opening), string(inventory.Returned))
	if reason == "" {
		t.mark("reason", "say why they come")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.stock("put in part %d", func(ctx context.Context, tx pgx.Tx, key string, p inventory.Part) (string, error) {
		return desk.PutInWords(n, p.Name, bin), inventory.PutIn(ctx, tx, key, p.ID, bin, n, inventory.Reason(reason), note)
	})
}

func movePart(v *visit, t *typed) (string, error) {
	n, from, to := t.count("pieces"), t.needed("from", "say which bin they are in"), t.needed("to", "say which bin they go to")
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.stock("moved part %d", func(ctx context.Context, tx pgx.Tx, key string, p inventory.Part) (string, error) {
		return desk.MovedWords(n, p.Name, from, to), inventory.Move(ctx, tx, key, p.ID, from, to, n)
	})
}

func scrapPart(v *visit, t *typed) (string, error) {
	n, bin, why := t.count("pieces"), t.needed("bin", "say which bin they are in"), t.needed("why", "say why: it is kept in the books")
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.stock("scrapped part %d", func(ctx context.Context, tx pgx.Tx, key string, p inventory.Part) (string, error) {
		return desk.ScrappedWords(n, p.Name, bin, why), inventory.Scrap(ctx, tx, key, p.ID, bin, n, why)
	})
}
