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
	"stead/pricing/rider"
	"stead/substitution"
	"stead/substitution/inspection"
)

// Letter is a quote as its customer reads it, in a rider's words: what was found, the ways to do it, and one of them with
// its differences. Nothing of it is another customer's, and it has no supplier and no price but the customer's own.
type Letter struct {
	Clock
	JobID     int64
	Version   int
	Customer  string
	Bike      string
	Asked     string // in their own words
	Amends    bool   // it adds to what was agreed before
	Again     bool   // it was planned without what they have declined
	Fine      []string
	Adjusted  []string // needs no parts
	Worn      []Worn
	Photos    []ShownPhoto
	Refused   bool // nothing does it
	Ways      []Way
	Delays    []string // with which the days count
	Holds     string   // how surely the days hold; empty where nothing is waited for
	Chosen    *Chosen  // the way that is looked at; none where there is none
	Advised   []string // left out, for next time
	Unmended  []string // of that, what safety hangs on
	IfNone    []string // what safety hangs on of all that was found, where they want none of it
	IfOpened  []string // done besides, if it proves so: their yes covers it
	Stands    string   // how long the prices do, and what tax is in them
	Questions []pricing.Question
	State     pricing.QuoteState
	Approval  *pricing.Approval
	SaidNo    *pricing.SaidNo // they want none of it
}

// Worn is what is replaced, and why.
type Worn struct {
	Name, Where, Why string
}

// Way is an option among the others.
type Way struct {
	Option      string // its name
	Title       string
	Total       decimal.Decimal
	Ready       string // the day in words, or that all is here
	Over        string // by how much it is over what they will spend; empty where it is not
	Differences string // "3 differences: 1 in riding, 2 in looks"
	Looked      bool   // it is the chosen one
}

// Chosen is an option with all that there is to say of it.
type Chosen struct {
	Way
	Promise     string
	Different   []LetterDifference
	Cautions    []string
	Lines       []LetterLine
	TaxInTotal  decimal.Decimal
	CanWishBack bool
}

// LetterDifference is one difference from what was there.
type LetterDifference struct {
	Name              string // its place and rule
	Title             string
	Riding            bool // in how it rides; else in how it looks
	Was, Now          string
	WasColour, Colour string // of a swatch; empty where the words name none
	WasFigure, Figure string // where it is a number: "50", "48"
	Unit              string // of the figures: "teeth"
	Why               string
	Remembered        bool // that it is to be as it was next time
}

// LetterLine is a line of the sum.
type LetterLine struct {
	Words, Small string
	Amount       decimal.Decimal
}

// LoadLetter sets a version of a job's quotes for its customer; option names the way that is looked at, the balanced one
// where it names none.
func LoadLetter(ctx context.Context, db inventory.DB, jobID int64, version int, option string, now time.Time) (Letter, error) {
	q, approval, err := pricing.QuoteVersion(ctx, db, jobID, version)
	if err != nil {
		return Letter{}, err
	}
	job, err := pricing.JobByID(ctx, db, jobID)
	if err != nil {
		return Letter{}, err
	}
	questions, err := pricing.QuestionsOf(ctx, db, jobID)
	if err != nil {
		return Letter{}, err
	}
	l := tellLetter(q, job, approval, option, At(now))
	l.Questions = questions
	noes, err := pricing.NoesOf(ctx, db, jobID)
	if err != nil {
		return Letter{}, err
	}
	for _, n := range noes {
		if n.Version == version && n.Whole {
			l.SaidNo = &n
		}
	}
	if approval != nil {
		wishes, err := pricing.OpenWishes(ctx, db, job.Bike.ID)
		if err != nil {
			return Letter{}, err
		}
		l.remember(q, *approval, wishes)
	}
	l.Photos, err = shownPhotos(ctx, db, job)
	return l, err
}

// remember marks the differences that were agreed to and are to be as they were next time.
func (l *Letter) remember(q pricing.Quote, approval pricing.Approval, wishes []pricing.Wish) {
	for _, o := range q.Options {
		if !o.Named(approval.Option) {
			continue
		}
		for i, d := range o.Deviations {
			l.Chosen.Different[i].Remembered = slices.ContainsFunc(wishes, func(w pricing.Wish) bool { return w.Against(d) })
		}
	}
}

