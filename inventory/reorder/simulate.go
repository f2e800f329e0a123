package reorder

import (
	"fmt"
	"math/rand/v2"

	"github.com/shopspring/decimal"
)

// Delivery is how a supplier's parcels come, in working days: on the day quoted, or late by a geometric number of days, or
// now and then very late, by ten to thirty-nine.
type Delivery struct {
	Quoted   int
	Late     float64 // share of the parcels that are late
	MeanLate float64 // days late, of those; at least 1
	VeryLate float64 // share of the parcels that are very late
}

// Check says what cannot be meant.
func (d Delivery) Check() error {
	switch {
	case d.Quoted < 0 || d.Quoted > 250:
		return fmt.Errorf("a quote of %d working days is not between 0 and 250", d.Quoted)
	case !(d.Late >= 0 && d.VeryLate >= 0 && d.Late+d.VeryLate <= 1):
		return fmt.Errorf("%v parcels late and %v very late are not shares of one", d.Late, d.VeryLate)
	case !(d.MeanLate >= 1 && d.MeanLate <= 100):
		return fmt.Errorf("%v days late on average are not between 1 and 100", d.MeanLate)
	}
	return nil
}

// Takes draws how many working days an order takes.
func (d Delivery) Takes(r *rand.Rand) int {
	switch u := r.Float64(); {
	case u < 1-d.Late-d.VeryLate:
		return d.Quoted
	case u < 1-d.VeryLate:
		late := 1
		for late < 250 && r.Float64() > 1/d.MeanLate {
			late++
		}
		return d.Quoted + late
	}
	return d.Quoted + 10 + r.IntN(30)
}

// Played is what a rule came to at a target. Money is in pounds.
type Played struct {
	Rule   RuleName `json:"rule"`
	Target float64  `json:"target,omitempty"` // share of sales to be met whole that was asked for; absent for levels as they stand
	// The sales that counted, those met whole from the shelf, and the jobs that waited for the others.
	Sales   int     `json:"sales"`
	Met     int     `json:"sales_met_whole"`
	Share   float64 `json:"share_met_whole"`
	Delayed int     `json:"jobs_delayed"`
	// The same for parts that first sold after the start.
	NewSales int     `json:"new_sales"`
	NewShare float64 `json:"new_share_met_whole"`
	// Stock is its value on average over the days; dead stock is what lies at the end of parts that did not sell at all.
	Stock float64 `json:"stock_value"`
	Dead  float64 `json:"dead_stock"`
	// A year's holding and ordering, together and each; and what was ordered while playing.
	Cost     float64 `json:"holding_and_ordering_a_year"`
	Holding  float64 `json:"holding_a_year"`
	Ordering float64 `json:"ordering_a_year"`
	MissedBy float64 `json:"missed_sales_a_year"`
	Lines    int     `json:"lines"`
	Parcels  int     `json:"parcels"`
	Carriage float64 `json:"carriage_a_year"`
	// Classes are the shares met by how the parts sold in the time played.
	Classes map[Class]ClassPlayed `json:"classes,omitempty"`
}

// ClassPlayed is what came of the parts of one class.
type ClassPlayed struct {
	Parts int     `json:"parts"`
	Sales int     `json:"sales"`
	Share float64 `json:"share_met_whole"`
}

// RuleName is which rule was played.
type RuleName string

// The rules that a simulation plays.
const (
	AsSet      RuleName = "as set"       // the levels as they stand in the books
	PartByPart RuleName = "part by part" // each part for itself, from its mean and variance
	WholeShelf RuleName = "whole shelf"  // all parts weighed together
)

const mostTargets = 20

// Simulate plays the levels as they stand, if there are any, and both rules at each target, over the same days with the
// same parcels.
func Simulate(w *World, asSet []Keep, targets []float64) ([]Played, error) {
	if len(targets) == 0 || len(targets) > mostTargets {
		return nil, fmt.Errorf("%d targets are not between 1 and %d", len(targets), mostTargets)
	}
	for _, target := range targets {
		if !(target > 0 && target <= highestTarget) {
			return nil, fmt.Errorf("a target of %v is not between 0 and %v: use 0.95 to meet 19 sales in 20", target, highestTarget)
		}
	}
	if err := w.check(); err != nil {
		return nil, err
	}
	var all []Played
	if asSet != nil {
		all = append(all, w.played(AsSet, 0, w.Play(func(Books) []Keep { return asSet })))
	}
	for _, target := range targets {
		all = append(all, w.played(PartByPart, target, w.Play(eachAlone(target))))
	}
	shelves := map[int]*Shelf{}
	for _, target := range targets {
		all = append(all, w.played(WholeShelf, target, w.Play(func(b Books) []Keep {
			if shelves[b.Now] == nil {
				shelves[b.Now] = b.Weigh()
			}
			return shelves[b.Now].For(target)
		})))
	}
	return all, nil
}

