package solver

import (
	"cmp"
	"context"
	"slices"

	"stead/substitution"
	"stead/substitution/solver/choose"
)

// refuse explains why nothing fits.
func (m *model) refuse(ctx context.Context) *Refusal {
	r := &Refusal{}
	r.GiveUps, r.All = m.giveUps(ctx)
	for i := range m.needs {
		r.Nearest = append(r.Nearest, m.nearest(i, nearestShown)...)
	}
	r.Blocking = m.blocking(ctx)
	return r
}

// nearestShown is how many candidates that come near are named for a need.
const nearestShown = 3

// giveUps tries sets of wishes to give up, smaller ones first, and leaves out every set that contains one that was
// enough: what is found is therefore minimal, and nothing minimal is missed. It reports whether it went through all.
func (m *model) giveUps(ctx context.Context) ([]GiveUp, bool) {
	wishes := make([]int, len(m.p.Wishes))
	for i := range wishes {
		wishes[i] = i
	}
	most := m.p.MostGiveUps
	if most <= 0 {
		most = defaultGiveUps
	}
	without := func(given []int) func(int) bool {
		return func(w int) bool { return !slices.Contains(given, w) }
	}
	possible, sure := m.possible(ctx, without(wishes), "")
	if !possible {
		return nil, sure
	}
	var found []GiveUp
	for size := 1; size <= len(wishes); size++ {
		complete := subsets(wishes, size, func(given []int) bool {
			if slices.ContainsFunc(found, func(g GiveUp) bool { return contains(given, g.Wishes) }) {
				return true
			}
			possible, proven := m.possible(ctx, without(given), "")
			if possible {
				if len(found) == most {
					return false
				}
				f := m.under(without(given), "")
				result, err := choose.Solve(ctx, f.Problem)
				if err != nil || len(result.Front) == 0 {
					return false
				}
				front := f.options(result.Front)
				found = append(found, GiveUp{Wishes: slices.Clone(given), Front: front, Picks: pick(front)})
			}
			return possible || proven
		})
		if !complete {
			return found, false
		}
	}
	return found, true
}

// possible reports whether any choice keeps these wishes, and whether that is proven: a search that was stopped has
// found nothing, which proves nothing.
func (m *model) possible(ctx context.Context, kept func(int) bool, without substitution.Place) (possible, proven bool) {
	result, err := choose.Any(ctx, m.under(kept, without).Problem)
	return err == nil && len(result.Front) > 0, err == nil && result.Proven
}

// subsets visits the subsets of a size in lexicographic order until visit returns false, and reports whether it saw all.
func subsets(of []int, size int, visit func([]int) bool) bool {
	chosen := make([]int, 0, size)
	var from func(i int) bool
	from = func(i int) bool {
		if len(chosen) == size {
			return visit(chosen)
		}
		for ; i <= len(of)-(size-len(chosen)); i++ {
			chosen = append(chosen, of[i])
			if !from(i + 1) {
				return false
			}
			chosen = chosen[:len(chosen)-1]
		}
		return true
	}
	return from(0)
}

func contains(set, subset []int) bool {
	return !slices.ContainsFunc(subset, func(x int) bool { return !slices.Contains(set, x) })
}

// nearest lists a need's candidates by how little stops them beside the kept parts, if none of them fits there.
func (m *model) nearest(need, most int) []Nearest {
	var out []Nearest
	n := m.needs[need]
	for c, id := range n.Candidates {
		var v substitution.Verdict
		for _, b := range m.binding {
			if len(b.needs) == 1 && b.needs[0] == need {
				if j := b.judge(m, []int{b.marks[0][c]}); j.Answer != 0 {
					v.Findings = append(v.Findings, substitution.Finding{Rule: b.instance.Rule(), At: b.instance.At(), Judgement: j})
				}
			}
		}
		stops := v.Stops()
		if len(stops) == 0 {
			return nil
		}
		out = append(out, Nearest{Need: n.ID, Part: id, Stops: stops})
	}
	slices.SortStableFunc(out, func(a, b Nearest) int { return cmp.Compare(len(a.Stops), len(b.Stops)) })
	return out[:min(most, len(out))]
}

// blocking looks for kept parts without which the job would be possible, one at a time.
func (m *model) blocking(ctx context.Context) []Blocking {
	var out []Blocking
	for _, p := range m.keptPlaces() {
		if !slices.ContainsFunc(m.binding, func(b *binding) bool { return b.looksAt(p) }) {
			continue
		}
		if possible, _ := m.possible(ctx, all, p); !possible {
			continue
		}
		out = append(out, Blocking{p, m.forbids(p)})
	}
	return out
}

// forbids are examples of what the part at a place stops, one for each rule that looks at it.
func (m *model) forbids(p substitution.Place) []substitution.Finding {
	var out []substitution.Finding
	for _, b := range m.binding {
		rule := b.instance.Rule()
		if !b.looksAt(p) || !rule.Severity.Stops() || len(b.needs) != 1 {
			continue
		}
		for mark := range b.stand[0] {
			if j := b.judge(m, []int{mark}); j.Answer == substitution.Breaks || j.Answer == substitution.CantTell {
				out = append(out, substitution.Finding{Rule: rule, At: b.instance.At(), Judgement: j})
				break
			}
		}
	}
	return out
}
