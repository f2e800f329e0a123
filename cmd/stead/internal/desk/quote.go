package desk

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

// Quote is a quote with its options line by line.
type Quote struct {
	pricing.Quote
	Clock
	Choices []Choice `json:"-"`
	Shared  Said     `json:"-"` // by all of several options; what each has besides is its Apart

	Asked  string       `json:"-"` // what the customer wants, in their own words, of a quote that is set on paper
	Photos []ShownPhoto `json:"-"` // those that the customer is shown, of such a quote
}

// Choice is an option line by line.
type Choice struct {
	pricing.Option
	Lines []QuoteLine // parts, then carriage
	Apart Said        // what is said of it where the quote has told what all options share
	Alone bool        // there is no other
	Late  string      // by how much it is too late for the day that was asked; empty where it is not
	Over  string      // by how much it is over what the customer will spend; empty where it is not
}

// QuoteLine is a need of a job with what meets it, from one source or two.
type QuoteLine struct {
	Place substitution.Place // none of carriage
	For   string             // "outer ring", "crush washers for a banjo", "carriage"
	Name  string             // "2 × gear inner"; none of carriage
	From  []From
}

// From is where pieces come from, and what the customer pays for those.
type From struct {
	Words  string
	Amount decimal.Decimal // tax included
}

// LoadQuote is a job's newest quote as it reads at a moment, or false where it has none.
func LoadQuote(ctx context.Context, db inventory.DB, jobID int64, now time.Time) (Quote, bool, error) {
	q, quoted, err := pricing.LastQuote(ctx, db, jobID)
	if err != nil || !quoted {
		return Quote{}, false, err
	}
	return TellQuote(q, At(now)), true, nil
}

// LoadQuotePaper is the same to be set on paper, with the photos that the customer is shown.
func LoadQuotePaper(ctx context.Context, db inventory.DB, jobID int64, now time.Time) (Quote, error) {
	q, quoted, err := LoadQuote(ctx, db, jobID, now)
	if err == nil && !quoted {
		err = fmt.Errorf("job %d has no quote yet", jobID)
	}
	if err != nil {
		return Quote{}, err
	}
	job, err := pricing.JobByID(ctx, db, jobID)
	if err != nil {
		return Quote{}, err
	}
	q.Asked = job.Wish
	q.Photos, err = PaperPhotos(ctx, db, jobID)
	return q, err
}

// TellQuote sets a quote line by line.
func TellQuote(q pricing.Quote, clock Clock) Quote {
	v := Quote{Quote: q, Clock: clock}
	for _, o := range q.Options {
		c := Choice{Option: o, Lines: quoteLines(o, clock), Alone: len(q.Options) == 1}
		if days := o.DaysAfter(q.WantedBy); days > 0 {
			c.Late = fmt.Sprintf("%s after %s, by which it is wanted", Several(days, "day"), clock.Day(*q.WantedBy))
		}
		c.Over = o.OverWords(q.Currency)
		v.Choices = append(v.Choices, c)
	}
	v.Shared = sayOnce(v.Choices)
	return v
}

func quoteLines(o pricing.Option, clock Clock) []QuoteLine {
	var out []QuoteLine
	for _, lines := range o.ByNeed() {
		p, pieces := lines[0], 0
		for _, l := range lines {
			pieces += l.Pieces
		}
		line := QuoteLine{Place: p.Place, For: p.For, Name: p.Said()}
		if line.For == "" {
			line.For = SiteWords(p.Place)
		}
		if pieces > 1 {
			line.Name = fmt.Sprintf("%d × %s", pieces, p.Said())
		}
		for i, words := range sources(lines, clock) {
			line.From = append(line.From, From{words, lines[i].Amount})
		}
		out = append(out, line)
	}
	for _, c := range o.Carriage {
		line := QuoteLine{For: "carriage", From: []From{{c.Source(), c.Amount}}}
		if c.Words != "" {
			line.For += ", " + c.Words
		}
		out = append(out, line)
	}
	for _, d := range o.Discounts {
		out = append(out, QuoteLine{For: d.Words, From: []From{{"", d.Amount}}})
	}
	return out
}

