package pages

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

// newPartPage adds a part to the catalogue: first of which family it is, then what is known of it.
type newPartPage struct {
	Families []desk.Kind
	Family   substitution.Family // that is chosen; empty: none yet
	Plain    []substitution.Dimension
}

func showNewPart(v *visit) (string, any, error) {
	p := newPartPage{Families: desk.Kinds(), Family: substitution.Family(v.asked("family"))}
	if p.Family == "" {
		return "A part that is not in the catalogue", p, nil
	}
	table, err := substitution.TableOf(p.Family)
	if err != nil {
		return "", nil, &statusError{404, err.Error()}
	}
	p.Plain = dimensionsOf(table, nil)
	return "Another of " + desk.KindWords(p.Family), p, nil
}

// dimensionsOf are the dimensions that are asked of a part of a family, in the order of its table; known is what is on record.
func dimensionsOf(table *substitution.Table, known substitution.Spec) (out []substitution.Dimension) {
	for _, name := range table.Asked(known) {
		if d, ok := table.Dimension(name); ok {
			out = append(out, d)
		}
	}
	return out
}

// Fact asks for a dimension.
func (p newPartPage) Fact(f *Form, d substitution.Dimension) Field { return dimensionField(f, d, "") }

func addPart(v *visit, t *typed) (string, error) {
	table, err := substitution.TableOf(substitution.Family(v.asked("family")))
	if err != nil {
		return "", &statusError{404, err.Error()}
	}
	p := inventory.Part{Brand: t.line("brand"), MakerCode: t.line("code"), GTIN: t.line("gtin"), Retail: t.amount("retail"), Bin: t.line("bin")}
	p.Part = substitution.Part{Family: table.Family, Name: t.needed("name", "say what it is called"), Spec: t.spec(table, nil, substitution.FromMaker)}
	if p.MakerCode != "" && p.Brand == "" {
		t.mark("brand", "say whose number it is")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	added, err := change(v, "added "+p.Name+" to the catalogue", func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Part, error) {
		return inventory.AddPart(ctx, tx, p)
	})
	return v.done(fmt.Sprintf("/parts/%d", added.ID), added.Name+" is in the catalogue", err)
}

// setPartPage puts a part right: what it is, which codes it bears, who sells it, and how it is ordered.
type setPartPage struct {
	desk.Clock
	Part      inventory.Part
	Plain     []substitution.Dimension
	Trail     []string
	Bins      []string
	Suppliers []inventory.Supplier
	ByHand    *inventory.ByHand
}

func showSetPart(v *visit) (string, any, error) {
	p := setPartPage{Clock: desk.At(v.now)}
	id, err := v.number("part")
	if err != nil {
		return "", nil, err
	}
	if p.Part, err = inventory.PartByID(v.ctx, v.db(), id); err != nil {
		return "", nil, err
	}
	table, err := substitution.TableOf(p.Part.Family)
	if err != nil {
		return "", nil, err
	}
	p.Plain = dimensionsOf(table, p.Part.Spec)
	if p.Bins, err = inventory.Bins(v.ctx, v.db()); err != nil {
		return "", nil, err
	}
	if p.Suppliers, err = inventory.Suppliers(v.ctx, v.db()); err != nil {
		return "", nil, err
	}
	by, err := inventory.OrderedByHand(v.ctx, v.db(), []int64{id})
	if err != nil {
		return "", nil, err
	}
	if h, is := by[id]; is {
		p.ByHand = &h
	}
	p.Trail, err = v.trail(inventory.OfPart, id)
	return "Change " + p.Part.Name, p, err
}

// Fact asks for a dimension, with what is known.
func (p setPartPage) Fact(f *Form, d substitution.Dimension) Field {
	value := ""
	if fact, known := p.Part.Spec[d.Name]; known {
		value = fact.Value.String()
	}
	return dimensionField(f, d, value)
}

// Money is the retail price as it is typed.
func (p setPartPage) Money() string {
	if !p.Part.Retail.Valid {
		return ""
	}
	return p.Part.Retail.Decimal.StringFixed(2)
}

// Bin asks where it belongs.
func (p setPartPage) Bin(f *Form) Field {
	return f.Select("bin", "The bin where it belongs", p.Part.Bin, append([]string{"", "none"}, twice(p.Bins)...)...)
}

// From asks for a supplier; nothing is the first.
func (p setPartPage) From(f *Form, name, label, nothing string) Field {
	choices := []string{"", nothing}
	for _, s := range p.Suppliers {
		choices = append(choices, s.Code, s.Name)
	}
	return f.Select(name, label, "", choices...)
}

