package desk

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"stead/inventory"
	"stead/inventory/barcode"
	"stead/pricing"
	"stead/substitution"
	"stead/substitution/inspection"
)

// Card is a job on one sheet for the bench: what is done where, with which part from which bin, and what to look at.
type Card struct {
	JobID    int64            `json:"job"`
	State    pricing.JobState `json:"state"`
	Customer string           `json:"customer"`
	Reach    string           `json:"reach,omitempty"`
	Bike     string           `json:"bike"`
	Wish     string           `json:"wish,omitempty"`
	ReadyOn  string           `json:"ready_on,omitempty"` // the day that was promised, in words
	Places   []CardLine       `json:"places"`
	Own      []string         `json:"own_parts,omitempty"`
	Opened   []string         `json:"if_opened,omitempty"`
	Bench    []string         `json:"bench,omitempty"`
	Cautions []string         `json:"cautions,omitempty"`
	Checks   []string         `json:"checks,omitempty"`
	Vouched  []string         `json:"answered_for,omitempty"` // who answers for which part, and why
	Allowed  string           `json:"allowed,omitempty"`
	LeaveBe  []string         `json:"left_out,omitempty"` // found and not to be done
}

// CardLine is what is done at one place.
type CardLine struct {
	Place   string     `json:"place,omitempty"`
	Work    []string   `json:"work,omitempty"`
	Minutes int        `json:"minutes,omitempty"`
	Read    []string   `json:"readings,omitempty"` // as a mechanic says them: "wear 0.9 %"
	Note    string     `json:"note,omitempty"`     // what was found there
	Parts   []CardPart `json:"parts,omitempty"`
	Torque  []string   `json:"torque,omitempty"`  // how tight what is fitted there is put on
	Measure []string   `json:"measure,omitempty"` // what of a part that stands in is measured before it is fitted
}

// CardPart is a part to fit.
type CardPart struct {
	Name   string    `json:"name"`
	Pieces int       `json:"pieces"`
	Bin    string    `json:"bin,omitempty"` // where it lies; absent: not here yet, or used
	State  PartState `json:"state"`
}

// PartState is where an agreed part is.
type PartState string

const (
	PartHeld    PartState = "held"                            // on the shelf for the job
	PartWanted  PartState = PartState(inventory.ClaimWanted)  // to be ordered
	PartOrdered PartState = PartState(inventory.ClaimOrdered) // on its way
	PartUsed    PartState = "used"
)

// LoadCard gathers the card of a job that was approved.
func LoadCard(ctx context.Context, db inventory.DB, jobID int64, now time.Time) (Card, error) {
	v, err := LoadJob(ctx, db, jobID, now)
	if err != nil {
		return Card{}, err
	}
	if v.Agreement == nil {
		return Card{}, fmt.Errorf("job %d is %s: its card is for the bench once the work is approved", jobID, v.State)
	}
	standing := v.Agreement.Standing()
	parts, err := partsOf(ctx, db, standing)
	if err != nil {
		return Card{}, err
	}
	bins, err := firstBins(ctx, db, slices.Collect(maps.Keys(parts)))
	if err != nil {
		return Card{}, err
	}
	measure, err := inventory.MeasureForJob(ctx, db, jobID)
	if err != nil {
		return Card{}, err
	}
	agreed, err := v.agreedTo(ctx, db)
	if err != nil {
		return Card{}, err
	}
	c := Card{JobID: jobID, State: v.State, Customer: v.Bike.Customer.Name, Reach: v.Bike.Customer.Reach(), Bike: v.Bike.Words, Wish: v.Wish,
		ReadyOn: v.Day(v.Agreement.ReadyOn), Bench: v.Quote.Bench}
	for _, l := range standing {
		c.toDo(v, l, bins, parts)
	}
	for _, m := range measure {
		line := c.at(m.Place)
		line.Measure = added(line.Measure, MeasureLines(m)...)
	}
	c.Places = slices.DeleteFunc(c.Places, func(l CardLine) bool { return len(l.Work) == 0 && len(l.Parts) == 0 })
	for _, f := range v.Findings {
		c.found(f)
	}
	c.besides(v)
	c.heed(agreed)
	return c, nil
}

// firstBins are the bins in which parts lie, by part; of several the first on the shelf.
func firstBins(ctx context.Context, db inventory.DB, parts []int64) (map[int64]string, error) {
	contents, err := inventory.ContentsOf(ctx, db, parts...)
	if err != nil {
		return nil, err
	}
	bins := map[int64]string{}
	for _, c := range contents {
		if bins[c.PartID] == "" {
			bins[c.PartID] = c.Bin
		}
	}
	return bins, nil
}

// partsOf are the parts of agreed lines.
func partsOf(ctx context.Context, db inventory.DB, lines []pricing.AgreedLine) (map[int64]inventory.Part, error) {
	var ids []int64
	for _, l := range lines {
		if l.Kind == pricing.PartsLine {
			ids = append(ids, l.PartID)
		}
	}
	return inventory.Parts(ctx, db, ids)
}

