package catalogue

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory/calendar"
	"stead/inventory/pricelist"
)

// Load is a list to be loaded: whose, which file, and what is accepted in it.
type Load struct {
	SupplierID  int64
	File        *pricelist.File
	Mapping     pricelist.Mapping
	AsOf        time.Time       // when the supplier said all this; absent: now
	Now         time.Time       // of a list of a later day nothing is taken; absent: the clock's
	Tax         decimal.Decimal // per cent that a recommended price contains
	JumpPercent int             // a price that moves by more than this is a jump; 0: 25
	Accept      Accept
	Progress    func(read, about int) // told now and then how many lines of about how many are read; may be absent
}

// Accept is what a person has looked at and takes nevertheless.
type Accept struct {
	GoodRows bool // load the good rows, although others are bad
	Jumps    bool // the price jumps are right
	Prices   bool // the prices do stand in their column
	Gone     bool // most of what the supplier had is really gone
}

// Summary is what a load did, or a preview would do.
type Summary struct {
	Rows    int                 `json:"rows"`
	New     int                 `json:"new"`     // offers
	Changed int                 `json:"changed"` // in price a piece
	Same    int                 `json:"same"`
	Gone    int                 `json:"gone"`               // offers that the list no longer has
	Ended   int                 `json:"ended,omitempty"`    // lines of what the list itself says is no longer to be had
	LeftOut []LeftOut           `json:"left_out,omitempty"` // those by name; the first thousand
	Back    int                 `json:"back"`               // offers that were gone
	Parts   int                 `json:"parts"`              // new in the catalogue
	Waiting int                 `json:"waiting"`            // lines that name no family of ours
	Mended  int                 `json:"mended,omitempty"`   // lines whose kind of part is read otherwise than before
	Unread  int                 `json:"unread"`             // lines with a word that was not read
	Refused int                 `json:"refused"`            // bad lines
	Jumps   []Jump              `json:"jumps,omitempty"`
	Retail  []RetailDoubt       `json:"retail,omitempty"` // recommended prices that can hardly be meant; the first thousand
	Bad     []pricelist.Problem `json:"bad,omitempty"`    // of the lines; the first thousand
	Doubt   string              `json:"doubt,omitempty"`
	Paper   pricelist.Paper     `json:"paper,omitempty"` // what it is that is no list, where the doubt is of that
	Again   bool                `json:"again,omitempty"` // the very file had been loaded: nothing was done
}

// LeftOut is an offer that a new list no longer has.
type LeftOut struct {
	Code   string  `json:"code"`
	PartID int64   `json:"part_id"`
	Name   string  `json:"name"`
	Nobody bool    `json:"nobody_else"`    // nobody else offers the part
	Wanted []int64 `json:"jobs,omitempty"` // approved jobs that still want it
}

// CutShort reports whether more offers would go than stay: a list that broke off on its way, or another supplier's, looks
// like that. A handful may well go.
func (s Summary) CutShort() bool { return s.Gone > aHandful && s.Gone > s.Same+s.Changed }

const (
	aHandful     = 20
	usualJump    = 25
	mostProblems = 1000
)

// Jump is a price that moved far.
type Jump struct {
	Code string          `json:"code"`
	Name string          `json:"name"`
	Was  decimal.Decimal `json:"was"` // a piece
	Now  decimal.Decimal `json:"now"`
}

// without is the summary without what a person takes nevertheless: what is left is why a list is held.
func (s Summary) without(a Accept) Summary {
	if a.Prices {
		s.Doubt, s.Paper = "", ""
	}
	if a.Gone {
		s.Gone = 0
	}
	if a.GoodRows {
		s.Refused = 0
	}
	if a.Jumps {
		s.Jumps = nil
	}
	return s
}

// HeldError says that a list was not loaded because something in it wants a person's look first. Nothing was written.
type HeldError struct{ Summary Summary }

func (e *HeldError) Error() string {
	switch s := e.Summary; {
	case s.Doubt != "":
		return "nothing was loaded: " + s.Doubt
	case s.CutShort():
		return fmt.Sprintf("nothing was loaded: %d offers of the last list are missing from this one and only %d are still in it, as if it were cut short or another supplier's", s.Gone, s.Same+s.Changed)
	case s.Refused > 0:
		return fmt.Sprintf("nothing was loaded: %d of %d lines are bad, the first is %s", s.Refused, s.Rows, s.firstBad())
	default:
		return fmt.Sprintf("nothing was loaded: %d prices moved far, the first is %s from %s to %s a piece", len(s.Jumps), s.Jumps[0].Code, s.Jumps[0].Was.StringFixed(2), s.Jumps[0].Now.StringFixed(2))
	}
}

