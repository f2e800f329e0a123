package note

import (
	"slices"
	"strings"

	"stead/substitution"
	"stead/substitution/inspection"
)

// fitting is the predicate in the form that the parts take it; nil if one of them cannot have it.
func (p *parser) fitting(st *statement, pr *predicate) *predicate {
	out := *pr
	for i, m := range st.means {
		for _, place := range m.places {
			site, err := substitution.SiteOf(place)
			if err != nil || !p.fit(&trial{st.parts[i], site, pr, &out}) {
				return nil
			}
		}
	}
	return &out
}

// trial is a predicate that is said of a part at a place, and the form it takes there.
type trial struct {
	part *nounPhrase
	site substitution.Site
	said *predicate
	out  *predicate
}

// takesIt is whether a part can have what is said of it.
type takesIt uint8

const (
	perhaps takesIt = iota
	never
	surely
)

// fits are what decides whether a part can have what is said of it; the first that is sure does.
var fits = []func(*parser, *trial) takesIt{(*parser).fitsAction, (*parser).fitsLamp, (*parser).fitsSpokes, (*parser).fitsPart, (*parser).fitsBent, (*parser).fitsBalls, (*parser).fitsCrack}

// fit reports whether the part can have what is said of it.
func (p *parser) fit(f *trial) bool {
	for _, decides := range fits {
		if d := decides(p, f); d != perhaps {
			return d == surely
		}
	}
	return f.named()
}

// fitsAction: the bearings of a hub are to be replaced, not the hub; of one side of a pair that is one place nothing is
// kept; not every part can be trued.
func (p *parser) fitsAction(f *trial) takesIt {
	n, family := f.part, f.site.Family
	switch f.said.action {
	case inspection.Replace:
		if n.inHub && family == "hub" || p.saidAs(f.said, "dead") && electric[family] || p.someSpokes(n, family) || p.onlyRid(f.said, family) {
			return never
		}
	case inspection.Keep:
		if family == "axle" && p.saidAs(f.said, "solid") {
			return never // what kind it is
		}
		if n.head != nil && n.head.oneForBoth() && p.letters(n)&sides != 0 && !both(n.mod&sides) {
			return never // of the other side nothing is said
		}
	case inspection.Adjust, inspection.Clean:
		if !p.canBe(f.said, family) {
			return never
		}
	}
	return perhaps
}

// someSpokes reports that spokes are counted and it is not said on which side they are: "replace two front spokes".
func (p *parser) someSpokes(n *nounPhrase, family substitution.Family) bool {
	if family != "spoke" || n.mod&(sides|letterL|letterR) != 0 || n.sides || n.every || len(n.spans) == 0 {
		return false
	}
	return p.pastCount(n.spans[0]) > n.spans[0].first
}

// electric are the parts of which "dead" may only say that they have no current.
var electric = map[substitution.Family]bool{"display": true, "drive-battery": true, "speed-sensor": true, "charger": true}

// fitsLamp: a dead lamp is dark.
func (p *parser) fitsLamp(f *trial) takesIt {
	if f.site.Family != "lamp" || f.said.action != inspection.Replace || !p.saidAs(f.said, "dead") {
		return perhaps
	}
	f.out.action, f.out.readings = "", []fact{{"lit", substitution.Text("dark")}}
	return surely
}

// fitsSpokes: spokes that are counted as broken are counted, "two broken spokes", "spokes: two snapped".
func (p *parser) fitsSpokes(f *trial) takesIt {
	if f.site.Family != "spoke" || f.said.negated || len(f.said.readings) != 1 || f.said.readings[0].name != "damaged" || !p.saidBroken(f.said) {
		return perhaps
	}
	counted, at := p.countBefore(f.said.spans[0].first)
	if at == (span{}) && len(f.part.spans) > 0 {
		counted, at = p.countBefore(p.pastCount(f.part.spans[0]))
	}
	if at == (span{}) || counted < 1 || counted > mostSpokes {
		return perhaps
	}
	if n := f.part; n.mod&(sides|letterL|letterR) == 0 && !n.sides && !n.every {
		return never // on which side there are so many is not said
	}
	f.out.readings, f.out.spans = []fact{count("broken", counted)}, append([]span{at}, f.said.spans...)
	return surely
}

// saidBroken reports that a part is said to have come apart, and not only to be bent or cut.
func (p *parser) saidBroken(pr *predicate) bool {
	for _, sp := range pr.spans {
		for i := sp.first; i < sp.last; i++ {
			for _, word := range []string{"broke", "snapped", "sheared", "busted"} {
				if strings.Contains(p.at(i).text, word) {
					return true
				}
			}
		}
	}
	return false
}

// countBefore is the whole number that stands right before item i, or with which it begins, and where.
func (p *parser) countBefore(i int) (float64, span) {
	if first, _, many := strings.Cut(p.at(i).text, " "); many {
		if s := p.l.phrase(first); s != nil && s.class == ones {
			return s.number, span{i, i + 1}
		}
	}
	for j := max(0, i-3); j < i; j++ {
		for _, n := range p.wholes(j) {
			if n.next == i {
				return n.v, span{j, i}
			}
		}
	}
	return 0, span{}
}

// pastCount is the item after the number with which a part begins, "two spokes".
func (p *parser) pastCount(sp span) int {
	if ws := p.wholes(sp.first); len(ws) > 0 && ws[0].next <= sp.last {
		return ws[0].next
	}
	return sp.first
}

