package pages

import (
	"context"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/calendar"
)

// suppliersPage lists the suppliers with their terms.
type suppliersPage struct{ Suppliers []inventory.Supplier }

func showSuppliers(v *visit) (string, any, error) {
	all, err := inventory.Suppliers(v.ctx, v.db())
	return "Suppliers", suppliersPage{all}, err
}

// supplierPage is what a supplier quotes beside what it does, its terms, its closures and its lists.
type supplierPage struct {
	desk.Supplier
	desk.Clock
	Late []lateBar
}

// lateBar is how many parcels came so many working days after the day quoted.
type lateBar struct{ Days, Parcels, Percent int }

func showSupplier(v *visit) (string, any, error) {
	s, err := desk.LoadSupplier(v.ctx, v.db(), v.r.PathValue("supplier"), v.now)
	return s.Supplier.Name, supplierPage{s, desk.At(v.now), lateBars(s.DaysLate)}, err
}

// lateBars are the bars of the picture, one for each day from the soonest to the latest.
func lateBars(late []int) (out []lateBar) {
	if len(late) == 0 {
		return nil
	}
	count, most := map[int]int{}, 0
	for _, d := range late {
		count[d]++
		most = max(most, count[d])
	}
	for d := slices.Min(late); d <= slices.Max(late); d++ {
		out = append(out, lateBar{d, count[d], 100 * count[d] / most})
	}
	return out
}

// Terms are the fields of a supplier's terms, as they stand.
func (p supplierPage) Terms(f *Form) []Field { return termFields(f, p.Supplier.Supplier) }

// Terms are the fields of a new supplier's terms.
func (p suppliersPage) Terms(f *Form) []Field {
	return termFields(f, inventory.Supplier{LeadDays: 3, ToOrderDays: 20, CutOff: "16:00", ClosedOn: []time.Weekday{time.Saturday, time.Sunday}})
}

func termFields(f *Form, s inventory.Supplier) []Field {
	paid := ""
	if s.CarriagePaidAt.Valid {
		paid = s.CarriagePaidAt.Decimal.StringFixed(2)
	}
	out := []Field{
		f.Number("lead-days", "Working days quoted for what it has", s.LeadDays),
		f.Number("to-order-days", "Working days quoted for what it must order", s.ToOrderDays),
		f.Line("cut-off", "Orders by this hour count for the day", s.CutOff).With("Such as 15:30, on its clock."),
		f.Line("country", "Whose bank holidays it keeps", s.Country).With("Such as GB or DE. Nothing: the shop’s own."),
		f.Amount("carriage", "Carriage of an order", s.Carriage.StringFixed(2)),
		f.Amount("carriage-paid-at", "Goods worth this much travel free", paid).With("Nothing: they never do."),
		f.Line("email", "Where it takes orders by e-mail", s.Email).Fills("email"),
		f.Amount("minimum", "Least worth of an order", s.MinimumOrder.StringFixed(2)),
	}
	return append(out, closedFields(f, s.ClosedOn)...)
}

// closedFields ask which days are closed every week.
func closedFields(f *Form, closed []time.Weekday) (out []Field) {
	for _, d := range desk.Week {
		out = append(out, f.Tick("closed-"+strings.ToLower(d.String()), "Closed every "+d.String(), slices.Contains(closed, d)))
	}
	return out
}

// closedOn reads which days are closed every week.
func (t *typed) closedOn() []time.Weekday {
	out := []time.Weekday{}
	for _, d := range desk.Week {
		if t.ticked("closed-" + strings.ToLower(d.String())) {
			out = append(out, d)
		}
	}
	return out
}

// whole is a whole number from 0 on.
func (t *typed) whole(field string) int {
	text := t.line(field)
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 || n > 1_000_000 {
		t.mark(field, fmt.Sprintf("this is a whole number, not %q", text))
		return 0
	}
	return n
}

// terms reads a supplier's terms onto it.
func (t *typed) terms(s *inventory.Supplier) {
	s.LeadDays, s.ToOrderDays, s.CutOff, s.ClosedOn = t.whole("lead-days"), t.whole("to-order-days"), t.line("cut-off"), t.closedOn()
	s.Email = t.line("email")
	if country := t.line("country"); country != "" {
		s.Country = country
	}
	s.Carriage, s.CarriagePaidAt, s.MinimumOrder = t.amount("carriage").Decimal, t.amount("carriage-paid-at"), t.amount("minimum").Decimal
	if _, err := calendar.NewCutOff(s.CutOff, "UTC"); err != nil {
		t.take("cut-off", err)
	}
}

func addSupplier(v *visit, t *typed) (string, error) {
	s := inventory.Supplier{Code: t.needed("code", "give it a short name"), Name: t.needed("name", "say what it is called"), Currency: t.line("currency")}
	t.terms(&s)
	if err := t.wrong(); err != nil {
		return "", err
	}
	added, err := change(v, "added the supplier "+s.Name, func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Supplier, error) {
		return inventory.AddSupplier(ctx, tx, s)
	})
	return v.done("/suppliers/"+url.PathEscape(added.Code), added.Name+" is added", err)
}

func changeSupplier(v *visit, t *typed) (string, error) {
	code := v.r.PathValue("supplier")
	name := t.needed("name", "say what it is called")
	var read inventory.Supplier
	t.terms(&read)
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done(v.r.URL.Path, "the terms are saved", v.do("changed the terms of "+code, func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := inventory.ChangeSupplier(ctx, tx, code, func(s *inventory.Supplier) { s.Name = name; t.terms(s) })
		return err
	}))
}

// closeDays records a closure of the supplier of the path, or of the workshop.
func closeDays(v *visit, t *typed) (string, error) {
	first, last, why := t.day("first"), t.day("last"), t.needed("why", "say why: stocktaking, holidays")
	if first == nil {
		t.mark("first", "give the first day")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	if last == nil {
		last = first
	}
	c := calendar.Closure{First: *first, Last: *last, Reason: why}
	return v.done(v.r.URL.Path, "closed "+c.Words(v.today()), v.do("recorded days closed: "+why, func(ctx context.Context, tx pgx.Tx, _ string) error {
		supplier, err := v.closing(ctx, tx)
		if err != nil {
			return err
		}
		return inventory.Close(ctx, tx, supplier, c)
	}))
}

// reopenDays takes back or shortens a closure.
func reopenDays(v *visit, t *typed) (string, error) {
	day := t.day("day")
	if day == nil {
		t.mark("day", "give the day from which it is open again")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done(v.r.URL.Path, "open again from "+day.Words(v.today()), v.do("took back days closed", func(ctx context.Context, tx pgx.Tx, _ string) error {
		supplier, err := v.closing(ctx, tx)
		if err != nil {
			return err
		}
		return inventory.Reopen(ctx, tx, supplier, *day)
	}))
}

// closing is whose days are closed: the supplier's of the path, none for the workshop's own.
func (v *visit) closing(ctx context.Context, tx pgx.Tx) (*int64, error) {
	code := v.r.PathValue("supplier")
	if code == "" {
		return nil, nil
	}
	s, err := inventory.SupplierByCode(ctx, tx, code)
	return &s.ID, err
}
