package inventory

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory/calendar"
)

// Sheet is what to count in a bin. It does not say how many there should be: who knows that counts until it comes right.
type Sheet struct {
	Bin   string      `json:"bin"`
	Lines []SheetLine `json:"lines"`
}

// SheetLine is a part that is in the bin, or was there within a year and may still be.
type SheetLine struct {
	PartID int64  `json:"part_id"`
	Name   string `json:"name"`
	Code   string `json:"code,omitempty"` // the maker's
}

// Sheets are those of some bins, or with none named of all.
func Sheets(ctx context.Context, db DB, now time.Time, bins ...string) ([]Sheet, error) {
	for _, bin := range bins {
		if _, err := binNamed(ctx, db, bin); err != nil {
			return nil, err
		}
	}
	rows, err := db.Query(ctx, `
		SELECT bin.name, part.id, part.name, part.maker_code
		FROM balance JOIN bin ON bin.id = bin_id JOIN part ON part.id = part_id
		WHERE (cardinality($1::text[]) = 0 OR lower(bin.name) = ANY($1))
		  AND (pieces > 0 OR EXISTS (SELECT FROM movement AS m WHERE m.part_id = balance.part_id AND m.bin_id = balance.bin_id AND m.at > $2))
		ORDER BY bin.name, part.name, part.id`, lower(bins), now.AddDate(-1, 0, 0))
	if err != nil {
		return nil, fmt.Errorf("read what to count: %w", err)
	}
	out := []Sheet{}
	var bin string
	var l SheetLine
	_, err = pgx.ForEachRow(rows, []any{&bin, &l.PartID, &l.Name, &l.Code}, func() error {
		if n := len(out); n == 0 || out[n-1].Bin != bin {
			out = append(out, Sheet{Bin: bin})
		}
		last := &out[len(out)-1]
		last.Lines = append(last.Lines, l)
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("read what to count: %w", err)
	}
	return out, nil
}

func lower(names []string) []string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = strings.ToLower(strings.TrimSpace(n))
	}
	return out
}

// Counting is a line of a sheet as it was counted.
type Counting struct {
	Bin     string
	PartID  int64
	Counted int
}

// Difference is a count that is not what the ledger said.
type Difference struct {
	Bin      string   `json:"bin"`
	PartID   int64    `json:"part_id"`
	Name     string   `json:"name"`
	Counted  int      `json:"counted"`
	Expected int      `json:"expected"`
	May      []string `json:"may_explain,omitempty"` // movements and other differences that may explain it
}

// Stocktake books sheets that were counted, all of them or none, and tells what differs with what may explain it.
func Stocktake(ctx context.Context, tx pgx.Tx, request string, sheets []Counting, note string) ([]Difference, error) {
	out := []Difference{}
	sheets = slices.Clone(sheets)
	// Every change of stock locks the parts in the order of their numbers.
	slices.SortStableFunc(sheets, func(a, b Counting) int { return cmp.Compare(a.PartID, b.PartID) })
	var ids []int64
	seen := map[Counting]bool{}
	for _, c := range sheets {
		key := Counting{Bin: strings.ToLower(c.Bin), PartID: c.PartID}
		if seen[key] {
			return nil, fmt.Errorf("part %d is counted twice in bin %s: add the two up", c.PartID, c.Bin)
		}
		seen[key] = true
		ids = append(ids, c.PartID)
	}
	if err := Lock(ctx, tx, nil, ids); err != nil {
		return nil, err
	}
	parts, err := Parts(ctx, tx, ids)
	if err != nil {
		return nil, err
	}
	before, err := sinceCounted(ctx, tx, ids)
	if err != nil {
		return nil, err
	}
	for _, c := range more(sheets) {
		difference, err := CountStock(ctx, tx, request, c.PartID, c.Bin, c.Counted, note)
		if err != nil {
			return nil, err
		}
		if difference != 0 {
			out = append(out, Difference{Bin: c.Bin, PartID: c.PartID, Name: parts[c.PartID].Name, Counted: c.Counted, Expected: c.Counted - difference})
		}
	}
	for i := range out {
		out[i].May = explain(out[i], out, before[out[i].PartID])
	}
	slices.SortStableFunc(out, func(a, b Difference) int { return cmp.Or(cmp.Compare(a.Bin, b.Bin), cmp.Compare(a.Name, b.Name)) })
	return out, nil
}

