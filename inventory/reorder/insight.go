package reorder

import (
	"fmt"
	"math"
	"strings"
)

// Insight is what is known of a part's demand, and on what it rests.
type Insight struct {
	Sales     int          // in the books
	Asked     float64      // pieces a sale of these
	Weeks     int          // since the first of them
	Silent    int          // weeks since the last
	Ended     float64      // chance that it is asked for no longer, or not for now
	PerDay    float64      // sales a working day expected
	Least     float64      // with one chance in twenty it is less than this
	Most      float64      // or more than this
	Pieces    float64      // a sale, as expected
	Own       float64      // how much of this is the part's own, from 0 to 1; the rest is how the shop's other parts sell
	BooksFrom int          // whole weeks of the shop's books
	Parts     int          // of the shop that have sold
	Season    SeasonSource // which season is reckoned with; empty: none
}

// Insight tells of one item; of one that has not sold only the shop.
func (s *Shelf) Insight(item int) Insight {
	r := s.record(item)
	if r == nil {
		return Insight{Season: s.learnt.whose(), BooksFrom: (s.now - s.learnt.start) / daysPerPeriod, Parts: s.books.known}
	}
	rate, form := s.learnt.outlook(r, s.now)
	return s.learnt.insight(r, s.now, rate, meanOf(form), s.books.known)
}

// insight is that of a part by its record.
func (l *learnt) insight(r *record, now int, rate gamma, expected float64, parts int) Insight {
	known := l.state(r)
	last := r.sizes[len(r.sizes)-1].Day
	sold, pieces := 0, 0
	for _, s := range r.sizes {
		if s.Share == 0 {
			sold, pieces = sold+1, pieces+s.Pieces
		}
	}
	return Insight{Season: l.whose(), Sales: sold, Asked: float64(pieces) / float64(max(1, sold)), Weeks: len(r.asked), Silent: weekOf(now-1) - weekOf(last), Ended: known.ended / (1 + known.ended),
		PerDay: rate.shape / rate.rate, Least: rate.quantile(0.05), Most: rate.quantile(0.95), Pieces: expected,
		Own: l.memory.own(known, l.memory.like(r)), BooksFrom: (now - l.start) / daysPerPeriod, Parts: parts}
}

// whose season is reckoned with.
func (l *learnt) whose() SeasonSource {
	switch {
	case l.season == nil:
		return ""
	case l.own:
		return SeasonOwn
	case l.terms.Given:
		return SeasonGiven
	}
	return SeasonBefore
}

// SeasonSource is whose season is reckoned with.
type SeasonSource string

// The seasons that are reckoned with.
const (
	SeasonBefore SeasonSource = "believed before" // that of riding
	SeasonGiven  SeasonSource = "given"           // what the shop said
	SeasonOwn    SeasonSource = "own"             // by the shop's own books
)

// seasonWords say which season is reckoned with before the shop's own is known.
func (i Insight) seasonWords() string {
	switch i.Season {
	case SeasonBefore:
		return "the season is that of riding until a year is in them"
	case SeasonGiven:
		return "the season is as you gave it until a year is in them"
	}
	return "no season is known yet"
}

// Words say how a part sells and how surely that is known: "Asked for once in 40 working days (9 in 10: once in 20 to 90),
// by 3 sales in 52 weeks, 2 pieces at a time".
func (i Insight) Words() string {
	if i.Sales == 0 {
		return "Never sold"
	}
	words := fmt.Sprintf("Asked for %s, by %s in %s", frequency(i.PerDay), counted(i.Sales, "sale"), counted(i.Weeks, "week"))
	if i.Asked >= 1.5 {
		words += fmt.Sprintf(", %.0f pieces at a time", i.Asked)
	}
	if i.Silent >= 4 && float64(i.Silent) > 2*float64(i.Weeks)/float64(i.Sales) {
		words += fmt.Sprintf(", none in the last %d", i.Silent)
		if i.Ended >= leastTold {
			words += fmt.Sprintf(": %s that nobody asks for it now", chanceWords(i.Ended))
		}
	}
	if i.PerDay > 0 {
		words += fmt.Sprintf(" (9 in 10: %s)", band(i.Least, i.Most))
	}
	return words
}

