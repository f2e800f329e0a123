package leadtime

import (
	"stead/inventory/calendar"
)

// The figures are the project's own judgement.
const (
	strainRate    = 0.2  // of the days are in a strain
	strainAgain   = 0.85 // chance that last year's comes again
	strainSpreads = 0.4  // of them are later by other days for each parcel
	strainFollows = 0.95 // of the suppliers in a strain are as late as the rest
	likeSize      = 0.8  // of those that come again are of about the same size
	ownBadSpell   = 0.03 // of the suppliers are late of themselves in any such time
	mostStrain    = 15   // working days

	strainBack  = 63 // calendar days ago that a strain may have begun
	strainAhead = 12 // calendar days until one may begin
	strainYoung = 21 // calendar days in which few parcels are due that show it
	strainStep  = 3  // calendar days from one beginning that is weighed to the next
)

// sizes are chances by what a strain is of: so many working days for every parcel, from 1 on, and after these the spreads, by
// which each parcel is later by days of its own.
type sizes [mostStrain + 1 + len(spreads)]float64

func (s sizes) sum() (total float64) {
	for _, chance := range s {
		total += chance
	}
	return total
}

// strainLengths are how long a strain may last, each as likely, and strainGrowths how long it takes to be whole; in
// calendar days.
var (
	strainLengths = [...]calendar.Day{21, 35, 56}
	strainGrowths = [...]growth{{0, 0.5}, {14, 0.2}, {28, 0.1}, {42, 0.1}, {56, 0.1}}
)

type growth struct {
	days  calendar.Day
	share float64
}

// episode is a time of strain: from a day on, more each day until it is whole, and over from another.
type episode struct{ from, whole, over calendar.Day }

// of is which size a parcel is under that is due on a day, of a strain that is of a size once it is whole; 0 for none.
func (e episode) of(size int, due calendar.Day) int {
	switch {
	case due < e.from || due >= e.over:
		return 0
	case due >= e.whole:
		return size
	}
	return partOf(size, e.grown(due))
}

// grown is which part of its size it has on a day before it is whole.
func (e episode) grown(due calendar.Day) float64 {
	return float64(due-e.from+1) / float64(e.whole-e.from+1)
}

// partOf is the size that is the nearest to a part of one.
func partOf(size int, part float64) int {
	if size > mostStrain {
		return partOfSpread(size, part)
	}
	return int(float64(size)*part + 0.5)
}

// partOfSpread is the spread that is the nearest to a part of one, 0 if none is as small.
func partOfSpread(size int, part float64) int {
	mean := part * spreads[size-mostStrain-1]
	for size > mostStrain && mean < 0.7*spreads[size-mostStrain-1] { // halfway to the one before, which is of half as many days
		size--
	}
	if size == mostStrain {
		return 0
	}
	return size
}

// beginning is an answer to when a strain began, with the chances of its sizes; fresh are those of one that neither last
// year nor a parcel speaks for.
type beginning struct {
	episode
	chances, fresh sizes
}

// began are the beginnings, the earliest first, for each of them the lengths and for each of these the growths; that there
// is no strain has the rest of the chances.
type began []beginning

const ofADay = len(strainLengths) * len(strainGrowths)

// beginnings are what is believed beforehand of the strains about a day, where those of last year may come again.
func beginnings(now calendar.Day, again []sizes) began {
	left := 1.0
	for _, chances := range again {
		left -= chances.sum()
	}
	var all began
	for from := now - strainBack; from <= now+strainAhead; from += strainStep {
		share := left * beginsChance(now-from)
		for _, long := range strainLengths {
			for _, grows := range strainGrowths {
				b := beginning{episode: episode{from, from + grows.days, from + long}}
				for size := range b.fresh {
					b.fresh[size] = share * grows.share * sizeChance(size)
				}
				b.chances = b.fresh
				if again != nil {
					for size, chance := range again[len(all)] {
						b.chances[size] += chance
					}
				}
				all = append(all, b)
			}
		}
	}
	return all
}

