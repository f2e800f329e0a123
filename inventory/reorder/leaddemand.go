package reorder

import "math"

// Model is the form given to the demand during a lead time.
type Model string

const (
	// NegativeBinomial takes both the chance in sales and the spread of the lead
	// time into account. It is right where parcels come in the order in which they
	// were ordered, and it is what is used unless told otherwise.
	NegativeBinomial Model = "negative binomial"
	// Poisson leaves the spread of the lead time out. It is right where orders may
	// overtake one another and sales come singly (Palm's theorem; Feeney and
	// Sherbrooke, Management Science 12, 1966).
	Poisson Model = "Poisson"
)

// lead is how long an order takes, in working days.
type lead struct {
	MeanDays     float64
	VarianceDays float64 // in days squared
}

// leadDemand is how many pieces may sell between ordering and receiving.
type leadDemand struct {
	Model    Model
	Mean     float64 // pieces
	Variance float64 // pieces squared; not less than Mean
}

// demandDuring is the demand during the lead time of a part that sells so many
// pieces a day. Dispersion is the variance of sales over their mean, 1 for sales
// that come singly and by chance.
//
// Mean and variance are E[L]d and E[L]s² + d² Var[L] (Hadley and Whitin, "Analysis
// of Inventory Systems", 1963).
func demandDuring(lead lead, perDay, dispersion float64, model Model) leadDemand {
	d := leadDemand{Model: model, Mean: lead.MeanDays * perDay}
	d.Variance = d.Mean
	if model != Poisson {
		d.Variance = lead.MeanDays*perDay*max(1, dispersion) + perDay*perDay*lead.VarianceDays
	}
	return d
}

// atMost lists the chances that no more than 0, 1, ..., most pieces sell.
func (d leadDemand) atMost(most int) []float64 {
	chances := make([]float64, most+1)
	if d.Mean <= 0 {
		for n := range chances {
			chances[n] = 1
		}
		return chances
	}
	// In logarithms, for the chance of selling none underflows when many sell.
	step := func(n float64) float64 { return math.Log(d.Mean / (n + 1)) }
	logChance := -d.Mean
	if d.Variance > d.Mean*(1+1e-9) {
		shape := d.Mean * d.Mean / (d.Variance - d.Mean)
		success := d.Mean / d.Variance
		logChance = shape * math.Log(success)
		step = func(n float64) float64 { return math.Log((n + shape) / (n + 1) * (1 - success)) }
	}
	sum := 0.0
	for n := range chances {
		sum += math.Exp(logChance)
		chances[n] = math.Min(sum, 1)
		logChance += step(float64(n))
	}
	return chances
}