// HandWords say how it is ordered where a person has decided that.
func (p setPartPage) HandWords() string {
	if p.ByHand == nil {
		return ""
	}
	supplier := ""
	if p.ByHand.SupplierID != nil {
		if i := slices.IndexFunc(p.Suppliers, func(s inventory.Supplier) bool { return s.ID == *p.ByHand.SupplierID }); i >= 0 {
			supplier = p.Suppliers[i].Name
		}
	}
	return p.ByHandWords(p.Part.Name, supplier, p.ByHand.Until) + ": " + p.ByHand.Why
}

// setPart keeps every field as it is typed: one that is emptied is not known any more.
func setPart(v *visit, t *typed) (string, error) {
	id, err := v.number("part")
	if err != nil {
		return "", err
	}
	was, err := inventory.PartByID(v.ctx, v.db(), id)
	if err != nil {
		return "", err
	}
	table, err := substitution.TableOf(was.Family)
	if err != nil {
		return "", err
	}
	spec := t.spec(table, was.Spec, substitution.Measured)
	name, brand, code, gtin := t.needed("name", "say what it is called"), t.line("brand"), t.line("code"), t.line("gtin")
	retail, bin, hand := t.amount("retail"), t.line("bin"), v.hand(t)
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done(fmt.Sprintf("/parts/%d", id), "changed", v.do(fmt.Sprintf("changed part %d", id), func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := pricing.CorrectPart(ctx, tx, id, hand, func(p *inventory.Part) error {
			p.Name, p.Brand, p.MakerCode, p.GTIN, p.Retail, p.Bin, p.Spec = name, brand, code, gtin, retail, bin, spec
			return nil
		})
		return err
	}))
}

// moveCode gives a code that stands on another part to this one.
func moveCode(v *visit, t *typed) (string, error) {
	id, err := v.number("part")
	if err != nil {
		return "", err
	}
	code, hand := t.needed("moved", "give the code"), v.hand(t)
	if err := t.wrong(); err != nil {
		return "", err
	}
	from, err := change(v, fmt.Sprintf("gave %s to part %d", code, id), func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Part, error) {
		_, from, err := inventory.MoveCode(ctx, tx, code, id, hand)
		return from, err
	})
	return v.done(fmt.Sprintf("/parts/%d", id), fmt.Sprintf("%s is of this part now; it was of part %d, %s", code, from.ID, from.Name), err)
}

// orderByHand says how the part is ordered, whatever would be cheapest.
func orderByHand(v *visit, t *typed) (string, error) {
	id, err := v.number("part")
	if err != nil {
		return "", err
	}
	how, h := t.oneOf("how", "from", "later", "instead", "planned"), inventory.ByHand{PartID: id}
	hand, supplier := v.hand(t), ""
	var other inventory.Part
	switch how {
	case "from":
		s, err := inventory.SupplierByCode(v.ctx, v.db(), t.needed("from", "say from whom"))
		if t.errors["from"] == "" {
			t.take("from", err)
		}
		h.SupplierID, supplier = &s.ID, s.Name
	case "instead":
		if other, err = inventory.PartNamed(v.ctx, v.db(), t.needed("instead", "say which part")); t.errors["instead"] == "" {
			t.take("instead", err)
		}
	case "later":
		if h.Until = t.comingDay("until"); h.Until == nil {
			t.mark("until", "say before which day it is not ordered")
		}
	case "":
		t.mark("how", "say how it is ordered")
	}
	if hand.Why == "" {
		t.mark("why", "say why: it stands on the plan")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	part, err := inventory.PartByID(v.ctx, v.db(), id)
	if err != nil {
		return "", err
	}
	if how == "instead" {
		return standIn(v, part, other, hand)
	}
	words := desk.At(v.now).ByHandWords(part.Name, supplier, h.Until)
	return v.done(fmt.Sprintf("/parts/%d/set", id), words, v.do(words, func(ctx context.Context, tx pgx.Tx, _ string) error {
		return inventory.OrderByHand(ctx, tx, h, t.today, hand)
	}))
}

// standIn buys another part in the stead of one, and tells what became of the jobs that want it.
func standIn(v *visit, part, other inventory.Part, hand inventory.Hand) (string, error) {
	said := []string{desk.StandInWords(part, other)}
	jobs, err := change(v, said[0], func(ctx context.Context, tx pgx.Tx, _ string) ([]pricing.StoodIn, error) {
		return pricing.StandIn(ctx, tx, part, other, hand, v.now)
	})
	for _, j := range jobs {
		said = append(said, desk.StoodInWords(j))
	}
	return v.done(fmt.Sprintf("/parts/%d/set", part.ID), strings.Join(said, "; "), err)
}

// putOffer keeps what a supplier says of the part: its code, price and stock.
func putOffer(v *visit, t *typed) (string, error) {
	id, err := v.number("part")
	if err != nil {
		return "", err
	}
	o := inventory.Offer{PartID: id, Code: t.needed("offered", "give the supplier’s own code"), Pack: t.count("pack"), MinimumPacks: t.count("least"), AsOf: v.now,
		Stock: inventory.Signal(t.oneOf("stock", string(inventory.InStock), string(inventory.Low), string(inventory.ToOrder), string(inventory.Unknown)))}
	if o.Stock == "" {
		o.Stock = inventory.Unknown
	}
	price, many, from := t.amount("price"), t.amount("price-many"), 0
	if price.Decimal.IsPositive() {
		o.Breaks = []inventory.Break{{FromPacks: 1, Price: price.Decimal}}
	} else {
		t.mark("price", "say what a pack costs, before tax")
	}
	if many.Valid {
		if from = t.count("many"); from > 1 {
			o.Breaks = append(o.Breaks, inventory.Break{FromPacks: from, Price: many.Decimal})
		} else {
			t.mark("many", "say from how many packs on that price holds")
		}
	}
	s, err := inventory.SupplierByCode(v.ctx, v.db(), t.needed("supplier", "say who offers it"))
	if t.errors["supplier"] == "" {
		t.take("supplier", err)
	}
	if o.SupplierID = s.ID; len(t.errors) > 0 {
		return "", t.wrong()
	}
	return v.done(fmt.Sprintf("/parts/%d", id), s.Name+" offers it as "+o.Code, v.do("recorded what "+s.Name+" offers", func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := inventory.PutOffer(ctx, tx, o)
		return err
	}))
}

