package reorder

import "math"

// span is a stretch of time that has a chance.
type span struct{ days, chance float64 }

// protection is how long a sale must be met from what was on the shelf and on order at
// the last look whose order has come: the lead time, and the days until somebody looks.
// An order placed in the evening of a look comes in the morning, so half of the last
// day falls away.
func protection(lead *LeadTime, lookEvery int) []span {
	var chances []float64
	for day, chance := range lead.OnDay {
		day = max(day, 1)
		for wait := range lookEvery {
			for len(chances) <= day+wait {
				chances = append(chances, 0)
			}
			chances[day+wait] += chance / float64(lookEvery)
		}
	}
	var spans []span
	var now span
	from := 0.0
	for day, chance := range chances {
		if chance == 0 {
			continue
		}
		days := float64(day) - 0.5
		if now.chance > 0 && days > from*1.2 {
			spans = append(spans, span{now.days / now.chance, now.chance})
			now = span{}
		}
		if now.chance == 0 {
			from = days
		}
		now.days += days * chance
		now.chance += chance
	}
	return append(spans, span{now.days / now.chance, now.chance})
}

// meanSpan is the mean of the days.
func meanSpan(spans []span) (days float64) {
	for _, s := range spans {
		days += s.days * s.chance
	}
	return days
}

// salesDuring is the chance of each number of sales in the spans, at a rate a day, up to
// where all but a hundred-thousandth is told, in the room of others.
func salesDuring(chances []float64, spans []span, perDay float64) []float64 {
	const most = 400
	for _, s := range spans {
		mean := perDay * s.days
		chance, sum := math.Exp(-mean), 0.0
		for n := 0; n < most && sum < 1-1e-6; n++ {
			for len(chances) <= n {
				chances = append(chances, 0)
			}
			chances[n] += s.chance * chance
			sum += chance
			if n > int(mean) && chance < 1e-9 {
				break
			}
			chance *= mean / float64(n+1)
		}
	}
	return chances
}

// powers are the chances of the pieces that 0, 1, 2, ... sales ask for together, up to
// a number of pieces.
func powers(form []float64, sales, pieces int, in *room) [][]float64 {
	all := make([][]float64, sales+1)
	flat := in.take((sales + 1) * (pieces + 1))
	for n := range all {
		all[n] = flat[n*(pieces+1) : (n+1)*(pieces+1)]
	}
	all[0][0] = 1
	for n := 1; n <= sales; n++ {
		was, is := all[n-1], all[n]
		for d := n - 1; d <= pieces; d++ {
			if was[d] < 1e-12 {
				continue
			}
			for x := 1; x < len(form) && d+x <= pieces; x++ {
				is[d+x] += was[d] * form[x]
			}
		}
	}
	return all
}
