package pages

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/catalogue"
)

// alikePage are parts of a supplier's that may be the same as others', two by two.
type alikePage struct {
	Supplier inventory.Supplier
	Pairs    []catalogue.Alike
}

func showAlike(v *visit) (string, any, error) {
	s, err := inventory.SupplierByCode(v.ctx, v.db(), v.r.PathValue("supplier"))
	if err != nil {
		return "", nil, err
	}
	pairs, err := catalogue.Likely(v.ctx, v.db(), s.ID, shownFar)
	return "The same, or only alike?", alikePage{s, pairs}, err
}

// Row names the two parts of a pair.
func (p alikePage) Row(a catalogue.Alike) string { return fmt.Sprintf("%d %d", a.OtherID, a.PartID) }

// pair is the two parts that a form is of: the one that is kept, and the other.
func (t *typed) pair() (keep, other int64, err error) {
	one, two, _ := strings.Cut(t.row, " ")
	keep, first := strconv.ParseInt(one, 10, 64)
	other, second := strconv.ParseInt(two, 10, 64)
	if first != nil || second != nil {
		return 0, 0, &statusError{400, "the form is not whole: open the page again"}
	}
	return keep, other, nil
}

func makeSame(v *visit, t *typed) (string, error) {
	keep, other, err := t.pair()
	if err != nil {
		return "", err
	}
	return v.done(v.r.URL.Path, fmt.Sprintf("parts %d and %d are one now: part %d", keep, other, keep), v.do(fmt.Sprintf("made one of parts %d and %d", keep, other), func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := catalogue.Merge(ctx, tx, keep, other)
		return err
	}))
}

func sayDiffer(v *visit, t *typed) (string, error) {
	a, b, err := t.pair()
	if err != nil {
		return "", err
	}
	return v.done(v.r.URL.Path, fmt.Sprintf("parts %d and %d stay two", a, b), v.do(fmt.Sprintf("said that parts %d and %d are two", a, b), func(ctx context.Context, tx pgx.Tx, _ string) error {
		return catalogue.Differ(ctx, tx, a, b)
	}))
}

// joinedPage are the parts that were made one, and the lines that a list joined with a part that they cannot be of.
type joinedPage struct {
	Merged []catalogue.Merged
	Joined []catalogue.DoubtfulJoin
}

func showJoined(v *visit) (string, any, error) {
	p := joinedPage{}
	var err error
	if p.Merged, err = catalogue.Merges(v.ctx, v.db()); err != nil {
		return "", nil, err
	}
	p.Joined, err = catalogue.Joined(v.ctx, v.db())
	return "Made one", p, err
}

// Line names a line of a list.
func (p joinedPage) Line(j catalogue.DoubtfulJoin) string { return j.Supplier + " " + j.Code }

func splitPart(v *visit, t *typed) (string, error) {
	id := t.number64("row")
	if err := t.wrong(); err != nil {
		return "", err
	}
	m, err := change(v, "parted what was made one", func(ctx context.Context, tx pgx.Tx, _ string) (catalogue.Merged, error) {
		m, ok, err := catalogue.MergeNamed(ctx, tx, fmt.Sprint(id))
		if err == nil && !ok {
			err = errors.New("this part stands for itself already")
		}
		if err != nil {
			return m, err
		}
		return m, catalogue.Split(ctx, tx, m.ID)
	})
	return v.done("/lists/joined", fmt.Sprintf("part %d stands for itself again", m.OtherID), err)
}

func splitLine(v *visit, t *typed) (string, error) {
	supplier, code, _ := strings.Cut(t.row, " ")
	s, err := inventory.SupplierByCode(v.ctx, v.db(), supplier)
	if err != nil {
		return "", err
	}
	own, err := change(v, "gave line "+code+" of "+s.Name+" a part of its own", func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Part, error) {
		return catalogue.PartOffer(ctx, tx, s.ID, code)
	})
	return v.done("/lists/joined", fmt.Sprintf("%s of %s is part %d now: %s", code, s.Name, own.ID, own.Name), err)
}
