package desk

import (
	"context"
	"fmt"

	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

// Fitting is a part of the catalogue with what the rules say of it, how many are free and how many suppliers' offers
// there are.
type Fitting struct {
	Part    inventory.Part       `json:"part"`
	Verdict substitution.Verdict `json:"verdict"`
	Free    int                  `json:"free"`
	Offers  int                  `json:"offers"`
}

// FitAtPlace is what could go to a place of a job's bike.
type FitAtPlace struct {
	Job      pricing.Job
	Site     substitution.Site
	Fittings []Fitting
}

// WrongFamilyError says that a part is of another family than the place takes.
type WrongFamilyError struct {
	Site substitution.Site
	Part inventory.Part
}

func (e WrongFamilyError) Error() string {
	return fmt.Sprintf("the %s takes a %s, and %s is a %s", e.Site.Words, e.Site.Family, e.Part.Name, e.Part.Family)
}

// LoadFitAtPlace judges the catalogue for a place of a job's bike, at most so many parts; or one part alone, where one is
// named, which need not fit. A part of another family is a [WrongFamilyError].
func LoadFitAtPlace(ctx context.Context, db inventory.DB, jobID int64, site substitution.Site, part string, most int) (FitAtPlace, error) {
	job, err := pricing.JobByID(ctx, db, jobID)
	if err != nil {
		return FitAtPlace{}, err
	}
	build := job.Bike.Build.Complete()
	scene := substitution.Scene{Was: build, Now: build, Open: map[substitution.Place]bool{site.Place: true}}
	var parts []inventory.Part
	if part != "" {
		p, err := inventory.PartNamed(ctx, db, part)
		if err != nil {
			return FitAtPlace{}, err
		}
		if p.Family != site.Family {
			return FitAtPlace{}, WrongFamilyError{site, p}
		}
		parts = []inventory.Part{p}
	} else {
		known, unknown, err := inventory.Candidates(ctx, db, site.Family, scene.Narrow(site.Place), most)
		if err != nil {
			return FitAtPlace{}, err
		}
		parts = append(known, unknown...)
	}
	out := FitAtPlace{Job: job, Site: site}
	for _, p := range parts {
		out.Fittings = append(out.Fittings, Fitting{Part: p, Verdict: scene.Choose(site.Place, &p.Part).Check(site.Place)})
	}
	return out, countSources(ctx, db, out.Fittings)
}

// FitInstead is what could stand in for a part.
type FitInstead struct {
	Was      inventory.Part
	Fittings []Fitting
}

// LoadFitInstead judges the catalogue in the stead of a part, at most so many parts; or one other part alone, where one
// is named.
func LoadFitInstead(ctx context.Context, db inventory.DB, part, other string, most int) (FitInstead, error) {
	was, err := inventory.PartNamed(ctx, db, part)
	if err != nil {
		return FitInstead{}, err
	}
	if len(substitution.PlacesOf(was.Family)) == 0 {
		return FitInstead{}, fmt.Errorf("a %s sits at no place of a bike: no rule decides what stands in for it", was.Family)
	}
	var parts []inventory.Part
	if other != "" {
		p, err := inventory.PartNamed(ctx, db, other)
		if err != nil {
			return FitInstead{}, err
		}
		parts = []inventory.Part{p}
	} else {
		known, unknown, err := inventory.Candidates(ctx, db, was.Family, substitution.NarrowInstead(&was.Part), most)
		if err != nil {
			return FitInstead{}, err
		}
		parts = append(known, unknown...)
	}
	out := FitInstead{Was: was}
	for _, p := range parts {
		if p.ID == was.ID && other == "" {
			continue
		}
		verdict, err := substitution.Instead(&was.Part, &p.Part)
		if err != nil {
			return FitInstead{}, err
		}
		out.Fittings = append(out.Fittings, Fitting{Part: p, Verdict: verdict})
	}
	return out, countSources(ctx, db, out.Fittings)
}

// FitPair is whether two parts go together.
type FitPair struct {
	A, B    inventory.Part
	Verdict substitution.Verdict
}

// LoadFitPair judges two parts of the catalogue with each other.
func LoadFitPair(ctx context.Context, db inventory.DB, a, b string) (v FitPair, err error) {
	if v.A, err = inventory.PartNamed(ctx, db, a); err != nil {
		return v, err
	}
	if v.B, err = inventory.PartNamed(ctx, db, b); err != nil {
		return v, err
	}
	v.Verdict = substitution.Together(&v.A.Part, &v.B.Part)
	return v, nil
}

// NoRuleWords say that no rule joins the two; nothing is known then.
func (v FitPair) NoRuleWords() string {
	return fmt.Sprintf("no rule joins a %s and a %s", v.A.Family, v.B.Family)
}

// countSources adds how many are free on the shelf and how many suppliers' offers there are.
func countSources(ctx context.Context, db inventory.DB, list []Fitting) error {
	ids := make([]int64, len(list))
	for i, f := range list {
		ids[i] = f.Part.ID
	}
	stock, err := inventory.StockOf(ctx, db, ids)
	if err != nil {
		return err
	}
	offers, err := inventory.OffersOf(ctx, db, ids)
	if err != nil {
		return err
	}
	for i, id := range ids {
		list[i].Free, list[i].Offers = stock[id].Free(), len(offers[id])
	}
	return nil
}
