package desk

import (
	"context"
	"time"

	"stead/inventory"
	"stead/pricing"
)

// Options are all options of a job that no other one betters.
type Options struct {
	pricing.Front
	Clock
	Currency string                `json:"-"`
	Delays   []string              `json:"-"` // with which the days count: that all suppliers are late just now, or that one has become slower
	Labour   []pricing.LabourLine  `json:"-"` // in every option
	Refusal  *pricing.RefusalWords `json:"-"` // where there is none: why, and the ways out
	Unsure   []pricing.UnsurePart  `json:"-"` // where there is none: what might do, once it is measured
	Marked   []Marked              `json:"-"` // the same options, the soonest first, with the gravest kind of difference of each
}

// Marked is an option with the gravest kind of difference that it brings.
type Marked struct {
	pricing.Option
	Differs Differs
}

// Differs is the gravest kind of difference that an option brings.
type Differs string

const (
	Nothing  Differs = "nothing"
	Finish   Differs = "finish"
	Function Differs = "function"
)

// LoadOptions works out a job's options as things stand at a moment.
func LoadOptions(ctx context.Context, db inventory.DB, jobID int64, now time.Time) (v Options, err error) {
	s, err := pricing.LoadSituation(ctx, db, jobID, now)
	if err != nil {
		return v, err
	}
	v = Options{Clock: At(now), Currency: s.Shop.Currency, Labour: s.Labour}
	if v.Front, err = s.Front(ctx); err != nil {
		return v, err
	}
	if len(v.Front.Options) == 0 && v.Front.Proven {
		draft, err := s.DraftWithWaysOut(ctx, db)
		if err != nil {
			return v, err
		}
		v.Refusal, v.Unsure = draft.Refusal, draft.Unsure
	}
	for _, o := range v.Front.Options {
		v.Marked = append(v.Marked, Marked{o, differs(o)})
	}
	v.Delays = delaysOf(v.Front.Options)
	return v, nil
}

// delaysOf tell of all with which the days of options count, of each once.
func delaysOf(options []pricing.Option) []string {
	var delays []inventory.Delay
	for _, o := range options {
		delays = append(delays, o.Delays...)
	}
	return delayWords(delays)
}

func differs(o pricing.Option) Differs {
	gravest := Nothing
	for _, d := range o.Deviations {
		if d.Kind == pricing.OfFunction {
			return Function
		}
		gravest = Finish
	}
	return gravest
}

// Span are the least and the most that the options cost; nothing where there is none.
func (v Options) Span() (cheapest, dearest pricing.Option) {
	for i, o := range v.Front.Options {
		if i == 0 || o.Total.LessThan(cheapest.Total) {
			cheapest = o
		}
		if i == 0 || o.Total.GreaterThan(dearest.Total) {
			dearest = o
		}
	}
	return cheapest, dearest
}