// eachAlone keeps each part for itself by policy.Advise, counted by whole weeks from that of its first sale.
func eachAlone(target float64) Rule {
	return func(b Books) []Keep {
		levels := make([]Keep, len(b.Items))
		policy := defaultPolicy(decimal.NewFromFloat(b.LineCost))
		policy.FillTarget, policy.HoldingPerYear = target, b.Holding
		for i := range b.Items {
			item, sales := &b.Items[i], b.Known(i)
			if len(sales) == 0 {
				continue
			}
			mean, variance := item.Lead.Moments()
			a, err := policy.Advise(part{
				Name: item.Name, Counts: wholeWeeks(sales, sales[0].Day, b.Now), PeriodDays: daysPerPeriod,
				Lead: lead{MeanDays: mean, VarianceDays: max(0, variance)}, UnitPrice: decimal.NewFromFloat(item.Price),
				Pack: max(1, item.Pack), Minimum: item.Minimum,
			})
			if err == nil && a.Keep {
				levels[i] = Keep{At: a.ReorderAt, UpTo: a.UpTo}
			}
		}
		return levels
	}
}

// wholeWeeks counts the pieces of each calendar week that is over, from that of a day on.
func wholeWeeks(sales []Sale, from, now int) []int {
	counts := make([]int, max(0, weekOf(now)-weekOf(from)))
	for _, s := range sales {
		if i := weekOf(s.Day) - weekOf(from); i >= 0 && i < len(counts) {
			counts[i] += s.Pieces
		}
	}
	return counts
}

// played puts an outcome into a person's figures.
func (w *World) played(rule RuleName, target float64, o Outcome) Played {
	p := Played{Rule: rule, Target: target, Sales: o.Sales, Met: o.Met, Share: o.Share(), Delayed: o.Sales - o.Met,
		NewSales: o.NewSales, NewShare: o.NewShare(), Stock: o.Stock, Dead: o.Dead,
		Cost: o.CostPerYear(w), Holding: o.HoldingPerYear(w), Ordering: o.OrderingPerYear(w), MissedBy: o.MissedPerYear(w),
		Lines: o.Lines, Parcels: o.Parcels, Carriage: o.Carriage / o.years(), Classes: map[Class]ClassPlayed{}}
	met := map[Class]int{}
	for i := range w.Items {
		if o.ItemSales[i] == 0 {
			continue
		}
		class := describe(wholeWeeks(w.Items[i].Sales, w.Start, w.End)).Class
		c := p.Classes[class]
		c.Parts++
		c.Sales += o.ItemSales[i]
		met[class] += o.ItemMet[i]
		c.Share = share(met[class], c.Sales)
		p.Classes[class] = c
	}
	return p
}

// check says what cannot be played.
func (w *World) check() error {
	switch {
	case len(w.Items) == 0:
		return fmt.Errorf("there is no part to be played")
	case w.Start < 1 || w.End <= w.Start:
		return fmt.Errorf("from working day %d to %d there is nothing to be played: leave a week or more of history and of days to play", w.Start, w.End)
	case w.LookEvery < 1 || w.AdviseEvery < 1:
		return fmt.Errorf("to look every %d days and advise every %d makes no sense: both are 1 or more", w.LookEvery, w.AdviseEvery)
	case !(w.LineCost >= 0 && w.Holding > 0 && w.Missed >= 0):
		return fmt.Errorf("a line at %v, stock at %v a year and a missed sale at %v: none is below nought, and stock is not for nothing",
			w.LineCost, w.Holding, w.Missed)
	}
	for _, c := range w.Carriage {
		if !(c.Each >= 0) {
			return fmt.Errorf("a parcel at %v cannot be meant: carriage is not below nought", c.Each)
		}
	}
	for i := range w.Items {
		switch item := &w.Items[i]; {
		case !(item.Price > 0):
			return fmt.Errorf("part %s has no price: give one in the file, or one for all", item.Name)
		case item.Lead == nil || len(item.Lead.OnDay) == 0:
			return fmt.Errorf("part %s has no lead time", item.Name)
		}
	}
	return nil
}
