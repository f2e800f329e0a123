package desk

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"stead/inventory"
	"stead/inventory/leadtime"
	"stead/inventory/shelf"
	"stead/pricing"
	"stead/substitution/solver"
)

// Shop is all that a shop has set once and for all.
type Shop struct {
	inventory.Shop
	Tax    *pricing.Taxes   `json:"tax,omitempty"` // in force today; absent: none recorded yet
	Bins   []string         `json:"bins"`
	Labour []pricing.Labour `json:"labour"`

	Weights solver.Weights `json:"weights"` // how much differences count
	Shelf   shelf.Policy   `json:"shelf"`
	Limits  shelf.Limits   `json:"-"` // how long families of parts keep

	Closed []string `json:"-"` // every week, every year, and on the days that are still to come
}

// LoadShop gathers the settings as they stand at a moment.
func LoadShop(ctx context.Context, db inventory.DB, now time.Time) (s Shop, err error) {
	if s.Shop, err = inventory.LoadShop(ctx, db); err != nil {
		return s, err
	}
	tax, err := pricing.TaxesOn(ctx, db, now)
	switch {
	case err == nil:
		s.Tax = &tax
	case !errors.Is(err, pricing.ErrNoTax):
		return s, err
	}
	if s.Bins, err = inventory.Bins(ctx, db); err != nil {
		return s, err
	}
	if s.Labour, err = pricing.LabourPrices(ctx, db); err != nil {
		return s, err
	}
	s.Closed = append([]string{closedWords(s.ClosedOn, s.Country)}, closureWords(s.Closures, At(now))...)
	if s.Weights, err = pricing.Weights(ctx, db); err != nil {
		return s, err
	}
	if s.Shelf, err = shelf.LoadPolicy(ctx, db); err != nil {
		return s, err
	}
	s.Limits, err = shelf.LoadLimits(ctx, db)
	return s, err
}

// TaxWords are the rates of tax in force today, the one for all first.
func (s Shop) TaxWords() []string {
	if s.Tax == nil {
		return nil
	}
	words := []string{fmt.Sprintf("%s %s %%", s.Tax.Name, s.Tax.Percent)}
	for _, thing := range s.Tax.Own() {
		t := s.Tax.On[thing]
		words = append(words, fmt.Sprintf("on %s: %s %s %%", thing, t.Name, t.Percent))
	}
	return words
}

// Rules say how dates are promised and prices are made.
func (s Shop) Rules() []string {
	rules := []string{
		fmt.Sprintf("dates are promised at %s, quotes stand %d days, mark-up %s %% where no retail price is known", leadtime.InWords(s.Confidence), s.QuoteDays, s.MarkUp.Shift(2)),
		fmt.Sprintf("up to %s times what is needed is bought where a price break makes more cheaper or a minimum order asks for it", s.Overbuy),
		s.carriageWords(), s.weightWords(),
	}
	if s.Hourly.Valid {
		rules = append(rules, fmt.Sprintf("work without a price of its own costs %s an hour, before tax", pricing.Amount(s.Currency, s.Hourly.Decimal)))
	}
	if s.WheelMinutes > 0 {
		rules = append(rules, fmt.Sprintf("a wheel comes off once for all work on it: %d minutes", s.WheelMinutes))
	}
	return rules
}

// ShelfWords say what the shop wants of its shelf, and what that costs it.
func (s Shop) ShelfWords() []string {
	p := s.Shelf
	look := "the shelf is looked at as often as orders go out"
	if p.LookEvery > 0 {
		look = "the shelf is looked at " + EveryDays(p.LookEvery)
	}
	words := []string{
		fmt.Sprintf("the shelf is to meet %s sales in 100 whole; %s", hundredths(p.Target), look),
		fmt.Sprintf("one more line of an order costs %s, a year on the shelf %s in 100 of the price; no more is ordered at a time than sells in %s",
			pricing.Amount(s.Currency, p.LineCost), hundredths(p.Holding), Several(p.Months, "month")),
		s.waitingWords(),
		fmt.Sprintf("what will not sell in %s is too many; suppliers give back %s in 100 of its price, and sold off it brings %s in 100", Several(p.Excess.Months, "month"),
			hundredths(p.Excess.Returned), hundredths(p.Excess.Reduced)),
	}
	for _, family := range slices.Sorted(maps.Keys(s.Limits.Families)) {
		words = append(words, FamilyLifeWords(string(family), s.Limits.Families[family]))
	}
	if p.Season != nil {
		words = append(words, "the season, as you gave it, January first: "+SeasonWords(p.Season))
	}
	return words
}

// waitingWords say what a wait costs.
func (s Shop) waitingWords() string {
	p := s.Shelf
	if p.Waiting.IsZero() && p.WaitingSafety.IsZero() {
		return "nothing is said of what it costs when a job waits for a part"
	}
	return fmt.Sprintf("a working day for which a job waits for a part costs %s, for one of the brakes, the steering or the wheels %s: more is kept where that is dearer than the shelf",
		pricing.Amount(s.Currency, p.Waiting), pricing.Amount(s.Currency, p.WaitingSafety))
}

// hundredths is a share in hundredths, as it is typed.
func hundredths(share float64) string {
	return strconv.FormatFloat(math.Round(1e4*share)/100, 'f', -1, 64)
}

// SeasonWords are a season's numbers as they are typed.
func SeasonWords(season []float64) string {
	var out []string
	for _, n := range season {
		out = append(out, strconv.FormatFloat(n, 'f', -1, 64))
	}
	return strings.Join(out, ",")
}

// ParseSeason reads twelve numbers, January first; "riding" is none of the shop's own.
func ParseSeason(text string) ([]float64, error) {
	if strings.EqualFold(strings.TrimSpace(text), "riding") {
		return nil, nil
	}
	var out []float64
	for _, field := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' || r == ';' }) {
		n, err := strconv.ParseFloat(field, 64)
		if err != nil {
			return nil, fmt.Errorf("a season is twelve numbers with commas between, January first, or riding; %q is no number", field)
		}
		out = append(out, n)
	}
	if len(out) != 12 {
		return nil, fmt.Errorf("a season is twelve numbers with commas between, January first, or riding; these are %d", len(out))
	}
	return out, nil
}

// carriageWords say what a job pays of carriage.
func (s Shop) carriageWords() string {
	switch s.CarriageCharge {
	case inventory.CarriageShared:
		return "a job pays its share of the carriage of its parts"
	case inventory.CarriageNone:
		return "a job pays no carriage"
	case inventory.CarriageFixed:
		return fmt.Sprintf("a job pays %s for the carriage of its parts, before tax", pricing.Amount(s.Currency, s.CarriageFixed.Decimal))
	}
	return "a job pays the carriage of its parts in full"
}

// weightWords say how much a difference counts.
func (s Shop) weightWords() string {
	words := fmt.Sprintf("a difference in function counts %d, in finish %d", s.Weights.Function, s.Weights.Finish)
	for _, rule := range slices.Sorted(maps.Keys(s.Weights.Rules)) {
		words += fmt.Sprintf(", %s %d", rule, s.Weights.Rules[rule])
	}
	return words
}
