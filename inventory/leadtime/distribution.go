package leadtime

// horizonDays is how far a forecast looks day by day: about a year of working
// days.
const horizonDays = 260

// Distribution is the forecast of one shipment: the chance that it arrives on
// each working day after the order day.
type Distribution struct {
	// OnDay[n] is the chance of arriving n of the supplier's working days after
	// the order day.
	OnDay []float64 `json:"on_day"`
	// Beyond is the chance of arriving later than the last of these, or never.
	Beyond float64 `json:"beyond"`
}

func newDistribution() Distribution {
	return Distribution{OnDay: make([]float64, horizonDays+1)}
}

// add gives the day some more chance. A day before the order is the order day,
// one past the horizon is beyond.
func (d *Distribution) add(day int, chance float64) {
	switch {
	case day >= len(d.OnDay):
		d.Beyond += chance
	case day < 0:
		d.OnDay[0] += chance
	default:
		d.OnDay[day] += chance
	}
}

// total is the sum of all chances: 1 for a forecast, a number of votes before.
func (d Distribution) total() float64 {
	sum := d.Beyond
	for _, chance := range d.OnDay {
		sum += chance
	}
	return sum
}

// By is the chance of arriving within n working days of the order day.
func (d Distribution) By(n int) float64 {
	if n >= len(d.OnDay) {
		n = len(d.OnDay) - 1
	}
	sum := 0.0
	for day := 0; day <= n; day++ {
		sum += d.OnDay[day]
	}
	return sum
}

// Within is the smallest number of working days that suffices with the given
// confidence (above 0, below 1). It is not ok if even the last day falls short.
func (d Distribution) Within(confidence float64) (days int, ok bool) {
	sum := 0.0
	for day, chance := range d.OnDay {
		sum += chance
		if sum >= confidence-rounding {
			return day, true
		}
	}
	return 0, false
}

// rounding is what sums of chances may be off by.
const rounding = 1e-9

// StillWaiting is the forecast for a shipment that has not come within n working
// days of its order: the days gone by are ruled out and the rest keep their
// proportions. If the forecast left no chance for later, all of it is beyond.
func (d Distribution) StillWaiting(n int) Distribution {
	left := 1 - d.By(n)
	if left < rounding {
		return Distribution{OnDay: make([]float64, len(d.OnDay)), Beyond: 1}
	}
	waiting := Distribution{OnDay: make([]float64, len(d.OnDay)), Beyond: d.Beyond / left}
	for day := n + 1; day < len(d.OnDay); day++ {
		if day >= 0 {
			waiting.OnDay[day] = d.OnDay[day] / left
		}
	}
	return waiting
}

// OrderedAgain is the time until a part is here where nobody waits for a parcel
// for ever: one that has not come within so many working days (1 or more) is
// ordered anew, from whom it is then to be had, and takes as long again. Stock is
// planned by it: a parcel that is lost costs a second order, not a year.
func (d Distribution) OrderedAgain(after int) Distribution {
	again := newDistribution()
	left := 1 - d.By(after)
	for day := range again.OnDay {
		if day <= after && day < len(d.OnDay) {
			again.OnDay[day] = d.OnDay[day]
		}
		if day > after {
			again.OnDay[day] = left * again.OnDay[day-after-1]
		}
	}
	again.Beyond = 1 - again.total()
	return again
}

// MeanAndVariance are those of the working days until arrival, with what is
// beyond counted as the first day past the last. Stock planning asks for them.
func (d Distribution) MeanAndVariance() (mean, variance float64) {
	square := 0.0
	add := func(day int, chance float64) {
		mean += float64(day) * chance
		square += float64(day) * float64(day) * chance
	}
	for day, chance := range d.OnDay {
		add(day, chance)
	}
	add(len(d.OnDay), d.Beyond)
	return mean, square - mean*mean
}

// mixIn adds another distribution, times its share.
func (d *Distribution) mixIn(other Distribution, share float64) {
	for day, chance := range other.OnDay {
		d.OnDay[day] += share * chance
	}
	d.Beyond += share * other.Beyond
}

// mix is the one formula of the package: the base counts as so many votes, and
// the votes are added.
func mix(base Distribution, worth float64, votes Distribution) Distribution {
	total := worth + votes.total()
	mixed := newDistribution()
	for day := range mixed.OnDay {
		mixed.OnDay[day] = (worth*base.OnDay[day] + votes.OnDay[day]) / total
	}
	mixed.Beyond = (worth*base.Beyond + votes.Beyond) / total
	return mixed
}
