package reorder

import (
	"fmt"
	"math"

	"github.com/shopspring/decimal"
)

// WorkingDaysPerYear is a year of Mondays to Fridays less eight bank holidays.
const WorkingDaysPerYear = 253

// highestTarget is 999 sales in 1000. To meet all of them would need a shelf
// without end.
const highestTarget = 0.999

// policy is what the shop decides for all parts.
type policy struct {
	// FillTarget is the share of sales to be met from the shelf, above 0 and up to
	// 0.999: 0.95 for 19 in 20.
	FillTarget float64
	// OrderCost is what one more order line costs: the handling, and its part of
	// the carriage.
	OrderCost decimal.Decimal
	// HoldingPerYear is what a year on the shelf costs for each pound of stock:
	// 0.25 for a quarter of its price.
	HoldingPerYear float64
	// MostYears is how long stock may lie: no more is ordered at a time than sells
	// in so many years.
	MostYears float64
	// LeastPerYear is the number of pieces a year from which a part is kept at all.
	LeastPerYear float64
	// Model is how demand during the lead time is taken; empty is NegativeBinomial.
	Model Model
}

// defaultPolicy is a start for a shop that has not decided: 19 sales in 20, stock
// at a quarter of its price a year, at most a year's worth at a time, and only
// what sells twice a year. The figures are common practice, without a source.
func defaultPolicy(orderCost decimal.Decimal) policy {
	return policy{FillTarget: 0.95, OrderCost: orderCost, HoldingPerYear: 0.25, MostYears: 1, LeastPerYear: 2}
}

// part is a part that may be kept, with how it sold and how it is bought.
type part struct {
	Name string
	// Counts are the pieces used or sold by period, oldest first.
	Counts     []int
	PeriodDays float64 // working days in a period: 5 for a week
	Lead       lead
	UnitPrice  decimal.Decimal // of one piece, from the supplier
	Pack       int             // pieces that the supplier sells together
	Minimum    int             // fewest pieces that the supplier takes an order for
}

// advice is what to keep of a part.
type advice struct {
	Part     string
	Keep     bool // false: order it for the job when it is needed
	Pattern  Pattern
	Forecast forecast
	PerDay   float64 // pieces that sell in a working day
	Lead     lead
	Demand   leadDemand
	// When shelf and orders together fall to ReorderAt or below, order Quantity:
	// that makes UpTo at the most. All are 0 for a part not kept.
	Level
	Quantity, UpTo int
}

// Advise works out what to keep of the part. It refuses a part or a policy that
// makes no sense, naming the part and the figure.
func (p policy) Advise(part part) (advice, error) {
	if err := p.check(); err != nil {
		return advice{}, err
	}
	if err := part.check(); err != nil {
		return advice{}, err
	}
	a := advice{
		Part: part.Name, Lead: part.Lead,
		Pattern: describe(part.Counts), Forecast: forecastDemand(part.Counts),
	}
	a.PerDay = a.Forecast.PerPeriod / part.PeriodDays
	perYear := a.PerDay * WorkingDaysPerYear
	a.Keep = perYear > 0 && perYear >= p.LeastPerYear
	a.Demand = demandDuring(part.Lead, a.PerDay, a.Pattern.Dispersion, p.model())
	if p.model() == NegativeBinomial {
		// The forecast itself may err, and errs the same way for the whole lead time.
		leadPeriods := part.Lead.MeanDays / part.PeriodDays
		a.Demand.Variance += leadPeriods * leadPeriods * a.Forecast.Variance
	}
	if !a.Keep {
		return a, nil
	}
	holding := part.UnitPrice.InexactFloat64() * p.HoldingPerYear
	a.Quantity = orderQuantity(perYear, p.OrderCost.InexactFloat64(), holding, part.Pack, part.Minimum, p.MostYears)
	a.Level = reorderLevel(a.Demand, amounts(part.Counts, a.Pattern), a.Quantity, p.FillTarget)
	a.UpTo = a.ReorderAt + a.Quantity
	return a, nil
}

// amounts are the pieces that a sale asks for, as far as counts by period tell. Of
// a part that sells now and then, what sold in a period is mostly one sale. Of one
// that sells often it is many, but their usual size shows in how much the counts
// vary: where customers come by chance, variance over mean is the mean size of the
// sale that a piece is part of.
func amounts(counts []int, pattern Pattern) []int {
	if pattern.Class == Smooth || pattern.Class == Erratic {
		return []int{max(1, int(math.Round(pattern.Dispersion)))}
	}
	var sold []int
	for _, n := range counts {
		if n > 0 {
			sold = append(sold, n)
		}
	}
	return sold
}

func (p policy) model() Model {
	if p.Model == "" {
		return NegativeBinomial
	}
	return p.Model
}

func (p policy) check() error {
	switch {
	case !(p.FillTarget > 0 && p.FillTarget <= highestTarget):
		return fmt.Errorf("fill target %v is not between 0 and %v: use 0.95 to meet 19 sales in 20", p.FillTarget, highestTarget)
	case p.OrderCost.IsNegative():
		return fmt.Errorf("order cost %s is negative", p.OrderCost)
	case !(p.HoldingPerYear > 0):
		return fmt.Errorf("holding cost %v a year is not above 0: use 0.25 for a quarter of the price", p.HoldingPerYear)
	case !(p.MostYears > 0):
		return fmt.Errorf("stock for %v years at the most is not above 0", p.MostYears)
	case p.model() != NegativeBinomial && p.model() != Poisson:
		return fmt.Errorf("demand model %q is neither %q nor %q", p.Model, NegativeBinomial, Poisson)
	}
	return nil
}

func (part part) check() error {
	for i, n := range part.Counts {
		if n < 0 {
			return fmt.Errorf("part %s: %d pieces in period %d is negative: book returns apart from sales", part.Name, n, i+1)
		}
	}
	switch {
	case !(part.PeriodDays > 0):
		return fmt.Errorf("part %s: a period of %v working days is not above 0", part.Name, part.PeriodDays)
	case !(part.Lead.MeanDays >= 0) || !(part.Lead.VarianceDays >= 0):
		return fmt.Errorf("part %s: a lead time of %v working days with variance %v is negative or unknown", part.Name, part.Lead.MeanDays, part.Lead.VarianceDays)
	case !part.UnitPrice.IsPositive():
		return fmt.Errorf("part %s: unit price %s is not above 0: without it no order quantity can be weighed", part.Name, part.UnitPrice)
	case part.Pack < 1:
		return fmt.Errorf("part %s: a pack of %d pieces does not exist", part.Name, part.Pack)
	case part.Minimum < 0:
		return fmt.Errorf("part %s: a minimum order of %d pieces is negative", part.Name, part.Minimum)
	}
	return nil
}