// more puts larger counts of a part first: what lay in the wrong bin is found there before it is missed in the right one, so
// that pieces kept for jobs are never short in between.
func more(sheets []Counting) []Counting {
	slices.SortStableFunc(sheets, func(a, b Counting) int {
		return cmp.Or(cmp.Compare(a.PartID, b.PartID), cmp.Compare(b.Counted, a.Counted))
	})
	return sheets
}

// sinceCounted are the movements of parts since they were last counted in the bin, newest first.
func sinceCounted(ctx context.Context, db DB, ids []int64) (map[int64][]Movement, error) {
	all, err := Collect(ctx, db, pgx.RowToStructByPos[Movement], `
		SELECT m.id, m.at, m.part_id, bin.name, m.pieces, m.reason, m.job_id, NULL::bigint, m.note, m.request, 0
		FROM movement m JOIN bin ON bin.id = m.bin_id
		WHERE m.part_id = ANY($1) AND m.at >= coalesce(
			(SELECT max(c.at) FROM stock_count c WHERE c.part_id = m.part_id AND c.bin_id = m.bin_id), '-infinity')
		ORDER BY m.id DESC`, ids)
	if err != nil {
		return nil, fmt.Errorf("read what moved since the last count: %w", err)
	}
	by := map[int64][]Movement{}
	for _, m := range all {
		by[m.PartID] = append(by[m.PartID], m)
	}
	return by, nil
}

// mostExplaining is how many movements are told beside a difference.
const mostExplaining = 3

// explain tells what may explain a difference: the opposite one in another bin, and movements of just as many pieces, which
// may have been booked twice, not at all the second time, or in the wrong direction or bin.
func explain(d Difference, all []Difference, moved []Movement) (may []string) {
	by := d.Counted - d.Expected
	for _, other := range all {
		if other.PartID == d.PartID && other.Bin != d.Bin && other.Counted-other.Expected == -by {
			may = append(may, fmt.Sprintf("bin %s has %d %s: moved and not booked", other.Bin, abs(by), moreOrFewer(-by)))
		}
	}
	for _, m := range moved {
		if len(may) == mostExplaining {
			break
		}
		on := calendar.DayOf(m.At).String()
		switch {
		case m.Reason == Moved && !strings.EqualFold(m.Bin, d.Bin) || m.Reason == Counted:
		case m.Pieces == by:
			may = append(may, fmt.Sprintf("%+d %s on %s, bin %s: perhaps there was another that was not booked", m.Pieces, m.Reason, on, m.Bin))
		case m.Pieces == -by:
			may = append(may, fmt.Sprintf("%+d %s on %s, bin %s: perhaps it was booked twice, or never happened", m.Pieces, m.Reason, on, m.Bin))
		case 2*m.Pieces == -by && strings.EqualFold(m.Bin, d.Bin):
			may = append(may, fmt.Sprintf("%+d %s on %s: perhaps booked the wrong way round", m.Pieces, m.Reason, on))
		}
	}
	return may
}

func moreOrFewer(by int) string {
	if by > 0 {
		return "more"
	}
	return "fewer"
}

func abs(n int) int { return max(n, -n) }

// NextBin is a bin with how much there is to find by counting it.
type NextBin struct {
	Bin     string          `json:"bin"`
	Parts   int             `json:"parts"`
	Worth   decimal.Decimal `json:"worth"`
	Moved   int             `json:"movements"` // since it was last counted
	Counted *calendar.Day   `json:"counted,omitempty"`
	Score   float64         `json:"score"`
}

// binFact is a part in a bin, as the next bins to count are chosen by it.
type binFact struct {
	Bin      string
	PartID   int64
	Pieces   int
	Moved    int
	At       *time.Time
	Counted  *int
	Expected *int
}

// surprise is how far off the last count was, over what was expected: 1 for what was never counted, and a tenth for what
// came right.
func (f binFact) surprise() float64 {
	if f.Counted == nil {
		return 1
	}
	return 0.1 + math.Min(1, float64(abs(*f.Counted-*f.Expected))/math.Max(1, float64(*f.Expected)))
}

