package desk

import (
	"slices"
	"strings"

	"stead/substitution"
	"stead/substitution/inspection"
)

// PlaceMark is a place of a bike with how it stands in a job.
type PlaceMark struct {
	Place substitution.Place
	Words string
	Mark  Mark
}

// Told reports whether something was found at the place.
func (p PlaceMark) Told() bool { return p.Mark != Unseen }

// PlaceAt is a place with how it stands in the job.
func (v Job) PlaceAt(place substitution.Place) PlaceMark {
	return PlaceMark{place, SiteWords(place), v.MarkAt(place)}
}

// Round is a part of the walk round the bike: what was looked at or is on record there, and what else could be.
type Round struct {
	Title       string
	Known, Rest []PlaceMark
}

// rounds name the parts of the walk by how their places begin.
var rounds = []struct {
	title  string
	begins []string
}{
	{"Chain, rings and gears", []string{"chain", "crank", "rear.cassette", "rear.freewheel", "rear.sprocket", "rear.derailleur", "front.derailleur", "rear.hanger", "shifter", "rear.gear-", "front.gear-", "bottom-bracket", "pedals"}},
	{"Brakes", []string{"front.lever", "rear.lever", "front.brake-", "rear.brake-", "front.rim-pads", "rear.rim-pads", "front.rotor", "rear.rotor", "front.caliper", "rear.caliper", "front.pads", "rear.pads", "front.hose", "rear.hose", "front.adapter", "rear.adapter"}},
	{"Front wheel", []string{"front."}},
	{"Rear wheel", []string{"rear."}},
	{"Steering and saddle", []string{"headset", "stem", "handlebar", "fork", "seatpost", "saddle"}},
	{"Frame and what is on it", []string{"frame"}},
	{"Bench", []string{"bench."}},
}

// RoundsOf are all places in the order of the walk, parted by where they are.
func RoundsOf(job Job) []Round {
	out := make([]Round, len(rounds))
	for i, r := range rounds {
		out[i].Title = r.title
	}
	for _, site := range substitution.Sites() {
		i := slices.IndexFunc(rounds, func(r struct {
			title  string
			begins []string
		}) bool {
			return slices.ContainsFunc(r.begins, func(b string) bool { return strings.HasPrefix(string(site.Place), b) })
		})
		mark := job.PlaceAt(site.Place)
		if _, recorded := job.Bike.Build[site.Place]; recorded || mark.Told() {
			out[i].Known = append(out[i].Known, mark)
		} else {
			out[i].Rest = append(out[i].Rest, mark)
		}
	}
	return out
}

// AtPlace is one place of a job's bike: what can be read there, what was, and what is fitted.
type AtPlace struct {
	substitution.Site
	Finding  *Finding // none where nothing was found yet
	Taken    []Read   // what was read so far
	Readings []substitution.Reading
	Facts    []Fact
	Part     *substitution.Part // on record; nil where nothing is known of it
}

// Read is a reading that was taken.
type Read struct{ Name, Words string }

// Fact is a dimension of what is fitted, as far as known.
type Fact struct {
	substitution.Dimension
	Value, Origin string
}

// At gathers what there is to know of a place of the job's bike; the error names places that are called alike.
func (v Job) At(place substitution.Place) (AtPlace, error) {
	site, err := substitution.SiteOf(place)
	if err != nil {
		return AtPlace{}, err
	}
	out := AtPlace{Site: site, Readings: substitution.ReadingsOf(site.Family), Part: v.Bike.Build[place]}
	for _, f := range v.Findings {
		if f.Place != place {
			continue
		}
		told := TellFinding(f)
		out.Finding = &told
		for _, r := range out.Readings {
			if value, taken := f.Readings[r.Name]; taken {
				out.Taken = append(out.Taken, Read{r.Name, readSays(site.Family, inspection.Readings{r.Name: value})[0]})
			}
		}
	}
	table, err := substitution.TableOf(site.Family)
	if err != nil {
		return out, err
	}
	var known substitution.Spec
	if out.Part != nil {
		known = out.Part.Spec
	}
	for _, name := range table.Asked(known) {
		d, _ := table.Dimension(name)
		fact := Fact{Dimension: d}
		if f, has := known[name]; has {
			fact.Value, fact.Origin = f.Value.String(), string(f.Origin)
		}
		if name != "pack" {
			out.Facts = append(out.Facts, fact)
		}
	}
	return out, nil
}
