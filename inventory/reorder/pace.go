package reorder

import "math"

// silences are the weeks since a part's last sale for which a pace is known; between two of them it is in a straight line.
var silences = [...]float64{0.5, 2.5, 5.5, 11.5, 23.5}

// pace is how much more or less the shop's parts sell than their own past would let expect, by how long they have been
// silent and by how often they have sold. Each part alone is sold too seldom to show that a winter is slow, that a shop
// grows, that parts which nobody has asked for in half a year mostly never sell again, or that of what is new more is
// to come: all of them together show it.
type pace struct {
	bySilence [len(silences)]float64
	byOften   [mostOften]float64 // by the class of [often], less 1
}

// at is the pace after so many weeks of silence and so many sales.
func (p *pace) at(silent float64, sales int) float64 {
	i, part := between(silent)
	by := p.byOften[often(sales)-1]
	if part == 0 {
		return p.bySilence[i] * by
	}
	return (p.bySilence[i]*(1-part) + p.bySilence[i+1]*part) * by
}

// between is the silence before, and how far it is from there to the next.
func between(silent float64) (i int, part float64) {
	last := len(silences) - 1
	switch {
	case silent <= silences[0]:
		return 0, 0
	case silent >= silences[last]:
		return last, 0
	}
	for i = 0; silent >= silences[i+1]; i++ {
	}
	return i, (silent - silences[i]) / (silences[i+1] - silences[i])
}

// silenceKeep is what is left of it a week later.
var silenceKeep = math.Exp2(-1.0 / silenceFade)

const (
	paceDoubt   = 30 // sales that a pace of 1 is worth
	silenceFade = 16 // weeks after which what was seen of a silence counts half: longer than of the shop, for there is less of it
)

// fading is what was sold and expected, the older the less.
type fading struct{ sold, expected, keep float64 }

func (f *fading) ratio() float64 { return (paceDoubt + f.sold) / (paceDoubt + f.expected) }
func (f *fading) add(sold, expected float64) {
	f.sold, f.expected = f.sold+sold, f.expected+expected
}
func (f *fading) fade() { f.sold, f.expected = f.sold*f.keep, f.expected*f.keep }

// weekSeen is what was sold in a week and what was expected of it, by how often parts had sold and how long they had
// been silent.
type weekSeen [mostOften][len(silences)]struct{ sold, expected float64 }

// seen goes through the books: each week's expectations are of those before it.
func (m *memory) seen(b *books, season []float64) []weekSeen {
	out := make([]weekSeen, len(season))
	for _, r := range b.records() {
		s, like, silent, sales := m.begin(r), m.like(r), 0.5, 1.0
		for k, asked := range r.asked {
			week := r.first + k
			open := r.open[k] * season[week]
			if k > 0 { // the first week began with the sale
				g := m.rate(s, like)
				will := g.shape / g.rate * open
				i, part := between(silent)
				by := &out[week][often(int(sales))-1]
				by[i].sold += asked * (1 - part)
				by[i].expected += will * (1 - part)
				if part > 0 {
					by[i+1].sold += asked * part
					by[i+1].expected += will * part
				}
			}
			m.add(&s, like, asked, open)
			sales += asked
			if silent++; asked > 0 {
				silent = 0.5
			}
		}
	}
	return out
}

// paces are those known at the start of each week of the books, and now. That of the whole shop fades with the half-life;
// 0 is to have none. That by how often a part has sold is of what the other two leave, or is left out.
func paces(seen []weekSeen, halfLife float64, byOften bool) []pace {
	out := make([]pace, len(seen))
	shop := fading{keep: math.Exp2(-1 / halfLife)}
	var silent [len(silences)]fading
	var sold [mostOften]fading
	for week := range out {
		all := 1.0
		if halfLife > 0 {
			all = shop.ratio()
		}
		shop.fade()
		for i := range silent {
			silent[i].keep = silenceKeep
			out[week].bySilence[i] = all * silent[i].ratio()
			silent[i].fade()
		}
		for o := range sold {
			sold[o].keep = silenceKeep
			out[week].byOften[o] = 1
			if byOften {
				out[week].byOften[o] = sold[o].ratio()
			}
			sold[o].fade()
			for i, w := range seen[week][o] {
				shop.add(w.sold, w.expected)
				silent[i].add(w.sold, w.expected*all)
				sold[o].add(w.sold, w.expected*out[week].bySilence[i])
			}
		}
	}
	return out
}