// firstBad is the first problem for which a line is left out.
func (s Summary) firstBad() pricelist.Problem {
	for _, p := range s.Bad {
		if p.Grave {
			return p
		}
	}
	return s.Bad[0]
}

// LaterListError says that a list is of a day that has not come.
type LaterListError struct{ AsOf time.Time }

func (e *LaterListError) Error() string {
	return fmt.Sprintf("this list is of %s, which has not come yet: until then it would shut out every list that follows it", e.AsOf.Format("2 January 2006"))
}

// OlderListError says that a later list of the supplier has been loaded already.
type OlderListError struct{ AsOf, Last time.Time }

func (e *OlderListError) Error() string {
	return fmt.Sprintf("this list is of %s and one of %s is loaded already: an older list changes nothing", e.AsOf.Format("2 January 2006"), e.Last.Format("2 January 2006"))
}

// Run loads a list: all of it or, with an error, nothing. Others see the old list until the caller commits. The same file
// again changes nothing. What a person must see first is a *[HeldError].
func (l Load) Run(ctx context.Context, tx pgx.Tx) (Summary, error) {
	inner, err := tx.Begin(ctx)
	if err != nil {
		return Summary{}, fmt.Errorf("load %s: %w", l.File.Name(), err)
	}
	s, err := l.run(ctx, inner)
	if err == nil && (s.Doubt != "" && !l.Accept.Prices || s.CutShort() && !l.Accept.Gone || s.Refused > 0 && !l.Accept.GoodRows || len(s.Jumps) > 0 && !l.Accept.Jumps) {
		err = &HeldError{Summary: s.without(l.Accept)}
	}
	if err != nil {
		return s, fmt.Errorf("load %s: %w", l.File.Name(), errors.Join(err, inner.Rollback(context.WithoutCancel(ctx))))
	}
	if err := inner.Commit(ctx); err != nil {
		return s, fmt.Errorf("load %s: %w", l.File.Name(), err)
	}
	return s, nil
}

// Preview says what loading would do, and does nothing.
func (l Load) Preview(ctx context.Context, tx pgx.Tx) (Summary, error) {
	inner, err := tx.Begin(ctx)
	if err != nil {
		return Summary{}, fmt.Errorf("preview %s: %w", l.File.Name(), err)
	}
	s, err := l.run(ctx, inner)
	if err := errors.Join(err, inner.Rollback(ctx)); err != nil {
		return Summary{}, fmt.Errorf("preview %s: %w", l.File.Name(), err)
	}
	return s, nil
}

func (l Load) run(ctx context.Context, tx pgx.Tx) (Summary, error) {
	if l.Now.IsZero() {
		l.Now = time.Now()
	}
	if l.AsOf.IsZero() {
		l.AsOf = l.Now
	}
	if l.AsOf.After(l.Now) {
		return Summary{}, &LaterListError{AsOf: l.AsOf}
	}
	if l.JumpPercent == 0 {
		l.JumpPercent = usualJump
	}
	// One load of a supplier at a time; the row's lock also keeps the supplier.
	var currency string
	if err := tx.QueryRow(ctx, `SELECT currency FROM supplier WHERE id = $1 FOR UPDATE`, l.SupplierID).Scan(&currency); err != nil {
		return Summary{}, err
	}
	l.Mapping = l.Mapping.In(currency)
	l.Mapping.Day = calendar.DayOf(l.AsOf)
	reader, err := ReaderOf(ctx, tx, l.SupplierID)
	if err != nil {
		return Summary{}, err
	}
	print, err := l.fingerprint(ctx, tx)
	if err != nil {
		return Summary{}, err
	}
	last, err := l.last(ctx, tx)
	switch {
	case err != nil:
		return Summary{}, err
	case last.fingerprint == print:
		return Summary{Again: true}, nil
	case last.asOf.After(l.AsOf):
		return Summary{}, &OlderListError{AsOf: l.AsOf, Last: last.asOf}
	}
	var loadID int64
	if err := tx.QueryRow(ctx, `INSERT INTO list_load (supplier_id, file, fingerprint, as_of, summary) VALUES ($1, $2, $3, $4, '{}') RETURNING id`,
		l.SupplierID, pricelist.Clean(l.File.Name()), print, l.AsOf).Scan(&loadID); err != nil {
		return Summary{}, fmt.Errorf("note the load: %w", err)
	}
	if err := l.remember(ctx, tx, loadID); err != nil {
		return Summary{}, err
	}
	stage := stage{supplierID: l.SupplierID, taxIn: l.Mapping.TaxIn.Decimal, asOf: l.AsOf, reader: reader, loadID: loadID, lines: &lineNumbers{}}
	list := listRows{load: l, list: pricelist.NewList(l.File, l.Mapping)}
	if err := stage.fill(ctx, tx, list.rows()); err != nil {
		return Summary{}, err
	}
	s, err := stage.apply(ctx, tx, l.JumpPercent, true)
	if err != nil {
		return Summary{}, err
	}
	if s.Retail, err = retailDoubts(ctx, tx, l.Tax); err != nil {
		return Summary{}, err
	}
	s.Rows, s.Ended = list.read, list.ended
	s.Refused += list.refused
	s.Bad = append(list.problems, s.Bad...)
	slices.SortStableFunc(s.Bad, func(a, b pricelist.Problem) int { return cmp.Or(strings.Compare(a.Sheet, b.Sheet), a.Line-b.Line) })
	s.Bad = s.Bad[:min(len(s.Bad), mostProblems)]
	if paper, says := list.list.OtherPaper(); says != "" {
		s.Paper, s.Doubt = paper, says
	}
	if s.Doubt == "" && !list.list.BeforeTax() {
		if s.Doubt, err = stage.taxCome(ctx, tx, l.Tax); err != nil {
			return Summary{}, err
		}
		if s.Doubt != "" {
			s.Paper = pricelist.TaxCome
		}
	}
	if s.Doubt == "" {
		s.Doubt = list.prices.Doubt(l.Mapping, last.middle)
	}
	if _, err := tx.Exec(ctx, `UPDATE list_load SET summary = $2, middle_price = NULLIF($3::float8, 0)::numeric(12,4) WHERE id = $1`, loadID, s, list.prices.Median()); err != nil {
		return Summary{}, fmt.Errorf("note the load: %w", err)
	}
	return s, nil
}

