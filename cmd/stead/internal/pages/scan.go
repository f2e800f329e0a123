package pages

import (
	"context"
	"fmt"
	"net/url"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/barcode"
)

// scanPage takes a code from a scanner, a camera or the fingers, and leads to what bears it. Of one that nothing bears it
// asks which part it is of.
type scanPage struct {
	desk.Scanned
	Words string           // what is searched for, to give it the code
	Parts []inventory.Part // that are so called
}

// elsewhere is where a page goes on by itself.
type elsewhere struct{ path string }

func (e *elsewhere) Error() string { return "this goes on at " + e.path }

func showScan(v *visit) (string, any, error) {
	p := scanPage{Words: v.asked("q")}
	text := v.r.URL.Query().Get("code") // as it was scanned: its spaces may tell
	if tidy(text) == "" {
		return "Scan", p, nil
	}
	var err error
	if p.Scanned, err = desk.LoadScanned(v.ctx, v.db(), text); err != nil {
		return "", nil, ofTheQuestion(err)
	}
	switch {
	case len(p.Found) == 1 && p.Note == "":
		return "", nil, &elsewhere{thingPath(p.Found[0])}
	case len(p.Found) > 0:
		return "What bears this code", p, nil
	}
	if p.Words != "" {
		p.Parts, err = inventory.FindParts(v.ctx, v.db(), inventory.Search{Words: p.Words, Limit: mostGiven})
	}
	return "A code that is not known", p, err
}

// mostGiven is how many parts are asked about when a code is to be given to one.
const mostGiven = 12

// thingPath is the page of what bears a code.
func thingPath(t desk.Thing) string {
	switch t.Kind {
	case barcode.OnBin:
		return "/shelf?bin=" + url.QueryEscape(t.Name)
	case barcode.OnPart:
		return fmt.Sprintf("/parts/%d", t.ID)
	case barcode.OnBike:
		return fmt.Sprintf("/bikes/%d", t.ID)
	}
	return fmt.Sprintf("/jobs/%d", t.ID)
}

// Path is the page of what bears the code.
func (p scanPage) Path(t desk.Thing) string { return thingPath(t) }

// Unknown is what to say of a code that nothing bears.
func (p scanPage) Unknown() string {
	return sentence((&desk.UnknownCodeError{Scanned: p.Scanned}).Error())
}

// Asked reports whether a code was asked for.
func (p scanPage) Asked() bool { return p.Code != "" }

func giveCode(v *visit, t *typed) (string, error) {
	part, code := t.number64("row"), t.needed("code", "scan a code first")
	if err := t.wrong(); err != nil {
		return "", err
	}
	given, err := change(v, "gave a code to a part", func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Part, error) {
		return inventory.GiveCode(ctx, tx, code, part, v.hand(t))
	})
	return v.done(fmt.Sprintf("/parts/%d", given.ID), fmt.Sprintf("the code %s is of this part", code), err)
}

// takeCode takes a code away that was given to the page's part.
func takeCode(v *visit, t *typed) (string, error) {
	id, err := v.number("part")
	if err != nil {
		return "", err
	}
	return v.done(fmt.Sprintf("/parts/%d", id), "the code is taken away", v.do("took a code from a part", func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := inventory.TakeCode(ctx, tx, t.row, v.hand(t))
		return err
	}))
}
