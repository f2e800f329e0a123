package shelf

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"stead/inventory/calendar"
	"stead/inventory/reorder"
)

// WeekList is what to order for the shelf now, a block a supplier, what is risked most by waiting first.
type WeekList struct {
	Target float64         `json:"target"`
	Blocks []WeekBlock     `json:"suppliers"`
	Money  decimal.Decimal `json:"money_now"` // what all of it costs, before tax, without carriage
	// The stock on average and the sales met, as the levels are set and if what is advised is kept.
	AsSet   Total    `json:"as_set"`
	Advised Total    `json:"advised"`
	Ground  string   `json:"ground,omitempty"` // on what little all this rests, if it does
	Floors  *Floors  `json:"floors,omitempty"` // what is kept lower for what is always kept
	Doubts  []string `json:"doubts,omitempty"` // what is strange about the books, and what is left out for it
	// What would be listed, had it not been spoken of: taken and on its way into an order, put off, or never wanted.
	Aside []WeekAside `json:"aside,omitempty"`

	LastQuarter *Quarter `json:"last_quarter,omitempty"` // what became of what was said then
}

// WeekAside is a part that is left out of the list for what was said of it.
type WeekAside struct {
	PartID  int64  `json:"part_id"`
	Name    string `json:"name"`
	Pending int    `json:"taken,omitempty"` // pieces that were taken and that the next order plan orders
	Words   string `json:"said"`
}

// WeekBlock is one supplier's.
type WeekBlock struct {
	Supplier string          `json:"supplier"`
	Name     string          `json:"name"`
	Lines    []WeekLine      `json:"lines"`
	Parts    int             `json:"parts"` // that are to be ordered of it, of which only some may stand in Lines; the sums are of all
	Goods    decimal.Decimal `json:"goods"`
	Carriage decimal.Decimal `json:"carriage"` // what it asks for a parcel of these goods alone
	// FreeFrom is how much more makes it come carriage paid; absent where it never does, or does already.
	FreeFrom *decimal.Decimal `json:"to_carriage_paid,omitempty"`
	Currency string           `json:"currency"`
}

// WeekLine is one part's.
type WeekLine struct {
	PartID    int64         `json:"part_id"`
	Name      string        `json:"name"`
	OnShelf   int           `json:"on_shelf"`
	SpokenFor int           `json:"spoken_for"`
	Coming    int           `json:"coming"`
	ComingOn  *calendar.Day `json:"coming_on,omitempty"` // by when the first of it should be here, at the shop's confidence
	Use       float64       `json:"expected_use"`        // until the order after this one can be here
	UseLeast  int           `json:"use_least"`           // nine times in ten it is between these
	UseMost   int           `json:"use_most"`
	UseWithin float64       `json:"use_within"` // the chance of that: more than nine in ten where pieces are few
	// Order is in whole packs, and no less than the supplier takes.
	Order  int             `json:"to_order"`
	Cost   decimal.Decimal `json:"cost"`
	Why    string          `json:"why"`
	Ground string          `json:"ground,omitempty"`
	// What waiting a week risks: the chance that somebody then waits who would not have, if it is ordered now.
	Risk      float64 `json:"week_risk"`
	RiskWords string  `json:"week_risk_words"`
	// Saves is how many customers, until the order after this one can be here, then need not wait.
	Saves float64 `json:"saves"`
	Said  string  `json:"said,omitempty"` // the last that was said of the part, for as long as it is worth hearing

	regret float64 // pounds that waiting a week costs in jobs that then wait, where the shop has said what that costs
}

// dearer compares two lines by what is risked by waiting, the dearest first: by what it costs in jobs, and where the
// shop has not said what a wait costs by its chance.
func dearer(x, y WeekLine) int {
	return cmp.Or(cmp.Compare(y.regret, x.regret), cmp.Compare(y.Risk, x.Risk))
}

// WeekList draws the list up from the shelf as it was weighed.
func (s *Advice) WeekList() (WeekList, error) {
	list := WeekList{Target: s.Target, Blocks: []WeekBlock{}, AsSet: s.AsSet, Advised: s.Advised, Floors: s.Floors, Doubts: s.Doubts}
	blocks := map[string]*WeekBlock{}
	for i := range s.Parts {
		k := &s.Parts[i]
		short := k.AdvisedLevel != nil && toReorder(k.Stock, *k.AdvisedLevel, *k.AdvisedTo) > 0
		if aside, told := s.aside(k, short); told {
			list.Aside = append(list.Aside, aside)
			continue
		}
		if !k.sourced || !short {
			continue
		}
		line, supplier := s.weekLine(k)
		b := blocks[k.Supplier]
		if b == nil {
			terms, err := s.deliveries.HomeTerms(supplier)
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
		b.Parts = len(b.Lines)
		slices.SortStableFunc(b.Lines, dearer)
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
		return cmp.Or(dearer(x.Lines[0], y.Lines[0]), cmp.Compare(x.Supplier, y.Supplier))
	})
	if s.Weeks < 13 {
		season := reorder.SeasonBefore
		if s.policy.Season != nil {
			season = reorder.SeasonGiven
		}
		list.Ground = reorder.Insight{BooksFrom: s.Weeks, Season: season}.Ground()
	}
	return list, nil
}