// listRows gives the good rows of the list and counts the others.
type listRows struct {
	load          Load
	list          *pricelist.List
	read, refused int
	ended         int
	problems      []pricelist.Problem
	prices        pricelist.Prices
}

func (r *listRows) rows() func(yield func(pricelist.Row, error) bool) {
	return func(yield func(pricelist.Row, error) bool) {
		about := r.list.About()
		for row, err := range r.list.Rows() {
			if err != nil {
				yield(pricelist.Row{}, err)
				return
			}
			r.read++
			if r.load.Progress != nil && r.read%1000 == 0 {
				r.load.Progress(r.read, about)
			}
			if row.Gone && row.Code != "" {
				r.ended++
				continue // as if the list no longer had it
			}
			r.prices.Add(row)
			for _, p := range row.Problems {
				if len(r.problems) < mostProblems {
					r.problems = append(r.problems, p)
				}
			}
			if !row.Good() {
				r.refused++
			}
			if row.Code != "" && !yield(row, nil) {
				return
			}
		}
	}
}

// fingerprint is of everything that a load's outcome follows from.
func (l Load) fingerprint(ctx context.Context, tx pgx.Tx) (string, error) {
	h := sha256.New()
	if _, err := l.File.WriteTo(h); err != nil {
		return "", err
	}
	mapping, err := json.Marshal(l.Mapping)
	if err != nil {
		return "", err
	}
	h.Write(mapping)
	words, err := WordsOf(ctx, tx, l.SupplierID)
	if err != nil {
		return "", err
	}
	for _, w := range slices.Sorted(maps.Keys(words)) {
		fmt.Fprintf(h, "\n%q %q", w, words[w])
	}
	lines, err := saidOfLines(ctx, tx, l.SupplierID)
	if err != nil {
		return "", err
	}
	for _, code := range slices.Sorted(maps.Keys(lines)) {
		fmt.Fprintf(h, "\n%q %q", code, lines[code])
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

type lastLoad struct {
	fingerprint string
	asOf        time.Time
	middle      float64
}

func (l Load) last(ctx context.Context, tx pgx.Tx) (lastLoad, error) {
	var last lastLoad
	err := tx.QueryRow(ctx, `
		SELECT fingerprint, as_of, COALESCE(middle_price, 0)::float8
		FROM list_load WHERE supplier_id = $1 AND taken_back_at IS NULL
		ORDER BY as_of DESC, id DESC LIMIT 1`, l.SupplierID).Scan(&last.fingerprint, &last.asOf, &last.middle)
	if err != nil && !errors.Is(err, pgx.ErrNoRows) {
		return last, fmt.Errorf("look for the last list: %w", err)
	}
	return last, nil
}
