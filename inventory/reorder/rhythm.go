package reorder

import "math"

// rhythm is how sales come within a rate. Mostly they come by chance, and any number may fall into a week. But where
// parts go out once a week at most, to a standing order, on a day for them, or because the books keep a week's sales as
// one, a part that sells often sells evenly: of a week that has had its sale nothing more is to come.
type rhythm struct {
	weekly    int  // sales in a week at most; 0: as chance has it
	sinceSale bool // what is asked for after a sale, and not from any time on
}

// mostHeld is how often a part may sell, of what its rhythm lets: the rest is doubt.
const mostHeld = 0.97

// held is a rate a day, no more than the rhythm lets.
func (y rhythm) held(perDay float64) float64 {
	if y.weekly == 0 {
		return perDay
	}
	return min(perDay, mostHeld*float64(y.weekly)/daysPerPeriod)
}

// salesDuring is the chance of each number of sales in the spans, at a rate a day, in the room of others and of other weeks.
func (y rhythm) salesDuring(chances []float64, spans []span, perDay float64, w *evenWeeks) []float64 {
	if y.weekly == 0 {
		return salesDuring(chances, spans, perDay)
	}
	w.evenly(y, y.held(perDay)*daysPerPeriod/float64(y.weekly))
	for _, s := range spans {
		for day := range daysPerPeriod { // on which a span begins: at its evening, for the day's half is in the span
			for n, chance := range w.during(s.days, daysPerPeriod-float64(day)-0.5) {
				for len(chances) <= n {
					chances = append(chances, 0)
				}
				chances[n] += s.chance * chance / daysPerPeriod
			}
		}
	}
	return chances
}

// evenWeeks are weeks in which each of their sales comes with a chance.
type evenWeeks struct {
	rhythm
	each  float64
	whole [][]float64 // the chances of each number of sales in so many whole weeks, as far as they were asked for
	room  []float64   // for an answer, until the next
}

// evenly forgets all other weeks.
func (w *evenWeeks) evenly(y rhythm, each float64) {
	w.rhythm, w.each, w.whole = y, each, w.whole[:0]
	w.whole = append(w.whole, append(w.next(), 1))
}

// next is the room of the next answer about whole weeks.
func (w *evenWeeks) next() []float64 {
	if n := len(w.whole); n < cap(w.whole) {
		return w.whole[:n+1][n][:0]
	}
	return nil
}

// during is the chance of each number of sales in so many days, of which the first so many belong to a week begun.
func (w *evenWeeks) during(days, begun float64) []float64 {
	first := w.weekly
	if w.sinceSale {
		first--
	}
	part := min(days, begun)
	weeks := max(0, int((days-part)/daysPerPeriod+1e-9))
	for len(w.whole) <= weeks {
		w.whole = append(w.whole, sold(append(w.next(), w.whole[len(w.whole)-1]...), w.weekly, w.each))
	}
	w.room = append(w.room[:0], w.whole[weeks]...)
	w.room = sold(w.room, first, w.each*part/daysPerPeriod)
	if rest := days - part - float64(weeks*daysPerPeriod); rest > 1e-9 {
		w.room = sold(w.room, w.weekly, w.each*rest/daysPerPeriod)
	}
	return w.room
}

// sold adds so many sales, each with a chance, to those there are.
func sold(chances []float64, sales int, chance float64) []float64 {
	for range sales {
		chances = append(chances, 0)
		for n := len(chances) - 1; n > 0; n-- {
			chances[n] += chance * (chances[n-1] - chances[n])
		}
		chances[0] *= 1 - chance
	}
	return chances
}

// logChance is the log chance of so many sales in so many weeks, at a rate a week that has a gamma distribution, over
// an exposure. With a rhythm they are beta-binomial, the chance of each having the mean and the variance that follow
// from the rate.
func (y rhythm) logChance(sales float64, g gamma, exposure float64, weeks int) float64 {
	if y.weekly == 0 {
		return logNegativeBinomial(sales, g, exposure)
	}
	most := float64(y.weekly * weeks)
	mean := min(mostHeld, g.shape/g.rate*exposure/most)
	if mean <= 0 {
		return 0
	}
	if sales > most {
		return neverLog
	}
	together := max(0.05, g.shape*(1-mean)/mean-1)
	yes, no := together*mean, together*(1-mean)
	return logBetaBinomial(sales, most, yes, no)
}

// neverLog is the log chance of what a rhythm rules out, for books may err.
const neverLog = -12

// logBetaBinomial is the log chance of n of so many, each with a chance that has a beta distribution.
func logBetaBinomial(n, most, yes, no float64) float64 {
	log := 0.0
	product := 1.0
	for k := 0.0; k < most; k++ {
		if k < n {
			product *= (yes + k) * (most - k) / (k + 1)
		} else {
			product *= no + k - n
		}
		if product /= yes + no + k; product < 1e-200 {
			log, product = log+math.Log(product), 1
		}
	}
	return log + math.Log(product)
}

const (
	fewestRegular = 100   // weeks with sales tell of a rhythm
	seldomBroken  = 0.002 // of them may break it
	fewestBetter  = 10    // is by how much the log chance of what came must be better with it: common practice, no source
)

// rhythms are those that the parts keep to, beside chance. Of three sales a week and more hardly anything can be told.
func rhythms(b *books) []rhythm {
	var weeks [3]float64 // with more than so many sales
	for _, r := range b.records() {
		for _, asked := range r.asked {
			for n := range weeks {
				if asked > float64(n) {
					weeks[n]++
				}
			}
		}
	}
	for most := 1; most < len(weeks); most++ {
		if weeks[0] >= fewestRegular && weeks[most] <= seldomBroken*weeks[0] {
			return []rhythm{{weekly: most}}
		}
	}
	return nil
}

// inRhythm is the memory with a rhythm, if the records would have been foretold clearly better with it.
func inRhythm(y rhythm, records []*record, season []float64, over horizon, by memory) memory {
	next := by
	next.rhythm, next.evenness = y, 1
	told := taughtBy(records, season, over)
	next = told.teach(next)
	cells := 0.0
	for _, r := range records {
		cells += float64(len(r.asked)) / float64(over.weeks)
	}
	if scores := told.scores(next, by); (scores[0]-scores[1])*cells > fewestBetter {
		return next
	}
	return by
}
