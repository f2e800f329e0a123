package pages

import (
	"context"
	"fmt"
	"slices"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/shelf"
)

// levelsPage is what to keep on the shelf, of all parts: as it is set, and as is advised.
type levelsPage struct {
	desk.KeepAll
	Parts  []shelf.Keeping // that are sold or kept
	Then   string          // what became of what was said a quarter ago
	More   int             // that are not shown
	All    string          // where all are
	Target string
	Spend  string
}

// mostLevels is how many parts are shown at once.
const mostLevels = 120

func showLevels(v *visit) (string, any, error) {
	p := levelsPage{}
	var err error
	if p.KeepAll, p.Target, p.Spend, err = levelsAsked(v); err != nil {
		return "", nil, err
	}
	p.Parts = changesFirst(p.Moving(), p.Changes())
	p.Then = p.ThenWords(desk.At(v.now).Today())
	if asked := v.r.URL.Query(); asked.Get("all") == "" && len(p.Parts) > mostLevels {
		p.More = len(p.Parts) - mostLevels
		p.Parts = p.Parts[:mostLevels]
		asked.Set("all", "yes")
		p.All = "/levels?" + asked.Encode()
	}
	return "How many to keep", p, nil
}

// changesFirst puts the parts whose levels are not as advised before the others: they are what is looked over before all are
// set.
func changesFirst(parts, changes []shelf.Keeping) []shelf.Keeping {
	changed := map[int64]bool{}
	for _, k := range changes {
		changed[k.PartID] = true
	}
	slices.SortStableFunc(parts, func(a, b shelf.Keeping) int {
		switch {
		case changed[a.PartID] == changed[b.PartID]:
			return 0
		case changed[a.PartID]:
			return -1
		}
		return 1
	})
	return parts
}

// levelsAsked advises the shelf for what the address asks of it.
func levelsAsked(v *visit) (all desk.KeepAll, target, spend string, err error) {
	target, spend = v.asked("target"), v.asked("spend")
	policy, err := shelf.LoadPolicy(v.ctx, v.db())
	if err != nil {
		return all, target, spend, err
	}
	if target != "" {
		x, err := number(target)
		if err != nil || !x.IsPositive() || x.GreaterThan(decimal.RequireFromString("99.9")) {
			return all, target, spend, &statusError{400, fmt.Sprintf("sales to be met are such as 95 in 100, up to 99.9, not %q", target)}
		}
		policy.Target = x.Shift(-2).InexactFloat64()
	}
	var money *decimal.Decimal
	if spend != "" {
		x, err := number(spend)
		if err != nil || !x.IsPositive() {
			return all, target, spend, &statusError{400, fmt.Sprintf("this is an amount such as 400, not %q", spend)}
		}
		money = &x
	}
	all, err = desk.LoadKeepAll(v.ctx, v.db(), policy, money, v.now)
	return all, decimal.NewFromFloat(policy.Target).Shift(2).String(), spend, err
}

// Set, Advised and the shares that they meet, in words.
func (p levelsPage) Set(k shelf.Keeping) string {
	return desk.LevelWords(k.ReorderLevel, k.ReorderTo)
}
func (p levelsPage) Better(k shelf.Keeping) string {
	return desk.AdvisedWords(k)
}
func (p levelsPage) Met(share float64) string { return desk.InHundred(share) }

// setAdvised sets all parts as advised, where the advice is still what was shown.
func setAdvised(v *visit, t *typed) (string, error) {
	all, _, _, err := levelsAsked(v)
	if err != nil {
		return "", err
	}
	changes := all.Changes()
	if t.line("changes") != strconv.Itoa(len(changes)) || len(changes) == 0 {
		return "", &statusError{409, "the advice has changed since it was shown, and nothing was set: look it over and set it again"}
	}
	return v.done(v.r.URL.RequestURI(), desk.Several(len(changes), "part")+" set as advised", v.do("set the shelf as advised", func(ctx context.Context, tx pgx.Tx, _ string) error {
		return shelf.SetLevels(ctx, tx, shelf.Advised(changes))
	}))
}

// keepPage is what to keep of one part.
type keepPage struct {
	desk.Keep
	Part inventory.Part
	Own  shelf.Limit // the part's, without what its family says
}

func showKeep(v *visit) (string, any, error) {
	p := keepPage{}
	var err error
	if p.Part, p.Keep, err = v.keep(); err != nil {
		return "", nil, err
	}
	limits, err := shelf.LoadLimits(v.ctx, v.db())
	if err != nil {
		return "", nil, err
	}
	p.Own = limits.Parts[p.Part.ID]
	return "How many to keep of " + p.Part.Name, p, nil
}

func (v *visit) keep() (part inventory.Part, k desk.Keep, err error) {
	id, err := v.number("part")
	if err != nil {
		return part, k, err
	}
	if part, err = inventory.PartByID(v.ctx, v.db(), id); err != nil {
		return part, k, err
	}
	policy, err := shelf.LoadPolicy(v.ctx, v.db())
	if err != nil {
		return part, k, err
	}
	k, err = desk.LoadKeep(v.ctx, v.db(), part, policy, v.now)
	return part, k, err
}

// Meets is how many sales in a hundred a level meets whole.
func (p keepPage) Meets(l shelf.Level) string { return fmt.Sprintf("%.1f", 100*l.Meets) }

// setLevel sets when the part of the page is ordered again.
func (v *visit) setLevel(said, words string, level, to *int) (string, error) {
	id, err := v.number("part")
	if err != nil {
		return "", err
	}
	return v.done(fmt.Sprintf("/parts/%d/keep", id), said, v.do(fmt.Sprintf("%s of part %d", words, id), func(ctx context.Context, tx pgx.Tx, _ string) error {
		return shelf.SetReorder(ctx, tx, id, level, to)
	}))
}

func keepByHand(v *visit, t *typed) (string, error) {
	at, to := t.whole("at"), t.whole("to")
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.setLevel(fmt.Sprintf("ordered again when %d are left, up to %d", at, to), "set what to keep", &at, &to)
}

func keepAdvised(v *visit, t *typed) (string, error) {
	_, k, err := v.keep()
	if err != nil {
		return "", err
	}
	if k.AdvisedLevel == nil || t.line("advised") != desk.LevelWords(k.AdvisedLevel, k.AdvisedTo) {
		return "", &statusError{409, "the advice has changed since it was shown, and nothing was set: look it over and set it again"}
	}
	return v.setLevel("set as advised", "set what is advised to keep", k.AdvisedLevel, k.AdvisedTo)
}

// limitPart says how many of the part its place holds, and how long it keeps.
func limitPart(v *visit, t *typed) (string, error) {
	id, err := v.number("part")
	if err != nil {
		return "", err
	}
	limit := shelf.Limit{Holds: t.whole("holds"), Months: t.whole("months")}
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done(fmt.Sprintf("/parts/%d/keep", id), desk.LimitWords(limit), v.do(fmt.Sprintf("limited part %d", id), func(ctx context.Context, tx pgx.Tx, _ string) error {
		return shelf.SetLimit(ctx, tx, id, limit)
	}))
}

func keepNone(v *visit, _ *typed) (string, error) {
	return v.setLevel("not ordered again by itself", "keeps none", nil, nil)
}
