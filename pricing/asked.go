package pricing

import (
	"context"
	"fmt"
	"slices"

	"stead/inventory"
	"stead/substitution"
)

// addAsked puts the parts that are asked for among the candidates of their needs, so that if one of them does not do the
// quote can say why.
func (s *Situation) addAsked(ctx context.Context, db inventory.DB) error {
	for i, n := range s.Needs {
		id, asked := s.Job.Limits.vouchedPart(n.Place)
		if !asked {
			id, asked = s.Job.Limits.OnlyParts[n.Place]
		}
		if !asked || slices.Contains(s.Candidates[i], id) {
			continue
		}
		part, err := inventory.PartByID(ctx, db, id)
		if err != nil {
			return err
		}
		s.Candidates[i] = append(s.Candidates[i], s.keep([]inventory.Part{part})...)
	}
	return nil
}

// asked reports whether a part is asked for by name at a place. What was declined before counts no more against it.
func (s Situation) asked(place substitution.Place) bool {
	_, asked := s.Job.Limits.OnlyParts[place]
	return asked
}

// askedDoesNotFit says of each part that is asked for and does not fit why not.
func (s Situation) askedDoesNotFit() []string {
	var out []string
	for _, n := range s.Needs {
		id, asked := s.Job.Limits.OnlyParts[n.Place]
		if !asked {
			continue
		}
		part := s.Parts[id]
		if stops := s.scene().Choose(n.Place, &part.Part).Check(n.Place).Stops(); len(stops) > 0 {
			out = append(out, notFitting(part.Name, stops[0]))
		} else if !s.obtainable(id) {
			out = append(out, fmt.Sprintf("neither the shelf nor any supplier has %s", part.Name))
		}
	}
	return out
}
