package post

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
)

// Forget blanks to whom the messages about jobs went, and cancels those that have not left.
func Forget(ctx context.Context, tx pgx.Tx, jobs []int64, now time.Time) error {
	if _, err := tx.Exec(ctx, `SELECT FROM message WHERE job_id = ANY($1) FOR UPDATE`, jobs); err != nil { // what is just leaving is waited for
		return fmt.Errorf("forget the post: %w", err)
	}
	_, err := tx.Exec(ctx, `
		UPDATE message SET recipient = '', subject = '', answer = '', content = NULL,
		       changed_at = CASE WHEN state IN ('sent', 'cancelled') THEN changed_at ELSE $2 END,
		       state = CASE WHEN state = 'sent' THEN state ELSE 'cancelled' END
		WHERE job_id = ANY($1)`, jobs, now)
	if err != nil {
		return fmt.Errorf("forget the post: %w", err)
	}
	return nil
}