// Count is how many parts are listed.
func (l WeekList) Count() (parts int) {
	for _, b := range l.Blocks {
		parts += b.Parts
	}
	return parts
}

// All are the lines of all suppliers.
func (l WeekList) All() []WeekLine {
	var all []WeekLine
	for _, b := range l.Blocks {
		all = append(all, b.Lines...)
	}
	return all
}

// Dearest are so many lines after the first ones, what is risked most by waiting first whoever sells it, in the blocks of
// their suppliers.
func (l WeekList) Dearest(after, most int) []WeekBlock {
	type ranked struct {
		block int
		WeekLine
	}
	var all []ranked
	for i, b := range l.Blocks {
		for _, line := range b.Lines {
			all = append(all, ranked{i, line})
		}
	}
	slices.SortStableFunc(all, func(x, y ranked) int { return dearer(x.WeekLine, y.WeekLine) })
	all = all[min(after, len(all)):]
	blocks, at := []WeekBlock{}, map[int]int{}
	for _, r := range all[:min(most, len(all))] {
		n, there := at[r.block]
		if !there {
			n = len(blocks)
			at[r.block] = n
			b := l.Blocks[r.block]
			b.Lines = nil
			blocks = append(blocks, b)
		}
		blocks[n].Lines = append(blocks[n].Lines, r.WeekLine)
	}
	return blocks
}

// Mark tells the list from one that lists other parts, or other numbers of them.
func (l WeekList) Mark() string {
	lines := l.All()
	slices.SortFunc(lines, func(x, y WeekLine) int { return cmp.Compare(x.PartID, y.PartID) })
	h := sha256.New()
	for _, line := range lines {
		fmt.Fprintln(h, line.PartID, line.Order)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// Line is the list's line of a part.
func (l WeekList) Line(partID int64) (WeekLine, bool) {
	for _, b := range l.Blocks {
		for _, line := range b.Lines {
			if line.PartID == partID {
				return line, true
			}
		}
	}
	return WeekLine{}, false
}

// aside tells of a part that is not listed for what was said of it. What is never wanted and what was
// taken is always told, what is put off only where it would be listed.
func (s *Advice) aside(k *Keeping, short bool) (WeekAside, bool) {
	said := s.said[k.PartID]
	a := WeekAside{PartID: k.PartID, Name: k.Name}
	switch {
	case said.Never():
		a.Words = said.Ever.Words(s.zone, s.today())
		return a, true
	case said.Pending() > 0:
		a.Pending = said.Pending()
	case !short || !said.Snoozed(s.today()) && !said.settled(s.now):
		return a, false
	}
	a.Words = said.Once.Words(s.zone, s.today())
	return a, true
}

// weekLine is one part's line.
func (s *Advice) weekLine(k *Keeping) (WeekLine, int64) {
	item := s.weighed.Item(k.item)
	there := k.Stock.Free() + k.Stock.OnOrder - k.Stock.ForJobs
	order := item.ToOrder(there, *k.AdvisedTo)
	use, week, soon := s.weighed.Ahead(k.item, s.LookEvery), s.weighed.Ahead(k.item, 5), s.weighed.Ahead(k.item, 0)
	wait := max(0, week.Missing(there)-soon.Missing(there)) // sales on average that then wait
	risk := 1 - math.Exp(-wait)
	line := WeekLine{PartID: k.PartID, Name: k.Name, OnShelf: k.Stock.OnHand, SpokenFor: k.Stock.Reserved, Coming: k.Stock.OnOrder,
		Use: math.Round(10*use.Mean) / 10, UseLeast: use.Least, UseMost: use.Most, UseWithin: math.Round(1000*use.Within) / 1000, Order: order,
		Cost: decimal.NewFromFloat(item.PriceAt(order)).Mul(decimal.NewFromInt(int64(order))).Round(2), Why: k.Words, Ground: k.Ground, Risk: risk, RiskWords: riskWords(risk),
		Saves: math.Round(100*max(0, use.Missing(there)-use.Missing(there+order))) / 100, regret: wait * item.Waiting}
	if days := s.coming[k.PartID]; len(days) > 0 {
		line.ComingOn = &days[0]
	}
	said := s.said[k.PartID]
	var words []string
	for _, w := range []*Word{said.Once, said.Ever} {
		if w != nil && !(w.Answer == AtLeast || w.Answer == UseUp || w.Answer == AsAdvised) { // those for good stand in the advice
			words = append(words, w.Words(s.zone, s.today()))
		}
	}
	line.Said = strings.Join(words, "; ")
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
