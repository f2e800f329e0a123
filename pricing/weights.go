package pricing

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/substitution"
	"stead/substitution/solver"
)

// SetWeight records how much a difference counts when options are compared: of names function, finish or one rule of
// these kinds, which then counts so much in place of its kind.
func SetWeight(ctx context.Context, tx pgx.Tx, of string, weight int64) error {
	if of != substitution.Function.String() && of != substitution.Finish.String() {
		rule, err := substitution.RuleByID(of)
		if err != nil {
			return fmt.Errorf("the weight of a difference: write function, finish or a rule: %w", err)
		}
		if rule.Severity.Stops() {
			return fmt.Errorf("the weight of a difference: %s is a %s rule, and what breaks it does not fit, whatever it weighs", of, rule.Severity)
		}
	}
	if of == substitution.Function.String() && weight == 0 {
		return fmt.Errorf("the weight of %s: what changes how the bike rides counts for something, 1 at least", of)
	}
	if weight < 0 || weight > 1_000_000 {
		return fmt.Errorf("the weight of %s: %d is not between 0 and 1000000", of, weight)
	}
	_, err := tx.Exec(ctx, `
		INSERT INTO deviation_weight (of, weight) VALUES ($1, $2)
		ON CONFLICT (of) DO UPDATE SET weight = excluded.weight`, of, weight)
	if err != nil {
		return fmt.Errorf("the weight of %s: %w", of, err)
	}
	return nil
}

// Weights are how much differences count, as the shop has set them; what it has not set counts as usual.
func Weights(ctx context.Context, db inventory.DB) (solver.Weights, error) {
	w := solver.DefaultWeights
	w.Rules = map[string]int64{}
	rows, err := db.Query(ctx, `SELECT of, weight FROM deviation_weight`)
	if err != nil {
		return w, fmt.Errorf("loading the weights of differences: %w", err)
	}
	var of string
	var weight int64
	_, err = pgx.ForEachRow(rows, []any{&of, &weight}, func() error {
		switch of {
		case substitution.Function.String():
			w.Function = weight
		case substitution.Finish.String():
			w.Finish = weight
		default:
			w.Rules[of] = weight
		}
		return nil
	})
	if err != nil {
		return w, fmt.Errorf("loading the weights of differences: %w", err)
	}
	return w, nil
}
