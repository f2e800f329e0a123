// Package demoshop fills an empty database with the invented workshop of testdata/demo: wholesalers with their lists and
// their past deliveries, shelves, and a week of bikes. It goes through the same doors as a user's own data.
package demoshop

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing"
)

// loader puts the files into one transaction.
type loader struct {
	tx      pgx.Tx
	files   fs.FS
	request string
	now     time.Time
	parts   map[string]inventory.Part  // by maker's code
	offers  map[string]inventory.Offer // by supplier's code and the supplier's own
}

// Load fills the database with the workshop as it stands at a moment; dates in the files are told from it.
func Load(ctx context.Context, tx pgx.Tx, files fs.FS, request string, now time.Time) error {
	l := loader{tx: tx, files: files, request: request, now: now, parts: map[string]inventory.Part{}, offers: map[string]inventory.Offer{}}
	for _, step := range []struct {
		file string
		load func(context.Context, string) error
	}{
		{"shop.json", l.shop}, {"suppliers.json", l.suppliers}, {"parts.jsonl", l.catalogue},
		{"offers.csv", l.lists}, {"shelf.csv", l.shelf}, {"sales.csv", l.sales}, {"deliveries.csv", l.deliveries},
	} {
		if err := step.load(ctx, step.file); err != nil {
			return fmt.Errorf("demo workshop, %s: %w", step.file, err)
		}
	}
	return nil
}

// decode reads a JSON file of which every key must be known.
func decode(files fs.FS, file string, into any) error {
	f, err := files.Open(file)
	if err != nil {
		return err
	}
	defer f.Close()
	dec := json.NewDecoder(f)
	dec.DisallowUnknownFields()
	return dec.Decode(into)
}

func (l loader) shop(ctx context.Context, file string) error {
	var in struct {
		Shop inventory.Shop `json:"shop"`
		Tax  []struct {
			pricing.Tax
			From calendar.Day `json:"from"`
		} `json:"tax"`
		Labour []pricing.Labour `json:"labour"`
		Bins   []string         `json:"bins"`
	}
	if err := decode(l.files, file, &in); err != nil {
		return err
	}
	if err := inventory.SaveShop(ctx, l.tx, in.Shop); err != nil {
		return err
	}
	for _, t := range in.Tax {
		if err := pricing.SetTax(ctx, l.tx, t.Tax, pricing.Everything, t.From.Time()); err != nil {
			return err
		}
	}
	for _, price := range in.Labour {
		if err := pricing.SetLabour(ctx, l.tx, price); err != nil {
			return err
		}
	}
	for _, bin := range in.Bins {
		if err := inventory.AddBin(ctx, l.tx, bin); err != nil {
			return err
		}
	}
	return nil
}

func (l loader) suppliers(ctx context.Context, file string) error {
	var in []inventory.Supplier
	if err := decode(l.files, file, &in); err != nil {
		return err
	}
	for _, s := range in {
		if _, err := inventory.AddSupplier(ctx, l.tx, s); err != nil {
			return err
		}
	}
	return nil
}

func (l loader) catalogue(ctx context.Context, file string) error {
	f, err := l.files.Open(file)
	if err != nil {
		return err
	}
	defer f.Close()
	dec := json.NewDecoder(f)
	for n := 1; ; n++ {
		var p inventory.Part
		err := dec.Decode(&p)
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err == nil {
			p, err = inventory.AddPart(ctx, l.tx, p)
		}
		if err != nil {
			return fmt.Errorf("line %d: %w", n, err)
		}
		l.parts[p.MakerCode] = p
	}
}

// rows calls do for each row of a CSV file with its fields by the names in the heading.
func (l loader) rows(file string, do func(field map[string]string) error) error {
	f, err := l.files.Open(file)
	if err != nil {
		return err
	}
	defer f.Close()
	r := csv.NewReader(f)
	heading, err := r.Read()
	if err != nil {
		return err
	}
	for n := 2; ; n++ {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		field := map[string]string{}
		for i, name := range heading {
			field[name] = row[i]
		}
		if err := do(field); err != nil {
			return fmt.Errorf("line %d: %w", n, err)
		}
	}
}

