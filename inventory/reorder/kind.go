package reorder

import "time"

// yearsForKinds is from how many years of books the kinds of parts get seasons of their own: what one year shows of a
// kind may be its beginning or its end.
const yearsForKinds = 2

// kindMonths is what parts of one kind sold in each month of each whole year back from now, and what was to be expected
// of them by the season of the whole shop, if the year as a whole is as it was.
type kindMonths struct{ sold, expected [][12]float64 }

// kindSeasons are how much more or less parts of each kind are asked for in each month than the shop's season says:
// mudguards in autumn, tubes in July. A kind's figures are shrunk to the shop's as far as kinds do not differ: what one
// year's differences foretell of another's is what they are worth, so that neither chance, which does not repeat
// itself, nor a kind that grows is taken for a season (grouped indices: Boylan, Chen, Mohammadipour and Syntetos,
// "Formation of seasonal groups and application of seasonal indices", Journal of the Operational Research Society 65,
// 2014).
func (m *memory) kindSeasons(b *books, firstWeek, weeks int, shop *Season) map[string]*Season {
	years := weeks / 52
	if years < yearsForKinds {
		return nil
	}
	kinds := map[string]*kindMonths{}
	for i, r := range b.records() {
		kind := b.Items[i].Kind
		if kind == "" {
			continue
		}
		of := kinds[kind]
		if of == nil {
			of = &kindMonths{make([][12]float64, years), make([][12]float64, years)}
			kinds[kind] = of
		}
		of.count(m, r, firstWeek, weeks, shop)
	}
	worth := worthOfKinds(kinds)
	if worth == 0 {
		return nil
	}
	out := map[string]*Season{}
	for kind, of := range kinds {
		out[kind] = of.bend(1/worth, shop)
	}
	return out
}

// count adds what a part sold, and what was to be expected of it.
func (k *kindMonths) count(m *memory, r *record, firstWeek, weeks int, shop *Season) {
	total, open := 0.0, 0.0
	for i, asked := range r.asked {
		total += asked
		open += r.open[i] * shop.of(firstWeek+r.first+i)
	}
	rate := (m.shape + total) / (m.weeks + open)
	for i, asked := range r.asked {
		year := (weeks - 1 - r.first - i) / 52
		if year >= len(k.sold) {
			continue
		}
		week := firstWeek + r.first + i
		month := time.Unix(int64(DaysSince1970(week*daysPerPeriod+2))*24*3600, 0).UTC().Month() - 1
		k.sold[year][month] += asked
		k.expected[year][month] += rate * r.open[i] * shop.of(week)
	}
}

// worthOfKinds is how far kinds differ from the shop's season: the variance of what is sold over what is expected, as
// far as one year's differences are another's. It is 0 where they are not.
func worthOfKinds(kinds map[string]*kindMonths) float64 {
	both, square := 0.0, 0.0
	for _, k := range kinds {
		k.level()
		for a := range k.sold {
			for b := range a {
				for month := range 12 {
					ea, eb := k.expected[a][month], k.expected[b][month]
					both += (k.sold[a][month] - ea) * (k.sold[b][month] - eb)
					square += ea * eb
				}
			}
		}
	}
	if square == 0 {
		return 0
	}
	return max(0, both/square)
}

// level puts what was expected of each year to what was sold in it.
func (k *kindMonths) level() {
	sum := func(months [12]float64) (s float64) {
		for _, n := range months {
			s += n
		}
		return s
	}
	for year := range k.sold {
		if e := sum(k.expected[year]); e > 0 {
			for month := range 12 {
				k.expected[year][month] *= sum(k.sold[year]) / e
			}
		}
	}
}

// bend is the kind's season over the shop's, by what was sold over what was expected and as much as the doubt is worth as
// expected. The year stays a year.
func (k *kindMonths) bend(doubt float64, shop *Season) *Season {
	var out Season
	mean := 0.0
	for month := range 12 {
		sold, expected := doubt, doubt
		for year := range k.sold {
			sold += k.sold[year][month]
			expected += k.expected[year][month]
		}
		out[month] = sold / expected
		mean += out[month] * shop[month] / 12
	}
	for month := range out {
		out[month] /= mean
	}
	return &out
}

// Season is that of an item, January first, by its kind where kinds differ; false where none is known.
func (s *Shelf) Season(item int) (season Season, known bool) {
	if s.learnt.season == nil {
		return season, false
	}
	season = *s.learnt.season
	if bend := s.learnt.kinds[s.items[item].Kind]; bend != nil {
		for month := range season {
			season[month] *= bend[month]
		}
	}
	return season, true
}

// seasonAhead is that of a part over the coming weeks for which levels stand.
func (l *learnt) seasonAhead(r *record, now int) float64 {
	weeks, index := max(1, l.terms.AdviseEvery/daysPerPeriod), 1.0
	if l.season != nil {
		index = l.season.ahead(now, weeks)
	}
	if r.bend != nil {
		index *= r.bend.ahead(now, weeks)
	}
	return index
}