// binFacts are what is known of all parts in all bins. The ledger is gone through once and not looked into for each part,
// which of a shop of 150,000 parts takes three times as long.
func binFacts(ctx context.Context, db DB) ([]binFact, error) {
	facts, err := Collect(ctx, db, pgx.RowToStructByPos[binFact], `
		WITH last AS (
			SELECT DISTINCT ON (part_id, bin_id) part_id, bin_id, at, counted, expected FROM stock_count ORDER BY part_id, bin_id, id DESC
		), since AS (
			SELECT m.part_id, m.bin_id, count(*)::int AS moved
			FROM movement AS m LEFT JOIN last USING (part_id, bin_id)
			WHERE last.at IS NULL OR m.at > last.at
			GROUP BY m.part_id, m.bin_id
		)
		SELECT bin.name, b.part_id, b.pieces, coalesce(since.moved, 0), last.at, last.counted, last.expected
		FROM balance AS b JOIN bin ON bin.id = b.bin_id LEFT JOIN since USING (part_id, bin_id) LEFT JOIN last USING (part_id, bin_id)
		ORDER BY bin.name, b.part_id`)
	if err != nil {
		return nil, fmt.Errorf("read the bins to count: %w", err)
	}
	return facts, nil
}

// NextBins are all bins, the one first that is best counted next: by worth × movements since the last count × how far off
// that was, over the parts in it.
func NextBins(ctx context.Context, db DB, now time.Time) ([]NextBin, error) {
	facts, err := binFacts(ctx, db)
	if err != nil {
		return nil, err
	}
	var ids []int64
	for _, f := range facts {
		ids = append(ids, f.PartID)
	}
	worth, err := piecesWorth(ctx, db, ids, now)
	if err != nil {
		return nil, err
	}
	bins := map[string]*NextBin{}
	for _, f := range facts {
		b := bins[f.Bin]
		if b == nil {
			b = &NextBin{Bin: f.Bin}
			bins[f.Bin] = b
		}
		value := worth[f.PartID].Mul(decimal.NewFromInt(int64(f.Pieces)))
		b.Parts++
		b.Worth = b.Worth.Add(value)
		b.Moved += f.Moved
		if f.At != nil {
			if day := calendar.DayOf(*f.At); b.Counted == nil || day < *b.Counted {
				b.Counted = &day // as long ago as the part that was counted first
			}
		}
		// A bin that the ledger has empty, or of things without a price, is worth a pound: it may be neither.
		b.Score += math.Max(1, value.InexactFloat64()) * float64(f.Moved) * f.surprise()
	}
	out := []NextBin{}
	for _, b := range bins {
		b.Worth = b.Worth.Round(2)
		out = append(out, *b)
	}
	slices.SortFunc(out, func(a, b NextBin) int { return cmp.Or(cmp.Compare(b.Score, a.Score), cmp.Compare(a.Bin, b.Bin)) })
	return out, nil
}

// offersAtOnce is of how many parts all offers are held at a time, where of each only a price is wanted.
const offersAtOnce = 2000

// piecesWorth is what a piece of each part costs: by the lowest offer there is, else by what was last paid.
func piecesWorth(ctx context.Context, db DB, ids []int64, now time.Time) (map[int64]decimal.Decimal, error) {
	d, err := LoadDeliveries(ctx, db, now)
	if err != nil {
		return nil, err
	}
	worth, err := d.LastPaid(ctx, db)
	if err != nil {
		return nil, err
	}
	slices.Sort(ids)
	for some := range slices.Chunk(slices.Compact(ids), offersAtOnce) {
		offers, err := OffersOf(ctx, db, some)
		if err != nil {
			return nil, err
		}
		for id, list := range offers {
			if least := d.lowest(list); least.Valid {
				worth[id] = least.Decimal
			}
		}
	}
	return worth, nil
}

// lowest is what a piece costs by the lowest of some offers, at its smallest order; not valid without an offer in money
// of which a rate is known.
func (d *Deliveries) lowest(offers []Offer) (least decimal.NullDecimal) {
	for _, o := range offers {
		home, err := d.InHomeMoney(o)
		if err != nil {
			continue // no rate for its currency
		}
		each := home.PriceAt(home.MinimumPacks).Div(decimal.NewFromInt(int64(home.Pack)))
		if !least.Valid || each.LessThan(least.Decimal) {
			least = decimal.NewNullDecimal(each)
		}
	}
	return least
}
