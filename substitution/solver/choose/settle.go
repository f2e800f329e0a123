package choose

// settle adds a full choice up exactly and keeps it if it is worth keeping.
func (s *search) settle(deviation int64) {
	pieces := map[int]int{}
	day := s.chosen[0].day
	for _, o := range s.chosen {
		pieces[o.offer] += o.pieces
		if o.first != nil {
			pieces[o.first.Offer] += o.first.Pieces
		}
		day = max(day, o.day)
	}
	extras := make([]int, len(s.in.p.Extras))
	for e := range extras {
		extras[e] = -1
	}
	s.settleExtras(0, pieces, extras, day, deviation)
}

// settleExtras chooses for what is brought, from the k-th extra on; an extra comes after all that brings it.
func (s *search) settleExtras(k int, pieces map[int]int, extras []int, day int, deviation int64) {
	if s.over || s.passed || deviation > s.mostDeviation {
		return
	}
	if k == len(s.in.extras) {
		s.keep(pieces, extras, day, deviation)
		return
	}
	e := s.in.extras[k]
	brought := s.brought[e]
	if brought == 0 {
		s.settleExtras(k+1, pieces, extras, day, deviation)
		return
	}
	for i, o := range s.in.p.Extras[e].Options {
		if s.nodes++; s.nodes%1024 == 0 && s.ended() {
			return
		}
		offer := s.in.p.Offers[o.Offer]
		if offer.Day > s.day || s.in.p.late(offer) {
			continue
		}
		extras[e] = i
		pieces[o.Offer] += brought
		s.bring(o.Brings, 1)
		s.settleExtras(k+1, pieces, extras, max(day, offer.Day), deviation+o.Deviation)
		s.bring(o.Brings, -1)
		if pieces[o.Offer] -= brought; pieces[o.Offer] == 0 {
			delete(pieces, o.Offer)
		}
		extras[e] = -1
	}
}

func (s *search) keep(pieces map[int]int, extras []int, day int, deviation int64) {
	cost, ok := s.in.p.landed(pieces)
	if !ok || s.in.p.MostCost != nil && cost > *s.in.p.MostCost {
		return
	}
	if !s.survives(cost, deviation, stair{{0, 0}}) {
		return
	}
	pt := Point{Cost: cost, Day: day, Deviation: deviation, Options: make([]int, len(s.chosen)), Extras: append([]int(nil), extras...)}
	for k, o := range s.chosen {
		pt.Options[s.in.needs[k].index] = o.index
	}
	if s.goal == everything {
		s.found = s.found.add(pt)
	} else {
		s.found = Front{pt}
	}
	s.tighten(pt)
	s.over = s.over || s.goal == first
}
