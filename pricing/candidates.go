package pricing

import (
	"context"
	"fmt"
	"slices"

	"stead/inventory"
	"stead/substitution"
	"stead/substitution/inspection"
)

// mostCandidates bounds the search for one need. Where a catalogue has more parts that fit and can be had, those on the
// shelf come first.
const mostCandidates = 2000

// enough is how many parts to choose from are so many that none is worth measuring, to see if it might fit too.
const enough = 50

// mostNearest bounds how many parts of a family are looked at for the reasons why none fits.
const mostNearest = 200

// found is what a catalogue has for a need.
type found struct {
	parts  []inventory.Part
	all    bool // parts are all that fit and can be had
	unsure []inventory.Part
}

// findCandidates looks for the parts that could meet each need. Needs of which the parts that stay ask most come first:
// where those ask nothing of a need, because all that it mates with is to be replaced too, the parts found for the others
// may agree on what it must be. Only 8-speed cassettes fit, so a chain for 8 speeds is looked for among all chains.
func (s *Situation) findCandidates(ctx context.Context, db inventory.DB) error {
	scene := s.scene()
	s.Candidates, s.Unsure = make([][]int64, len(s.Needs)), make([][]int64, len(s.Needs))
	asked, order := make([][]substitution.Condition, len(s.Needs)), make([]int, len(s.Needs))
	for i, n := range s.Needs {
		asked[i], order[i] = scene.Narrow(n.Place), i
	}
	slices.SortStableFunc(order, func(i, j int) int { return len(asked[j]) - len(asked[i]) })

	results := make([]found, len(s.Needs))
	known := map[string]found{} // the balls of a hub's two sides are one question
	for k, i := range order {
		n, conditions := s.Needs[i], asked[i]
		for _, j := range order[:k] {
			if len(asked[i]) == 0 && results[j].all && s.Needs[j].Place != "crank" { // a crankset may bring rings of its own
				conditions = append(conditions, agreed(scene, s.Needs[j].Place, results[j].parts, n.Place)...)
			}
		}
		question := fmt.Sprintf("%s %#v", n.Family, conditions)
		result, before := known[question]
		if !before {
			var err error
			if result, err = findFitting(ctx, db, n.Family, conditions); err != nil {
				return fmt.Errorf("looking for a %s: %w", n.Family, err)
			}
			known[question] = result
		}
		result.parts, result.unsure = soldSo(n, result.parts), soldSo(n, result.unsure)
		results[i] = result
		s.Candidates[i], s.Unsure[i] = s.keep(result.parts), s.keep(result.unsure)
	}
	return nil
}

// soldSo are the parts that a need can be counted in: what is wanted in metres comes off a roll, and what is said to be
// wanted in pieces, or is but one, does not, unless somebody counted the pieces.
func soldSo(n inspection.Need, parts []inventory.Part) []inventory.Part {
	table, err := substitution.TableOf(n.Family)
	if err != nil || !table.ByMetre || table.Counted && n.Metres == 0 {
		return parts
	}
	return slices.DeleteFunc(slices.Clone(parts), func(p inventory.Part) bool { return p.IsByMetre() != (n.Metres > 0) })
}

// keep remembers parts and gives their numbers.
func (s *Situation) keep(parts []inventory.Part) []int64 {
	var ids []int64
	for _, p := range parts {
		s.Parts[p.ID] = p
		ids = append(ids, p.ID)
	}
	return ids
}

// agreed are the conditions for a place that hold whichever of some parts is chosen at another.
func agreed(scene substitution.Scene, at substitution.Place, parts []inventory.Part, place substitution.Place) []substitution.Condition {
	var all []substitution.Condition
	for i := range parts {
		conditions := scene.Choose(at, &parts[i].Part).Narrow(place)
		if i == 0 {
			all = conditions
			continue
		}
		var both []substitution.Condition
		for _, a := range all {
			for _, b := range conditions {
				if c, same := substitution.Either(a, b); same {
					both = append(both, c)
					break
				}
			}
		}
		if all = both; len(all) == 0 {
			break
		}
	}
	return all
}

// findFitting looks for the parts that satisfy the conditions of a need and can be had, and where they are few for others
// that might. Where there are none, what nobody has comes in their place, and where nothing fits the nearest of the
// family, of which the rules say by which each fails.
func findFitting(ctx context.Context, db inventory.DB, family substitution.Family, conditions []substitution.Condition) (f found, err error) {
	f.parts, err = inventory.ObtainableCandidates(ctx, db, family, conditions, mostCandidates)
	if err != nil {
		return f, err
	}
	f.all = len(f.parts) > 0 && len(f.parts) < mostCandidates
	if len(f.parts) < enough {
		if f.unsure, err = inventory.UnknownCandidates(ctx, db, family, conditions, mostAsked); err != nil {
			return f, err
		}
	}
	if len(f.parts) == 0 {
		f.parts, err = inventory.KnownCandidates(ctx, db, family, conditions, mostNearest)
	}
	if len(f.parts) == 0 && err == nil {
		f.parts, err = inventory.KnownCandidates(ctx, db, family, nil, mostNearest)
	}
	return f, err
}
