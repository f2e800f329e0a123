package pricing

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/substitution"
	"stead/substitution/inspection"
	"stead/substitution/inspection/note"
)

// Note is what was said at the bench of a job's bike, with what was kept of it.
type Note struct {
	Said     string         `json:"note"`
	SaidAt   time.Time      `json:"said_at"`
	Findings []note.Finding `json:"findings"`
	Fitted   []note.Fitted  `json:"fitted"`
	Unread   []string       `json:"unread,omitempty"`
}

// NoteWords are the shop's own words at the bench.
func NoteWords(ctx context.Context, db inventory.DB) (note.Words, error) {
	rows, err := db.Query(ctx, `SELECT word, meaning FROM note_word`)
	if err != nil {
		return nil, fmt.Errorf("read the shop's words: %w", err)
	}
	words := note.Words{}
	var word, meaning string
	if _, err := pgx.ForEachRow(rows, []any{&word, &meaning}, func() error { words[word] = meaning; return nil }); err != nil {
		return nil, fmt.Errorf("read the shop's words: %w", err)
	}
	return words, nil
}

// TellNoteWord keeps what a word means at the bench; see [note.Words].
func TellNoteWord(ctx context.Context, tx pgx.Tx, word, meaning string, now time.Time) error {
	word, meaning = strings.ToLower(strings.Join(strings.Fields(word), " ")), strings.TrimSpace(meaning)
	if _, err := note.NewReader(note.Words{word: meaning}); err != nil {
		return err
	}
	_, err := tx.Exec(ctx, `
		INSERT INTO note_word (word, meaning, told_at) VALUES ($1, $2, $3)
		ON CONFLICT (word) DO UPDATE SET meaning = excluded.meaning, told_at = excluded.told_at`, word, meaning, now)
	if err != nil {
		return fmt.Errorf("keep the meaning of %q: %w", word, err)
	}
	return nil
}

// ReadNote reads what was said of a job's bike, with the shop's own words, and keeps nothing.
func ReadNote(ctx context.Context, db inventory.DB, jobID int64, said string) (Job, note.Reading, error) {
	job, err := JobByID(ctx, db, jobID)
	if err != nil {
		return Job{}, note.Reading{}, err
	}
	words, err := NoteWords(ctx, db)
	if err != nil {
		return Job{}, note.Reading{}, err
	}
	reader, err := note.NewReader(words)
	if err != nil {
		return Job{}, note.Reading{}, err
	}
	return job, reader.ReadAsking(said, job.Bike.Build), nil
}

// PreviewNote tells what the findings at the places of a reading would come to, with all that was read there before and
// with what the note says is fitted.
func PreviewNote(ctx context.Context, db inventory.DB, job Job, r note.Reading) (map[substitution.Place]inspection.Finding, error) {
	taken, err := takenOn(ctx, db, job.ID)
	if err != nil {
		return nil, err
	}
	build := maps.Clone(job.Bike.Build)
	for _, f := range r.Fitted {
		part, err := withFacts(build[f.Place], f)
		if err != nil {
			return nil, err
		}
		build[f.Place] = part
	}
	for _, f := range r.Findings {
		taken = append(taken, visitOf(f))
	}
	found, err := inspection.Findings(build, taken)
	if err != nil {
		return nil, fmt.Errorf("job %d: %w", job.ID, err)
	}
	out := map[substitution.Place]inspection.Finding{}
	for _, f := range found {
		out[f.Place] = f
	}
	return out, nil
}

// KeepNote keeps what was confirmed of a note: findings join what was read before, facts go to the bike's record, and the
// whole note stays in the job's history. It gives what the places come to.
func KeepNote(ctx context.Context, tx pgx.Tx, jobID int64, n Note) ([]Found, error) {
	if strings.TrimSpace(n.Said) == "" {
		return nil, errors.New("the note is empty: say what was found")
	}
	job, err := JobByID(ctx, tx, jobID)
	if err != nil {
		return nil, err
	}
	for _, f := range n.Fitted {
		part, err := withFacts(job.Bike.Build[f.Place], f)
		if err != nil {
			return nil, err
		}
		if err := RecordFitted(ctx, tx, jobID, f.Place, part); err != nil {
			return nil, err
		}
	}
	var out []Found
	for _, f := range n.Findings {
		found, err := Inspect(ctx, tx, jobID, visitOf(f), n.SaidAt)
		if err != nil {
			return nil, err
		}
		out = append(out, found)
	}
	if _, err := tx.Exec(ctx, `INSERT INTO job_note (job_id, said, kept, said_at) VALUES ($1, $2, $3, $4)`, jobID, n.Said, n, n.SaidAt); err != nil {
		return nil, fmt.Errorf("keeping the note on job %d: %w", jobID, err)
	}
	return out, nil
}

// NotesOf are the notes that were kept on a job, in the order in which they were said.
func NotesOf(ctx context.Context, db inventory.DB, jobID int64) ([]Note, error) {
	return documents[Note](ctx, db, `SELECT kept FROM job_note WHERE job_id = $1 ORDER BY id`, jobID)
}

// visitOf is a finding of a note as a visit to its place: its words are the remark.
func visitOf(f note.Finding) inspection.Taken {
	return inspection.Taken{Place: f.Place, Readings: f.Readings, Action: f.Action, Note: "“" + f.Words + "”"}
}

// withFacts is the part on record with what a note says of it. What follows from a bearing's number is by the standard, the
// rest was read off the part.
func withFacts(had *substitution.Part, f note.Fitted) (*substitution.Part, error) {
	site, err := substitution.SiteOf(f.Place)
	if err != nil {
		return nil, err
	}
	part := substitution.Part{Family: site.Family}
	if had != nil {
		part = *had
	}
	_, numbered := f.Spec["designation"]
	for _, name := range slices.Sorted(maps.Keys(f.Spec)) {
		origin := substitution.Measured
		if numbered && name != "designation" {
			origin = substitution.FromStandard
		}
		part.Spec = part.Spec.With(name, f.Spec[name], origin)
	}
	part, err = part.Check()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", site.Words, err)
	}
	return &part, nil
}
