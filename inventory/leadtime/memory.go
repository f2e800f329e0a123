package leadtime

import (
	"math"
	"slices"
)

// memory is one answer to the question since when a supplier has been as it is
// now: the receipts from one on, how likely that answer is, and how much later
// than the base the supplier has been since.
type memory struct {
	since  int     // the first receipt that counts; 0: the supplier never changed
	weight float64 // chance of this answer
	shifts []shift // by which it is later than the base
}

// shift is a number of working days by which a supplier is later than others like
// it, with the chance of it.
type shift struct {
	days   int
	chance float64
}

const (
	// changeRate is the chance that a supplier has changed its ways between one of its last
	// receipts and the next, before anything is known: the project's own judgement.
	changeRate = 0.0062
	// fewSince are the receipts since a change that show it incompletely.
	fewSince = 6
	// receiptsLooked are the latest, for a change years ago explains nothing.
	receiptsLooked = 40
	mostEarlier    = -10 // working days, of a shift
	mostLater      = 30
	mostSpread     = 60 // working days, of what is drawn for a parcel
)

// memories weighs since when a supplier has kept to its present ways. Each answer
// is judged by how well it would have foretold the receipts, one after the other,
// each from those before it since the change: the weights are those of R. P. Adams
// and D. J. C. MacKay ("Bayesian online changepoint detection", 2007) for the
// latest change. The base starts every run of receipts with the given worth, moved
// by a shift that is not known. What is overdue is judged too, by the chance of being as late or later: where a supplier has
// become slower, the parcels that have come are the quick ones.
func memories(seen []wait, base lateness, worth float64) []memory {
	first := max(0, len(seen)-receiptsLooked)
	came := 0 // receipts before
	for _, w := range seen[:first] {
		came += w.receipts()
	}
	run := newRun(seen[first:], base, worth)
	whole := run.foretell(0, asOthers)
	all := []memory{{since: 0, shifts: whole.shifts, weight: whole.upTo[len(run.seen)]}}
	for since := 1; since < len(run.seen); since++ {
		run.forget(since - 1)
		came += run.seen[since-1].receipts()
		rest := run.foretell(since, changed)
		all = append(all, memory{
			since: came, shifts: rest.shifts,
			weight: changeChance(len(run.seen)-since) * whole.upTo[since] * rest.upTo[len(rest.upTo)-1],
		})
	}
	return likely(all, func(m *memory) *float64 { return &m.weight })
}

// changeChance is how likely a change so many receipts ago is beforehand. One of long ago has had all receipts since to show
// and needs no credit: given as much as a late one, it is where most steady suppliers would be taken for changed.
func changeChance(since int) float64 { return changeRate * young(since) * young(since) }

// young is 1 of a change so few receipts ago that they show it incompletely, and less the more there are.
func young(since int) float64 { return math.Min(1, fewSince/float64(since)) }

// unseen is what is still to be seen of a supplier that changed so many receipts ago, in receipts: others say how late it
// can be no longer, and the next is later than all n with 1 chance in n+1 (see TestOrderStatistics). It is less than one
// because the base still says something, and the less the more receipts there are.
func unseen(since int) float64 {
	const worth = 0.6 // the project's own judgement
	return worth * young(since)
}

// run is a row of receipts, and of orders that are overdue, of which each is foretold from those before it.
type run struct {
	seen    []wait
	worth   float64
	chances [][ways]float64 // of each by the base alone, in each way later
	votes   []float64       // what the receipts before each one say of it
}

func newRun(seen []wait, base lateness, worth float64) *run {
	r := &run{seen: seen, worth: worth, votes: make([]float64, len(seen)), chances: make([][ways]float64, len(seen))}
	for i, w := range seen {
		for _, other := range seen[:i] {
			r.votes[i] += other.saysOf(w)
		}
		chance := base.chance
		if w.open {
			chance = base.beyond
		}
		for n := range shifts {
			r.chances[i][n] = chance(w.late - mostEarlier - n)
		}
		var later [mostSpread + 1]float64
		for more := range later {
			later[more] = chance(w.late - more)
		}
		for n, chances := range spreadChances {
			for more, likely := range later {
				r.chances[i][shifts+n] += chances[more] * likely
			}
		}
	}
	return r
}

// receipts is how many it is.
func (w wait) receipts() int {
	if w.open {
		return 0
	}
	return 1
}

// saysOf is what a receipt says of another, or of what is overdue; what is overdue itself says nothing yet.
func (w wait) saysOf(other wait) float64 {
	switch {
	case w.open, other.open && w.late <= other.late:
		return 0
	case other.open:
		return 1
	}
	return echoOf(other.late - w.late)
}

// forget takes from the later ones what an early receipt says of them.
func (r *run) forget(early int) {
	for i := early + 1; i < len(r.seen); i++ {
		r.votes[i] -= r.seen[early].saysOf(r.seen[i])
	}
}