// fitsPart: a race is pitted, not its balls, and after one side of a wheel "tension even" does not say of which.
func (p *parser) fitsPart(f *trial) takesIt {
	if len(f.said.readings) != 1 {
		return perhaps
	}
	switch h := f.part.head; f.said.readings[0].name {
	case "pitted":
		if h != nil && f.site.Family == "loose-balls" && (h == p.l.phrase("race").head || h == p.l.phrase("races").head) {
			return never
		}
	case "tension":
		if f.part.again && strings.HasPrefix(p.at(f.said.spans[len(f.said.spans)-1].first).text, "tension") {
			return never
		}
	}
	return perhaps
}

// fitsBent: what is bent is called otherwise of each family.
func (p *parser) fitsBent(f *trial) takesIt {
	if !f.said.bend && !f.said.straight {
		return perhaps
	}
	cage := f.part.head != nil && f.part.head.cage
	r, ok := bent(f.site.Family, cage, f.said.bend)
	if f.site.Family == "hanger" && p.saidAs(f.said, "out of true") {
		return never
	}
	if !ok || f.site.Family == "hanger" && !p.outright(f.said) {
		return never
	}
	f.out.readings = []fact{r}
	f.out.bend, f.out.straight = f.said.bend, f.said.straight
	return surely
}

// fitsBalls: balls are said of a house that has some on the side that is told.
func (p *parser) fitsBalls(f *trial) takesIt {
	switch {
	case !f.said.balls:
		return perhaps
	case len(p.ballsOf(f.part, f.said, f.site.Place)) == 0:
		return never
	}
	return surely
}

// fitsCrack: a frame and a fork have a reading for a crack.
func (p *parser) fitsCrack(f *trial) takesIt {
	if f.site.Family != "fork" && f.site.Family != "frame" || len(f.said.readings) != 1 || f.said.readings[0].name != "damaged" || !p.ofCracks(f.said) {
		return perhaps
	}
	f.out.readings = []fact{{"cracked", f.said.readings[0].value}}
	return surely
}

// named reports that the family has the readings and the dimensions, as they are said.
func (f *trial) named() bool {
	for _, r := range f.said.readings {
		if _, ok := readingValue(f.site.Family, r); !ok {
			return false
		}
	}
	for _, d := range f.said.facts {
		if _, ok := factValue(f.site.Family, d); !ok {
			return false
		}
		if d.name == "colour" && f.site.Family == "disc-rotor" {
			return false // it is blue of heat
		}
		if n := f.part; d.name == "length_mm" && f.site.Family == "spoke" && n.mod&sides == 0 && !n.sides && !n.every {
			return false // the two sides of a wheel have spokes of two lengths
		}
	}
	return true
}

// bent is the reading of a part that is bent or straight: a rotor runs out, an axle and a derailleur's cage are damaged, a
// hanger is out of its alignment.
func bent(family substitution.Family, cage, is bool) (fact, bool) {
	switch {
	case family == "disc-rotor":
		return fact{"runs_out", substitution.Yes(is)}, true
	case family == "axle", family == "thru-axle", cage:
		return fact{"damaged", substitution.Yes(is)}, true
	case family == "hanger" && is:
		return fact{"alignment", substitution.Text("bent")}, true
	case family == "hanger":
		return fact{"alignment", substitution.Text("true")}, true
	}
	return fact{}, false
}

// outright reports that a part is said to be bent or straight in so many words, and not a bit so.
func (p *parser) outright(pr *predicate) bool {
	for _, sp := range pr.spans {
		for i := sp.first; i < sp.last; i++ {
			switch p.at(i).text {
			case "bent", "badly bent", "straight", "dead straight", "perfectly straight", "true", "dead true":
				return true
			}
		}
	}
	return false
}

// onlyOf are the words for adjusting and cleaning that are said of some families alone.
var onlyOf = map[string][]substitution.Family{
	"tru":   {"rim", "disc-rotor"},
	"ble":   {"brake-lever"},
	"toe":   {"brake-caliper", "rim-pad", "disc-pad"},
	"index": {"rear-derailleur", "front-derailleur", "shifter", "cable-inner", "hub-internals", "hub-shifter"},
}

// canBe reports that the word with which an adjustment or a cleaning is said is said of such a part.
func (p *parser) canBe(pr *predicate, family substitution.Family) bool {
	for _, sp := range pr.spans {
		for i := sp.first; i < sp.last; i++ {
			for word, families := range onlyOf {
				if s := p.at(i).s; s != nil && s.action == pr.action && strings.HasPrefix(p.at(i).text, word) && !slices.Contains(families, family) {
					return false
				}
			}
		}
	}
	return true
}

// saidWith reports that a predicate is said with a word that begins so.
func (p *parser) saidWith(pr *predicate, begins string) bool {
	return slices.ContainsFunc(pr.spans, func(sp span) bool {
		return slices.ContainsFunc(p.items[sp.first:sp.last], func(it item) bool {
			return it.s != nil && it.s.action == pr.action && strings.HasPrefix(it.text, begins)
		})
	})
}

// saidAs reports that a predicate is said with this word alone.
func (p *parser) saidAs(pr *predicate, word string) bool {
	return slices.ContainsFunc(pr.spans, func(sp span) bool { return sp.last == sp.first+1 && p.at(sp.first).text == word })
}

// ballsOf are the places of the balls in a hub, headset or bottom bracket, where the note says of which side.
func (p *parser) ballsOf(n *nounPhrase, pr *predicate, house substitution.Place) []substitution.Place {
	of := substitution.Family("loose-balls")
	if pr.caged {
		of = "ball-cage"
	}
	places := inHouse(substitution.PlacesOf(of), []substitution.Place{house})
	places = slices.DeleteFunc(places, func(q substitution.Place) bool { return houseOf(q) != house })
	m := (n.mod | n.balls) & (sides | levels)
	if n.sides || both(m&sides) || both(m&levels) || n.every {
		return places
	}
	if m != 0 {
		return within(places, m)
	}
	return nil
}
