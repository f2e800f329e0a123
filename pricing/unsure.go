package pricing

import (
	"fmt"
	"slices"

	"stead/substitution"
	"stead/substitution/inspection"
)

// UnsurePart is a part of the catalogue that might fit; it is never offered as fitting.
type UnsurePart struct {
	Place   substitution.Place `json:"place"`
	PartID  int64              `json:"part_id"`
	Name    string             `json:"name"`
	Measure []string           `json:"measure"` // what to measure, and how
	Asks    []Ask              `json:"asks,omitempty"`
}

// Ask is a dimension that is not known and would settle whether a part fits.
type Ask struct {
	Place     substitution.Place `json:"place"`
	PartID    int64              `json:"part_id,omitempty"` // of the catalogue; absent: of the part on the bike
	Dimension string             `json:"dimension"`
	Words     string             `json:"words"`             // "bolt pattern"
	Measure   string             `json:"measure"`           // how to find it out
	FitsIf    []string           `json:"fits_if,omitempty"` // the answers with which the part fits, as far as they can be told
}

// mostUnsure is how many parts that might fit are named for one need, and mostAsked how many are looked at for it.
const (
	mostUnsure = 5
	mostAsked  = 40
)

// unsure lists the parts that one answer would make fit, with the answer. Where nothing is known to fit a need, those that
// fewest answers would settle are listed for it, however many that is.
func (s Situation) unsure() []UnsurePart {
	var out []UnsurePart
	scene := s.scene()
	for i, n := range s.Needs {
		var list []UnsurePart
		known := s.known(scene, i)
		ids := s.Unsure[i]
		if !known { // where too little is known of the old part, what there is of its family might fit as well
			ids = slices.Concat(ids, s.Candidates[i])
		}
		for k, id := range ids {
			if slices.Contains(ids[:k], id) || k >= mostAsked {
				continue
			}
			if u, might := s.mightFit(scene, n, id); might {
				list = append(list, u)
			}
		}
		slices.SortStableFunc(list, func(a, b UnsurePart) int { return len(a.Asks) - len(b.Asks) })
		most := 1
		if len(list) > 0 && !known {
			most = len(list[0].Asks)
		}
		list = slices.DeleteFunc(list, func(u UnsurePart) bool { return len(u.Asks) > most })
		out = append(out, list[:min(mostUnsure, len(list))]...)
	}
	return out
}

// known reports whether a part that can be had is known to fit a need with all that is kept.
func (s Situation) known(scene substitution.Scene, need int) bool {
	at := s.Needs[need].Place
	return slices.ContainsFunc(s.Candidates[need], func(id int64) bool {
		part := s.Parts[id].Part
		return s.obtainable(id) && len(scene.Choose(at, &part).Check(at).Stops()) == 0
	})
}

// mightFit says what would settle whether a part fits; false where something speaks against it whatever the answer.
func (s Situation) mightFit(scene substitution.Scene, n inspection.Need, id int64) (UnsurePart, bool) {
	part := s.Parts[id].Part
	u := UnsurePart{Place: n.Place, PartID: id, Name: part.Name}
	verdict := scene.Choose(n.Place, &part).Check(n.Place)
	if verdict.Fits == substitution.Breaks {
		return u, false
	}
	missing := verdict.Missing()
	for _, m := range missing {
		ask := Ask{Place: m.Place, Dimension: m.Dimension, Measure: m.Measure, Words: m.Dimension}
		site, err := substitution.SiteOf(m.Place)
		if err != nil {
			return u, false
		}
		whose := "on the bike"
		if m.Place == n.Place && !m.Old {
			ask.PartID, whose = id, "of "+part.Name
		}
		d, known := dimensionOf(site.Family, m.Dimension)
		if known {
			ask.Words = d.Plain()
		}
		if len(missing) == 1 && known {
			ask.FitsIf = answersThatFit(scene, n.Place, part, m, d)
			if len(ask.FitsIf) == 0 && len(d.Words) > 0 {
				return u, false // no word would do
			}
		}
		words := fmt.Sprintf("%s of the %s %s: %s", ask.Words, site.Words, whose, m.Measure)
		if len(ask.FitsIf) > 0 {
			words = fmt.Sprintf("fits if the %s %s is %s (%s)", ask.Words, whose, joinOr(ask.FitsIf), m.Measure)
		}
		u.Asks, u.Measure = append(u.Asks, ask), append(u.Measure, words)
	}
	return u, len(u.Asks) > 0
}

func dimensionOf(family substitution.Family, name string) (substitution.Dimension, bool) {
	table, err := substitution.TableOf(family)
	if err != nil {
		return substitution.Dimension{}, false
	}
	return table.Dimension(name)
}

// answersThatFit are the values of a missing dimension with which a part fits: of the words that it may take, or of the
// figures that rules hold it against.
func answersThatFit(scene substitution.Scene, at substitution.Place, part substitution.Part, m substitution.Missing, d substitution.Dimension) []string {
	var tried []substitution.Value
	for _, w := range d.Words {
		tried = append(tried, substitution.Text(w))
	}
	for _, i := range substitution.Instances(m.Place) {
		if !slices.ContainsFunc(i.Reads(), func(r substitution.Ref) bool { return r.Place == m.Place && r.Dimension == m.Dimension }) {
			continue
		}
		for _, r := range i.Reads() {
			for _, p := range []*substitution.Part{scene.Was[r.Place], scene.Now[r.Place], &part} {
				if v, known := p.Get(r.Dimension); known {
					tried = append(tried, v)
				}
			}
		}
	}
	var fit []string
	for _, v := range tried {
		v, err := d.Check(v)
		if err != nil {
			continue
		}
		words := d.Show(v)
		if !slices.Contains(fit, words) && fitsWith(scene, at, part, m, v) {
			fit = append(fit, words)
		}
	}
	if len(d.Words) > 0 && len(fit) == len(d.Words) && len(fit) > 4 {
		return []string{"any of its words"}
	}
	return fit
}

// fitsWith reports whether a part fits where the missing dimension has a value.
func fitsWith(scene substitution.Scene, at substitution.Place, part substitution.Part, m substitution.Missing, v substitution.Value) bool {
	answered := func(p *substitution.Part, family substitution.Family) *substitution.Part {
		out := substitution.Part{Family: family}
		if p != nil {
			out = *p
		}
		out.Spec = out.Spec.With(m.Dimension, v, substitution.Measured)
		return &out
	}
	if m.Place == at && !m.Old {
		return scene.Choose(at, answered(&part, part.Family)).Check(at).Fits == substitution.Holds
	}
	site, err := substitution.SiteOf(m.Place)
	if err != nil {
		return false
	}
	known := answered(scene.Was[m.Place], site.Family)
	told := substitution.Scene{Was: scene.Was.With(m.Place, known), Now: scene.Now, Open: scene.Open, Waived: scene.Waived}
	if !m.Old {
		told.Now = scene.Now.With(m.Place, known)
	}
	return told.Choose(at, &part).Check(at).Fits == substitution.Holds
}
