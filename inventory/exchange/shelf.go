package exchange

import (
	"context"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/shelf"
	"stead/substitution"
)

// Shelf is what the shop wants of its shelf, in one line: shares are in 100, amounts in the shop's currency, look in
// working days (0: as its orders tell), months those that stock may lie. season is twelve numbers, January first;
// empty: that of riding.
var Shelf = Table{File: "shelf.csv",
	Columns: []string{"target", "line_cost", "carrying", "waiting", "waiting_safety", "look", "months", "season", "excess_months", "returned", "reduced"},
	Must:    []string{"target", "line_cost", "carrying", "months", "excess_months", "returned", "reduced"}}

// Limits are what places hold and how long parts keep, of a part or of a family.
var Limits = Table{File: "limits.csv", Columns: []string{"part", "family", "holds", "months"}, Must: []string{"months"}}

// Said is what was said of parts for the shelf, as far as it holds: never, at least so many, use up down to so many,
// snooze until a day. What was taken off a list belongs to its orders, and stays behind with them.
var Said = Table{File: "said.csv", Columns: []string{"part", "answer", "pieces", "until", "note", "at"}, Must: []string{"part", "answer"}}

// WriteShelf gives the one line.
func WriteShelf(ctx context.Context, db inventory.DB) ([][]string, error) {
	p, err := shelf.LoadPolicy(ctx, db)
	if err != nil {
		return nil, err
	}
	share := func(x float64) string { return decimal.NewFromFloat(x).Shift(2).String() }
	var season []string
	for _, n := range p.Season {
		season = append(season, strconv.FormatFloat(n, 'f', -1, 64))
	}
	return [][]string{{share(p.Target), p.LineCost.String(), share(p.Holding), p.Waiting.String(), p.WaitingSafety.String(), strconv.Itoa(p.LookEvery), strconv.Itoa(p.Months),
		strings.Join(season, " "), strconv.Itoa(p.Excess.Months), share(p.Excess.Returned), share(p.Excess.Reduced)}}, nil
}

// TakeShelf makes the line the shop's.
func TakeShelf(ctx context.Context, tx pgx.Tx, rows []*Row) error {
	for i, r := range rows {
		if i > 0 {
			r.Refuse("", "there is one shelf, and it is told already")
		}
		p := readShelf(r)
		if r.Wrong() == nil {
			if err := p.Check(); err != nil {
				r.Refuse("", "%s", err)
			}
		}
		if err := r.Wrong(); err != nil {
			return err
		}
		if _, err := shelf.ChangePolicy(ctx, tx, func(was *shelf.Policy) { *was = p }); err != nil {
			return err
		}
	}
	return nil
}

func readShelf(r *Row) shelf.Policy {
	share := func(field string) float64 { return r.Amount(field).Shift(-2).InexactFloat64() }
	p := shelf.Policy{Target: share("target"), LineCost: r.Amount("line_cost"), Holding: share("carrying"), Months: int(r.Number("months")),
		Excess: shelf.ExcessPolicy{Months: int(r.Number("excess_months")), Returned: share("returned"), Reduced: share("reduced")}}
	if r.Text("look") != "" {
		p.LookEvery = int(r.Number("look"))
	}
	if r.Text("waiting") != "" {
		p.Waiting = r.Amount("waiting")
	}
	if r.Text("waiting_safety") != "" {
		p.WaitingSafety = r.Amount("waiting_safety")
	}
	for _, word := range strings.Fields(r.Text("season")) {
		n, err := strconv.ParseFloat(word, 64)
		if err != nil {
			r.Refuse("season", "is twelve numbers, January first, not %q", r.Text("season"))
		}
		p.Season = append(p.Season, n)
	}
	return p
}

// WriteLimits gives the limits of parts by their numbers, then those of families.
func WriteLimits(ctx context.Context, db inventory.DB) ([][]string, error) {
	limits, err := shelf.LoadLimits(ctx, db)
	if err != nil {
		return nil, err
	}
	var lines [][]string
	for _, part := range slices.Sorted(maps.Keys(limits.Parts)) {
		l := limits.Parts[part]
		lines = append(lines, []string{strconv.FormatInt(part, 10), "", orNone(l.Holds), orNone(l.Months)})
	}
	for _, family := range slices.Sorted(maps.Keys(limits.Families)) {
		lines = append(lines, []string{"", string(family), "", orNone(limits.Families[family])})
	}
	return lines, nil
}

