package pricing

import (
	"cmp"
	"fmt"
	"regexp"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/substitution"
	"stead/substitution/inspection"
)

// Quote is what the customer is shown: the work, and a few honest options for the parts. Once written it never changes.
type Quote struct {
	JobID      int64              `json:"job"`
	Version    int                `json:"version"`
	State      QuoteState         `json:"state"`
	MadeAt     time.Time          `json:"made_at"`
	ValidUntil calendar.Day       `json:"valid_until"`
	Currency   string             `json:"currency"`
	Tax        Tax                `json:"tax"`
	Customer   string             `json:"customer"`
	Bike       string             `json:"bike"`
	WantedBy   *calendar.Day      `json:"wanted_by,omitempty"` // as the customer asked when the bike was booked in
	Carriage   string             `json:"carriage,omitempty"`  // how the shop charges it
	Labour     []LabourLine       `json:"labour"`
	Bench      []string           `json:"bench,omitempty"`  // what the labour covers, out of what is open on the bench: "seatpost: carbon assembly paste"
	Smears     []inspection.Smear `json:"smears,omitempty"` // greases, pastes and oils by purpose, out of what is open on the bench
	Options    []Option           `json:"options"`
	LeftOut    []string           `json:"left_out,omitempty"`  // suppliers that could not be asked, and why
	Unsure     []UnsurePart       `json:"unsure,omitempty"`    // might fit: listed apart, with what to measure
	Unproven   bool               `json:"unproven,omitempty"`  // the search was stopped: there may be better options than these
	Refusal    *RefusalWords      `json:"refusal,omitempty"`   // no set of parts does the job: why, and the ways out
	Advised    []Advice           `json:"advised,omitempty"`   // found, and left out
	Own        []OwnPart          `json:"own_parts,omitempty"` // the customer's own
	IfOpened   []IfOpened         `json:"if_opened,omitempty"` // done only if it proves so, up to a price

	// Of an amendment: the version that was agreed before it, what that came to and the day promised for it, which of its
	// lines give way, and where another part than the agreed one is looked for. Labour, and what options promise, are only
	// what is new.
	Amends    int                  `json:"amends,omitempty"`
	AgreedFor *calendar.Day        `json:"agreed_for,omitempty"`
	Agreed    decimal.NullDecimal  `json:"agreed,omitzero"`
	Instead   []AgreedLine         `json:"instead,omitempty"`
	Anew      []substitution.Place `json:"anew,omitempty"`

	ID int64 `json:"-"`
}

// QuoteState is where a quote stands.
type QuoteState string

const (
	Open       QuoteState = "open"
	Approved   QuoteState = "approved"
	Superseded QuoteState = "superseded" // a newer version took its place
	Declined   QuoteState = "declined"
)

// LabourLine is work, the same whatever option is chosen.
type LabourLine struct {
	Place   substitution.Place `json:"place"`
	Work    int64              `json:"work,omitempty"` // added by hand: its number
	Words   string             `json:"words"`
	Minutes int                `json:"minutes"`
	Tax     Tax                `json:"tax,omitzero"` // where it is not the quote's
	Amount  decimal.Decimal    `json:"amount"`       // tax included

	net decimal.Decimal // before tax
}

// Said is the work as it stands on the quote, with its rate of tax where that is not the quote's.
func (l LabourLine) Said() string { return withTax(l.Words, l.Tax) }

// withTax are a line's words with its own rate of tax.
func withTax(words string, t Tax) string {
	if t.Name == "" {
		return words
	}
	return words + " (" + t.Words() + ")"
}

// Option is one way to do the whole job.
type Option struct {
	Names      []string            `json:"names"` // soonest, cheapest, closest, balanced, shelf: what it is the best at
	Parts      []PartLine          `json:"parts"`
	Carriage   []CarriageLine      `json:"carriage,omitempty"`
	Discounts  []Less              `json:"discounts,omitempty"`
	Deviations []Deviation         `json:"deviations"`
	Minimums   []string            `json:"minimum_orders,omitempty"` // minimum orders that its parts do not reach, and what comes of that
	Cautions   []string            `json:"cautions,omitempty"`
	Vouched    []Vouched           `json:"answered_for,omitempty"` // findings that somebody answers for
	Checks     []string            `json:"checks,omitempty"`       // accepted "as what was there": worth a look when fitting
	ReadyOn    calendar.Day        `json:"ready_on"`
	Promise    string              `json:"promise"`          // if it is ordered as the quote is made: "all here by Thursday 10 December, 9 in 10"
	Delays     []inventory.Delay   `json:"delays,omitempty"` // why that day is later than it would be at other times
	Total      decimal.Decimal     `json:"total"`            // of the whole job, tax included
	TaxInTotal decimal.Decimal     `json:"tax_in_total"`
	Rates      []Rate              `json:"rates,omitempty"` // what each rate comes to, where there are several
	Adds       decimal.NullDecimal `json:"adds,omitzero"`   // of an amendment: to what was agreed before
	Landed     decimal.Decimal     `json:"landed"`          // what the parts cost the workshop, carriage included, before tax; what is to be used up at what it brings otherwise

	// Limit is what the customer will spend at most, where the option comes to more: one that needs no parts is shown
	// all the same.
	Limit decimal.NullDecimal `json:"over_limit_of,omitzero"`

	short []shortfall // what Minimums tell of
}