// pricesPage is what a part has cost at each supplier, and when.
type pricesPage struct{ desk.Prices }

func showPrices(v *visit) (string, any, error) {
	id, err := v.number("part")
	if err != nil {
		return "", nil, err
	}
	prices, err := desk.LoadPrices(v.ctx, v.db(), fmt.Sprint(id), v.now)
	return "What " + prices.Part.Name + " has cost", pricesPage{prices}, err
}

// Pack and Piece are a price of what is sold together, and of one piece.
func (p pricesPage) Pack(currency string, x decimal.Decimal) string {
	return pricing.Amount(currency, x)
}
func (p pricesPage) Piece(currency string, x decimal.Decimal) string {
	return desk.PieceWords(currency, x)
}

// findPage finds parts of a family by their dimensions.
type findPage struct {
	Families []desk.Kind
	Family   substitution.Family
	Fields   []Field
	Asked    bool
	Found    desk.Parts
}

func showFind(v *visit) (string, any, error) {
	p := findPage{Families: desk.Kinds(), Family: substitution.Family(v.asked("family"))}
	if p.Family == "" {
		return "Find by size", p, nil
	}
	table, err := substitution.TableOf(p.Family)
	if err != nil {
		return "", nil, &statusError{404, err.Error()}
	}
	spec, wrong := substitution.Spec{}, false
	for _, d := range dimensionsOf(table, nil) {
		text := v.asked("d-" + d.Name)
		f := Field{Kind: "line", Name: "d-" + d.Name, ID: "d-" + d.Name, Label: sentence(d.Plain()), Value: text}
		if text != "" {
			value, err := d.Parse(text)
			if err != nil {
				f.Wrong, wrong = wrongOf(d, err), true
			}
			spec[d.Name] = substitution.Fact{Value: value}
		}
		p.Fields = append(p.Fields, f)
	}
	if words := v.asked("q"); !wrong && (len(spec) > 0 || words != "") {
		p.Asked = true
		p.Found, err = desk.FindParts(v.ctx, v.db(), inventory.Search{Words: words, Family: p.Family, Dims: spec.Values(), Limit: mostFound}, v.now)
	}
	return "Find " + desk.KindWords(p.Family), p, err
}

// Free is how many of a part are free, and Retail what it sells for.
func (p findPage) Free(part inventory.Part) int { return p.Found.Stock[part.ID].Free() }
func (p findPage) Retail(part inventory.Part) string {
	return p.Found.Retail.Words(part, p.Found.Offers[part.ID])
}
