package leadtime

import (
	"maps"
	"math"
	"slices"

	"stead/inventory/calendar"
)

// witness is what one supplier's parcels say of a strain, by the day on which they were due: by how much likelier they are
// under one of a size than at other times, in logarithms.
type witness []dayOfWitness

type dayOfWitness struct {
	due   calendar.Day
	later sizes
}

// kind are parcels of which the same is expected.
type kind struct {
	supplier string
	quoted   int
	signal   Signal
}

// witnesses hear the traces of each supplier. What is usual of a kind of parcel is looked up once.
func (e *Experience) witnesses(traces []trace, known map[kind]lateness) []witness {
	bySupplier := map[string]map[calendar.Day]*dayOfWitness{}
	for _, t := range traces {
		k := kind{t.asked.Supplier, quotedDays(t.asked.Quoted, t.asked.Signal), t.asked.Signal}
		usual, ok := known[k]
		if !ok {
			usual = e.forecast(t.asked).lateness(k.quoted)
			known[k] = usual
		}
		if bySupplier[k.supplier] == nil {
			bySupplier[k.supplier] = map[calendar.Day]*dayOfWitness{}
		}
		day := bySupplier[k.supplier][t.due]
		if day == nil {
			day = &dayOfWitness{due: t.due}
			bySupplier[k.supplier][t.due] = day
		}
		t.speak(usual, &day.later)
	}
	var all []witness
	for _, supplier := range slices.Sorted(maps.Keys(bySupplier)) {
		var w witness
		for _, due := range slices.Sorted(maps.Keys(bySupplier[supplier])) {
			w = append(w, *bySupplier[supplier][due])
		}
		all = append(all, w)
	}
	return all
}

// speak adds what the trace says of a strain, by its size.
func (t trace) speak(usual lateness, later *sizes) {
	var likely [mostSpread + 1]float64
	for days := range likely {
		likely[days] = t.likely(usual, days)
	}
	for days := 1; days <= mostStrain; days++ {
		later[days] += math.Log(likely[days] / likely[0])
	}
	for n, chances := range spreadChances {
		sum := 0.0
		for days, chance := range likely {
			sum += chance * chances[days]
		}
		later[mostStrain+1+n] += math.Log(sum / likely[0])
	}
}

// likely is how likely the trace is where a strain makes what is usual so many days later.
func (t trace) likely(usual lateness, later int) float64 {
	if t.open {
		return usual.beyond(t.late - later)
	}
	return usual.chance(t.late - later)
}

// of is how much likelier the parcels of the witness are under an episode by its size, and whether any was under it.
func (w witness) of(e episode) (likelier sizes, any bool) {
	const most = 500 // of a logarithm, short of what a float holds
	for _, day := range w {
		if day.due < e.from || day.due >= e.over {
			continue
		}
		any = true
		if day.due >= e.whole {
			for size, later := range day.later {
				likelier[size] += later
			}
			continue
		}
		part := e.grown(day.due)
		for size := range likelier {
			likelier[size] += day.later[partOf(size, part)]
		}
	}
	for size := range likelier {
		likelier[size] = math.Exp(math.Min(likelier[size], most))
	}
	return likelier, any
}

// gains are how much likelier what the witnesses say is under each episode, by its size, than under none. Each has one say,
// however many parcels it sent: a supplier may be late for reasons of its own, in any of these times as likely, and on time
// when others are not. One supplier alone says nothing of the others.
func (b began) gains(witnesses []witness) []sizes {
	gains, heard := make([]sizes, len(b)), make([]int, len(b))
	for i := range gains {
		for size := range gains[i] {
			gains[i][size] = 1
		}
	}
	likelier, under := make([]sizes, len(b)), make([]bool, len(b))
	for _, w := range witnesses {
		alone := 0.0
		for i, one := range b {
			likelier[i], under[i] = w.of(one.episode)
			for size, likely := range likelier[i] {
				alone += sizeChance(size) * likely / float64(len(b))
			}
		}
		without := 1 - ownBadSpell + ownBadSpell*alone
		for i := range b {
			if !under[i] {
				continue
			}
			heard[i]++
			for size := range gains[i] {
				gains[i][size] *= 1 - strainFollows + strainFollows*likelier[i][size]/without
			}
		}
	}
	for i := range gains {
		if heard[i] < 2 {
			for size := range gains[i] {
				gains[i][size] = 1
			}
		}
	}
	return gains
}