// foretold is how well a run of receipts is foretold whose base is moved in a way
// that is not known.
type foretold struct {
	upTo   []float64 // chance given to the first n receipts
	shifts []shift   // likely ones, after all of them
}

// foretell asks that of the receipts from one on; those before are forgotten.
func (r *run) foretell(since int, prior [ways]float64) foretold {
	n := len(r.seen) - since
	f := foretold{upTo: make([]float64, n+1), shifts: make([]shift, mostSpread-mostEarlier+1)}
	var after [ways]float64
	for way, chance := range prior {
		f.upTo[0] += chance
		votes := r.worth
		for i := range n {
			chance *= (r.worth*r.chances[since+i][way] + r.votes[since+i]) / votes
			f.upTo[i+1] += chance
			votes += float64(r.seen[since+i].receipts())
		}
		after[way] = chance
	}
	for at := range f.shifts {
		f.shifts[at].days = mostEarlier + at
		if at < shifts {
			f.shifts[at].chance = after[at]
		}
	}
	for n, chances := range spreadChances { // the next receipt is later by what is drawn for it
		for more, chance := range chances {
			f.shifts[more-mostEarlier].chance += after[shifts+n] * chance
		}
	}
	f.shifts = likely(f.shifts, func(s *shift) *float64 { return &s.chance })
	return f
}

// negligible is the share below which an answer is left out.
const negligible = 1e-3

// likely leaves out the answers of a negligible share and makes the rest add up
// to 1.
func likely[T any](answers []T, share func(*T) *float64) []T {
	sum := func() (total float64) {
		for i := range answers {
			total += *share(&answers[i])
		}
		return total
	}
	total := sum()
	answers = slices.DeleteFunc(answers, func(a T) bool { return *share(&a) <= negligible*total })
	total = sum()
	for i := range answers {
		*share(&answers[i]) /= total
	}
	return answers
}

// echo is what a receipt says of the days about its own, 0, 1 and 2 away: a parcel
// that took four days is much like one that took five.
var echo = []float64{0.6, 0.15, 0.05}

func echoOf(away int) float64 {
	if away = max(away, -away); away < len(echo) {
		return echo[away]
	}
	return 0
}

// A supplier is later than others by the same days each time, a shift, or by more days
// now and fewer then, a spread: geometric, with one of some means.
const (
	shifts = mostLater - mostEarlier + 1
	ways   = shifts + len(spreads)
)

var spreads = [...]float64{1, 2, 4, 8, 16} // working days

// spreadChances are those of so many days more under each spread.
var spreadChances = func() (chances [len(spreads)][mostSpread + 1]float64) {
	for n, mean := range spreads {
		chance := 1 / (mean + 1)
		for days := range chances[n] {
			chances[n][days] = chance
			chance *= mean / (mean + 1)
		}
	}
	return chances
}()

// changed is how likely a change is to be each of the ways: one in ten is a spread, of
// any mean. More changes would give more than 5 in 100 steady suppliers a later date.
var changed = func() (prior [ways]float64) {
	for at := range shifts {
		prior[at] = (1 - spreadShare) * shiftChance(mostEarlier+at)
	}
	for at := range spreads {
		prior[shifts+at] = spreadShare / float64(len(spreads))
	}
	return prior
}()

// asOthers is how likely a supplier is to be later than others in each of the ways from
// the first: most are not.
var asOthers = func() (prior [ways]float64) {
	for way, chance := range changed {
		prior[way] = unlike * chance
	}
	prior[-mostEarlier] += 1 - unlike
	return prior
}()

// The project's own judgement.
const (
	spreadShare = 0.1
	unlike      = 0.05
)

// shiftChance is how likely a shift is to be one by so many days: the longer the less,
// and later as easily as earlier.
func shiftChance(days int) float64 {
	const sum = 3.026 // of the chances below from mostEarlier to mostLater
	return 1 / (sum * float64(1+days*days))
}

// lateness are the chances of working days after the quote.
type lateness struct {
	earliest int
	chances  []float64
}

// strayShare of the chances is anybody's guess, so that no number of days late is
// impossible, early ones included.
const strayShare = 0.05

func (l lateness) chance(days int) float64 {
	chance := strayShare * shiftChance(days)
	if i := days - l.earliest; i >= 0 && i < len(l.chances) {
		chance += (1 - strayShare) * l.chances[i]
	}
	return chance
}

// beyond is the chance of being later than so many days.
func (l lateness) beyond(days int) float64 {
	on := 0.0
	for d := l.earliest; d <= days; d++ {
		on += l.chance(d)
	}
	return math.Max(0, 1-on)
}

// lateness is a forecast by working days after the quote, each day echoed by those
// about it.
func (d Distribution) lateness(quoted int) lateness {
	reach := len(echo) - 1
	l := lateness{earliest: -quoted - reach, chances: make([]float64, len(d.OnDay)+2*reach)}
	for day, chance := range d.OnDay {
		for away := -reach; away <= reach; away++ {
			l.chances[day+reach+away] += chance * echo[max(away, -away)]
		}
	}
	return l
}
