package pricing

import (
	"cmp"
	"context"
	"slices"

	"stead/inventory"
	"stead/substitution"
	"stead/substitution/inspection"
)

// mostReplacing is how many ways to do a job by replacing more are named: the cheapest. mostTried bounds how many are
// worked out for it, each of them a whole job, and mostTogether how many kept parts are given up at once.
const (
	mostReplacing = 3
	mostTried     = 16
	mostTogether  = 3
)

// replacingMore looks for kept parts that stand in the way of a job: with which of them replaced as well it could be done,
// and what it would then come to. "The derailleur takes 28 teeth at most" is no way out; what a longer one costs is.
func (s Situation) replacingMore(ctx context.Context, db inventory.DB) ([]string, error) {
	prices, err := labourPrices(ctx, db, s.Shop.Hourly)
	if err != nil {
		return nil, err
	}
	type way struct {
		words string
		Option
	}
	var ways []way
	var enough [][]substitution.Place
	for _, places := range s.worthReplacing() {
		if slices.ContainsFunc(enough, func(e []substitution.Place) bool { return containsAll(places, e) }) {
			continue
		}
		more, unpriced, err := s.replacing(ctx, db, places, prices)
		if err != nil {
			return nil, err
		}
		q, err := more.Draft(ctx)
		if err != nil {
			return nil, err
		}
		for _, o := range q.Options {
			if o.Named("cheapest") {
				enough = append(enough, places)
				ways = append(ways, way{s.wayOut("replace "+placesInWords(places)+" as well"+unpriced, o), o})
			}
		}
	}
	slices.SortStableFunc(ways, func(a, b way) int { return cmp.Or(a.Total.Cmp(b.Total), cmp.Compare(a.ReadyOn, b.ReadyOn)) })
	var words []string
	for _, w := range ways[:min(mostReplacing, len(ways))] {
		words = append(words, w.words)
	}
	return words, nil
}

// replacing is the situation in which the parts at some more places are replaced, and what its price lacks.
func (s Situation) replacing(ctx context.Context, db inventory.DB, places []substitution.Place, prices map[work]Labour) (more Situation, unpriced string, err error) {
	job := s.Job
	job.Findings = slices.DeleteFunc(slices.Clone(job.Findings), func(f inspection.Finding) bool { return slices.Contains(places, f.Place) })
	labour := slices.DeleteFunc(slices.Clone(s.Labour), func(l LabourLine) bool { return slices.Contains(places, l.Place) })
	for _, p := range places {
		finding := inspection.Finding{Place: p, Action: inspection.Replace}
		job.Findings = append(job.Findings, finding)
		lines, err := labourLines([]inspection.Finding{finding}, prices, s.Taxes)
		if err != nil {
			unpriced = ", not all labour counted"
		}
		labour = append(labour, lines...)
	}
	more, err = situationOf(ctx, db, job, s.Terms, s.Terms.needs(inspection.Needs(job.Bike.Build, job.Findings)), s.Now)
	more.Labour = labour
	return more, unpriced, err
}

// worthReplacing are sets of kept parts that might be in the way, small ones first: of those that stop what could be had,
// or where nothing could, each that has a say.
func (s Situation) worthReplacing() [][]substitution.Place {
	blocking, most := s.blocking(), mostTogether
	if len(blocking) == 0 {
		blocking, most = s.keptBeside(), 1
	}
	var sets [][]substitution.Place
	for size := 1; size <= most; size++ {
		for _, set := range subsets(blocking, size) {
			if len(sets) < mostTried {
				sets = append(sets, set)
			}
		}
	}
	return sets
}

// blocking are the places of the kept parts that stop whatever could be had for a need that nothing fits.
func (s Situation) blocking() []substitution.Place {
	scene := s.scene()
	var out []substitution.Place
	for i, n := range s.Needs {
		var stopping []substitution.Place
		fits := false
		for _, id := range s.Candidates[i] {
			if !s.obtainable(id) {
				continue
			}
			part := s.Parts[id].Part
			stops := scene.Choose(n.Place, &part).Check(n.Place).Stops()
			fits = fits || len(stops) == 0
			for _, f := range stops {
				stopping = append(stopping, s.keptUnder(n.Place, f)...)
			}
		}
		if !fits {
			out = append(out, stopping...)
		}
	}
	return unique(out)
}

// keptUnder are the places of kept parts that a finding about a place looked at.
func (s Situation) keptUnder(place substitution.Place, f substitution.Finding) []substitution.Place {
	var out []substitution.Place
	for _, rule := range substitution.Instances(place) {
		if rule.Rule() == f.Rule && rule.At() == f.At {
			out = append(out, s.kept(rule)...)
		}
	}
	return out
}

// keptBeside are the places of kept parts that a mating or safety rule sets beside one of the needs.
func (s Situation) keptBeside() []substitution.Place {
	var out []substitution.Place
	for _, n := range s.Needs {
		for _, rule := range substitution.Instances(n.Place) {
			if rule.Rule().Severity.Stops() {
				out = append(out, s.kept(rule)...)
			}
		}
	}
	return unique(out)
}

// kept are the places that a rule looks at whose part is on record and stays.
func (s Situation) kept(rule substitution.Instance) []substitution.Place {
	scene := s.scene()
	return slices.DeleteFunc(slices.Clone(rule.Places()), func(p substitution.Place) bool {
		_, there := scene.Now[p]
		return !there || scene.Open[p]
	})
}

// unique are the places without repetition, in the order in which they first come.
func unique(places []substitution.Place) []substitution.Place {
	var out []substitution.Place
	for _, p := range places {
		if !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	return out
}

func containsAll(set, subset []substitution.Place) bool {
	return !slices.ContainsFunc(subset, func(p substitution.Place) bool { return !slices.Contains(set, p) })
}

// subsets are the subsets of a size, in lexicographic order.
func subsets(of []substitution.Place, size int) [][]substitution.Place {
	if size == 0 {
		return [][]substitution.Place{nil}
	}
	var out [][]substitution.Place
	for i := range of {
		for _, rest := range subsets(of[i+1:], size-1) {
			out = append(out, append([]substitution.Place{of[i]}, rest...))
		}
	}
	return out
}

func placesInWords(places []substitution.Place) string {
	words := make([]string, len(places))
	for i, p := range places {
		words[i] = "the " + siteWords(p)
	}
	return joinAnd(words)
}
