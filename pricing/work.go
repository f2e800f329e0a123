package pricing

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/substitution"
)

// AddedWork is work that no finding asks for: a bleed, a test ride, whatever the mechanic writes.
type AddedWork struct {
	ID      int64              `json:"id"`
	Place   substitution.Place `json:"place,omitempty"`
	Words   string             `json:"words"`
	Minutes int                `json:"minutes"`
	Price   decimal.Decimal    `json:"price"`        // before tax
	Tax     Tax                `json:"tax,omitzero"` // where it is not that of work
}

// UsualWork is work that workshops know by one word, and that no finding asks for.
type UsualWork struct {
	Name    string `json:"name"`
	Words   string `json:"words"`
	Minutes int    `json:"minutes"`
}

// UsualWorks are those that have a name. Their minutes are common practice, no source.
func UsualWorks() []UsualWork {
	return []UsualWork{
		{"align", "straighten the gear hanger", 15},
		{"bleed", "bleed the brake", 35},
		{"puncture", "mend a puncture", 15},
		{"test-ride", "test ride", 10},
		{"true", "true the wheel", 20},
		tubelessWork,
		{"wash", "wash and dry", 20},
	}
}

// AddWork adds work to a job. A name of [UsualWorks] stands for its words and minutes; without a price it costs its
// minutes at the shop's hour.
func AddWork(ctx context.Context, tx pgx.Tx, jobID int64, w AddedWork, price decimal.NullDecimal, now time.Time) (AddedWork, error) {
	w = w.usual()
	if err := w.check(price); err != nil {
		return w, err
	}
	var tax *Tax
	if w.Tax.Name != "" {
		tax = &w.Tax
	}
	shop, err := inventory.LoadShop(ctx, tx)
	if err != nil {
		return w, err
	}
	switch {
	case price.Valid:
		w.Price = price.Decimal
	case shop.Hourly.Valid:
		w.Price = priceOf(w.Minutes, shop.Hourly.Decimal)
	default:
		return w, fmt.Errorf("%q: %w", w.Words, ErrNoHourly)
	}
	if err := checkPence(w.Price); err != nil {
		return w, err
	}
	err = changeTerms(ctx, tx, jobID, func(job Job) error {
		if job.State == Booked { // a wash or a puncture is work enough for a quote
			if err := setState(ctx, tx, jobID, Inspected); err != nil {
				return err
			}
		}
		return tx.QueryRow(ctx, `INSERT INTO job_work (job_id, place, words, minutes, price, tax, at) VALUES ($1, $2, $3, $4, $5, $6, $7) RETURNING id`,
			jobID, w.Place, w.Words, w.Minutes, w.Price, tax, now).Scan(&w.ID)
	})
	return w, err
}

// usual is the work with the words and minutes of the usual work that it names, if it names one.
func (w AddedWork) usual() AddedWork {
	w.Words = strings.TrimSpace(w.Words)
	for _, u := range UsualWorks() {
		if u.Name == w.Words {
			w.Words = u.Words
			if w.Minutes == 0 {
				w.Minutes = u.Minutes
			}
			break
		}
	}
	return w
}

// check refuses work that cannot be meant; price is what was said that it costs.
func (w AddedWork) check(price decimal.NullDecimal) error {
	switch {
	case w.Words == "":
		return fmt.Errorf("say in a few words what is done, such as \"bleed\" or \"fit the child seat\"")
	case w.Minutes < 0 || w.Minutes > mostMinutes:
		return fmt.Errorf("%d minutes cannot be meant", w.Minutes)
	case w.Minutes == 0 && !price.Valid:
		return fmt.Errorf("%q has no usual time: give its minutes or its price", w.Words)
	}
	if w.Place != "" {
		if _, err := substitution.SiteOf(w.Place); err != nil {
			return err
		}
	}
	if w.Words == tubelessWork.Words && w.setsUp() == "" {
		return fmt.Errorf("a set-up without tubes is of one wheel: say of which by its place, front.tyre or rear.tyre")
	}
	if w.Tax.Name != "" {
		return w.Tax.check()
	}
	return nil
}

// mostMinutes is more than any one line of work takes.
const mostMinutes = 10_000

// ErrNoHourly says that work has no price and the shop has not said what its hour costs.
var ErrNoHourly = fmt.Errorf("it has no price, and the shop has none for an hour")

