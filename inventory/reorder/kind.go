package reorder

// yearsForKinds is from how many years of books the kinds of parts get seasons of their own: what one year shows of a
// kind may be its beginning or its end.
const yearsForKinds = 2

// kindSeasons are how much more or less parts of each kind are asked for in each month than the shop's season says:
// mudguards in autumn, tubes in July. A kind's figures are shrunk to the shop's as far as kinds do not differ: what one
// year's differences foretell of another's is what they are worth, so that neither chance, which does not repeat
// itself, nor a kind that grows is taken for a season (grouped indices: Boylan, Chen, Mohammadipour and Syntetos,
// "Formation of seasonal groups and application of seasonal indices", Journal of the Operational Research Society 65,
// 2014). The season of the shop is also given by the week of the books.
func (m *memory) kindSeasons(b *books, weekly []float64, shop *Weekly) map[string]*Weekly {
	n := (len(weekly) - 1) / 52
	if n < yearsForKinds {
		return nil
	}
	kinds, month := map[string]*years{}, monthsOf(weekOf(b.start), len(weekly)-1)
	var seen []*years
	for i, r := range b.records() {
		kind := b.Items[i].Kind
		if kind == "" {
			continue
		}
		if kinds[kind] == nil {
			kinds[kind] = newYears(n, 12)
			seen = append(seen, kinds[kind])
		}
		rate := m.flatRate(r, weekly)
		for k, asked := range r.asked {
			week := r.first + k
			kinds[kind].add(len(month)-1-week, month[week], asked, rate*r.open[k]*weekly[week])
		}
	}
	for _, y := range seen {
		y.level()
	}
	worth := repeated(seen, 0)
	if worth == 0 {
		return nil
	}
	out := map[string]*Weekly{}
	for kind, y := range kinds {
		out[kind] = (*Season)(y.bend(1 / worth)).byWeek().over(shop)
	}
	return out
}

// flatRate is how often a part sells in a week of all its time, the season taken off.
func (m *memory) flatRate(r *record, weekly []float64) float64 {
	total, open := m.shape, m.weeks
	for k, asked := range r.asked {
		total += asked
		open += r.open[k] * weekly[r.first+k]
	}
	return total / open
}

// SeasonOn is that of an item on a working day, by its kind where kinds differ; 1 where none is known.
func (s *Shelf) SeasonOn(item, workingDay int) float64 {
	index := 1.0
	if s.learnt.season != nil {
		index = s.learnt.season.at(workingDay)
	}
	if bend := s.learnt.kinds[s.items[item].Kind]; bend != nil {
		index *= bend.at(workingDay)
	}
	return index
}

// seasonAhead is that of a part over the coming weeks for which levels stand, or until what is ordered in the first of
// them is here.
func (l *learnt) seasonAhead(r *record, now int) float64 {
	weeks, index := max(1, l.terms.AdviseEvery/daysPerPeriod, r.lead), 1.0
	if l.season != nil {
		index = l.season.ahead(now, weeks)
	}
	if r.bend != nil {
		index *= r.bend.ahead(now, weeks)
	}
	return index
}
