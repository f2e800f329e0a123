package pricing

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/substitution"
	"stead/substitution/inspection"
)

// amending is what an amendment starts from: what was agreed, and which of it gives way.
type amending struct {
	Agreement
	gone    []AgreedLine
	anew    []substitution.Place // where another part is looked for than the agreed one
	carried []string             // suppliers whose carriage is agreed for an order that is not placed yet
}

// stays are the agreed lines that nothing takes the place of.
func (a amending) stays() []AgreedLine {
	return slices.DeleteFunc(a.Standing(), func(l AgreedLine) bool { return slices.ContainsFunc(a.gone, l.is) })
}

// Amend drafts what has changed on a job since its approval and keeps it as the next version of its quote, beside what was
// agreed. It asks about nothing else: what is agreed, held and ordered stays. At the places of anew another part is looked
// for than the agreed one. What was agreed beforehand, up to its price, counts as approved at once.
func Amend(ctx context.Context, tx pgx.Tx, jobID int64, anew []substitution.Place, now time.Time) (Quote, error) {
	state, err := lockJob(ctx, tx, jobID)
	if err != nil {
		return Quote{}, err
	}
	switch state {
	case JobApproved:
	case Booked, Inspected, Quoted:
		return Quote{}, stuck(jobID, QuoteAgain, "job %d is %s and nothing is agreed yet: there is nothing to amend", jobID, state)
	default:
		return Quote{}, fmt.Errorf("job %d is %s: nothing of it is changed any more", jobID, state)
	}
	s, err := loadAmendment(ctx, tx, jobID, anew, now)
	if err != nil {
		return Quote{}, err
	}
	q, err := s.Draft(ctx)
	if err != nil {
		return Quote{}, err
	}
	last := s.Amends.Words[len(s.Amends.Words)-1]
	q.Amends, q.Agreed, q.Instead, q.Anew = last.Version, decimal.NewNullDecimal(last.Total), s.Amends.gone, anew
	q.AgreedFor = &last.ReadyOn
	for i := range q.Options {
		q.Options[i].Promise = "what is new: " + q.Options[i].Promise
	}
	if err := keepQuote(ctx, tx, &q); err != nil {
		return Quote{}, err
	}
	o, covered := q.beforehand(s.Amends.Opened)
	if !covered {
		return q, nil
	}
	by := fmt.Sprintf("%s, beforehand", s.Amends.Words[0].By)
	if err := commit(ctx, tx, q, o, Decision{By: by}, max(o.ReadyOn, last.ReadyOn), now); err != nil {
		return Quote{}, err
	}
	q.State = Approved
	return q, nil
}

// beforehand is the option of an amendment that was agreed beforehand: all it does is at places that were to be done if
// they prove so, for no more than was named for them, within what the customer will spend
// at most, and nothing is different from before.
func (q Quote) beforehand(opened []IfOpened) (Option, bool) {
	places := map[substitution.Place]bool{}
	for _, l := range q.Labour {
		if l.Place != "" || l.Work != 0 { // else the time that lines share
			places[l.Place] = true
		}
	}
	for _, o := range q.Options {
		if !o.Named("cheapest") && !o.Named("no parts") {
			continue
		}
		for _, p := range o.Parts {
			if !p.Brought {
				places[p.Place] = true
			}
		}
		named := map[int]bool{}
		for place := range places {
			i := slices.IndexFunc(opened, func(o IfOpened) bool { return o.Place == place || o.Place == place.House() })
			if i < 0 {
				return Option{}, false
			}
			named[i] = true
		}
		most := decimal.Zero
		for i := range named {
			most = most.Add(opened[i].Most)
		}
		return o, len(places) > 0 && len(o.Deviations) == 0 && !o.Limit.Valid && o.Adds.Decimal.LessThanOrEqual(most)
	}
	return Option{}, false
}

