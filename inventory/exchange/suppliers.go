package exchange

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
)

// Suppliers are those whom the shop buys from, with their terms. supplier is the short name that the shop has for each, and
// closed_on names days of the week, or none. closures is a list in JSON. What is empty is as [inventory.AddSupplier] says.
var Suppliers = Table{File: "suppliers.csv",
	Columns: []string{"supplier", "name", "email", "country", "zone", "currency", "lead_days", "to_order_days", "cut_off", "closed_on", "carriage", "carriage_paid_at", "minimum_order", "closures"},
	Must:    []string{"supplier", "name", "lead_days", "to_order_days"}}

// WriteSuppliers gives the suppliers by their short names.
func WriteSuppliers(ctx context.Context, db inventory.DB) ([][]string, error) {
	all, err := inventory.Suppliers(ctx, db)
	if err != nil {
		return nil, err
	}
	var lines [][]string
	for _, s := range all {
		paidAt, closures := "", ""
		if s.CarriagePaidAt.Valid {
			paidAt = s.CarriagePaidAt.Decimal.String()
		}
		if len(s.Closures) > 0 {
			text, err := json.Marshal(s.Closures)
			if err != nil {
				return nil, fmt.Errorf("write supplier %s: %w", s.Code, err)
			}
			closures = string(text)
		}
		lines = append(lines, []string{s.Code, s.Name, s.Email, s.Country, s.Zone, s.Currency, strconv.Itoa(s.LeadDays), strconv.Itoa(s.ToOrderDays), s.CutOff, writeWeek(s.ClosedOn),
			s.Carriage.String(), paidAt, s.MinimumOrder.String(), closures})
	}
	return lines, nil
}

// noDay says that no day of the week is closed; an empty field says that nobody knows.
const noDay = "none"

func writeWeek(days []time.Weekday) string {
	var words []string
	for _, d := range days {
		words = append(words, strings.ToLower(d.String()))
	}
	return cmp.Or(strings.Join(words, " "), noDay)
}

func readWeek(r *Row, field string) []time.Weekday {
	words := strings.FieldsFunc(strings.ToLower(r.Text(field)), func(c rune) bool { return c == ' ' || c == ',' })
	if len(words) == 0 {
		return nil
	}
	days := []time.Weekday{}
	if len(words) == 1 && words[0] == noDay {
		return days
	}
	for _, w := range words {
		d := time.Sunday
		for ; d <= time.Saturday && !strings.EqualFold(d.String(), w); d++ {
		}
		if d > time.Saturday {
			r.Refuse(field, "names days such as saturday sunday, or none, not %q", w)
		}
		days = append(days, d)
	}
	return days
}

func readSupplier(r *Row) inventory.Supplier {
	money := func(field string) decimal.NullDecimal {
		if r.Text(field) == "" {
			return decimal.NullDecimal{}
		}
		d := r.Amount(field)
		if !d.Equal(d.Truncate(2)) || d.Abs().GreaterThanOrEqual(decimal.New(1, 10)) {
			r.Refuse(field, "is an amount of money, not %q", r.Text(field))
		}
		return decimal.NewNullDecimal(d)
	}
	s := inventory.Supplier{Code: strings.ToLower(r.Needed("supplier")), Name: r.Needed("name"), Email: r.Text("email"), Country: r.Text("country"), Zone: r.Text("zone"), Currency: r.Text("currency"),
		LeadDays: int(r.Number("lead_days")), ToOrderDays: int(r.Number("to_order_days")), CutOff: r.Text("cut_off"), ClosedOn: readWeek(r, "closed_on"),
		Carriage: money("carriage").Decimal, CarriagePaidAt: money("carriage_paid_at"), MinimumOrder: money("minimum_order").Decimal}
	if s.CutOff != "" {
		if _, err := calendar.NewCutOff(s.CutOff, "UTC"); err != nil {
			r.Refuse("cut_off", "%s", err)
		}
	}
	if text := r.Text("closures"); text != "" {
		if err := json.Unmarshal([]byte(text), &s.Closures); err != nil {
			r.Refuse("closures", `is a list in JSON such as [{"first":"2026-12-24","last":"2027-01-02","reason":"stocktaking"}], not %q`, text)
		}
	}
	return s
}

// TakeSuppliers adds the suppliers that are not there yet, and gives how many those are. One of the same short name is there
// already, and stays as it is.
func TakeSuppliers(ctx context.Context, tx pgx.Tx, rows []*Row) (added int, err error) {
	seen := map[string]bool{}
	for _, r := range rows {
		s := readSupplier(r)
		if seen[s.Code] {
			r.Refuse("supplier", "%s is there twice", s.Code)
		}
		seen[s.Code] = true
		if err := r.Wrong(); err != nil {
			return 0, err
		}
		supplier, err := inventory.AddSupplier(ctx, tx, s)
		if taken := new(inventory.TakenError); errors.As(err, &taken) {
			continue
		}
		if err != nil {
			r.Refuse("", "%s", err)
			return 0, r.Wrong()
		}
		added++
		for _, c := range s.Closures {
			if err := inventory.Close(ctx, tx, &supplier.ID, c); err != nil {
				r.Refuse("closures", "%s", err)
				return 0, r.Wrong()
			}
		}
	}
	return added, nil
}
