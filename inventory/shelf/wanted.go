package shelf

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/reorder"
)

// LostFor is why a quote was lost; empty where nobody has said.
type LostFor string

// Of the reasons, those that tell of demand for what was not on the shelf. [stead/pricing] has the others.
const (
	LostForDate LostFor = "date"
	LostForPart LostFor = "part"
)

// told is a part of an option of a quote, with what became of the quote.
type told struct {
	QuoteID, JobID int64
	Version        int
	MadeAt         time.Time
	Approved, Over bool
	Because        LostFor
	Option         int
	Chosen         bool
	Place          string
	PartID         int64
	Pieces         int
	Shelf          bool
	Substitute     bool
	HereOn         *calendar.Day
}

// wanted is what quotes tell of demand beside what was used: what was lost for being late or absent, and what was used in
// the stead of something else.
type wanted struct {
	Lost map[int64][]LostSale
	// Bent is, for a stand-in used on a job, the part that was wanted.
	Bent map[used]int64
	// Quoted is how many jobs were quoted with all on the shelf, and Taken how many of them were approved.
	Quoted, Taken float64
}

// approved is the share of quotes that are approved where all is on the shelf: a lost sale counts for so much of one.
func (w wanted) approved() float64 { return w.Taken / w.Quoted }

// LostSale is a sale that was not made for want of a part.
type LostSale struct {
	At     time.Time
	Pieces int
}

// used is a part on a job.
type used struct{ jobID, partID int64 }

// loadWanted reads what quotes tell, job by job: of a large shop that is more than all else that is known of it.
func loadWanted(ctx context.Context, db inventory.DB) (wanted, error) {
	w := nothingWanted()
	rows, err := db.Query(ctx, `SELECT * FROM quotes_told()`)
	if err != nil {
		return w, fmt.Errorf("read what quotes were lost: %w", err)
	}
	var job []told
	var r told
	if _, err := pgx.ForEachRow(rows, []any{&r.QuoteID, &r.JobID, &r.Version, &r.MadeAt, &r.Approved, &r.Over, &r.Because, &r.Option, &r.Chosen,
		&r.Place, &r.PartID, &r.Pieces, &r.Shelf, &r.Substitute, &r.HereOn}, func() error {
		if len(job) > 0 && job[0].JobID != r.JobID {
			w.hear(job)
			job = job[:0]
		}
		job = append(job, r)
		return nil
	}); err != nil {
		return w, fmt.Errorf("read what quotes were lost: %w", err)
	}
	w.hear(job)
	return w, nil
}

// nothingWanted is what is believed before any quote was made: that of those with all on the shelf three in four are
// approved, worth four quotes. The project's own guess.
func nothingWanted() wanted {
	return wanted{Lost: map[int64][]LostSale{}, Bent: map[used]int64{}, Quoted: 4, Taken: 3}
}

// hear takes in the parts of the options of one job's quotes, in the order of their versions.
func (w *wanted) hear(job []told) {
	yes, over, there := false, false, false
	chosen := map[int64]bool{} // parts of what was approved, which were not lost after all
	for _, quote := range quotesOf(job) {
		yes = yes || quote[0].Approved
		over = quote[0].Over
		there = there || allOnShelf(quote)
		for _, r := range quote {
			chosen[r.PartID] = chosen[r.PartID] || r.Approved && r.Chosen
		}
		w.bend(quote)
	}
	if there && (yes || over) {
		w.Quoted++
		if yes {
			w.Taken++
		}
	}
	lost := map[int64]bool{} // once for each job, however often it was quoted
	for _, quote := range quotesOf(job) {
		if quote[0].Approved || quote[0].Because != LostForDate && quote[0].Because != LostForPart {
			continue
		}
		for _, r := range askedFor(quote) {
			if !r.Shelf && !chosen[r.PartID] && !lost[r.PartID] {
				lost[r.PartID] = true
				w.Lost[r.PartID] = append(w.Lost[r.PartID], LostSale{r.MadeAt, r.Pieces})
			}
		}
	}
}

