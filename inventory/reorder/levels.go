package reorder

import "math"

// outlook is what a part is expected to sell, ready to be weighed at any level.
type outlook struct {
	perDay float64   // sales
	pieces float64   // a sale
	unit   int       // pieces that are counted as one where many sell: 1 for most parts
	counts float64   // share of the sales that take a unit or more; all others take nothing of what is counted in units
	form   []float64 // chance of each size, in units, of the sales that count
	nodes  []node    // of the rate, sales that count a day
	most   int       // pieces up to which the sums go
	// For each node, where several orders may be out: the chance that no more than so many pieces are asked for while an
	// order is on its way, that a sale is met whole from so many, and how many are left.
	atMost, met, left [][]float64
	// And for one order at a time, from so many pieces at its placing: the sales not met and the pieces short until it
	// comes.
	unmet, short [][]float64
	falls        []float64 // the chance of each number of pieces asked for between two looks, if any are
	room         room
}

// room is where an outlook writes its sums. Whoever looks at one part after another uses it again, for what is written
// fills it as often as there are parts.
type room struct {
	all       []float64
	taken     int
	told      [][]float64 // the chances of each number of sales, for each node
	evenWeeks evenWeeks
	choices   []choice
}

// take is so many figures of the room, all of them nought.
func (r *room) take(figures int) []float64 {
	if r.taken+figures > len(r.all) {
		r.all, r.taken = make([]float64, 2*len(r.all)+figures), 0
	}
	from := r.taken
	r.taken += figures
	taken := r.all[from:r.taken:r.taken]
	clear(taken)
	return taken
}

// look works out the sums. The most pieces that are worth a thought come with a cap.
func look(rate gamma, form []float64, spans []span, lookEvery int, y rhythm) *outlook {
	return new(outlook).look(rate, form, spans, lookEvery, y)
}

// look does so in the room of another outlook, which is no longer wanted.
func (o *outlook) look(rate gamma, form []float64, spans []span, lookEvery int, y rhythm) *outlook {
	*o = outlook{form: form, unit: 1, counts: 1, nodes: rate.nodes(), perDay: rate.shape / rate.rate, room: o.room,
		atMost: o.atMost[:0], met: o.met[:0], left: o.left[:0], unmet: o.unmet[:0], short: o.short[:0]}
	o.room.taken = 0
	if y.weekly > 0 {
		o.perDay = 0
		for i := range o.nodes {
			o.nodes[i].rate = y.held(o.nodes[i].rate)
			o.perDay += o.nodes[i].chance * o.nodes[i].rate
		}
	}
	squares := 0.0
	for x, chance := range form {
		o.pieces += float64(x) * chance
		squares += float64(x*x) * chance
	}
	first, second := 0.0, 0.0
	for _, s := range spans {
		first += s.days * s.chance
		second += s.days * s.days * s.chance
	}
	sales := o.perDay * first
	spread := sales*squares + o.pieces*o.pieces*(second*rate.shape*(1+rate.shape)/(rate.rate*rate.rate)-sales*sales)
	reach := 1
	for sum := 0.0; reach < len(form)-1; reach++ {
		if sum += form[reach]; sum > 0.995 {
			break
		}
	}
	o.most = int(math.Ceil(sales*o.pieces+5*math.Sqrt(max(spread, 0)))) + reach + 2
	if o.most > finest {
		o.unit = (o.most + finest - 1) / finest
		o.form, o.counts = inUnits(form, o.unit)
		o.most = finest
		for i := range o.nodes {
			o.nodes[i].rate *= o.counts
		}
	}
	o.sums(spans, lookEvery, y)
	return o
}

// finest is how many units of pieces a part's levels are weighed in at most: beyond it
// a piece is less than a hundredth.
const finest = 90

// inUnits counts sizes in units: a size between two numbers of units is each of them with the chances that keep its mean.
// Of sales that are smaller than a unit so only some take one, and the others do not count: what a part sells by chance
// at a rate, and each of it is left out by chance, sells at a lower rate by chance. Counts is the share that is left.
func inUnits(form []float64, unit int) (units []float64, counts float64) {
	units = make([]float64, (len(form)-1)/unit+2)
	for x, chance := range form {
		whole, part := x/unit, float64(x%unit)/float64(unit)
		units[whole] += chance * (1 - part)
		units[whole+1] += chance * part
	}
	counts = 1 - units[0]
	units[0] = 0
	for n := range units {
		units[n] /= counts
	}
	return units, counts
}

