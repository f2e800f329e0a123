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
	shifts []shift // none where since is 0
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
	changeRate = 0.0065
	// fewSince are the receipts since a change that show it incompletely.
	fewSince = 6
	// receiptsLooked are the latest, for a change years ago explains nothing.
	receiptsLooked = 40
	mostEarlier    = -10 // working days, of a shift
	mostLater      = 30
)

// memories weighs since when a supplier has kept to its present ways. Each answer
// is judged by how well it would have foretold the receipts, one after the other,
// each from those before it since the change: the weights are those of R. P. Adams
// and D. J. C. MacKay ("Bayesian online changepoint detection", 2007) for the
// latest change. The base starts every run of receipts with the given worth, moved
// by a shift that is not known.
func memories(late []int, base lateness, worth float64) []memory {
	first := max(0, len(late)-receiptsLooked)
	run := newRun(late[first:], base, worth)
	whole := run.foretell(0, asOthers)
	all := []memory{{since: 0, shifts: whole.shifts, weight: whole.upTo[len(run.late)]}}
	for since := 1; since < len(run.late); since++ {
		run.forget(since - 1)
		rest := run.foretell(since, changed)
		all = append(all, memory{
			since: first + since, shifts: rest.shifts,
			weight: changeChance(len(run.late)-since) * whole.upTo[since] * rest.upTo[len(rest.upTo)-1],
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

// run is a row of receipts of which each is foretold from those before it.
type run struct {
	late    []int
	worth   float64
	chances [][ways]float64 // of each receipt by the base alone, in each way later
	votes   []float64       // what the receipts before each one say of it
}

func newRun(late []int, base lateness, worth float64) *run {
	r := &run{late: late, worth: worth, votes: make([]float64, len(late)), chances: make([][ways]float64, len(late))}
	for i, days := range late {
		for _, other := range late[:i] {
			r.votes[i] += echoOf(days - other)
		}
		for n := range shifts {
			r.chances[i][n] = base.chance(days - mostEarlier - n)
		}
		for n, mean := range spreads {
			for more := range mostLater + 1 {
				r.chances[i][shifts+n] += spreadChance(mean, more) * r.chances[i][more-mostEarlier]
			}
		}
	}
	return r
}

// forget takes from the later receipts what an early one says of them.
func (r *run) forget(early int) {
	for i := early + 1; i < len(r.late); i++ {
		r.votes[i] -= echoOf(r.late[i] - r.late[early])
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
	n := len(r.late) - since
	f := foretold{upTo: make([]float64, n+1), shifts: make([]shift, shifts)}
	var after [ways]float64
	for way, chance := range prior {
		f.upTo[0] += chance
		for i := range n {
			chance *= (r.worth*r.chances[since+i][way] + r.votes[since+i]) / (r.worth + float64(i))
			f.upTo[i+1] += chance
		}
		after[way] = chance
	}
	for at := range f.shifts {
		f.shifts[at] = shift{mostEarlier + at, after[at]}
	}
	for at, mean := range spreads { // the next receipt is later by what is drawn for it
		for more := range mostLater + 1 {
			f.shifts[more-mostEarlier].chance += after[shifts+at] * spreadChance(mean, more)
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

var spreads = [...]float64{1, 2, 4, 8} // working days

// spreadChance is that of so many days more under a spread.
func spreadChance(mean float64, days int) float64 {
	return math.Pow(mean/(mean+1), float64(days)) / (mean + 1)
}

// changed is how likely a change is to be each of the ways: one in seven is a spread, of
// any mean: more of them would give more than 5 in 100 steady suppliers a later date.
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
	spreadShare = 0.15
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
