package reorder

import "math"

// memory is how a shop's parts are learnt from: what they sell in general, how long
// their past is worth remembering, and how far the last weeks may lead away from it.
//
// A part's usual rate is the mean of a gamma distribution: that of the parts of the
// shop, to which each week adds its sales and its time, fading. Its present rate is
// another, about the usual one, to which each week adds the same but fades sooner. So a
// part that has begun to sell is followed quickly and a part with few sales of its own
// is taken for one of the shop's. Evenness says how much surer the sales of the coming
// weeks are than if the rate were known no better than from the weeks counted: below 1
// where sales come in bursts.
//
// A part may also be asked for no longer, or not for some time: nobody rides such a bike
// any more, or those who do have all had theirs. That is never seen, only supposed, by each
// week without a sale the more, the more often the part sold.
//
// All figures are those under which the shop's own past would have been foretold best.
type memory struct {
	shape, weeks float64 // of the rates over the shop's parts, in sales a week: gamma shape, and exposure
	before       float64 // what the time from the start of the books to the first sale counts, 0 to 1
	slow, fast   float64 // half-lives in weeks
	worth        float64 // how many weeks the usual rate is worth beside the last ones
	evenness     float64
	drift        float64 // how far a rate moves on, beside what chance explains: the variance of its logarithm
	dearness     float64 // how much seldomer a part sells that is dearer: rate goes with price to this power
	ends         float64 // chance, in a week, that a part which is asked for is so no longer
	returns      float64 // and that one which is not is so again
	rhythm       rhythm  // how sales come within a rate

	keepSlow, keepFast float64 // what is left of a week's weight one week later
}

// untaught is what is believed before there are books: common practice, no source.
var untaught = memory{shape: 1, weeks: 6, before: 0.5, slow: 26, fast: 3, worth: 8, evenness: 1, drift: 0.1, ends: 0.005, returns: 0.01}

// ready works out what follows from the half-lives.
func (m memory) ready() memory {
	m.keepSlow, m.keepFast = math.Exp2(-1/m.slow), math.Exp2(-1/m.fast)
	return m
}

// state is what a memory holds of one part: sales and weeks, slow and fast, and the odds that it has come to its end.
type state struct{ slowSales, slowWeeks, fastSales, fastWeeks, ended float64 }

// begin is what is known just after a part's first sale.
func (m *memory) begin(r *record) state {
	return state{slowSales: m.before, slowWeeks: m.before * (r.lag + 0.1)}
}

// add takes in a week. One without a sale speaks for the end, the more so the more was to be expected.
func (m *memory) add(s *state, like, sales, weeks float64) {
	if sales > 0 {
		s.ended = 0
	} else {
		own, all := m.weeks/like+s.slowWeeks, m.worth+s.fastWeeks
		s.ended *= 1 + weeks*(m.worth*(m.shape+s.slowSales)+s.fastSales*own)/(own*all)
	}
	s.ended = (s.ended*(1-m.returns) + m.ends) / (1 - m.ends + s.ended*m.returns)
	s.slowSales, s.slowWeeks = s.slowSales*m.keepSlow+sales, s.slowWeeks*m.keepSlow+weeks
	s.fastSales, s.fastWeeks = s.fastSales*m.keepFast+sales, s.fastWeeks*m.keepFast+weeks
}

// gamma is a distribution of a rate of sales a week.
type gamma struct{ shape, rate float64 }

// like is how often parts like this one sell, over what all parts of the shop do.
func (m *memory) like(r *record) float64 { return math.Exp(m.dearness * r.dear) }

// rate is what is known of a part's present rate.
func (m *memory) rate(s state, like float64) gamma {
	usual := (m.shape + s.slowSales) / (m.weeks/like + s.slowWeeks)
	g := gamma{m.evenness * (m.worth*usual + s.fastSales), m.evenness * (m.worth + s.fastWeeks)}
	moved := 1 / (1 + m.drift*g.shape)
	return gamma{g.shape * moved, g.rate * moved}.or(s.ended)
}

// or is the rate of what is asked for at a rate, or with such odds not at all: by its mean and its variance.
func (g gamma) or(ended float64) gamma {
	more := 1 + ended*(1+g.shape)
	return gamma{g.shape / more, g.rate * (1 + ended) / more}
}

// own is how much of what is known of a part is its own, from 0 to 1.
func (m *memory) own(s state, like float64) float64 {
	usual := s.slowWeeks / (m.weeks/like + s.slowWeeks)
	return (m.worth*usual + s.fastWeeks) / (m.worth + s.fastWeeks)
}

// logNegativeBinomial is the log chance of n events within an exposure, at a rate that
// has a gamma distribution.
func logNegativeBinomial(n float64, g gamma, exposure float64) float64 {
	if exposure <= 0 {
		return 0
	}
	log := -g.shape * math.Log(1+exposure/g.rate)
	if n > 0 {
		q := exposure / (g.rate + exposure)
		chance := 1.0
		for k := 0.0; k < n; k++ {
			chance *= (g.shape + k) / (k + 1) * q
			if chance < 1e-200 {
				log += math.Log(chance)
				chance = 1
			}
		}
		log += math.Log(chance)
	}
	return log
}