// askedFor are the parts that the customer of a lost quote would have taken: at each place the one that is like the old, of
// whichever option; where none is, a stand-in of the first option, unless a stand-in is what they would not have.
func askedFor(quote []told) (out []told) {
	like := map[string]int{} // the option that has it
	for _, r := range quote {
		if option, found := like[r.Place]; !r.Substitute && (!found || option == r.Option) {
			like[r.Place] = r.Option
			out = append(out, r)
		}
	}
	for _, r := range quote {
		if r.Option == quote[0].Option && like[r.Place] == 0 && r.Because == LostForDate {
			out = append(out, r)
		}
	}
	return out
}

// quotesOf parts a job's rows by quote.
func quotesOf(job []told) (out [][]told) {
	for i := range job {
		if i == 0 || job[i].QuoteID != job[i-1].QuoteID {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], job[i])
	}
	return out
}

// allOnShelf reports whether some option takes all from the shelf.
func allOnShelf(quote []told) bool {
	there := map[int]bool{}
	for _, r := range quote {
		all, before := there[r.Option]
		there[r.Option] = r.Shelf && (all || !before)
	}
	for _, all := range there {
		if all {
			return true
		}
	}
	return false
}

// bend finds the stand-ins of an approved quote that were chosen although a part like the old one could be had, only later.
func (w wanted) bend(quote []told) {
	for _, r := range quote {
		if !r.Approved || !r.Chosen || !r.Substitute {
			continue
		}
		for _, other := range quote {
			if other.Place == r.Place && !other.Substitute && !other.Shelf && other.PartID != r.PartID &&
				(r.Shelf || r.HereOn != nil && other.HereOn != nil && *other.HereOn > *r.HereOn) {
				w.Bent[used{r.JobID, r.PartID}] = other.PartID
				break
			}
		}
	}
}

// stockMove is a movement as the days with an empty shelf are told from it.
type stockMove struct {
	PartID int64
	At     time.Time
	Pieces int
	Reason inventory.Reason
}

// after is the movement behind those that came before it: of one moment and reason they are one, whatever bins they are of.
func (m stockMove) after(moves []stockMove) []stockMove {
	for i := len(moves) - 1; i >= 0 && moves[i].At.Equal(m.At); i-- {
		if moves[i].Reason == m.Reason {
			moves[i].Pieces += m.Pieces
			return moves
		}
	}
	return append(moves, m)
}

// emptyDays are the stretches of a part's past in which nobody could have bought it over the counter because none was there:
// days that are not without demand. A count that differs sets right what was believed of the days before it: what was found
// had been there all along, and where nothing was found it was gone since the last movement.
func emptyDays(moves []stockMove, zone *time.Location, today int, share float64) []reorder.Stretch {
	var out []reorder.Stretch
	onHand, since, last := 0, -1, -1
	end := func(day int) {
		if since >= 0 && day > since+1 {
			out = append(out, reorder.Stretch{From: since + 1, To: day, Share: share})
		}
		since = -1
	}
	for _, m := range moves {
		day := reorder.WorkingDay(m.At.In(zone))
		was := onHand
		onHand += m.Pieces
		switch {
		case m.Reason == inventory.Counted && was <= 0 && onHand > 0:
			since = -1 // it was never empty
		case m.Reason == inventory.Counted && was > 0 && onHand <= 0:
			since = max(last, 0) // it was empty since what was booked last
		case was > 0 && onHand <= 0:
			since = day
		case was <= 0 && onHand > 0:
			end(day)
		}
		last = day
	}
	end(today)
	return out
}

// Words tell what demand is made of: " Used or sold: 12, of these 1 by a stand-in; lost for being late or absent: 2, each
// counted as 0.70 of a sale."
func (t Told) Words(approved float64) string {
	words := fmt.Sprintf(" Used or sold: %d", t.Used)
	if t.Bent > 0 {
		words += fmt.Sprintf(", of these %d by a stand-in", t.Bent)
	}
	if t.Lost > 0 {
		words += fmt.Sprintf("; lost for being late or absent: %d, each counted as %.2f of a sale", t.Lost, approved)
	}
	return words + "."
}
