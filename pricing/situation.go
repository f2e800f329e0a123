package pricing

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/substitution"
	"stead/substitution/inspection"
	"stead/substitution/solver"
)

// Situation is everything that bears on a job's options at one moment: what it needs, what the catalogue has that
// could meet it, what is on the shelf and what each supplier offers. Loading it is the only part of planning that
// touches the database; all that follows is arithmetic on this value.
type Situation struct {
	Job        Job
	Shop       inventory.Shop
	Taxes      Taxes
	Now        time.Time
	Needs      []inspection.Need  // parts
	Smears     []inspection.Smear // greases, pastes and oils that the work takes, by purpose
	Candidates [][]int64          // for each need, parts that can be had and that the rules accept with all that is kept, as far as a catalogue can tell
	Unsure     [][]int64          // for each need with few candidates, parts that lack a dimension which a rule asks for
	Brought    []Bringing
	Parts      map[int64]inventory.Part
	Offers     map[int64][]inventory.Offer // by part, priced in the shop's currency; gone ones left out
	LeftOut    []string                    // suppliers for whose currency there is no rate
	Stock      map[int64]inventory.Stock   // by part
	UseUp      map[int64]bool              // parts of which too many are on the shelf, which jobs are to use up
	Reduced    decimal.Decimal             // share of its price that such a piece brings otherwise
	Alongside  map[int64]decimal.Decimal   // by supplier: goods that others want of it and that are not ordered yet, in the shop's currency
	Usual      map[int64]decimal.Decimal   // by supplier: what the goods of an order there come to, as orders have been, in the shop's currency
	Deliveries *inventory.Deliveries
	Weights    solver.Weights
	Labour     []LabourLine
	Terms      Terms
	Amends     *amending // absent: the whole job is quoted
}

// Bringing is what some candidate would need beside it, with the parts of the catalogue that are just that.
type Bringing struct {
	Bring substitution.Bring
	Parts []int64
}

// LoadSituation gathers what bears on a job now.
func LoadSituation(ctx context.Context, db inventory.DB, jobID int64, now time.Time) (Situation, error) {
	job, err := JobByID(ctx, db, jobID)
	if err != nil {
		return Situation{}, err
	}
	terms, err := TermsOf(ctx, db, jobID)
	if err != nil {
		return Situation{}, err
	}
	job.Findings = terms.covered(job.Findings)
	if err := job.checkDecided(); err != nil {
		return Situation{}, err
	}
	needs := terms.needs(inspection.Needs(job.Bike.Build, job.Findings))
	job.Bike.Build = terms.withOwn(job.Bike.Build)
	s, err := situationOf(ctx, db, job, terms, needs, now)
	if err != nil {
		return s, err
	}
	s.Smears = s.besidesBench(inspection.Smears(job.Bike.Build, job.Findings))
	return s, s.labour(ctx, db, job.Findings)
}

// labour prices the work of findings, and of what was added to the job and is not agreed yet.
func (s *Situation) labour(ctx context.Context, db inventory.DB, findings []inspection.Finding) error {
	prices, err := labourPrices(ctx, db, s.Shop.Hourly)
	if err != nil {
		return err
	}
	lines, err := labourLines(findings, prices, s.Taxes)
	if err != nil {
		return err
	}
	lines = builtWithin(lines, findings)
	off, agreed := map[string]bool{}, map[int64]bool{}
	if s.Amends != nil {
		for _, l := range s.Amends.stays() {
			if l.Kind == WorkLine {
				off[wheelOf(l.Place)], agreed[l.Of] = true, true
			}
		}
	}
	for _, w := range s.Terms.Work {
		if !agreed[w.ID] {
			lines = append(lines, w.line(s.Taxes))
		}
	}
	s.Labour = wheelOnce(lines, s.Shop.WheelMinutes, off, s.Taxes.Tax)
	return nil
}

// situationOf gathers what bears on a job and its needs as they are given, which need not be as they are recorded. Its
// labour is not asked.
func situationOf(ctx context.Context, db inventory.DB, job Job, terms Terms, needs []inspection.Need, now time.Time) (Situation, error) {
	s := Situation{Job: job, Terms: terms, Now: now, Parts: map[int64]inventory.Part{}}
	var err error
	if s.Shop, err = inventory.LoadShop(ctx, db); err != nil {
		return s, err
	}
	if s.Weights, err = Weights(ctx, db); err != nil {
		return s, err
	}
	if s.Deliveries, err = inventory.LoadDeliveries(ctx, db, now); err != nil {
		return s, err
	}
	if s.Taxes, err = TaxesOn(ctx, db, s.Deliveries.Today.Time()); err != nil {
		return s, err
	}
	s.Job.Bike.Build = maps.Clone(job.Bike.Build)
	if s.Job.Bike.Build == nil {
		s.Job.Bike.Build = substitution.Build{}
	}
	for _, n := range needs {
		if n.Unit != inspection.InPieces {
			continue
		}
		s.Needs = append(s.Needs, n)
		if _, known := s.Job.Bike.Build[n.Place]; !known { // what is to be replaced is there, whatever it is
			s.Job.Bike.Build[n.Place] = nil
		}
	}
	if err := s.findCandidates(ctx, db); err != nil {
		return s, err
	}
	s.onlyTubeless()
	if err := s.addAsked(ctx, db); err != nil {
		return s, err
	}
	if err := s.findBrought(ctx, db); err != nil {
		return s, err
	}
	ids := slices.Collect(maps.Keys(s.Parts))
	offers, err := inventory.OffersOf(ctx, db, ids)
	if err != nil {
		return s, err
	}
	s.priceAtHome(offers)
	if s.Stock, err = inventory.StockOf(ctx, db, ids); err != nil {
		return s, err
	}
	if err := s.findUseUp(ctx, db); err != nil {
		return s, err
	}
	return s, s.findAlongside(ctx, db)
}