// tellLetter puts a quote and what was found into a rider's words.
func tellLetter(q pricing.Quote, job pricing.Job, approval *pricing.Approval, option string, clock Clock) Letter {
	l := Letter{Clock: clock, JobID: q.JobID, Version: q.Version, Customer: q.Customer, Bike: q.Bike, Asked: job.Wish, Amends: q.Amends > 0, Again: q.Amends == 0 && len(job.Limits.Declined) > 0,
		Refused: len(q.Options) == 0, State: q.State, Approval: approval,
		Stands: fmt.Sprintf("These prices stand until %s and include %s.", clock.Day(q.ValidUntil), q.TaxWords())}
	if approval != nil {
		l.Stands = fmt.Sprintf("These are the prices that we agreed on, with %s.", q.TaxWords())
	}
	l.found(asksAbout(q, job.Findings))
	for _, a := range q.Advised {
		words := fmt.Sprintf("%s the %s", a.Action, rider.Of(a.Place).Name)
		if a.Why != "" {
			words += ": " + rider.Words(a.Why)
		}
		l.Advised = append(l.Advised, words)
	}
	l.Unmended = unmendedWords(q.Unmended(), false)
	l.IfNone = unmendedWords(pricing.UnmendedBy(asksAbout(q, job.Findings)), false)
	for _, o := range q.IfOpened {
		l.IfOpened = append(l.IfOpened, o.Words(q.Currency))
	}
	if approval != nil {
		option = approval.Option
	}
	at := slices.IndexFunc(q.Options, func(o pricing.Option) bool { return o.Named(option) })
	if at < 0 {
		at = max(0, slices.IndexFunc(q.Options, func(o pricing.Option) bool { return o.Named("balanced") }))
	}
	for i, o := range q.Options {
		if chance := o.Chance(); chance != "" && holdsStill(o, approval) {
			l.Holds = "The day holds " + strings.Replace(chance, " in ", " times in ", 1) + "."
		}
		way := wayOf(o, clock)
		way.Over = o.OverWords(q.Currency)
		if way.Looked = i == at; way.Looked {
			l.Chosen = chosen(q, o, way)
		}
		l.Ways = append(l.Ways, way)
		for _, words := range delayWords(handedDelays(o.Delays)) {
			if words = Sentence(words) + "."; !slices.Contains(l.Delays, words) {
				l.Delays = append(l.Delays, words)
			}
		}
	}
	return l
}

// holdsStill reports whether an option's chance is that of the day that is told: until something is agreed of each day, then of
// the agreed one alone, where that is the option's own.
func holdsStill(o pricing.Option, approval *pricing.Approval) bool {
	return approval == nil || o.Named(approval.Option) && o.ReadyOn == approval.ReadyOn
}

