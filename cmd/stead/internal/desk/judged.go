package desk

import (
	"fmt"
	"maps"

	"stead/inventory"
	"stead/substitution"
)

// judgeAnew tells of what was agreed and is not yet on the bike where the rules as they are now would not take it: the rule,
// or what is known of the bike, has changed since. What somebody answers for is not asked again.
func (v *Job) judgeAnew() {
	if v.Approval == nil {
		return
	}
	build := v.Bike.Build.Complete()
	scene := substitution.Scene{Was: build, Now: maps.Clone(build), Waived: v.Limits.Waived()}
	if scene.Now == nil {
		scene.Now = substitution.Build{}
	}
	var places []substitution.Place
	choose := func(place substitution.Place, id int64) {
		part, known := v.Parts[id]
		if site, err := substitution.SiteOf(place); err != nil || !known || site.Family != part.Family {
			return // what another part brings sits nowhere
		}
		scene.Now[place] = &part.Part
		places = append(places, place)
	}
	for _, h := range v.Held {
		choose(h.Place, h.PartID)
	}
	for _, c := range v.Claims {
		if c.State == inventory.ClaimWanted || c.State == inventory.ClaimOrdered {
			choose(c.Place, c.PartID)
		}
	}
	for _, place := range places {
		verdict := scene.Check(place)
		if verdict.Acceptable() {
			continue
		}
		for _, f := range verdict.Stops() {
			v.Changed = append(v.Changed, fmt.Sprintf("%s: agreed before, and by the rules and the record as they are now %s: %s", SiteWords(place), answerWords(f.Answer), f.Words))
		}
	}
}

func answerWords(a substitution.Answer) string {
	if a == substitution.Breaks {
		return "it does not go on"
	}
	return "nobody can tell whether it goes on"
}