// sources say where each line of a need comes from, with pieces and day where there are two.
func sources(lines []pricing.PartLine, clock Clock) []string {
	if len(lines) == 1 {
		if lines[0].Supplier == "" && !lines[0].Shelf { // told to a customer
			return []string{"here by " + clock.Day(lines[0].HereOn)}
		}
		return []string{fromWords(lines[0].Source()) + useUpWords(lines[0])}
	}
	var words []string
	for _, l := range lines {
		switch {
		case l.Shelf:
			words = append(words, fmt.Sprintf("%d from the shelf", l.Pieces)+useUpWords(l))
		case l.Supplier == "":
			words = append(words, fmt.Sprintf("%d by %s", l.Pieces, clock.Day(l.HereOn)))
		default:
			words = append(words, fmt.Sprintf("%d from %s by %s", l.Pieces, l.Source(), clock.Day(l.HereOn)))
		}
	}
	return words
}

// useUpWords say that a line takes what is too many on the shelf.
func useUpWords(l pricing.PartLine) string {
	if l.UseUp {
		return ", to be used up"
	}
	return ""
}

// Stands says how long its prices stand, what tax they include, and for when its days are.
func (v Quote) Stands() string {
	return fmt.Sprintf("prices stand until %s and include %s; days are for an answer on %s", v.Day(v.ValidUntil), v.TaxWords(), v.DayOf(v.MadeAt))
}

// CarriageWords say how the shop charges carriage, where an option has any part that is sent.
func (v Quote) CarriageWords() string {
	for _, o := range v.Options {
		if len(o.Parts) > 0 {
			return v.Carriage
		}
	}
	return ""
}

// DelayWords tell of all with which the days of its options count.
func (v Quote) DelayWords() []string { return delaysOf(v.Options) }

// AskedWords are the customer's own, as they stand on their quote; empty where none were noted.
func (v Quote) AskedWords() string {
	if strings.TrimSpace(v.Asked) == "" {
		return ""
	}
	return "asked for: “" + strings.Join(strings.Fields(v.Asked), " ") + "”"
}

// Title is what the paper is called, and whose it is.
func (v Quote) Title() string {
	return fmt.Sprintf("Quote %d for job %d: %s, %s", v.Version, v.JobID, v.Customer, v.Bike)
}

// Title is what an option is the best at; one that has no other beside it is just the cheapest.
func (c Choice) Title() string {
	if c.Alone && c.Named("cheapest") {
		return "cheapest"
	}
	return c.Called()
}

// AsBefore reports whether the option has parts and none of them makes anything different.
func (c Choice) AsBefore() bool { return len(c.Deviations) == 0 && len(c.Parts) > 0 }

// Head is an option with its price and its day.
func (c Choice) Head(currency string) string {
	words := fmt.Sprintf("Option %s: %s, %s", c.Title(), pricing.Amount(currency, c.Total), c.Promise)
	if c.Over != "" {
		words += "; " + c.Over
	}
	return words
}

// NotesApart are what there is to say of an option below its lines, without what all options share: what is different,
// what to check, and what tax is in it.
func (c Choice) NotesApart(currency string) []string {
	return c.notes(currency, c.Apart, deviationWords)
}

func (c Choice) notes(currency string, s Said, different func(pricing.Deviation) string) []string {
	var out []string
	if c.Adds.Valid {
		out = append(out, fmt.Sprintf("it adds %s to what was agreed", pricing.Amount(currency, c.Adds.Decimal)))
	}
	tax := "tax contained " + pricing.Amount(currency, c.TaxInTotal)
	for _, r := range c.Rates {
		tax += fmt.Sprintf("; %s %s", pricing.Tax{Name: r.Name, Percent: r.Percent}.Words(), pricing.Amount(currency, r.Tax))
	}
	if c.AsBefore() {
		tax = "nothing is different from before; " + tax
	}
	out = append(append(out, s.notes(different)...), tax)
	if c.Late != "" {
		out = append(out, c.Late)
	}
	return out
}