// leastTold is the chance from which on it is told: common practice, no source.
const leastTold = 0.2

// chanceWords say a chance: "3 chances in 4".
func chanceWords(chance float64) string {
	switch quarters := int(math.Round(4 * chance)); {
	case chance > 0.85:
		return "9 chances in 10"
	case quarters == 3:
		return "3 chances in 4"
	case quarters == 2:
		return "1 chance in 2"
	}
	return "1 chance in 4"
}

// Ground says on what little an advice rests, and is empty where it rests on enough.
func (i Insight) Ground() string {
	switch {
	case i.BooksFrom < 1:
		return "The books are less than a week old: this is a first guess, and " + i.seasonWords()
	case i.BooksFrom < 13:
		return fmt.Sprintf("The books are %s old: this is a first guess, and %s", counted(i.BooksFrom, "week"), i.seasonWords())
	case i.Sales > 0 && i.Own < 0.5:
		return fmt.Sprintf("Mostly from how the shop's %d parts sell: only %d in 100 of it is its own", i.Parts, int(math.Round(100*i.Own)))
	case i.BooksFrom < 52:
		return "The books are less than a year old: " + i.seasonWords()
	}
	return ""
}

// band says two rates, the greater first where they are waits: "once in 24 to 67 working days".
func band(least, most float64) string {
	from, to := frequency(most), frequency(least)
	unit := " working days"
	if shorter, same := strings.CutSuffix(from, unit); same && strings.HasPrefix(from, "once in ") && strings.HasPrefix(to, "once in ") && strings.HasSuffix(to, unit) {
		return shorter + " to " + strings.TrimPrefix(to, "once in ")
	}
	return from + " to " + to
}

// frequency says a rate: "3 times a day", "once in 40 working days".
func frequency(perDay float64) string {
	switch days := 1 / perDay; {
	case perDay <= 0 || days > 10*WorkingDaysPerYear:
		return "hardly ever"
	case days < 0.75:
		return fmt.Sprintf("%.2g times a working day", perDay)
	case days < 1.5:
		return "once a working day"
	case days > 2*WorkingDaysPerYear:
		return fmt.Sprintf("once in %d years", int(math.Round(days/WorkingDaysPerYear)))
	default:
		return fmt.Sprintf("once in %d working days", int(math.Round(days)))
	}
}

