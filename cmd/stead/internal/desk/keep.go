package desk

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/reorder"
	"stead/inventory/shelf"
	"stead/pricing"
)

// Keep is what is kept of one part on the shelf, and what is advised.
type Keep struct {
	shelf.Keeping
	Currency string `json:"-"`
}

// LoadKeep advises what to keep of one part.
func LoadKeep(ctx context.Context, db inventory.DB, p inventory.Part, policy shelf.Policy, now time.Time) (v Keep, err error) {
	if v.Keeping, err = shelf.KeepingOf(ctx, db, p, policy, now); err != nil {
		return v, err
	}
	v.Currency, err = currency(ctx, db)
	return v, err
}

// SetWords tell when the part is ordered again as it is set.
func (v Keep) SetWords() string {
	if v.ReorderLevel == nil || v.ReorderTo == nil {
		return "not ordered again by itself"
	}
	return fmt.Sprintf("ordered again when %d are left, up to %d", *v.ReorderLevel, *v.ReorderTo)
}

// LimitWords say how many of a part its place holds and how long it keeps.
func LimitWords(l shelf.Limit) string {
	if l == (shelf.Limit{}) {
		return "its place holds any number, and it keeps for ever"
	}
	return l.Words()
}

// FamilyLifeWords say how long parts of a family keep.
func FamilyLifeWords(family string, months int) string {
	if months == 0 {
		return family + ": keeps for ever"
	}
	return fmt.Sprintf("%s: keeps %s", family, Several(months, "month"))
}

// Curve are the levels that are worth their money, a dozen at most: with the first, the last, and those about the
// advised one.
func (v Keep) Curve() []shelf.Level {
	const most = 12
	// Of two where one meets as much with less on the shelf the other is there for the parcels that it saves: it says
	// little here.
	levels := slices.DeleteFunc(slices.Clone(v.Levels), func(l shelf.Level) bool {
		return !v.Advised(l) && slices.ContainsFunc(v.Levels, func(other shelf.Level) bool { return other.Meets >= l.Meets && other.Stock.LessThan(l.Stock) })
	})
	at := slices.IndexFunc(levels, v.Advised)
	step := (len(levels) + most - 1) / most
	var out []shelf.Level
	for i, l := range levels {
		if step <= 1 || i%step == 0 || i == len(levels)-1 || at >= 0 && i >= at-1 && i <= at+1 {
			out = append(out, l)
		}
	}
	return out
}

// FigureWords say on what the advice of a part rests.
func (v Keep) FigureWords() (out []string) {
	if v.Sales > 0 && v.OwnShare > 0 {
		out = append(out, fmt.Sprintf("Of this %.0f in 100 rests on its own past, the rest on how the shop's %s sell.", 100*v.OwnShare, Several(v.Figures.Parts, "part")))
	}
	if v.Figures != nil && v.Figures.LeadMost > 0 {
		out = append(out, fmt.Sprintf("From %s at %s each: %s on average, nine times in ten within %d.", v.From, pricing.Amount(v.Currency, v.Price), Several(int(math.Round(v.LeadDays)), "working day"), v.Figures.LeadMost))
	}
	return out
}

// MonthSold is what was sold in the weeks whose Monday is in a month.
type MonthSold struct {
	Month  string // "Nov 2025"
	Weeks  []shelf.WeekSold
	Sales  int
	Pieces int
}

// Sold is what was sold, by month and week, the oldest first.
func (v Keep) Sold() (months []MonthSold) {
	for _, w := range v.Figures.Weeks {
		month := w.Monday.Time().Format("Jan 2006")
		if len(months) == 0 || months[len(months)-1].Month != month {
			months = append(months, MonthSold{Month: month})
		}
		m := &months[len(months)-1]
		m.Weeks, m.Sales, m.Pieces = append(m.Weeks, w), m.Sales+w.Sales, m.Pieces+w.Pieces
	}
	return months
}

