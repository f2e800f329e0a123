package shelf

import (
	"context"
	"fmt"
	"math"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/reorder"
)

// Quarter is what became of what was said of the shelf's last quarter.
type Quarter struct {
	From calendar.Day `json:"from"`
	// The shelf kept as it was advised then: the share of the sales that it was said to meet, and how many of so many
	// it would have met whole.
	Said  float64 `json:"said"`
	Sales int     `json:"sales"`
	Met   int     `json:"met"`
	Every int     `json:"one_part_in"` // of so many was played for that: 1 is all
	Aims  float64 `json:"aims_at"`     // share that is aimed at now, so that what is asked for comes of it
	// The shelf as it was kept: parts that jobs used, and those of them that had to be bought for the job.
	Used   int `json:"used_on_jobs"`
	Waited int `json:"bought_for_jobs"`
}

// LastQuarter tells of it; nil where the books are too young, or nothing was sold.
func (s *Advice) LastQuarter(ctx context.Context, db inventory.DB) (*Quarter, error) {
	q, told := s.weighed.LastQuarter(s.Target)
	if !told {
		return nil, nil
	}
	out := Quarter{From: calendar.Day(reorder.DaysSince1970(q.From)), Said: q.Said, Sales: q.Sales, Met: q.Met, Every: q.Every, Aims: q.Aims}
	err := db.QueryRow(ctx, `
		SELECT count(*), count(*) FILTER (WHERE EXISTS (
			SELECT FROM claim WHERE claim.job_id = used.job_id AND claim.part_id = used.part_id AND claim.state IN ('ordered', 'arrived')))
		FROM (SELECT DISTINCT job_id, part_id FROM movement
		      WHERE reason = 'used' AND job_id IS NOT NULL AND at >= $1::date::timestamp AT TIME ZONE $2 AND at < $3) AS used`,
		out.From, s.zone.String(), s.now).Scan(&out.Used, &out.Waited)
	if err != nil {
		return nil, fmt.Errorf("read what jobs of the last quarter waited for: %w", err)
	}
	return &out, nil
}

// fewestJudged is of how many sales a promise may be judged.
const fewestJudged = 20

// Luck reports whether what came differs from what was said by no more than chance explains, nineteen times in twenty.
func (q Quarter) Luck() bool { return Luck(q.Said, q.Sales, q.Met) }

// Luck reports whether so many of so many sales are no further from the share that was to be met than chance explains,
// nineteen times in twenty.
func Luck(share float64, sales, met int) bool {
	n := float64(sales)
	return math.Abs(float64(met)-share*n) <= 1.96*math.Sqrt(n*share*(1-share))+0.5
}

// Few reports whether there were too few sales to judge by.
func (q Quarter) Few() bool { return q.Sales < fewestJudged }