// sums works out the chances of the pieces asked for.
func (o *outlook) sums(spans []span, lookEvery int, y rhythm) {
	form := o.form
	pieces := 0.0
	for x, chance := range form {
		pieces += float64(x) * chance
	}
	told := o.room.toldOf(len(o.nodes))
	most := 0
	for j, n := range o.nodes {
		told[j] = y.salesDuring(told[j][:0], spans, n.rate, &o.room.evenWeeks)
		most = max(most, len(told[j])-1)
	}
	sums := powers(form, min(most, o.most), o.most, &o.room)
	within := make([][]float64, len(sums)) // the chance that so many sales ask for no more than so many pieces
	for n, chances := range sums {
		within[n] = o.room.take(o.most + 1)
		sum := 0.0
		for d, chance := range chances {
			sum += chance
			within[n][d] = sum
		}
	}
	for j, n := range o.nodes {
		mean := n.rate * meanSpan(spans)
		if y.weekly > 0 {
			mean = meanOf(told[j])
		}
		o.manyOut(told[j], sums)
		o.oneOut(told[j], within, mean, pieces)
	}
	o.falls = form
	if lookEvery > 1 && o.perDay*o.counts*float64(lookEvery) > 0.2 {
		falls := o.room.take(o.most + 1)
		none := 0.0
		for n, chance := range (rhythm{weekly: y.weekly}).salesDuring(nil, []span{{float64(lookEvery), 1}}, o.perDay*o.counts, &o.room.evenWeeks) {
			if n == 0 {
				none = chance
			} else if n < len(sums) {
				for d := n; d <= o.most; d++ {
					falls[d] += chance * sums[n][d]
				}
			}
		}
		for d := range falls {
			falls[d] /= 1 - none
		}
		o.falls = falls
	}
}

// toldOf is room for the chances of so many nodes.
func (r *room) toldOf(nodes int) [][]float64 {
	for len(r.told) < nodes {
		r.told = append(r.told, nil)
	}
	return r.told[:nodes]
}

// manyOut adds up what is asked for while an order is on its way, if others are too. They are taken to come in the order in
// which they were placed; where they overtake one another the shelf does a little better.
func (o *outlook) manyOut(sales []float64, sums [][]float64) {
	atMost, met, left := o.room.take(o.most+1), o.room.take(o.most+1), o.room.take(o.most+1)
	for n, chance := range sales {
		if n >= len(sums) {
			break
		}
		for d := n; d <= o.most; d++ {
			atMost[d] += chance * sums[n][d]
		}
	}
	for d := 1; d <= o.most; d++ {
		atMost[d] += atMost[d-1]
		left[d] = left[d-1] + atMost[d-1]
	}
	for y := range met {
		for x := 1; x < len(o.form) && x <= y; x++ {
			met[y] += o.form[x] * atMost[y-x]
		}
	}
	o.atMost, o.met, o.left = append(o.atMost, atMost), append(o.met, met), append(o.left, left)
}

// oneOut adds up what goes wrong until the one order comes: the first sales that the pieces suffice for are met, all
// others not.
func (o *outlook) oneOut(sales []float64, within [][]float64, mean, pieces float64) {
	unmet, short, atMost := o.room.take(o.most+1), o.room.take(o.most+1), o.room.take(o.most+1)
	more := 1.0 // the chance of at least n sales
	for n, chance := range sales {
		if n >= len(within) {
			break
		}
		for d := range within[n] {
			if n > 0 {
				unmet[d] -= more * within[n][d]
			}
			atMost[d] += chance * within[n][d]
		}
		more -= chance
	}
	short[0] = mean * pieces
	for d := range unmet {
		unmet[d] = max(0, unmet[d]+mean)
		if d > 0 {
			short[d] = max(0, short[d-1]-(1-atMost[d-1]))
		}
	}
	o.unmet, o.short = append(o.unmet, unmet), append(o.short, short)
}