// SumWords are what was sold in all of them: "3 sales, 4 pieces".
func (m MonthSold) SumWords() string {
	if m.Sales == 0 {
		return "none sold"
	}
	return Several(m.Sales, "sale") + ", " + Several(m.Pieces, "piece")
}

// WeekWords are the sales of each week: "1 0 2 0".
func (m MonthSold) WeekWords() string {
	var words []string
	for _, w := range m.Weeks {
		words = append(words, strconv.Itoa(w.Sales))
	}
	return strings.Join(words, " ")
}

// SeasonWords are the season of each week: "0.8 0.9 0.9 1.0".
func (m MonthSold) SeasonWords() string {
	var words []string
	for _, w := range m.Weeks {
		words = append(words, fmt.Sprintf("%.1f", w.Season))
	}
	return strings.Join(words, " ")
}

// SoldTold says what stands for each week, and whose season is beside it.
func (v Keep) SoldTold() string {
	const weeks = "For each week, which is of the month of its Monday: the sales, and the season, 1 being a usual week"
	switch v.Figures.Whose {
	case reorder.SeasonOwn:
		return weeks + ", by your own books."
	case reorder.SeasonGiven:
		return weeks + ", as you gave it."
	}
	return weeks + ": that of riding, until a year is in the books."
}

// Advised reports whether a level is the one that is advised.
func (v Keep) Advised(l shelf.Level) bool {
	return v.AdvisedTo != nil && *v.AdvisedTo == l.To && *v.AdvisedLevel == l.Level
}

// KeepAll is what to keep of all parts.
type KeepAll struct {
	*shelf.Advice
	LastQuarter *shelf.Quarter `json:"last_quarter,omitempty"` // what became of what was said then
	Currency    string         `json:"-"`
}

// LoadKeepAll advises the whole shelf; with spend the one that so much money buys.
func LoadKeepAll(ctx context.Context, db inventory.DB, policy shelf.Policy, spend *decimal.Decimal, now time.Time) (v KeepAll, err error) {
	if v.Advice, err = shelf.Load(ctx, db, policy, spend, now); err != nil {
		return v, err
	}
	if v.LastQuarter, err = v.Advice.LastQuarter(ctx, db); err != nil {
		return v, err
	}
	v.Currency, err = currency(ctx, db)
	return v, err
}

// Moving are the parts that were sold or are kept: the others say nothing on a list.
func (v KeepAll) Moving() []shelf.Keeping {
	var out []shelf.Keeping
	for _, k := range v.Parts {
		if k.Sales > 0 || k.ReorderLevel != nil {
			out = append(out, k)
		}
	}
	return out
}

// TotalWords are what the shelf comes to as it is set, as it is advised, and one step up.
func (v KeepAll) TotalWords() []string {
	if len(v.Moving()) == 0 {
		return []string{"Nothing was sold yet, and nothing is kept."}
	}
	out := []string{
		fmt.Sprintf("As set: %s; holding and ordering %s a year.", v.total(v.AsSet), pricing.Amount(v.Currency, v.AsSet.Cost)),
		fmt.Sprintf("Advised: %s; holding and ordering %s a year. The shelf is looked at %s; the books are %s old.",
			v.total(v.Advice.Advised), pricing.Amount(v.Currency, v.Advice.Advised.Cost), EveryDays(v.LookEvery), Several(v.Weeks, "week")),
	}
	if words := v.besideWords(); words != "" {
		out = append(out, words)
	}
	if words := FloorWords(v.Advice.Floors); words != "" {
		out = append(out, words)
	}
	if v.Wanted != nil && len(v.LeftOut) > 0 {
		out = append(out, fmt.Sprintf("For %s sales in 100: %s. For want of that money %s left out: %s.",
			hundredths(v.Target), v.total(*v.Wanted), areParts(len(v.LeftOut)), fewOf(v.LeftOut)))
	}
	return out
}

// EveryDays is how often something is done: "every working day", "every 5 working days".
func EveryDays(n int) string {
	if n == 1 {
		return "every working day"
	}
	return "every " + Several(n, "working day")
}

