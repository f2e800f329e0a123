package pricing

import (
	"context"
	"fmt"
	"slices"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/substitution"
	"stead/substitution/inspection"
)

// Does reports whether it was agreed that so much is done at a place.
func (g Agreement) Does(place substitution.Place, action inspection.Action) bool {
	return g.Work[place] == action
}

// New are the findings that ask for work that is neither agreed nor put off: an amendment would quote them.
func (g Agreement) New(terms Terms, findings []inspection.Finding) []inspection.Finding {
	return slices.DeleteFunc(terms.covered(findings), func(f inspection.Finding) bool {
		return f.Action == "" || f.Action == inspection.Keep || g.Does(f.Place, f.Action)
	})
}

// FoundSince tells of which of some approved jobs findings ask for work that is neither agreed nor put off: those of which
// [Agreement.New] has any.
func FoundSince(ctx context.Context, db inventory.DB, jobs []int64) (map[int64]bool, error) {
	rows, err := db.Query(ctx, `
		SELECT DISTINCT f.job_id
		FROM finding f CROSS JOIN LATERAL (
			SELECT a.work FROM approval a JOIN quote q ON q.id = a.quote_id WHERE q.job_id = f.job_id ORDER BY q.version DESC LIMIT 1) AS agreed
		WHERE f.job_id = ANY($1) AND coalesce(f.document ->> 'action', '') NOT IN ('', 'keep')
		  AND f.document ->> 'action' IS DISTINCT FROM agreed.work ->> f.place
		  AND NOT EXISTS (SELECT FROM advice a WHERE a.job_id = f.job_id AND a.place = f.place)`, jobs)
	if err != nil {
		return nil, fmt.Errorf("loading what was found since jobs were approved: %w", err)
	}
	ids, err := pgx.CollectRows(rows, pgx.RowTo[int64])
	if err != nil {
		return nil, fmt.Errorf("loading what was found since jobs were approved: %w", err)
	}
	since := map[int64]bool{}
	for _, id := range ids {
		since[id] = true
	}
	return since, nil
}
