package pricing

import (
	"context"
	"fmt"
	"slices"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/substitution"
	"stead/substitution/inspection"
)

// Agreement is all that was agreed on a job: the quote that was approved and every amendment after it. The quotes stay as
// they were shown; what stands of them is worked out here.
type Agreement struct {
	JobID    int64               `json:"job"`
	Currency string              `json:"currency"`
	Words    []Word              `json:"words"` // the customer's, the first for the quote
	Lines    []AgreedLine        `json:"lines"` // all that was ever agreed, with what gave way
	Total    decimal.Decimal     `json:"total"` // of the lines that stand, tax included
	ReadyOn  calendar.Day        `json:"ready_on"`
	Allowed  decimal.NullDecimal `json:"allowed,omitzero"` // for extras, tax included
	Opened   []IfOpened          `json:"if_opened,omitempty"`

	Work map[substitution.Place]inspection.Action `json:"-"` // what is done where
}

// Word is what the customer said yes to, once.
type Word struct {
	Version int `json:"version"`
	Amends  int `json:"amends,omitempty"` // an amendment: the version that was agreed before
	Approval
}

// LineKind says what a line is for.
type LineKind string

const (
	WorkLine     LineKind = "work"
	PartsLine    LineKind = "part"
	CarriesLine  LineKind = "carriage"
	DiscountLine LineKind = "discount"
)

// AgreedLine is one line of what was agreed.
type AgreedLine struct {
	Version  int                  `json:"version"` // of the quote on which it stands
	Kind     LineKind             `json:"kind"`
	Place    substitution.Place   `json:"place,omitempty"`
	Of       int64                `json:"of,omitempty"` // the added work or the discount that it is
	Words    string               `json:"words"`
	Minutes  int                  `json:"minutes,omitempty"`
	PartID   int64                `json:"part_id,omitempty"`
	Pieces   int                  `json:"pieces,omitempty"`
	Supplier string               `json:"supplier,omitempty"` // empty: the shelf
	Brought  bool                 `json:"brought,omitempty"`
	With     []substitution.Place `json:"with,omitempty"` // of what is brought: where the parts are that need it
	Tax      Tax                  `json:"tax"`
	Amount   decimal.Decimal      `json:"amount"`                // tax included; of a discount below zero
	GaveWay  int                  `json:"gave_way_to,omitempty"` // version of the amendment that put something else in its place
}

// is reports whether two lines are the same one of the same quote.
func (l AgreedLine) is(m AgreedLine) bool {
	return l.Version == m.Version && l.Kind == m.Kind && l.Place == m.Place && l.Of == m.Of && l.PartID == m.PartID && l.Supplier == m.Supplier && (l.Words == m.Words || l.Kind == CarriesLine) &&
		slices.Equal(l.With, m.With) && l.Tax.same(m.Tax)
}

// placeName is where a line's part goes, as the stock knows it.
func (l AgreedLine) placeName() substitution.Place { return PartLine{Place: l.Place}.placeName() }

// NotAgreedError says that nothing was agreed on a job. Books that were taken in bring the bills of their jobs without it.
type NotAgreedError struct{ JobID int64 }

func (e *NotAgreedError) Error() string { return fmt.Sprintf("job %d has no approved quote", e.JobID) }

// AgreedOn is what was agreed on a job, or a [NotAgreedError] where nothing was.
func AgreedOn(ctx context.Context, db inventory.DB, jobID int64) (Agreement, error) {
	rows, err := db.Query(ctx, `
		SELECT q.version, coalesce(q.amends, 0), q.document, a.option_name, a.total, a.by_whom, a.at, a.ready_on, a.work, a.allowed
		FROM quote q JOIN approval a ON a.quote_id = q.id
		WHERE q.job_id = $1
		ORDER BY q.version`, jobID)
	if err != nil {
		return Agreement{}, fmt.Errorf("loading what was agreed on job %d: %w", jobID, err)
	}
	g := Agreement{JobID: jobID}
	_, err = pgx.CollectRows(rows, func(row pgx.CollectableRow) (none struct{}, err error) {
		var q Quote
		var w Word
		var allowed decimal.NullDecimal
		g.Work = nil
		if err := row.Scan(&w.Version, &w.Amends, &q, &w.Option, &w.Total, &w.By, &w.At, &w.ReadyOn, &g.Work, &allowed); err != nil {
			return none, err
		}
		q.Version = w.Version
		g.add(q, w, allowed)
		return none, nil
	})
	if err != nil {
		return Agreement{}, fmt.Errorf("loading what was agreed on job %d: %w", jobID, err)
	}
	if len(g.Words) == 0 {
		return Agreement{}, &NotAgreedError{jobID}
	}
	return g, nil
}

