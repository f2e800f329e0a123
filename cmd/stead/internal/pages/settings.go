package pages

import (
	"context"
	"net/http"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/shelf"
	"stead/pricing"
	"stead/pricing/books"
	"stead/pricing/money"
	"stead/substitution"
	"stead/substitution/inspection"
)

// settingsPage is how the shop works: its name and paper, hours, prices, tax, bins and what a difference weighs. Everybody
// sees it; an owner changes it.
type settingsPage struct {
	desk.Shop
	Families []desk.Kind
}

func showSettings(v *visit) (string, any, error) {
	s, err := desk.LoadShop(v.ctx, v.db(), v.now)
	return "How we work", settingsPage{s, desk.Kinds()}, err
}

// Tables are the files of the shop's books.
func (p settingsPage) Tables() []string { return books.Files }

// Closings are the fields of the days closed every week.
func (p settingsPage) Closings(f *Form) []Field { return closedFields(f, p.ClosedOn) }

// Carriages ask what a job pays of carriage.
func (p settingsPage) Carriages(f *Form) Field {
	return f.Choice("carriage", "What a job pays of the carriage of its parts", string(p.CarriageCharge), "full", "all of it", "shared", "its share", "none", "nothing", "fixed", "one amount")
}

// Money is an amount as it is typed, empty where there is none.
func (p settingsPage) Money(d decimal.NullDecimal) string {
	if !d.Valid {
		return ""
	}
	return d.Decimal.StringFixed(2)
}

// Percent is a share as it is typed: 40 of 0.4.
func (p settingsPage) Percent(d decimal.Decimal) string { return d.Shift(2).String() }

// InHundred is a share as it is typed, and Season the shop's own season, or that of riding.
func (p settingsPage) InHundred(share float64) string {
	return decimal.NewFromFloat(share).Shift(2).String()
}
func (p settingsPage) Season() string {
	if p.Shelf.Season == nil {
		return "riding"
	}
	return desk.SeasonWords(p.Shelf.Season)
}

// Sure is the chance of a promised day, in per cent.
func (p settingsPage) Sure() string {
	return decimal.NewFromFloat(p.Confidence).Shift(2).String()
}

// set makes a change of the settings, where an owner asks for it.
func (v *visit) set(said, words string, do func(ctx context.Context, tx pgx.Tx) error) (string, error) {
	if err := v.checkOwner(); err != nil {
		return "", err
	}
	if err := v.typed.wrong(); err != nil {
		return "", err
	}
	return v.done("/shop", said, v.do(words, func(ctx context.Context, tx pgx.Tx, _ string) error { return do(ctx, tx) }))
}

// checkOwner refuses who is no owner.
func (v *visit) checkOwner() error {
	if v.owns() {
		return nil
	}
	return &statusError{http.StatusForbidden, "the settings are the owner's: sign in with an owner's name and password"}
}

// plain is a number from nothing up, such as a rate; none where nothing was typed.
func (t *typed) plain(field string) decimal.NullDecimal {
	text := t.line(field)
	if text == "" {
		return decimal.NullDecimal{}
	}
	d, err := number(text)
	if err != nil || d.IsNegative() || d.Exponent() < -8 || d.GreaterThan(decimal.New(1, 6)) {
		t.mark(field, "this is a number such as 20 or 1.16")
		return decimal.NullDecimal{}
	}
	return decimal.NewNullDecimal(d)
}

// must is a number that must not be left out.
func (t *typed) must(field string) decimal.Decimal {
	d := t.plain(field)
	if !d.Valid {
		t.mark(field, "this is needed: a number such as 20")
	}
	return d.Decimal
}

func changeShop(v *visit, t *typed) (string, error) {
	var read inventory.Shop
	t.settings(&read)
	return v.set("the settings are saved", "changed the settings", func(ctx context.Context, tx pgx.Tx) error {
		_, err := inventory.ChangeShop(ctx, tx, t.settings)
		return err
	})
}

// settings reads the settings onto the shop.
func (t *typed) settings(s *inventory.Shop) {
	s.Name, s.Address, s.TaxNumber = t.needed("name", "say what the shop is called"), t.text("address"), t.line("tax-number")
	s.Country, s.Zone, s.Currency = t.needed("country", "say whose bank holidays are kept"), t.needed("zone", "say where the clock is, such as Europe/London"), t.needed("currency", "say which currency, such as GBP")
	s.ClosedOn = t.closedOn()
	s.Confidence = t.must("sure").Shift(-2).InexactFloat64()
	s.QuoteDays, s.WheelMinutes = t.whole("quote-days"), t.whole("wheel-minutes")
	s.MarkUp, s.Overbuy = t.must("mark-up").Shift(-2), t.must("overbuy")
	s.Hourly = t.amount("hourly")
	s.CarriageCharge, s.CarriageFixed = inventory.Carriage(t.oneOf("carriage", "full", "shared", "none", "fixed")), decimal.NullDecimal{}
	if s.CarriageCharge == inventory.CarriageFixed {
		if s.CarriageFixed = t.amount("carriage-fixed"); !s.CarriageFixed.Valid {
			t.mark("carriage-fixed", "say which amount")
		}
	}
}