// chanceSaid is how surely a promise says that its day holds, at its end.
var chanceSaid = regexp.MustCompile(`\d+ in \d+$`)

// Chance is how surely its day was promised as the quote was made, "9 in 10"; empty where nothing is waited for. The shop may
// promise its days otherwise by now.
func (o Option) Chance() string { return chanceSaid.FindString(o.Promise) }

// DaysAfter is how many days after a day everything is here; zero where it is by then, or no day is asked.
func (o Option) DaysAfter(wanted *calendar.Day) int {
	if wanted == nil {
		return 0
	}
	return max(0, int(o.ReadyOn-*wanted))
}

// OverWords say by how much an option is over what the customer will spend at most; empty where it is not.
func (o Option) OverWords(currency string) string {
	if !o.Limit.Valid {
		return ""
	}
	return fmt.Sprintf("%s over the limit of %s", Amount(currency, o.Total.Sub(o.Limit.Decimal)), Amount(currency, o.Limit.Decimal))
}

// Name is what the option is called when it is approved: the first thing that it is the best at.
func (o Option) Name() string { return o.Names[0] }

// Named reports whether the option goes by a name.
func (o Option) Named(name string) bool {
	for _, n := range o.Names {
		if n == name {
			return true
		}
	}
	return false
}

// ByNeed are the lines of an option's parts, those together that meet one need: where the shelf has too few for it, what
// comes off the shelf is one line, and what is ordered the next.
func (o Option) ByNeed() [][]PartLine {
	var out [][]PartLine
	for i, p := range o.Parts {
		if i > 0 && !p.Brought && !o.Parts[i-1].Brought && p.Place == o.Parts[i-1].Place {
			out[len(out)-1] = append(out[len(out)-1], p)
		} else {
			out = append(out, []PartLine{p})
		}
	}
	return out
}

// PartLine is a part that an option fits, with where it comes from.
type PartLine struct {
	Place      substitution.Place `json:"place"`
	PartID     int64              `json:"part_id"`
	Name       string             `json:"name"`
	Pieces     int                `json:"pieces"`
	Tax        Tax                `json:"tax,omitzero"`            // where it is not the quote's
	Amount     decimal.Decimal    `json:"amount"`                  // tax included
	Shelf      bool               `json:"shelf"`                   // taken from the shop's own stock
	UseUp      bool               `json:"use_up,omitempty"`        // of which too many are there
	Supplier   string             `json:"supplier,omitempty"`      // its code; empty: the shelf, or nobody is told
	From       string             `json:"supplier_name,omitempty"` // what it was called; quotes did not always keep it
	OfferID    int64              `json:"offer,omitempty"`
	HereOn     calendar.Day       `json:"here_on"`
	Substitute bool               `json:"substitute,omitempty"` // not like for like: measure on arrival

	Brought bool                 `json:"brought,omitempty"` // needed because of another choice
	For     string               `json:"for,omitempty"`     // why it is brought: "crush washers for a banjo"
	With    []substitution.Place `json:"with,omitempty"`    // where the choices are that need it
}

// Source is what the supplier is called: by its code where the quote kept no more.
func (p PartLine) Source() string { return cmp.Or(p.From, p.Supplier) }

// Said is the part as it stands on the quote, with its rate of tax where that is not the quote's.
func (p PartLine) Said() string { return withTax(p.Name, p.Tax) }

// CarriageLine is what the customer pays of a supplier's carriage, tax included.
type CarriageLine struct {
	Supplier string          `json:"supplier"`                // its code; empty where one amount is charged for all
	From     string          `json:"supplier_name,omitempty"` // what it was called; quotes did not always keep it
	Tax      Tax             `json:"tax,omitzero"`            // where it is not the quote's
	Amount   decimal.Decimal `json:"amount"`
	Words    string          `json:"words,omitempty"` // how it is charged, where that is not in full
}

// Source is what the supplier is called: by its code where the quote kept no more.
func (c CarriageLine) Source() string { return cmp.Or(c.From, c.Supplier) }

// DeviationKind is what a deviation makes different.
type DeviationKind string

const (
	OfFunction DeviationKind = "function" // how it rides and shifts
	OfFinish   DeviationKind = "finish"   // how it looks
)

// Deviation is a difference from what was there, in the words that the customer agrees to.
type Deviation struct {
	Difference
	Kind  DeviationKind `json:"kind"`
	Was   string        `json:"was"`
	Words string        `json:"words"`
}

// RefusalWords say why nothing does the job, and the ways out.
type RefusalWords struct {
	Why     []string `json:"why"`
	WaysOut []string `json:"ways_out,omitempty"` // "give up \"same finish\": £54.10, Friday 4 December"
}