// besideWords say what one step less and one step more would come to; empty where there is neither.
func (v KeepAll) besideWords() string {
	var words []string
	for _, n := range []struct {
		is string
		t  *shelf.Total
	}{{"less", v.Less}, {"more", v.Next}} {
		if n.t != nil {
			words = append(words, fmt.Sprintf("one step %s would meet %.1f for %s", n.is, 100*n.t.Meets, pricing.Amount(v.Currency, n.t.Stock)))
		}
	}
	if words == nil {
		return ""
	}
	return fmt.Sprintf("That is %.1f in 100; %s.", 100*v.Advice.Advised.Meets, strings.Join(words, ", "))
}

// total is what levels come to together: "14 parts kept, £283.83 on the shelf on average, 96 sales in 100 met, about 3
// a year wait".
func (v KeepAll) total(t shelf.Total) string {
	words := fmt.Sprintf("%s kept, %s on the shelf on average, %.0f sales in 100 met", Several(t.Kept, "part"), pricing.Amount(v.Currency, t.Stock), 100*t.Meets)
	switch n := int(math.Round(t.Waits)); {
	case n == 1:
		words += ", about 1 a year waits"
	case n > 1:
		words += fmt.Sprintf(", about %d a year wait", n)
	}
	return words
}

// FloorWords say which parts are kept lower because of what is always kept of others, and what to ask for to have them
// back; empty where none are.
func FloorWords(f *shelf.Floors) string {
	if f == nil {
		return ""
	}
	var names []string
	for _, l := range f.Lowered {
		names = append(names, fmt.Sprintf("%s (%s in place of %s)", l.Name, levelOf(l.Is), levelOf(l.Without)))
	}
	parts, would := Several(len(names), "other part"), "they are"
	verb := "are"
	if len(names) == 1 {
		verb, would = "is", "it is"
	}
	return fmt.Sprintf("What you always keep meets more sales than it would by itself, so of %s fewer %s advised: %s. Asked for %.1f in 100 %s kept about as before.",
		parts, verb, fewOf(names), 100*f.Target, would)
}

func levelOf(l shelf.KeptLevel) string {
	if l.To == 0 {
		return "none"
	}
	return LevelWords(&l.Level, &l.To)
}

func areParts(n int) string {
	if n == 1 {
		return "1 part is"
	}
	return fmt.Sprintf("%d parts are", n)
}

// fewOf are the first of names, and how many more there are.
func fewOf(names []string) string {
	const few = 4
	if len(names) <= few {
		return strings.Join(names, "; ")
	}
	return fmt.Sprintf("%s; and %d more", strings.Join(names[:few], "; "), len(names)-few)
}

// TableWords say what the columns of the list are.
func (v KeepAll) TableWords() string {
	return "As set and as advised a part is ordered again at the first number of pieces, free and on order, up to the second; so many of 100 sales are then met whole."
}

// AdvisedWords are a part's advised levels; of one of which nothing can be advised, that.
func AdvisedWords(k shelf.Keeping) string {
	if k.Untold() {
		return "can't tell"
	}
	return LevelWords(k.AdvisedLevel, k.AdvisedTo)
}

// LevelWords say a level and an upper level: "2 to 6".
func LevelWords(level, to *int) string {
	if level == nil || to == nil {
		return "none"
	}
	return fmt.Sprintf("%d to %d", *level, *to)
}

// InHundred is a share in whole hundredths, rounded down as the advice's own words are; empty for none.
func InHundred(share float64) string {
	if share == 0 {
		return ""
	}
	return strconv.Itoa(int(100*share + 1e-9))
}

// Reorder is what to order for the shelf this week: of a long list the lines that are looked at, in the blocks of their
// suppliers, while all sums are of all.
type Reorder struct {
	shelf.WeekList
	From       int    `json:"from"`        // where the first of the lines stands among all, counted from 1; so too of those aside
	Parts      int    `json:"parts"`       // that are to be ordered
	AsideParts int    `json:"aside_parts"` // that are left out for what was said of them
	Mark       string `json:"-"`           // of the whole list, as [shelf.WeekList.Mark]
	Currency   string `json:"-"`
}