func (l loader) part(code string) (inventory.Part, error) {
	p, ok := l.parts[code]
	if !ok {
		return p, fmt.Errorf("there is no part %q", code)
	}
	return p, nil
}

func (l loader) lists(ctx context.Context, file string) error {
	suppliers := map[string]inventory.Supplier{}
	return l.rows(file, func(field map[string]string) error {
		code := field["supplier"]
		if _, ok := suppliers[code]; !ok {
			s, err := inventory.SupplierByCode(ctx, l.tx, code)
			if err != nil {
				return err
			}
			suppliers[code] = s
		}
		part, err := l.part(field["part"])
		if err != nil {
			return err
		}
		o := inventory.Offer{SupplierID: suppliers[code].ID, Code: field["code"], PartID: part.ID, Stock: inventory.Signal(field["stock"]), AsOf: l.now}
		if o.Pack, err = strconv.Atoi(field["pack"]); err != nil {
			return err
		}
		if o.MinimumPacks, err = strconv.Atoi(field["minimum_packs"]); err != nil {
			return err
		}
		for _, text := range strings.Split(field["prices"], "|") {
			from, price, _ := strings.Cut(text, ":")
			var b inventory.Break
			if b.FromPacks, err = strconv.Atoi(from); err != nil {
				return err
			}
			if b.Price, err = decimal.NewFromString(price); err != nil {
				return err
			}
			o.Breaks = append(o.Breaks, b)
		}
		if o, err = inventory.PutOffer(ctx, l.tx, o); err != nil {
			return err
		}
		l.offers[code+" "+o.Code] = o
		return nil
	})
}

// deliveries places and receives the past half year's orders, from which lead times are learnt.
func (l loader) deliveries(ctx context.Context, file string) error {
	shop, err := inventory.LoadShop(ctx, l.tx)
	if err != nil {
		return err
	}
	return l.rows(file, func(field map[string]string) error {
		s, err := inventory.SupplierByCode(ctx, l.tx, field["supplier"])
		if err != nil {
			return err
		}
		o, ok := l.offers[s.Code+" "+field["code"]]
		if !ok {
			return fmt.Errorf("supplier %s has no offer %q", s.Code, field["code"])
		}
		var ago, took, packs int
		for name, to := range map[string]*int{"ordered_days_ago": &ago, "took_working_days": &took, "packs": &packs} {
			if *to, err = strconv.Atoi(field[name]); err != nil {
				return err
			}
		}
		route, err := s.Route(shop)
		if err != nil {
			return err
		}
		placed := l.now.AddDate(0, 0, -ago)
		ordered := route.OrderDay(placed)
		quoted := s.QuotedDays(o.Stock)
		order, err := inventory.PlaceOrder(ctx, l.tx, inventory.Order{SupplierID: s.ID, PlacedAt: placed, Carriage: s.CarriageOn(o.Cost(packs)),
			Lines: []inventory.OrderLine{{OfferID: o.ID, PartID: o.PartID, Packs: packs, Pack: o.Pack, Price: o.PriceAt(packs),
				QuotedDays: quoted, Stock: o.Stock, ExpectedOn: route.Arrival(ordered, quoted)}}})
		if err != nil {
			return err
		}
		arrived := route.Arrival(ordered, took).Time().Add(11 * time.Hour)
		_, err = inventory.ReceiveOrder(ctx, l.tx, l.request, order.ID, fmt.Sprintf("note %d", order.ID), inventory.Into{Bin: "A1"}, arrived,
			[]inventory.Arrival{{LineID: order.Lines[0].ID, Outcome: inventory.Good, Pieces: packs * o.Pack}}, false)
		return err
	})
}
