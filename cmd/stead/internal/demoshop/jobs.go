package demoshop

import (
	"context"
	"fmt"
	"io/fs"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory/calendar"
	"stead/inventory/photo"
	"stead/inventory/photo/picture"
	"stead/pricing"
	"stead/substitution"
	"stead/substitution/inspection"
)

// Job is a bike of the demo's week: what is known of it, what will be found, and what its owner will say.
type Job struct {
	Customer     string             `json:"customer"`
	Contact      string             `json:"contact"`
	Bike         string             `json:"bike"`
	Wish         string             `json:"wish"`
	WantedInDays int                `json:"wanted_in_days"`
	Limits       Limits             `json:"limits"`
	Build        substitution.Build `json:"build"`
	Photos       []Photo            `json:"photos,omitempty"`
	Note         string             `json:"note,omitempty"` // what is said at the bench
	Inspect      []inspection.Taken `json:"inspect,omitempty"`
	Decide       *Decision          `json:"decide,omitempty"` // absent: the owner has not answered yet
	Lesson       string             `json:"lesson"`           // why the bike is in the demo
}

// Limits are what the owner will not have.
type Limits struct {
	LatestInDays     int                 `json:"latest_in_days"`
	MostToSpend      decimal.NullDecimal `json:"most_to_spend"`
	NoFunctionChange bool                `json:"no_function_change"`
	SameFinish       bool                `json:"same_finish"`
}

// Photo is a picture of the bike, or of a place of it.
type Photo struct {
	File  string             `json:"file"`
	Place substitution.Place `json:"place,omitempty"`
	Words string             `json:"words,omitempty"`
	Shown bool               `json:"shown,omitempty"` // to the customer
}

// Decision is the owner's answer to the first quote.
type Decision struct {
	Option string   `json:"option"`
	By     string   `json:"by"`
	Accept []string `json:"accept"`
	Wish   []string `json:"wish"`
}

// Jobs reads the demo's bikes.
func Jobs(files fs.FS) ([]Job, error) {
	var jobs []Job
	if err := decode(files, "jobs.json", &jobs); err != nil {
		return nil, fmt.Errorf("demo workshop, jobs.json: %w", err)
	}
	return jobs, nil
}

// BookIn opens the job, keeps its photos and gives its number.
func (j Job) BookIn(ctx context.Context, tx pgx.Tx, files fs.FS, now time.Time) (int64, error) {
	bike, err := pricing.AddBike(ctx, tx, pricing.Bike{Customer: pricing.Customer{Name: j.Customer}.ReachedBy(j.Contact), Words: j.Bike, Build: j.Build})
	if err != nil {
		return 0, err
	}
	today := calendar.DayOf(now)
	wanted := today + calendar.Day(j.WantedInDays)
	limits := pricing.Limits{MostToSpend: j.Limits.MostToSpend, NoFunctionChange: j.Limits.NoFunctionChange, SameFinish: j.Limits.SameFinish}
	if j.Limits.LatestInDays > 0 {
		latest := today + calendar.Day(j.Limits.LatestInDays)
		limits.Latest = &latest
	}
	job, err := pricing.OpenJob(ctx, tx, bike.ID, j.Wish, &wanted, limits, now)
	if err != nil {
		return 0, err
	}
	for _, p := range j.Photos {
		of := photo.Of{BikeID: bike.ID}
		if p.Place != "" {
			of = photo.Of{JobID: job, Place: p.Place}
		}
		if err := p.keep(ctx, tx, files, of, now); err != nil {
			return 0, fmt.Errorf("%s: %w", p.File, err)
		}
	}
	return job, nil
}

func (p Photo) keep(ctx context.Context, tx pgx.Tx, files fs.FS, of photo.Of, now time.Time) error {
	f, err := files.Open(p.File)
	if err != nil {
		return err
	}
	defer f.Close() // only read from
	taken, err := picture.Read(f)
	if err != nil {
		return err
	}
	_, err = photo.Add(ctx, tx, photo.Photo{Of: of, Words: p.Words, Shown: p.Shown, TakenAt: now}, taken)
	return err
}