func setShelf(v *visit, t *typed) (string, error) {
	var read shelf.Policy
	t.shelf(&read)
	return v.set("what the shelf is for is saved", "said what the shelf is for", func(ctx context.Context, tx pgx.Tx) error {
		_, err := shelf.ChangePolicy(ctx, tx, t.shelf)
		return err
	})
}

// shelf reads what the shop wants of its shelf.
func (t *typed) shelf(p *shelf.Policy) {
	inHundred := func(field string) float64 { return t.must(field).Shift(-2).InexactFloat64() }
	p.Target, p.Holding = inHundred("target"), inHundred("carrying")
	p.LineCost, p.Waiting, p.WaitingSafety = t.must("line-cost"), t.must("waiting"), t.must("waiting-safety")
	p.LookEvery, p.Months = t.whole("look"), t.whole("months")
	p.Excess = shelf.ExcessPolicy{Months: t.whole("excess-months"), Returned: inHundred("returned"), Reduced: inHundred("reduced")}
	season, err := desk.ParseSeason(t.line("season"))
	t.take("season", err)
	p.Season = season
}

func setFamilyLife(v *visit, t *typed) (string, error) {
	family, months := substitution.Family(t.line("kind")), t.whole("keeps")
	if _, err := substitution.TableOf(family); err != nil {
		t.take("kind", err)
	}
	said := desk.FamilyLifeWords(string(family), months)
	return v.set(said, "said how long parts keep: "+said, func(ctx context.Context, tx pgx.Tx) error {
		return shelf.SetFamilyLife(ctx, tx, family, months)
	})
}

func setTax(v *visit, t *typed) (string, error) {
	tax := pricing.Tax{Name: t.needed("name", "say what it is called, such as VAT"), Percent: t.must("percent")}
	on := pricing.Taxed(t.line("on"))
	day := t.day("from")
	if day == nil {
		today := v.today()
		day = &today
	}
	return v.set(tax.Name+" is recorded from "+day.Words(v.today()), "recorded the rate of "+tax.Name, func(ctx context.Context, tx pgx.Tx) error {
		return pricing.SetTax(ctx, tx, tax, on, day.Time())
	})
}

func setLabour(v *visit, t *typed) (string, error) {
	l := pricing.Labour{Family: substitution.Family(t.line("family")), Words: t.needed("words", "say how it stands on the quote"), Minutes: t.count("minutes")}
	if _, err := substitution.TableOf(l.Family); err != nil {
		t.take("family", err)
	}
	action, err := inspection.ParseAction(t.line("action"))
	if err != nil {
		t.mark("action", "choose one of these")
	}
	l.Action = action
	price := t.amount("price")
	if !price.Valid {
		t.mark("price", "say what it costs, before tax")
	}
	l.Price = price.Decimal
	return v.set(l.Words+": saved", "priced work: "+l.Words, func(ctx context.Context, tx pgx.Tx) error { return pricing.SetLabour(ctx, tx, l) })
}

func addBin(v *visit, t *typed) (string, error) {
	name := t.needed("bin", "say what stands on its label")
	return v.set("bin "+name, "labelled bin "+name, func(ctx context.Context, tx pgx.Tx) error { return inventory.AddBin(ctx, tx, name) })
}

func setRate(v *visit, t *typed) (string, error) {
	currency, rate, day := strings.ToUpper(t.needed("currency", "say which currency, such as EUR")), t.must("rate"), t.day("from")
	if day == nil {
		today := v.today()
		day = &today
	}
	return v.set(money.Unit(v.shop.Currency)+" buys "+rate.String()+" "+currency+" from "+day.Words(v.today()), "recorded the rate of "+currency, func(ctx context.Context, tx pgx.Tx) error {
		return inventory.SetRate(ctx, tx, currency, rate, *day)
	})
}

func setWeight(v *visit, t *typed) (string, error) {
	of := t.needed("of", "function, finish, or the name of a rule")
	weight, err := strconv.ParseInt(t.line("weight"), 10, 64)
	if err != nil {
		t.mark("weight", "this is a whole number")
	}
	return v.set(of+" is weighed anew", "said how much "+of+" counts", func(ctx context.Context, tx pgx.Tx) error { return pricing.SetWeight(ctx, tx, of, weight) })
}

// closeShop and reopenShop are the owner's, as the settings are.
func closeShop(v *visit, t *typed) (string, error) {
	if err := v.checkOwner(); err != nil {
		return "", err
	}
	return closeDays(v, t)
}

func reopenShop(v *visit, t *typed) (string, error) {
	if err := v.checkOwner(); err != nil {
		return "", err
	}
	return reopenDays(v, t)
}