// toDo puts what is agreed at its place: the work with its minutes, or the part, where it lies; and how tight that is
// put on, or what stays and is worked on.
func (c *Card) toDo(v Job, l pricing.AgreedLine, bins map[int64]string, parts map[int64]inventory.Part) {
	line := c.at(l.Place)
	switch l.Kind {
	case pricing.WorkLine:
		line.Work, line.Minutes = append(line.Work, l.Words), line.Minutes+l.Minutes
		if !v.Agreement.Replaces(l.Place) {
			line.Torque = added(line.Torque, substitution.TorqueWords(l.Place, v.Bike.Build[l.Place])...)
		}
	case pricing.PartsLine:
		part := CardPart{Name: l.Words, Pieces: l.Pieces, State: v.stateOf(l)}
		if part.State == PartHeld {
			part.Bin = bins[l.PartID]
		}
		line.Parts = append(line.Parts, part)
		if fitted, known := parts[l.PartID]; known {
			line.Torque = added(line.Torque, substitution.TorqueWords(l.Place, &fitted.Part)...)
		}
	}
}

// found puts what was read and noted at a place beside the work there.
func (c *Card) found(f inspection.Finding) {
	for i := range c.Places {
		if c.Places[i].Place != SiteWords(f.Place) {
			continue
		}
		c.Places[i].Note = f.Note
		if site, err := substitution.SiteOf(f.Place); err == nil {
			c.Places[i].Read = readSays(site.Family, f.Readings)
		}
	}
}

// besides adds what was agreed beforehand for the whole job.
func (c *Card) besides(v Job) {
	for _, o := range v.Terms.Own {
		c.Own = append(c.Own, o.Said())
	}
	for _, o := range v.Agreement.Opened {
		c.Opened = append(c.Opened, o.Words(v.Currency))
	}
	for _, a := range v.Terms.Advised {
		c.LeaveBe = append(c.LeaveBe, a.Words)
	}
	c.Cautions = append(c.Cautions, v.UnmendedWords()...)
	if v.Agreement.Allowed.Valid {
		c.Allowed = pricing.Amount(v.Currency, v.Agreement.Allowed.Decimal)
	}
}

// heed adds what to look at in all that was agreed to, each thing once.
func (c *Card) heed(agreed []agreedOption) {
	for _, o := range agreed {
		c.Cautions, c.Checks = added(c.Cautions, o.Cautions...), added(c.Checks, o.Checks...)
		for _, vouched := range o.Vouched {
			c.Vouched = added(c.Vouched, VouchedWords(vouched))
		}
	}
	c.Cautions, c.Checks = oneCaution(c.Cautions), together(c.Checks)
}

// added are sentences with others that are not among them yet.
func added(to []string, words ...string) []string {
	for _, w := range words {
		if !slices.Contains(to, w) {
			to = append(to, w)
		}
	}
	return to
}

// Title is which job it is, and whose.
func (c Card) Title() string { return fmt.Sprintf("Job %d: %s, %s", c.JobID, c.Customer, c.Bike) }

// Label is the job's own, which a scanner reads.
func (c Card) Label() string { return barcode.Label{Kind: barcode.OnJob, ID: c.JobID}.String() }

// Head are how the customer is reached, what was asked for and for when it is promised.
func (c Card) Head() []string {
	var out []string
	if c.Reach != "" {
		out = append(out, "to reach them: "+c.Reach)
	}
	if c.Wish != "" {
		out = append(out, "asked for: "+c.Wish)
	}
	return append(out, "promised for "+c.ReadyOn)
}

// Title is where the work is done.
func (l CardLine) Title() string {
	if l.Place == "" {
		return "besides"
	}
	return l.Place
}

// ToDo is what is ticked off: the work, then the parts.
func (l CardLine) ToDo() []string {
	out := slices.Clone(l.Work)
	for _, p := range l.Parts {
		where := string(p.State)
		if p.Bin != "" {
			where = "bin " + p.Bin
		}
		out = append(out, fmt.Sprintf("%d of %s, %s", p.Pieces, p.Name, where))
	}
	return out
}

// Found is how tight its joints are put on, what is measured before, and what was read and noted at the place.
func (l CardLine) Found() []string {
	var out []string
	for _, words := range l.Torque {
		out = append(out, "torque: "+words)
	}
	for _, words := range l.Measure {
		out = append(out, "measure before fitting: "+words)
	}
	if len(l.Read) > 0 {
		out = append(out, "read: "+strings.Join(l.Read, ", "))
	}
	if l.Note != "" {
		out = append(out, l.Note)
	}
	return out
}

// Notes are what holds for the whole job: the customer's own parts, what was agreed beforehand, what to measure, cautions.
func (c Card) Notes() []string {
	out := slices.Concat(c.Own, c.Opened, c.Vouched)
	said := func(before string, all []string) {
		for _, words := range all {
			out = append(out, before+words)
		}
	}
	said("from the bench: ", c.Bench)
	said("check when fitting: ", c.Checks)
	said("caution: ", c.Cautions)
	said("not to be done: ", c.LeaveBe)
	if c.Allowed != "" {
		out = append(out, "may be used beyond this without asking: "+c.Allowed)
	}
	return out
}

// at is the card's line for a place, made where there is none yet.
func (c *Card) at(place substitution.Place) *CardLine {
	words := ""
	if place != "" {
		words = SiteWords(place)
	}
	i := slices.IndexFunc(c.Places, func(l CardLine) bool { return l.Place == words })
	if i < 0 {
		i, c.Places = len(c.Places), append(c.Places, CardLine{Place: words})
	}
	return &c.Places[i]
}

// stateOf is where an agreed part is.
func (v Job) stateOf(l pricing.AgreedLine) PartState {
	for _, h := range v.Held {
		if h.PartID == l.PartID {
			return PartHeld
		}
	}
	for _, c := range v.Claims {
		if c.PartID == l.PartID && (c.State == inventory.ClaimWanted || c.State == inventory.ClaimOrdered) {
			return PartState(c.State)
		}
	}
	return PartUsed
}