// deviationWords are a difference to be agreed to, with the name by which it is.
func deviationWords(d pricing.Deviation) string {
	return fmt.Sprintf("%s  [%s]", DifferenceWords(d), d.Name())
}

// Next is what the quote asks for.
func (v Quote) Next() Step {
	if v.State == pricing.Declined {
		return Turned
	}
	if len(v.Options) == 0 {
		if len(v.Unsure) > 0 && (v.Refusal == nil || len(v.Refusal.WaysOut) == 0) {
			return Answer
		}
		return GiveUp
	}
	return Ask
}

// AsksToAccept reports whether some option of the quote makes something different, so that it must be accepted or declined.
func (v Quote) AsksToAccept() bool {
	for _, o := range v.Options {
		if len(o.Deviations) > 0 {
			return true
		}
	}
	return false
}

// Answered is what a customer's answer comes to: the approval, or the new quote without what was declined.
type Answered struct {
	Quote
	Approval *pricing.Approval `json:"approval,omitempty"`
}

// ApprovedOption is an option's name by which it was approved, and its others, by which it may have been shown:
// "cheapest and soonest".
func (v Quote) ApprovedOption(a pricing.Approval) string {
	names := []string{a.Option}
	for _, c := range v.Choices {
		if c.Named(a.Option) && !c.Alone {
			names = append(names, slices.DeleteFunc(slices.Clone(c.Names), func(n string) bool { return n == a.Option })...)
		}
	}
	return pricing.OptionWords(names)
}

// ApprovedWords are the price and the day that were approved.
func (v Quote) ApprovedWords(a pricing.Approval) string {
	words := pricing.Amount(v.Currency, a.Total)
	for _, o := range v.Options {
		switch {
		case !o.Named(a.Option):
		case o.ReadyOn == a.ReadyOn:
			words += ", " + o.Promise
		default:
			words += fmt.Sprintf(", all here by %s, as agreed", v.Day(a.ReadyOn))
		}
	}
	return words
}

// MightFit says what might fit: parts of which the same answers would tell are named together. How what is asked is
// found out stands with one answer; where there are several it is told on being asked.
func MightFit(unsure []pricing.UnsurePart) (out []string) {
	var groups [][]pricing.UnsurePart
	for _, u := range unsure {
		i := slices.IndexFunc(groups, func(g []pricing.UnsurePart) bool {
			return g[0].Place == u.Place && len(u.Asks) > 1 && slices.EqualFunc(g[0].Asks, u.Asks, func(a, b pricing.Ask) bool {
				return a.Place == b.Place && a.PartID == b.PartID && a.Dimension == b.Dimension
			})
		})
		if i < 0 {
			i, groups = len(groups), append(groups, nil)
		}
		groups[i] = append(groups[i], u)
	}
	for _, g := range groups {
		if len(g[0].Asks) == 1 {
			out = append(out, unsureWords(g[0]))
			continue
		}
		var names, asks []string
		for _, u := range g {
			names = append(names, u.Name)
		}
		for _, a := range g[0].Asks {
			whose := "the " + SiteWords(a.Place) + " on the bike"
			if a.PartID != 0 {
				whose = "the part"
			}
			asks = append(asks, a.Words+" of "+whose)
		}
		for i := range asks[:len(asks)-1] { // whose it is once, for all that are of one
			if a, b := g[0].Asks[i], g[0].Asks[i+1]; a.Place == b.Place && a.PartID == b.PartID {
				asks[i] = a.Words
			}
		}
		out = append(out, fmt.Sprintf("%s as %s: %s", substitution.Few(names), SiteWords(g[0].Place), strings.Join(asks, ", ")))
	}
	return out
}

// unsureWords are a part that might fit, with what to measure first.
func unsureWords(u pricing.UnsurePart) string {
	return fmt.Sprintf("%s as %s: %s", u.Name, SiteWords(u.Place), strings.Join(u.Measure, "; "))
}