// add takes in a quote that was approved after those before it.
func (g *Agreement) add(q Quote, w Word, allowed decimal.NullDecimal) {
	g.Currency, g.Total, g.ReadyOn = q.Currency, w.Total, w.ReadyOn
	g.Words = append(g.Words, w)
	if allowed.Valid {
		g.Allowed = allowed
	}
	for i := range g.Lines {
		if slices.ContainsFunc(q.Instead, g.Lines[i].is) {
			g.Lines[i].GaveWay = q.Version
		}
	}
	g.Opened = slices.DeleteFunc(g.Opened, func(o IfOpened) bool { return q.touches(o.Place) })
	g.Opened = append(g.Opened, q.IfOpened...)
	if o, names := byName(q.Options, w.Option); names == nil {
		g.Lines = append(g.Lines, q.lines(o)...)
	}
}

// lines are a quote's lines as they are agreed with one of its options.
func (q Quote) lines(o Option) (out []AgreedLine) {
	for _, l := range q.Labour {
		out = append(out, AgreedLine{Kind: WorkLine, Place: l.Place, Of: l.Work, Words: l.Words, Minutes: l.Minutes, Tax: l.Tax, Amount: l.Amount})
	}
	for _, p := range o.Parts {
		out = append(out, AgreedLine{Kind: PartsLine, Place: p.Place, Words: p.Name, PartID: p.PartID, Pieces: p.Pieces, Supplier: p.Supplier, Brought: p.Brought, With: p.With, Tax: p.Tax, Amount: p.Amount})
	}
	for _, c := range o.Carriage {
		out = append(out, AgreedLine{Kind: CarriesLine, Words: carriageWords(c), Supplier: c.Supplier, Tax: c.Tax, Amount: c.Amount})
	}
	for _, d := range o.Discounts {
		out = append(out, AgreedLine{Kind: DiscountLine, Place: d.Place, Of: d.ID, Words: d.Words, Tax: d.Tax, Amount: d.Amount})
	}
	for i := range out {
		out[i].Version, out[i].Tax = q.Version, out[i].Tax.or(q.Tax)
	}
	return out
}

// touches reports whether a quote has a line at a place.
func (q Quote) touches(place substitution.Place) bool {
	return slices.ContainsFunc(q.Labour, func(l LabourLine) bool { return l.Place == place }) ||
		len(q.Options) > 0 && slices.ContainsFunc(q.Options[0].Parts, func(p PartLine) bool { return p.Place == place })
}

func carriageWords(c CarriageLine) string {
	if c.Supplier == "" {
		return "carriage"
	}
	return "carriage from " + c.Source()
}

// Standing are the lines that nothing has taken the place of.
func (g Agreement) Standing() []AgreedLine {
	return slices.DeleteFunc(slices.Clone(g.Lines), func(l AgreedLine) bool { return l.GaveWay > 0 })
}

// Replaces reports whether a part stands agreed at a place.
func (g Agreement) Replaces(place substitution.Place) bool {
	return slices.ContainsFunc(g.Standing(), func(l AgreedLine) bool { return l.Kind == PartsLine && l.Place == place })
}

// at is how many pieces stand agreed at a place, and of which parts.
func (g Agreement) at(place substitution.Place) (pieces int, parts []int64) {
	for _, l := range g.Standing() {
		if l.Kind == PartsLine && l.Place == place && !l.Brought {
			pieces, parts = pieces+l.Pieces, append(parts, l.PartID)
		}
	}
	return pieces, parts
}

// taxIn is the tax contained in lines, worked out once for each rate.
func taxIn(lines []AgreedLine) decimal.Decimal {
	sum := decimal.Zero
	for _, r := range ByRate(lines) {
		sum = sum.Add(r.Tax)
	}
	return sum
}

// Rate is what lines at one rate of tax come to.
type Rate struct {
	Name    string          `json:"name"`
	Percent decimal.Decimal `json:"percent"`
	Net     decimal.Decimal `json:"net"`
	Tax     decimal.Decimal `json:"tax"`
	Gross   decimal.Decimal `json:"gross"`
}

// ByRate sums lines up by their rates of tax, the highest first. The tax of a rate is worked out once, from its sum, as
// EN 16931 rounds it (BR-CO-17: once for each rate, never line by line).
func ByRate(lines []AgreedLine) []Rate {
	var out []Rate
	for _, l := range lines {
		i := slices.IndexFunc(out, func(r Rate) bool { return l.Tax.same(Tax{r.Name, r.Percent}) })
		if i < 0 {
			i, out = len(out), append(out, Rate{Name: l.Tax.Name, Percent: l.Tax.Percent})
		}
		out[i].Gross = out[i].Gross.Add(l.Amount)
	}
	for i, r := range out {
		out[i].Tax = Tax{r.Name, r.Percent}.In(r.Gross)
		out[i].Net = r.Gross.Sub(out[i].Tax)
	}
	slices.SortStableFunc(out, func(a, b Rate) int { return b.Percent.Cmp(a.Percent) })
	return out
}

func sumOf(lines []AgreedLine) decimal.Decimal {
	sum := decimal.Zero
	for _, l := range lines {
		sum = sum.Add(l.Amount)
	}
	return sum
}