// loadAmendment gathers what bears on what has changed since a job was approved.
func loadAmendment(ctx context.Context, db inventory.DB, jobID int64, anew []substitution.Place, now time.Time) (Situation, error) {
	job, err := JobByID(ctx, db, jobID)
	if err != nil {
		return Situation{}, err
	}
	terms, err := TermsOf(ctx, db, jobID)
	if err != nil {
		return Situation{}, err
	}
	agreed, err := AgreedOn(ctx, db, jobID)
	if err != nil {
		return Situation{}, err
	}
	used, err := inventory.UsedAt(ctx, db, jobID)
	if err != nil {
		return Situation{}, err
	}
	job.Findings = agreed.standingOn(terms, job.Findings)
	if err := job.checkDecided(); err != nil {
		return Situation{}, err
	}
	a := &amending{Agreement: agreed, anew: anew}
	needs, err := a.needs(&job, terms.needs(inspection.Needs(job.Bike.Build, job.Findings)), used)
	if err != nil {
		return Situation{}, err
	}
	if err := a.setCarried(ctx, db); err != nil {
		return Situation{}, err
	}
	if job.Bike.Build, err = a.build(ctx, db, terms.withOwn(job.Bike.Build)); err != nil {
		return Situation{}, err
	}
	s, err := situationOf(ctx, db, job, terms, needs, now)
	if err != nil {
		return s, err
	}
	s.Amends = a
	changed := a.changed(job.Findings, used)
	s.Smears = s.besidesBench(inspection.Smears(job.Bike.Build, changed))
	if err := s.labour(ctx, db, changed); err != nil {
		return s, err
	}
	if len(s.Needs) == 0 && len(s.Labour) == 0 && len(a.gone) == 0 && !a.newDiscount(terms.Discounts) {
		return s, fmt.Errorf("nothing of job %d has changed since it was approved: record what was found first", jobID)
	}
	return s, nil
}

// standingOn are the findings that are acted on. Where what was found after the approval was left out, what was agreed there
// stands.
func (g Agreement) standingOn(terms Terms, findings []inspection.Finding) []inspection.Finding {
	out := terms.covered(findings)
	for _, f := range findings {
		action, agreed := g.Work[f.Place]
		if agreed && !slices.ContainsFunc(out, func(kept inspection.Finding) bool { return kept.Place == f.Place }) {
			f.Action, f.Asks = action, nil
			out = append(out, f)
		}
	}
	return inspection.InOrder(out)
}

// agreedOf are the findings whose work is agreed.
func (g Agreement) agreedOf(findings []inspection.Finding) []inspection.Finding {
	return slices.DeleteFunc(slices.Clone(findings), func(f inspection.Finding) bool { return g.Work[f.Place] != f.Action })
}

// needs are the needs that are new, and what of the agreed parts gives way: what nothing asks for any more and was not used
// yet, and what is looked for anew. Where only more pieces are asked for, they are more of the same part.
func (a *amending) needs(job *Job, now []inspection.Need, used map[inventory.AtPlace]int) (fresh []inspection.Need, err error) {
	limits := job.Limits
	limits.OnlyParts, limits.NotParts = maps.Clone(limits.OnlyParts), slices.Clone(limits.NotParts)
	usedAt := func(place substitution.Place) (n int) {
		for at, pieces := range used {
			if at.Place == place {
				n += pieces
			}
		}
		return n
	}
	for _, place := range a.anew {
		pieces, parts := a.at(place)
		switch {
		case pieces == 0:
			return nil, fmt.Errorf("no part is agreed for the %s of job %d", siteWords(place), job.ID)
		case usedAt(place) > 0:
			return nil, fmt.Errorf("the part agreed for the %s of job %d has been used already", siteWords(place), job.ID)
		}
		limits.NotParts = append(limits.NotParts, parts...)
		if slices.Contains(parts, limits.OnlyParts[place]) {
			delete(limits.OnlyParts, place)
		}
	}
	asked := map[substitution.Place]bool{}
	for _, n := range now {
		asked[n.Place] = true
		have, parts := a.at(n.Place)
		switch {
		case n.Unit != inspection.InPieces:
		case have == 0 || slices.Contains(a.anew, n.Place):
			fresh = append(fresh, n)
		case n.Quantity > have:
			n.Quantity -= have
			if limits.OnlyParts == nil {
				limits.OnlyParts = map[substitution.Place]int64{}
			}
			limits.OnlyParts[n.Place] = parts[0]
			fresh = append(fresh, n)
		}
	}
	for _, l := range a.Standing() {
		if l.Kind == PartsLine && !l.Brought && l.Place != "" && (!asked[l.Place] && usedAt(l.Place) == 0 || slices.Contains(a.anew, l.Place)) {
			a.gone = append(a.gone, l)
		}
	}
	a.gone = append(a.gone, a.broughtFor(a.gone, used)...)
	job.Limits = limits
	return fresh, nil
}

