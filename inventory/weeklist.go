package inventory

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/shopspring/decimal"

	"stead/inventory/reorder"
)

// WeekList is what to order for the shelf now, a block a supplier, what is risked most by waiting first.
type WeekList struct {
	Target float64         `json:"target"`
	Blocks []WeekBlock     `json:"suppliers"`
	Money  decimal.Decimal `json:"money_now"` // what all of it costs, before tax, without carriage
	// The stock on average and the sales met, as the levels are set and if what is advised is kept.
	AsSet   ShelfTotal `json:"as_set"`
	Advised ShelfTotal `json:"advised"`
	Ground  string     `json:"ground,omitempty"` // on what little all this rests, if it does
}

// WeekBlock is one supplier's.
type WeekBlock struct {
	Supplier string          `json:"supplier"`
	Name     string          `json:"name"`
	Lines    []WeekLine      `json:"lines"`
	Goods    decimal.Decimal `json:"goods"`
	Carriage decimal.Decimal `json:"carriage"` // what it asks for a parcel of these goods alone
	// FreeFrom is how much more makes it come carriage paid; absent where it never does, or does already.
	FreeFrom *decimal.Decimal `json:"to_carriage_paid,omitempty"`
	Currency string           `json:"currency"`
}

// WeekLine is one part's.
type WeekLine struct {
	PartID    int64           `json:"part"`
	Name      string          `json:"name"`
	OnShelf   int             `json:"on_shelf"`
	SpokenFor int             `json:"spoken_for"`
	Coming    int             `json:"coming"`
	Use       float64         `json:"expected_use"` // until the order after this one can be here
	UseLeast  int             `json:"use_least"`    // nine times in ten it is between these
	UseMost   int             `json:"use_most"`
	Order     int             `json:"order"`
	Cost      decimal.Decimal `json:"cost"`
	Why       string          `json:"why"`
	Ground    string          `json:"ground,omitempty"`
	// What waiting a week risks: the chance that somebody then waits who would not have, if it is ordered now.
	Risk      float64 `json:"week_risk"`
	RiskWords string  `json:"week_risk_words"`
}

// WeekList draws the list up from the shelf as it was weighed.
func (s *ShelfAdvice) WeekList(d *Deliveries) (WeekList, error) {
	list := WeekList{Target: s.Target, Blocks: []WeekBlock{}, AsSet: s.AsSet, Advised: s.Advised}
	blocks := map[string]*WeekBlock{}
	for i := range s.Parts {
		k := &s.Parts[i]
		if k.item < 0 || k.AdvisedLevel == nil {
			continue
		}
		order := k.Stock.ToReorder(*k.AdvisedLevel, *k.AdvisedTo)
		if order <= 0 {
			continue
		}
		line, supplier := s.weekLine(k, order)
		b := blocks[k.Supplier]
		if b == nil {
			terms, err := d.HomeTerms(supplier)
			if err != nil {
				return list, fmt.Errorf("the terms of %s: %w", k.Supplier, err)
			}
			b = &WeekBlock{Supplier: terms.Code, Name: terms.Name, Carriage: terms.Carriage, Currency: terms.Currency}
			if terms.CarriagePaidAt.Valid {
				b.FreeFrom = &terms.CarriagePaidAt.Decimal
			}
			blocks[k.Supplier] = b
		}
		b.Lines = append(b.Lines, line)
		b.Goods = b.Goods.Add(line.Cost)
		list.Money = list.Money.Add(line.Cost)
	}
	for _, b := range blocks {
		slices.SortStableFunc(b.Lines, func(x, y WeekLine) int { return cmp.Compare(y.Risk, x.Risk) })
		if b.FreeFrom != nil {
			if short := b.FreeFrom.Sub(b.Goods); short.IsPositive() {
				b.FreeFrom = &short
			} else {
				b.FreeFrom, b.Carriage = nil, decimal.Zero
			}
		}
		list.Blocks = append(list.Blocks, *b)
	}
	slices.SortFunc(list.Blocks, func(x, y WeekBlock) int {
		return cmp.Or(cmp.Compare(y.Lines[0].Risk, x.Lines[0].Risk), cmp.Compare(x.Supplier, y.Supplier))
	})
	if s.Weeks < 13 {
		list.Ground = reorder.Insight{BooksFrom: s.Weeks}.Ground()
	}
	return list, nil
}

// weekLine is one part's line, in whole packs.
func (s *ShelfAdvice) weekLine(k *Keeping, order int) (WeekLine, int64) {
	item := s.weighed.Item(k.item)
	pack := max(1, item.Pack)
	order = max((order+pack-1)/pack*pack, item.Minimum)
	there := k.Stock.Free() + k.Stock.OnOrder - k.Stock.ForJobs
	use, week, soon := s.weighed.Ahead(k.item, s.LookEvery), s.weighed.Ahead(k.item, 5), s.weighed.Ahead(k.item, 0)
	risk := 1 - math.Exp(-max(0, week.Missing(there)-soon.Missing(there)))
	line := WeekLine{PartID: k.PartID, Name: k.Name, OnShelf: k.Stock.OnHand, SpokenFor: k.Stock.Reserved, Coming: k.Stock.OnOrder,
		Use: math.Round(10*use.Mean) / 10, UseLeast: use.Least, UseMost: use.Most, Order: order,
		Cost: k.Price.Mul(decimal.NewFromInt(int64(order))).Round(2), Why: k.Words, Ground: k.Ground, Risk: risk, RiskWords: riskWords(risk)}
	return line, int64(item.Supplier)
}

// riskWords say a chance that somebody waits: "1 chance in 6 that a job waits".
func riskWords(risk float64) string {
	switch {
	case risk < 0.01:
		return "hardly a chance that a job waits for it"
	case risk > 0.7:
		return "a job will most likely wait"
	}
	return fmt.Sprintf("1 chance in %d that a job waits", max(2, int(math.Round(1/risk))))
}