// LoadReorder draws up the week's list.
func LoadReorder(ctx context.Context, db inventory.DB, policy shelf.Policy, asked LinesAsked, now time.Time) (v Reorder, err error) {
	advice, err := shelf.Load(ctx, db, policy, nil, now)
	if err != nil {
		return v, err
	}
	list, err := advice.WeekList()
	if err != nil {
		return v, err
	}
	v = Reorder{WeekList: list, From: asked.From, Parts: list.Count(), AsideParts: len(list.Aside), Mark: list.Mark()}
	v.Blocks, v.Aside = list.Dearest(asked.From-1, asked.Most), linesOf(asked, list.Aside)
	if v.LastQuarter, err = advice.LastQuarter(ctx, db); err != nil {
		return v, err
	}
	v.Currency, err = currency(ctx, db)
	return v, err
}

// LoadWeekList draws up the whole list, for an answer to it: what became of the last ones, which the screen tells, takes most
// of its time.
func LoadWeekList(ctx context.Context, db inventory.DB, policy shelf.Policy, now time.Time) (list shelf.WeekList, err error) {
	advice, err := shelf.Load(ctx, db, policy, nil, now)
	if err != nil {
		return list, err
	}
	return advice.WeekList()
}

// TakenWhole is what is said by taking all of a list.
func TakenWhole(list shelf.WeekList) []shelf.Word {
	said := []shelf.Word{}
	for _, l := range list.All() {
		said = append(said, shelf.Word{PartID: l.PartID, Answer: shelf.Take, Pieces: l.Order})
	}
	return said
}

// SomeWords say which lines of how many are shown; empty where all are.
func (v Reorder) SomeWords() string { return v.shown().words() }

// AsideWords say so of the parts that are left out.
func (v Reorder) AsideWords() string { return v.asideShown().words() }

// Next is where the lines begin that come after these, listed or left out; 0 where there are none.
func (v Reorder) Next() int { return max(v.shown().next(), v.asideShown().next()) }

func (v Reorder) shown() shown {
	lines := 0
	for _, b := range v.Blocks {
		lines += len(b.Lines)
	}
	return shown{v.From, lines, v.Parts, "what is risked most by waiting first"}
}

func (v Reorder) asideShown() shown {
	return shown{v.From, len(v.Aside), v.AsideParts, "by name"}
}

// ComingWords are how many pieces are on their way, and by when.
func ComingWords(l shelf.WeekLine) string {
	words := strconv.Itoa(l.Coming)
	if l.ComingOn != nil && l.Coming > 0 {
		words += l.ComingOn.Time().Format(" by 2 Jan")
	}
	return words
}

// LineWords say why a part is on the list, what waiting risks, what was said before, and on what little that rests.
func (v Reorder) LineWords(l shelf.WeekLine) []string {
	out := []string{l.Why, fmt.Sprintf("Waiting a week: %s. %s", l.RiskWords, savesWords(l.Saves))}
	if l.Said != "" {
		out = append(out, "Said before: "+l.Said+".")
	}
	if l.Ground != "" && v.Ground == "" {
		out = append(out, l.Ground+".")
	}
	return out
}

// savesWords say how many jobs need not wait, until the order after this one can be here.
func savesWords(saves float64) string {
	switch {
	case saves < 0.005:
		return "The order spares hardly a job a wait."
	case saves < 0.75:
		return fmt.Sprintf("1 time in %d the order spares a job a wait.", max(2, int(math.Round(1/saves))))
	case saves < 1.5:
		return "The order spares about one job a wait."
	}
	return fmt.Sprintf("The order spares about %.0f jobs a wait.", saves)
}