// beginsChance is how likely a strain of one of the lengths is to have begun about a day so many days ago. One of the last
// weeks has had few parcels to show, and is given twice the credit.
func beginsChance(ago calendar.Day) float64 {
	length := 0.0
	for _, days := range strainLengths {
		length += float64(days)
	}
	share := strainRate * strainStep / length
	if ago < strainYoung {
		share *= 2
	}
	return share
}

// sizeChance is how likely a strain is to be of a size: the more days the less.
func sizeChance(size int) float64 {
	switch {
	case size == 0:
		return 0
	case size > mostStrain:
		sum := 0.0
		for _, mean := range spreads {
			sum += 1 / mean
		}
		return strainSpreads / (sum * spreads[size-mostStrain-1])
	}
	return (1 - strainSpreads) * (1 + 1.0/mostStrain) / float64(size*(size+1))
}

// again are the chances by which last year's strains come again, by the beginnings of this year: by up to two steps sooner
// or later, for as long or not, and mostly of about the same size.
func (b began) again() []sizes {
	fresh := 0.0
	for _, one := range b {
		fresh += one.fresh.sum()
	}
	share := strainAgain * shownBy(fresh, b.total())
	shares := [...]float64{0.4, 0.2, 0.1} // of 0, 1, 2 steps
	again := make([]sizes, len(b))
	for i := range b {
		grows, day := i%len(strainGrowths), i/ofADay*ofADay
		for long := range strainLengths {
			for step := -2; step <= 2; step++ {
				if then := day + step*ofADay + long*len(strainGrowths) + grows; then >= 0 && then < len(b) {
					again[i].add(b[then].chances, share*shares[max(step, -step)]/float64(len(strainLengths)))
				}
			}
		}
	}
	return again
}

// add adds a share of what is about as large as something was.
func (s *sizes) add(was sizes, share float64) {
	total := was.sum()
	for size := range was {
		chance, first, last := share*likeSize*was[size], 1, mostStrain
		if size > mostStrain {
			first, last = mostStrain+1, len(was)-1
		}
		s[size] += chance/2 + share*(1-likeSize)*total*sizeChance(size)
		s[max(size-1, first)] += chance / 4
		s[min(size+1, last)] += chance / 4
	}
}

func (b began) first() calendar.Day { return b[0].from }
func (b began) last() calendar.Day  { return b[len(b)-1].over }

// total is the chance that there is any.
func (b began) total() (total float64) {
	for _, one := range b {
		total += one.chances.sum()
	}
	return total
}

// levels are the chances that what is due on a day is under a strain of a size, and that of any before anything spoke.
func (b began) levels(due, now calendar.Day) (levels sizes, before float64) {
	for _, one := range b {
		if due >= one.from && one.over > now {
			one.over = due + 1 // that it is over is believed when it is seen
		}
		for size := 1; size < len(levels); size++ {
			if level := one.of(size, due); level > 0 {
				levels[level] += one.chances[size]
				before += one.fresh[size]
			}
		}
	}
	return levels, before
}

// chance is that what was due on a day was under a strain.
func (b began) chance(due calendar.Day) (chance float64) {
	if due < b.first() || due >= b.last() {
		return 0
	}
	for _, one := range b {
		if due >= one.from && due < one.over {
			chance += one.chances.sum()
		}
	}
	return chance
}

// weigh turns what is believed beforehand into what is believed after hearing the witnesses.
func (b began) weigh(witnesses []witness) {
	total := 1 - b.total() // that there was none, which is as likely as before
	for i, gains := range b.gains(witnesses) {
		for size, gain := range gains {
			b[i].chances[size] *= gain
		}
		total += b[i].chances.sum()
	}
	for i := range b {
		for size := range b[i].chances {
			b[i].chances[size] /= total
		}
	}
}