// broughtFor are the lines that stand of what was brought for some lines and was not used yet. What takes their place brings
// its own.
func (a *amending) broughtFor(gone []AgreedLine, used map[inventory.AtPlace]int) (out []AgreedLine) {
	unused := map[int64]int{}
	for _, l := range a.Standing() {
		if l.Brought {
			unused[l.PartID] += l.Pieces
		}
	}
	for at, n := range used {
		if at.Place == inventory.Bench {
			unused[at.PartID] -= n
		}
	}
	for _, l := range a.Standing() {
		goes := slices.ContainsFunc(gone, func(g AgreedLine) bool { return slices.Contains(l.With, g.Place) })
		if goes && l.Pieces <= unused[l.PartID] {
			unused[l.PartID] -= l.Pieces
			out = append(out, l)
		}
	}
	return out
}

// changed are the findings whose work is not agreed. Agreed work at a place where other work, or none, is to be done now
// gives way, unless its parts were used already.
func (a *amending) changed(findings []inspection.Finding, used map[inventory.AtPlace]int) (out []inspection.Finding) {
	now := map[substitution.Place]inspection.Action{}
	for _, f := range findings {
		if f.Action == "" || f.Action == inspection.Keep {
			continue
		}
		now[f.Place] = f.Action
		if a.Work[f.Place] != f.Action {
			out = append(out, f)
		}
	}
	for _, l := range a.Standing() {
		if l.Kind != WorkLine || l.Of != 0 || l.Place == "" || now[l.Place] == a.Work[l.Place] {
			continue
		}
		begun := false
		for at := range used {
			begun = begun || at.Place == l.Place
		}
		if !begun {
			a.gone = append(a.gone, l)
		}
	}
	return out
}

// build is a bike with the agreed parts in their places, which what is new must go with.
func (a *amending) build(ctx context.Context, db inventory.DB, build substitution.Build) (substitution.Build, error) {
	var ids []int64
	for _, l := range a.stays() {
		if l.Kind == PartsLine {
			ids = append(ids, l.PartID)
		}
	}
	parts, err := inventory.Parts(ctx, db, ids)
	if err != nil {
		return nil, err
	}
	for _, l := range a.stays() {
		if part, known := parts[l.PartID]; known && l.Kind == PartsLine && l.Place != "" {
			build[l.Place] = &part.Part
		}
	}
	return build, nil
}

// setCarried finds the suppliers whose carriage the customer has agreed to for parts that are all still to be ordered: what
// is new from there travels with them.
func (a *amending) setCarried(ctx context.Context, db inventory.DB) error {
	claims, err := inventory.ClaimsOfJob(ctx, db, a.JobID)
	if err != nil {
		return err
	}
	for _, c := range a.Standing() {
		if c.Kind != CarriesLine {
			continue
		}
		waits := true
		for _, l := range a.Standing() {
			if l.Kind == PartsLine && l.Supplier != "" && (l.Supplier == c.Supplier || c.Supplier == "") {
				waits = waits && slices.ContainsFunc(claims, func(k inventory.Claim) bool { return k.PartID == l.PartID && k.State == inventory.ClaimWanted })
			}
		}
		if waits {
			a.carried = append(a.carried, c.Supplier)
		}
	}
	return nil
}

// newDiscount reports whether a discount was given after the approval.
func (a *amending) newDiscount(discounts []Discount) bool {
	return slices.ContainsFunc(discounts, func(d Discount) bool {
		return !slices.ContainsFunc(a.Standing(), func(l AgreedLine) bool { return l.Kind == DiscountLine && l.Of == d.ID })
	})
}

// adviseWhatWasNew remembers what an amendment would have done as advised: its customer wants none of it.
func adviseWhatWasNew(ctx context.Context, tx pgx.Tx, q Quote, by string, now time.Time) ([]Advice, error) {
	jobID := q.JobID
	job, err := JobByID(ctx, tx, jobID)
	if err != nil {
		return nil, err
	}
	agreed, err := AgreedOn(ctx, tx, jobID)
	if err != nil {
		return nil, err
	}
	terms, err := TermsOf(ctx, tx, jobID)
	if err != nil {
		return nil, err
	}
	advised := []Advice{}
	for _, f := range agreed.New(terms, job.Findings) {
		a := adviceOf(jobID, f, "declined by "+by, now)
		if err := a.keep(ctx, tx); err != nil {
			return nil, err
		}
		advised = append(advised, a)
	}
	for _, w := range terms.Work {
		if slices.ContainsFunc(q.Labour, func(l LabourLine) bool { return l.Work == w.ID }) {
			if _, err := tx.Exec(ctx, `UPDATE job_work SET gone_at = $2 WHERE id = $1`, w.ID, now); err != nil {
				return nil, fmt.Errorf("taking %q off job %d: %w", w.Words, jobID, err)
			}
		}
	}
	return advised, nil
}