// UseWords are how many pieces are expected to be used until the order after this one can be here, and between which
// numbers it stays nine times in ten.
func UseWords(l shelf.WeekLine) string {
	if l.UseLeast == l.UseMost {
		return fmt.Sprintf("%.1f (%d)", l.Use, l.UseMost)
	}
	return fmt.Sprintf("%.1f (%d to %d)", l.Use, l.UseLeast, l.UseMost)
}

// TableWords say what the columns of the list are.
func (v Reorder) TableWords() string {
	return "Use is what will be used until an order of the next look can be here: on average, and nine times in ten between those in brackets, more often where pieces are few."
}

// BlockWords are what a supplier's block comes to.
func (v Reorder) BlockWords(b shelf.WeekBlock) string {
	words := fmt.Sprintf("goods %s, carriage %s", pricing.Amount(v.Currency, b.Goods), pricing.Amount(v.Currency, b.Carriage))
	if b.FreeFrom != nil {
		words += fmt.Sprintf("; %s more and it comes carriage paid", pricing.Amount(v.Currency, *b.FreeFrom))
	}
	if b.Parts > len(b.Lines) {
		words = Several(b.Parts, "part") + " in all: " + words
	}
	return words
}

// TotalWords are what the list costs, and what the shelf comes to as it is set and as it is advised.
func (v Reorder) TotalWords() string {
	if v.AsSet.Kept == 0 && v.WeekList.Advised.Kept == 0 && v.Money.IsZero() {
		return "Nothing is kept, and nothing is advised to be."
	}
	return fmt.Sprintf("Money now: %s. On the shelf on average: %s as set, %s as advised. Sales met: %.0f in 100 as set, %.0f as advised.",
		pricing.Amount(v.Currency, v.Money), pricing.Amount(v.Currency, v.AsSet.Stock), pricing.Amount(v.Currency, v.WeekList.Advised.Stock),
		100*v.AsSet.Meets, 100*v.WeekList.Advised.Meets)
}

// ThenWords say what became of what was said a quarter ago; empty where nothing was. With a sum of money nothing is aimed at.
func (v KeepAll) ThenWords(today calendar.Day) string {
	if v.Wanted != nil && v.LastQuarter != nil {
		return QuarterWords(v.LastQuarter, v.LastQuarter.Aims, today)
	}
	return QuarterWords(v.LastQuarter, v.Target, today)
}

// QuarterWords say what became of what was said a quarter ago; empty where nothing was.
func QuarterWords(q *shelf.Quarter, target float64, today calendar.Day) string {
	if q == nil {
		return ""
	}
	words := fmt.Sprintf("Since %s the shelf, kept as advised then, was to meet %.0f sales in 100 whole and would have met %d of %d",
		q.From.Words(today), 100*q.Said, q.Met, q.Sales)
	if q.Every > 1 {
		words += fmt.Sprintf(" of one part in %d", q.Every)
	}
	if !q.Few() {
		words += fmt.Sprintf(" (%.0f in 100)", 100*float64(q.Met)/float64(q.Sales))
	}
	switch {
	case q.Few():
		words += ": too few to judge by."
	case q.Luck():
		words += ": as said, but for luck."
	case float64(q.Met) < q.Said*float64(q.Sales):
		words += ": fewer than said."
	default:
		words += ": more than said."
	}
	if math.Abs(q.Aims-target) >= 0.005 {
		words += fmt.Sprintf(" By what came of such promises the advice aims at %.1f now, to meet %s.", 100*q.Aims, hundredths(target))
	}
	if q.Waited > 0 {
		words += fmt.Sprintf(" As the shelf was kept, %d of the %s that jobs used had to be bought for them.", q.Waited, Several(q.Used, "part"))
	}
	return words
}

// Symbol is a currency as it heads a column of amounts: "£".
func Symbol(code string) string {
	return strings.TrimSpace(strings.TrimSuffix(pricing.Amount(code, decimal.Zero), "0.00"))
}

// currency is the shop's own.
func currency(ctx context.Context, db inventory.DB) (string, error) {
	shop, err := inventory.LoadShop(ctx, db)
	return shop.Currency, err
}