// lots is where the position of shelf and orders stands, if orders are placed when it
// has fallen by so many pieces or more: the share of the time at each number below the
// upper level, and the mean size of an order. It is a renewal process (Sahin, "On the
// objective function behavior in (s,S) inventory models", Operations Research 30, 1982).
func (o *outlook) lots(gap int) lots {
	l := lots{below: o.room.take(gap), under: o.room.take(len(o.falls))}
	l.below[0] = 1
	sum, mean, square := 1.0, 0.0, 0.0
	for k := 1; k < gap; k++ {
		for x := 1; x <= k && x < len(o.falls); x++ {
			l.below[k] += l.below[k-x] * o.falls[x]
		}
		sum += l.below[k]
	}
	for x, chance := range o.falls {
		mean += float64(x) * chance
		square += float64(x*x) * chance
		for k := max(0, gap-x); k < gap; k++ {
			l.under[k+x-gap] += l.below[k] * chance
		}
	}
	for k := range l.below {
		l.below[k] /= sum
	}
	l.order, l.fall = max(mean*sum, float64(gap)), square/mean
	return l
}

// lots is how orders go out that are placed when the position of shelf and orders has fallen by the gap or more.
type lots struct {
	below []float64 // share of the time at each number of pieces below the upper level
	under []float64 // chance that the position is so far below the level when the order is placed
	order float64   // pieces of an order, on average
	fall  float64   // pieces of the fall that a piece is part of, on average
}

// kept is what it comes to, to order up to a level whenever the position has fallen by the gap.
type kept struct {
	upTo, gap   int
	fill, stock float64 // share of sales met whole; pieces on the shelf on average
	orders      float64 // a day
}

// keep works it out. What a shelf lacks is bought for the job, so a sale that finds it empty takes nothing from the next
// order.
//
// Where the level is below the gap one order is out at a time, and all begins anew with each: what is not met while it is
// on its way is held against all that is sold from one order to the next. Where several are out, of all that the position
// could have come to what would be below nothing is left out, which for single sales is Erlang's loss formula.
func (o *outlook) keep(upTo, gap int, l lots) kept {
	k := kept{upTo: upTo, gap: gap}
	pieces, weight := meanOf(o.form), 0.0
	for j, n := range o.nodes {
		fill, stock, order := 0.0, float64(upTo), l.order
		if at := upTo - gap; n.rate > 0 && at < gap {
			fill, stock, order = o.cycle(j, at, gap, l, pieces)
		} else if n.rate > 0 {
			fill, stock = o.truncated(j, upTo, l)
		}
		k.stock += n.chance * stock
		k.fill += n.chance * n.rate * fill
		weight += n.chance * n.rate
		k.orders += n.chance * n.rate * pieces * fill / order
	}
	if weight > 0 {
		k.fill /= weight
	}
	return k
}

// cycle is from one order to the next, for a node: share of sales met, pieces on the shelf, and pieces of an order.
func (o *outlook) cycle(node, at, gap int, l lots, pieces float64) (fill, stock, order float64) {
	unmet, short, start := 0.0, 0.0, 0.0
	for under, chance := range l.under {
		if chance < 1e-9 {
			continue
		}
		from := min(max(0, at-under), o.most)
		unmet += chance * o.unmet[node][from]
		short += chance * o.short[node][from]
		if under > at { // the sale that called for the order was not met whole itself
			unmet += chance
			short += chance * float64(under-at)
		}
		start += chance * float64(max(0, at-under))
	}
	order = float64(at+gap) - start
	sold := order + short
	fill = max(0, 1-unmet*pieces/sold)
	left := max(0, start-o.short[node][0]+short)
	return fill, (left + (order+min(l.fall, order))/2) * order / sold, order
}

// truncated is at any time, for a node.
func (o *outlook) truncated(node, upTo int, l lots) (fill, stock float64) {
	met, possible, left := 0.0, 0.0, 0.0
	for b, share := range l.below {
		y, more := upTo-b, 0
		if y > o.most { // more than is ever asked for meanwhile: what is above it is just left
			y, more = o.most, y-o.most
		}
		met += share * o.met[node][y]
		possible += share * o.atMost[node][y]
		left += share * (o.left[node][y] + float64(more))
	}
	if possible <= 0 {
		return 0, 0
	}
	// A long lead time is out for longer, so it weighs more than its chance: the lower of two views of what it costs.
	return min(met/possible, 1/(2-met)), left / possible
}
