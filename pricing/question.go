package pricing

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
)

// Question is what a customer asks about a quote, with the workshop's answer.
type Question struct {
	ID         int64      `json:"id"`
	JobID      int64      `json:"job"`
	Version    int        `json:"version"` // of the quote that they had before them
	Words      string     `json:"question"`
	AskedAt    time.Time  `json:"asked_at"`
	Answer     string     `json:"answer,omitempty"` // empty: not answered yet
	AnsweredAt *time.Time `json:"answered_at,omitempty"`
	AnsweredBy string     `json:"answered_by,omitempty"`
}

// mostOpenQuestions bounds how many questions of a job wait for an answer at once.
const mostOpenQuestions = 10

// AskQuestion keeps a question about the quote that a link leads to.
func AskQuestion(ctx context.Context, tx pgx.Tx, l Link, words string, now time.Time) error {
	if words = strings.TrimSpace(words); words == "" {
		return errors.New("the question is empty: say what you would like to know")
	}
	if _, err := lockJob(ctx, tx, l.JobID); err != nil {
		return err
	}
	tag, err := tx.Exec(ctx, `
		INSERT INTO question (job_id, quote_id, words, asked_at)
		SELECT job_id, quote_id, $2, $3 FROM quote_link
		WHERE id = $1 AND (SELECT count(*) FROM question q WHERE q.job_id = quote_link.job_id AND q.answered_at IS NULL) < $4`, l.ID, words, now, mostOpenQuestions)
	if err != nil {
		return fmt.Errorf("keeping a question about job %d: %w", l.JobID, err)
	}
	if tag.RowsAffected() == 0 {
		return fmt.Errorf("%d questions wait for an answer already: we will answer those first", mostOpenQuestions)
	}
	return nil
}

// AnswerQuestion keeps the workshop's answer to a question; a second one takes the place of the first.
func AnswerQuestion(ctx context.Context, tx pgx.Tx, jobID, id int64, answer, by string, now time.Time) error {
	if answer = strings.TrimSpace(answer); answer == "" {
		return errors.New("the answer is empty")
	}
	tag, err := tx.Exec(ctx, `UPDATE question SET answer = $3, answered_at = $4, answered_by = $5 WHERE id = $1 AND job_id = $2`, id, jobID, answer, now, by)
	if err != nil {
		return fmt.Errorf("answering a question about job %d: %w", jobID, err)
	}
	if tag.RowsAffected() == 0 {
		return &inventory.UnknownError{Kind: inventory.OfQuestion, Name: fmt.Sprint(id)}
	}
	return nil
}

// QuestionsOf are the questions that were asked about a job, in their order.
func QuestionsOf(ctx context.Context, db inventory.DB, jobID int64) ([]Question, error) {
	return questions(ctx, db, `WHERE question.job_id = $1`, jobID)
}

// OpenQuestions are those that wait for an answer, of all jobs that are in the workshop.
func OpenQuestions(ctx context.Context, db inventory.DB) ([]Question, error) {
	return questions(ctx, db, `JOIN job ON job.id = question.job_id WHERE question.answered_at IS NULL AND job.closed_at IS NULL`)
}

func questions(ctx context.Context, db inventory.DB, which string, args ...any) ([]Question, error) {
	rows, err := db.Query(ctx, `
		SELECT question.id, question.job_id, quote.version, question.words, question.asked_at, question.answer, question.answered_at, question.answered_by
		FROM question JOIN quote ON quote.id = question.quote_id `+which+` ORDER BY question.id`, args...)
	if err != nil {
		return nil, fmt.Errorf("loading questions: %w", err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[Question])
	if err != nil {
		return nil, fmt.Errorf("loading questions: %w", err)
	}
	return list, nil
}