// orNone writes a number of which 0 is none.
func orNone(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// TakeLimits sets the limits of a catalogue that was just taken in with its numbers, parts.
func TakeLimits(ctx context.Context, tx pgx.Tx, rows []*Row, parts map[int64]int64) error {
	for _, r := range rows {
		limit := shelf.Limit{Holds: r.fewer("holds"), Months: r.fewer("months")}
		part, family := r.Maybe("part"), substitution.Family(r.Text("family"))
		switch {
		case (part == nil) == (family == ""):
			r.Refuse("", "is of a part or of a family, one of them")
		case limit == shelf.Limit{}:
			r.Refuse("", "limits nothing")
		case family != "" && limit.Holds > 0:
			r.Refuse("holds", "is told of a part, not of a family")
		case part != nil && parts[*part] == 0:
			r.Refuse("part", "there is no part %d in %s", *part, Parts.File)
		}
		if err := r.Wrong(); err != nil {
			return err
		}
		var err error
		if part != nil {
			err = shelf.SetLimit(ctx, tx, parts[*part], limit)
		} else {
			err = shelf.SetFamilyLife(ctx, tx, family, limit.Months)
		}
		if err != nil {
			return r.refused(err)
		}
	}
	return nil
}

// fewer is a whole number of which nothing is 0.
func (r *Row) fewer(field string) int {
	if r.Text(field) == "" {
		return 0
	}
	n := r.Number(field)
	if n < 0 || n > mostPieces {
		r.Refuse(field, "is from 1 to %d, or nothing, not %q", mostPieces, r.Text(field))
	}
	return int(n)
}

// refused says a line of what the subject refuses.
func (r *Row) refused(err error) error {
	r.Refuse("", "%s", err)
	return r.Wrong()
}

// WriteSaid gives what holds of what was said, by parts.
func WriteSaid(ctx context.Context, db inventory.DB) ([][]string, error) {
	all, err := shelf.LoadSaid(ctx, db)
	if err != nil {
		return nil, err
	}
	var lines [][]string
	for _, part := range slices.Sorted(maps.Keys(all)) {
		said := all[part]
		for _, w := range []*shelf.Word{said.Ever, said.Once} {
			if w == nil || !kept[w.Answer] {
				continue
			}
			pieces, until := "", ""
			if w.Answer == shelf.AtLeast || w.Answer == shelf.UseUp {
				pieces = strconv.Itoa(w.Pieces)
			}
			if w.Until != nil {
				until = w.Until.String()
			}
			lines = append(lines, []string{strconv.FormatInt(part, 10), string(w.Answer), pieces, until, w.Note, Moment(w.At)})
		}
	}
	return lines, nil
}

// kept are the answers that are written.
var kept = map[shelf.Answer]bool{shelf.Never: true, shelf.AtLeast: true, shelf.UseUp: true, shelf.Snooze: true}

// TakeSaid says of the parts of a catalogue that was just taken in what was said of them elsewhere.
func TakeSaid(ctx context.Context, tx pgx.Tx, rows []*Row, parts map[int64]int64, now time.Time) error {
	for _, r := range rows {
		number := r.ID("part")
		w := shelf.Word{PartID: parts[number], Answer: shelf.Answer(r.Needed("answer")), Pieces: r.fewer("pieces"), Until: r.Day("until"), Note: r.Text("note"), At: now}
		if r.Text("at") != "" {
			w.At = r.Moment("at")
		}
		counted := w.Answer == shelf.AtLeast || w.Answer == shelf.UseUp
		switch {
		case w.PartID == 0:
			r.Refuse("part", "there is no part %d in %s", number, Parts.File)
		case !kept[w.Answer]:
			r.Refuse("answer", "is never, at least, use up or snooze, not %q", w.Answer)
		case counted != (r.Text("pieces") != ""):
			r.Refuse("pieces", "goes with at least and use up, and with them alone")
		case (w.Answer == shelf.Snooze) != (w.Until != nil):
			r.Refuse("until", "goes with snooze, and with it alone")
		case w.At.After(now):
			r.Refuse("at", "is still to come")
		}
		if err := r.Wrong(); err != nil {
			return err
		}
		if err := shelf.Say(ctx, tx, w); err != nil {
			return r.refused(err)
		}
	}
	return nil
}