// priceOf is what minutes cost at a price for the hour, to the penny.
func priceOf(minutes int, hourly decimal.Decimal) decimal.Decimal {
	return inventory.Rounded(hourly.Mul(decimal.NewFromInt(int64(minutes))), decimal.NewFromInt(60), 2)
}

// DropWork takes added work off a job again. Work that is agreed is not dropped.
func DropWork(ctx context.Context, tx pgx.Tx, jobID, workID int64, now time.Time) error {
	return dropTerm(ctx, tx, jobID, workID, WorkLine, `UPDATE job_work SET gone_at = $3 WHERE job_id = $1 AND id = $2 AND gone_at IS NULL`, now)
}

// dropTerm ends a term of a job by its number.
func dropTerm(ctx context.Context, tx pgx.Tx, jobID, id int64, kind LineKind, sql string, now time.Time) error {
	return changeTerms(ctx, tx, jobID, func(job Job) error {
		if job.State == JobApproved {
			agreed, err := AgreedOn(ctx, tx, jobID)
			if err != nil {
				return err
			}
			if slices.ContainsFunc(agreed.Standing(), func(l AgreedLine) bool { return l.Kind == kind && l.Of == id }) {
				return fmt.Errorf("%s %d is agreed on job %d and stays", kind, id, jobID)
			}
		}
		tag, err := tx.Exec(ctx, sql, jobID, id, now)
		if err == nil && tag.RowsAffected() == 0 {
			err = fmt.Errorf("job %d has no %s %d", jobID, kind, id)
		}
		return err
	})
}

// line is added work as it stands on a quote.
func (w AddedWork) line(taxes Taxes) LabourLine {
	words := w.Words
	if w.Place != "" {
		words += ": " + siteWords(w.Place)
	}
	tax := w.Tax.or(taxes.OnWork())
	return LabourLine{Place: w.Place, Work: w.ID, Words: words, Minutes: w.Minutes, Tax: tax.unless(taxes.Tax), Amount: tax.With(w.Price), net: w.Price}
}

// offWheel are the families that are worked on with the wheel off the bike. Common practice, no source.
var offWheel = []substitution.Family{"tyre", "tube", "rim-tape", "rim", "spoke", "nipple", "hub", "hub-cone", "axle", "loose-balls", "ball-cage",
	"cartridge-bearing", "freehub-body", "freewheel", "cassette", "sprocket", "disc-rotor"}

// wheelOf is the end whose wheel comes off for work at a place, or "".
func wheelOf(place substitution.Place) string {
	site, err := substitution.SiteOf(place)
	if err != nil || !slices.Contains(offWheel, site.Family) {
		return ""
	}
	for _, end := range []string{"front", "rear"} {
		if strings.HasPrefix(string(place), end+".") {
			return end
		}
	}
	return ""
}

// wheelOnce gives back the time that lines of work on one wheel each count for taking it off and putting it on: it comes
// off once. off says of which ends it does so already, for work that was agreed before. What a line gives back is its own
// price for those minutes, at its own rate of tax; usual is the rate of the lines that do not say.
func wheelOnce(lines []LabourLine, minutes int, off map[string]bool, usual Tax) []LabourLine {
	if minutes == 0 {
		return lines
	}
	out := slices.Clone(lines)
	for _, end := range []string{"front", "rear"} {
		first := !off[end]
		var back []LabourLine // one for each rate
		for _, l := range lines {
			if wheelOf(l.Place) != end || l.Minutes == 0 {
				continue
			}
			if first {
				first = false
				continue
			}
			i := slices.IndexFunc(back, func(b LabourLine) bool { return b.Tax.same(l.Tax) })
			if i < 0 {
				i, back = len(back), append(back, LabourLine{Words: fmt.Sprintf("%s wheel off and on once", end), Tax: l.Tax})
			}
			m := min(minutes, l.Minutes)
			back[i].Minutes -= m
			back[i].net = back[i].net.Sub(inventory.Rounded(l.net.Mul(decimal.NewFromInt(int64(m))), decimal.NewFromInt(int64(l.Minutes)), 2))
		}
		for _, b := range back {
			if b.net.IsNegative() {
				b.Amount = b.Tax.or(usual).With(b.net.Neg()).Neg()
				out = append(out, b)
			}
		}
	}
	return out
}
