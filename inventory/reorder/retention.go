package reorder

import "math"

// Retention says what a piece on the shelf is worth: kept until it sells, or given away now. All in pounds a piece.
type Retention struct {
	Value    float64 // when it sells: what another would cost then
	Salvage  float64 // what it brings today
	Storage  float64 // of a year on the shelf, beside the money in it
	Interest float64 // of the money a year
	Life     float64 // years after which it cannot be sold any more; 0 is for ever
}

// Worth is what the n-th piece to sell is worth today if it is kept, where sales of single pieces come by chance at a rate
// that is known no better than by its distribution. The wait for the n-th sale is an Erlang distribution; under interest it
// is one at a higher rate, so no integral is needed.
//
// It is the economic retention rule (Rosenfield, "Disposal of excess inventory", Operations Research 37, 1989): for one
// known rate, no interest on storage and no end of life, the pieces worth keeping are ln((S + h/i)/(V + h/i)) / ln(r/(r
// + i)).
func (r Retention) Worth(perYear Rate, n int) float64 {
	sum := 0.0
	for _, node := range perYear.gamma.nodes() {
		if node.rate <= 0 {
			sum -= node.chance * r.stored(0)
			continue
		}
		sold := math.Pow(node.rate/(node.rate+r.Interest), float64(n)) // the value of a pound at its sale
		inTime := 1.0
		if r.Life > 0 {
			inTime = gammaBelow(float64(n), (node.rate+r.Interest)*r.Life)
		}
		sum += node.chance * (r.Value*sold*inTime - r.stored(sold))
	}
	return sum
}

// stored is what storing a piece costs until a sale at which a pound is worth so much today.
func (r Retention) stored(sold float64) float64 {
	if r.Storage == 0 {
		return 0
	}
	return r.Storage / r.Interest * (1 - sold)
}

// Keep is how many of so many pieces are worth more kept than given away.
func (r Retention) Keep(perYear Rate, pieces int) int {
	for n := 1; n <= pieces; n++ {
		if r.Worth(perYear, n) < r.Salvage {
			return n - 1
		}
	}
	return pieces
}

// Rate is how many pieces a year are asked for, as far as it is known.
type Rate struct{ gamma gamma }

// Mean is the pieces a year.
func (r Rate) Mean() float64 { return r.gamma.shape / r.gamma.rate }

// Sells is how many of so many pieces will more likely be sold within so many years than not.
func (r Rate) Sells(years float64, pieces int) int {
	for n := 1; n <= pieces; n++ {
		chance := 0.0
		for _, node := range r.gamma.nodes() {
			if node.rate > 0 {
				chance += node.chance * gammaBelow(float64(n), node.rate*years)
			}
		}
		if chance < 0.5 {
			return n - 1
		}
	}
	return pieces
}

// PerYear is the rate of an item, in pieces. One that has not sold in so many weeks on the shelf may still sell as the
// shop's parts do, the less the longer it has lain there.
func (s *Shelf) PerYear(item int, unsold float64) Rate {
	if r := s.record(item); r != nil {
		rate, form := s.learnt.outlook(r, s.now)
		season := s.learnt.seasonAhead(r, s.now) // which a year has all of
		return Rate{gamma{rate.shape, rate.rate * season / (WorkingDaysPerYear * meanOf(form))}}
	}
	m := &s.learnt.memory
	rate := m.rate(state{slowWeeks: unsold, fastWeeks: unsold}, 1)
	return Rate{gamma{rate.shape, rate.rate * daysPerPeriod / WorkingDaysPerYear / max(1, s.learnt.sizes.usual)}}
}