// asksAbout are the findings that a quote tells of: of an amendment those that are new.
func asksAbout(q pricing.Quote, findings []inspection.Finding) []inspection.Finding {
	if q.Amends == 0 {
		return findings
	}
	places := map[substitution.Place]bool{}
	for _, l := range q.Labour {
		places[l.Place] = true
	}
	for _, o := range q.Options {
		for _, p := range o.Parts {
			places[p.Place] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(findings), func(f inspection.Finding) bool { return !places[f.Place] })
}

// found sorts what was found: what is fine, what only needs a hand, what is worn. What a rider calls by one name is told
// once.
func (l *Letter) found(findings []inspection.Finding) {
	for _, f := range findings {
		place := rider.Of(f.Place)
		switch f.Action {
		case inspection.Keep:
			if !slices.Contains(l.Fine, place.Name) {
				l.Fine = append(l.Fine, place.Name)
			}
		case inspection.Adjust, inspection.Clean:
			words := fmt.Sprintf("%s: to %s", place.Name, f.Action)
			if !slices.Contains(l.Adjusted, words) {
				l.Adjusted = append(l.Adjusted, words)
			}
		case inspection.Replace:
			why := rider.Found(f.Proposal.Words)
			if why != "" {
				why = Sentence(why)
			}
			same := slices.IndexFunc(l.Worn, func(w Worn) bool { return w.Name == place.Name })
			switch {
			case same < 0:
				l.Worn = append(l.Worn, Worn{place.Name, place.Where, why})
			case !strings.Contains(l.Worn[same].Why, why):
				l.Worn[same].Why += "; " + why
			}
		}
	}
}

// allHere stands for the day of a way that waits for no parts.
const allHere = "All is here"

func wayOf(o pricing.Option, clock Clock) Way {
	w := Way{Option: o.Name(), Title: rider.Option(o.Names), Total: o.Total, Ready: "Parts here by " + clock.Day(o.ReadyOn)}
	if !slices.ContainsFunc(o.Parts, func(p pricing.PartLine) bool { return !p.Shelf }) {
		w.Ready = allHere
	}
	riding := 0
	for _, d := range o.Deviations {
		if d.Kind == pricing.OfFunction {
			riding++
		}
	}
	looks := len(o.Deviations) - riding
	switch {
	case len(o.Deviations) == 0:
		w.Differences = "No difference"
	case looks == 0:
		w.Differences = Several(riding, "difference") + ", in how it rides"
	case riding == 0:
		w.Differences = Several(looks, "difference") + ", in looks only"
	default:
		w.Differences = fmt.Sprintf("%s: %d in how it rides, %d in looks", Several(len(o.Deviations), "difference"), riding, looks)
	}
	return w
}

// chosen tells all of one option.
func chosen(q pricing.Quote, o pricing.Option, way Way) *Chosen {
	c := &Chosen{Way: way, TaxInTotal: o.TaxInTotal, Cautions: oneCaution(o.Cautions)}
	for _, d := range o.Deviations {
		c.Different = append(c.Different, differenceFor(d))
	}
	sum := decimal.Zero
	line := func(words, small string, amount decimal.Decimal) {
		if words = strings.TrimSpace(words); words != "" {
			words = Sentence(words)
		}
		sum = sum.Add(amount)
		c.Lines = append(c.Lines, LetterLine{words, small, amount})
	}
	for _, lines := range o.ByNeed() {
		amount, pieces := decimal.Zero, 0
		for _, p := range lines {
			amount, pieces = amount.Add(p.Amount), pieces+p.Pieces
		}
		name, small := rider.Of(lines[0].Place).Name, lines[0].Name
		if lines[0].Brought {
			name = rider.Words(lines[0].For)
		}
		if pieces > 1 {
			small = fmt.Sprintf("%d × %s", pieces, small)
		}
		line(name, small, amount)
	}
	carriage := decimal.Zero
	for _, p := range o.Carriage {
		carriage = carriage.Add(p.Amount)
	}
	if !carriage.IsZero() {
		line("carriage", "", carriage)
	}
	for _, w := range q.Labour {
		line(rider.Words(w.Said()), fmt.Sprintf("%d minutes", w.Minutes), w.Amount)
	}
	for _, d := range o.Discounts {
		line(d.Words, "", d.Amount)
	}
	if rest := o.Total.Sub(sum); !rest.IsZero() {
		line("what was agreed before, and stays", "", rest)
	}
	return c
}

// differenceFor is a difference side by side.
func differenceFor(d pricing.Deviation) LetterDifference {
	place := rider.Of(d.Place).Name
	out := LetterDifference{Name: d.Name(), Riding: d.Kind == pricing.OfFunction, Was: rider.Words(d.Was), Now: rider.Words(d.Found)}
	if !out.Riding {
		out.Title = "How the " + place + " looks"
		out.WasColour, _ = rider.Swatch(d.Was)
		out.Colour, _ = rider.Swatch(d.Found)
		out.Why = "It works and wears the same. Only the look changes."
		return out
	}
	out.Title = "The " + place
	was, unit, one := strings.Cut(out.Was, " ")
	now, same, other := strings.Cut(out.Now, " ")
	if one && other && unit == same && !strings.Contains(unit, " ") {
		out.WasFigure, out.Figure, out.Unit = was, now, unit
	}
	out.Why = rider.Words(d.Words)
	if _, effect, found := strings.Cut(d.Words, ": "); found {
		out.Why = rider.Words(effect)
	}
	if out.Why != "" {
		out.Why = Sentence(out.Why) + "."
	}
	return out
}