// priceAtHome takes in the offers that can be compared and promised: in the shop's currency or one for which there is a
// rate, and likely enough to come.
func (s *Situation) priceAtHome(offers map[int64][]inventory.Offer) {
	s.Offers = offers
	for part, list := range offers {
		kept := list[:0]
		for _, o := range list {
			home, err := s.Deliveries.InHomeMoney(o)
			if err != nil {
				if !slices.Contains(s.LeftOut, err.Error()) {
					s.LeftOut = append(s.LeftOut, err.Error())
				}
				continue
			}
			if _, err := s.Deliveries.OfferPromise(home); err == nil { // else too likely never to come to promise anything on it
				kept = append(kept, home)
			}
		}
		s.Offers[part] = kept
	}
	slices.Sort(s.LeftOut)
}

// scene is the bike with the places of all needs still open.
func (s Situation) scene() substitution.Scene {
	build := s.Job.Bike.Build.Complete()
	scene := substitution.Scene{Was: build, Now: s.withoutTubes(build), Open: map[substitution.Place]bool{}, Waived: s.Job.Limits.Waived()}
	for _, n := range s.Needs {
		scene.Open[n.Place] = true
	}
	return scene
}

// findBrought asks what each candidate would bring, and the catalogue for parts that are just that. A rule is asked once for
// all candidates that look alike to it.
func (s *Situation) findBrought(ctx context.Context, db inventory.DB) error {
	scene := s.scene()
	seen := map[string]bool{}
	find := func(brings []substitution.Bring) error {
		for _, b := range brings {
			if key := broughtName(b); !seen[key] {
				seen[key] = true
				if err := s.findBringing(ctx, db, b); err != nil {
					return err
				}
			}
		}
		return nil
	}
	for _, t := range s.setUps() {
		if err := find(t.Brings); err != nil {
			return err
		}
	}
	for i, n := range s.Needs {
		parts := make([]*substitution.Part, len(s.Candidates[i]))
		for c, id := range s.Candidates[i] {
			part := s.Parts[id].Part
			parts[c] = &part
		}
		looks := substitution.LooksOf(parts)
		rules := slices.DeleteFunc(substitution.Instances(n.Place), func(r substitution.Instance) bool { return !r.Rule().MayBring() })
		kinds := make([]substitution.Kinds, len(rules))
		for r, rule := range rules {
			kinds[r] = looks.Kinds(rule.ReadsAt(n.Place)...)
		}
		for c, part := range parts {
			var chosen *substitution.Scene // made where a rule has not seen the like
			for r, rule := range rules {
				if kinds[r].First[kinds[r].Of[c]] != c {
					continue
				}
				if chosen == nil {
					with := scene.Choose(n.Place, part)
					chosen = &with
				}
				j := chosen.Judge(rule)
				if j.Answer == substitution.NoRule { // it waits for another choice: what it brings with the part that was there is known already
					rest := *chosen
					rest.Open = nil
					j = rest.Judge(rule)
				}
				if err := find(j.Brings); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

func (s *Situation) findBringing(ctx context.Context, db inventory.DB, b substitution.Bring) error {
	dims := b.Spec.Values()
	maps.DeleteFunc(dims, func(dim string, _ substitution.Value) bool { return b.Over[dim] > 0 })
	parts, err := inventory.FindParts(ctx, db, inventory.Search{Family: b.Family, Dims: dims, Limit: mostCandidates})
	if err != nil {
		return fmt.Errorf("looking for a %s that another part needs: %w", b.Family, err)
	}
	parts = slices.DeleteFunc(parts, func(p inventory.Part) bool { return !b.Meets(&p.Part) })
	s.Brought = append(s.Brought, Bringing{Bring: b, Parts: s.keep(parts)})
	return nil
}

// labourLines prices the work of the findings. Work without a price is an error: a quote that leaves it out is wrong.
func labourLines(findings []inspection.Finding, prices map[work]Labour, taxes Taxes) ([]LabourLine, error) {
	var lines []LabourLine
	tax := taxes.OnWork()
	for _, f := range findings {
		if f.Action == inspection.Keep || f.Action == "" {
			continue
		}
		site, err := substitution.SiteOf(f.Place)
		if err != nil {
			return nil, err
		}
		l, ok := prices[work{site.Family, f.Action}]
		if !ok {
			return nil, noLabour(site.Family, f)
		}
		words := l.Words
		if len(substitution.PlacesOf(site.Family)) > 1 {
			words += ": " + site.Words
		}
		lines = append(lines, LabourLine{Place: f.Place, Words: words, Minutes: l.Minutes, Tax: tax.unless(taxes.Tax), Amount: tax.With(l.Price), net: l.Price})
	}
	return lines, nil
}

// noLabour is a *[NoLabourError] with what such work is usually called and takes.
func noLabour(family substitution.Family, f inspection.Finding) error {
	l := Labour{Family: family, Action: f.Action}
	if usual, known := substitution.WorkOn(family, f.Action); known {
		l.Words, l.Minutes = usual.Words, usual.Minutes
	}
	return &NoLabourError{Labour: l, Place: f.Place}
}