// quantile is the rate below which the gamma distribution has so much of its chance, by halving.
func (g gamma) quantile(chance float64) float64 {
	low, high := 0.0, (g.shape+10*math.Sqrt(g.shape)+20)/g.rate
	for range 60 {
		if middle := (low + high) / 2; gammaBelow(g.shape, middle*g.rate) < chance {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}

// gammaBelow is the regularised lower incomplete gamma function, by its series or its continued fraction (Abramowitz and
// Stegun, 6.5.29 and 6.5.31).
func gammaBelow(shape, x float64) float64 {
	if x <= 0 {
		return 0
	}
	log, _ := math.Lgamma(shape)
	front := math.Exp(shape*math.Log(x) - x - log)
	if x < shape+1 {
		term, sum := 1/shape, 1/shape
		for n := shape + 1; term > sum*1e-14; n++ {
			term *= x / n
			sum += term
		}
		return sum * front
	}
	const tiny = 1e-300
	b := x + 1 - shape
	c, d := 1/tiny, 1/b
	h := d
	for i := 1.0; i < 500; i++ {
		a := -i * (i - shape)
		b += 2
		if d = a*d + b; math.Abs(d) < tiny {
			d = tiny
		}
		if c = b + a/c; math.Abs(c) < tiny {
			c = tiny
		}
		d = 1 / d
		h *= c * d
		if math.Abs(c*d-1) < 1e-13 {
			break
		}
	}
	return 1 - front*h
}

// Ahead is what may be asked for of a part, in pieces, until an order that is placed in the evening of a working day is here:
// on average, and within which it stays nine times in ten, as nearly as whole pieces can say it. The books
// know nothing of today yet, so all of it is ahead, and nothing of the day in the morning of which the order comes.
type Ahead struct {
	Mean        float64
	Least, Most int
	Within      float64     // chance that it stays between these
	chances     [][]float64 // of each node: no more than so many pieces
	nodes       []node
	unit, most  int
	pieces      float64 // a sale
}

// Ahead looks so many days further than the lead time of an order of today.
func (s *Shelf) Ahead(item, days int) Ahead {
	r := s.record(item)
	if r == nil {
		return Ahead{}
	}
	rate, form := s.learnt.outlook(r, s.now)
	spans := untilHere(s.items[item].Lead, days)
	return look(rate, form, spans, 1, s.learnt.memory.rhythm).ahead(spans)
}

// untilHere is how long it is from this morning until an order is here that is placed in the evening so many days from now.
// [protection] counts from a sale, in the middle of a day on average.
func untilHere(lead *LeadTime, days int) []span {
	spans := protection(lead, 1)
	for i := range spans {
		spans[i].days += float64(days) + 0.5
	}
	return spans
}

// ahead is what is asked for in the spans.
func (o *outlook) ahead(spans []span) Ahead {
	a := Ahead{Mean: o.perDay * o.pieces * meanSpan(spans), chances: o.atMost, nodes: o.nodes, unit: o.unit, most: o.most, pieces: o.pieces}
	a.Least = a.within(0.05)
	below := 0.0 // where nought is no rarity nothing is: then all of the tenth lies above
	if a.Least > 0 {
		below = a.atMost(a.Least - 1)
	}
	a.Most = max(a.near(below), int(math.Ceil(a.Mean-1e-9))) // what seldom goes in dozens has its mean above its nine in ten
	a.Within = a.atMost(a.Most) - below
	return a
}

// nineInTen is what a band is to hold, and leastNineInTen what it holds at least: less rounds to something else.
const nineInTen, leastNineInTen = 0.9, 0.875

// near is the number of pieces that suffices nine times in ten, beside the chance of fewer than the least: the nearest, for
// a piece more may hold so much more that the band says nothing.
func (a Ahead) near(below float64) int {
	most := a.within(below + nineInTen)
	if less := a.atMost(most-a.unit) - below; most > a.Least && less >= leastNineInTen && nineInTen-less < a.atMost(most)-below-nineInTen {
		return most - a.unit
	}
	return most
}

// atMost is the chance that no more than so many pieces are asked for.
func (a Ahead) atMost(pieces int) float64 {
	if len(a.nodes) == 0 {
		return 1
	}
	sum := 0.0
	for j, n := range a.nodes {
		sum += n.chance * a.chances[j][min(a.most, max(0, pieces)/a.unit)]
	}
	return sum
}

// Missing is how many sales so many pieces do not suffice for, on average.
func (a Ahead) Missing(pieces int) float64 {
	if a.Mean == 0 {
		return 0
	}
	missing := a.Mean
	for k := range max(0, pieces) {
		missing -= 1 - a.atMost(k)
	}
	return max(0, missing) / a.pieces
}

// within is the number of pieces that suffice with the chance.
func (a Ahead) within(chance float64) int {
	pieces := 0
	for pieces < a.most*a.unit && a.atMost(pieces) < chance {
		pieces += a.unit
	}
	return pieces
}

// Meets is what a level comes to, whoever set it.
func (s *Shelf) Meets(item, at, upTo int) Keep {
	r := s.record(item)
	if r == nil || upTo <= 0 || upTo <= at {
		return Keep{}
	}
	rate, form := s.learnt.outlook(r, s.now)
	o := look(rate, form, protection(s.items[item].Lead, s.learnt.terms.LookEvery), s.learnt.terms.LookEvery, s.learnt.rhythm())
	gap := max(1, (upTo-at)/o.unit)
	k := o.keep(at/o.unit+gap, gap, o.lots(gap))
	it := &s.items[item]
	return Keep{At: at, UpTo: upTo, Fill: s.promise.gives(k.fill), PerDay: o.perDay, Stock: k.stock * float64(o.unit),
		Cost: o.cost(k, it, it.PriceAt(upTo-at), s.learnt.terms)}
}
