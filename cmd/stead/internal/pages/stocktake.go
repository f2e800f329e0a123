package pages

import (
	"context"
	"fmt"
	"maps"
	"net/url"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/shelf"
)

// stocktakePage counts bins: which are best counted next, and the sheets of those that were chosen. How many there should be
// stands nowhere on it.
type stocktakePage struct {
	desk.Clock
	Next   []inventory.NextBin // best counted next, while none is counted
	More   int                 // bins that are not shown
	Sheets []inventory.Sheet
}

// How many bins are counted on one page, and how many are there to choose from: any other is counted from its own.
const (
	mostSheets = 12
	mostNext   = 60
)

func showStocktake(v *visit) (string, any, error) {
	p := stocktakePage{Clock: desk.At(v.now)}
	var err error
	if p.Sheets, err = sheetsAsked(v); err != nil {
		return "", nil, err
	}
	if len(p.Sheets) == 0 {
		if p.Next, err = inventory.NextBins(v.ctx, v.db(), v.now); err != nil {
			return "", nil, err
		}
		p.More = max(0, len(p.Next)-mostNext)
		p.Next = p.Next[:len(p.Next)-p.More]
	}
	return "Count the shelf", p, nil
}

// sheetsAsked are the sheets of the bins that the address names.
func sheetsAsked(v *visit) ([]inventory.Sheet, error) {
	bins := v.r.URL.Query()["bin"]
	if len(bins) == 0 {
		return nil, nil
	}
	if len(bins) > mostSheets {
		return nil, &statusError{400, fmt.Sprintf("count at most %d bins at a time", mostSheets)}
	}
	return inventory.Sheets(v.ctx, v.db(), v.now, bins...)
}

// Why says why a bin is best counted next.
func (p stocktakePage) Why(b inventory.NextBin) string { return p.NextBinWords(b) }

// Count asks how many of a part lie in a bin.
func (p stocktakePage) Count(f *Form, sheet int, l inventory.SheetLine) Field {
	field := f.Number(countField(sheet, l), l.Name)
	if l.Code != "" {
		field = field.With(l.Code)
	}
	return field
}

func countField(sheet int, l inventory.SheetLine) string {
	return fmt.Sprintf("count-%d-%d", sheet, l.PartID)
}

func takeStock(v *visit, t *typed) (string, error) {
	sheets, err := sheetsAsked(v)
	if err != nil {
		return "", err
	}
	var counts []inventory.Counting
	for i, s := range sheets {
		for _, l := range s.Lines {
			if n, given := t.pieces(countField(i, l)); given {
				counts = append(counts, inventory.Counting{Bin: s.Bin, PartID: l.PartID, Counted: n})
			}
		}
	}
	note := t.line("note")
	if err := t.wrong(); err != nil {
		return "", err
	}
	if len(counts) == 0 {
		return "", &statusError{422, "nothing is counted yet: say how many there are, 0 for none, and leave out what was not counted"}
	}
	found, err := change(v, "counted "+desk.Several(len(counts), "part"), func(ctx context.Context, tx pgx.Tx, key string) ([]inventory.Difference, error) {
		return inventory.Stocktake(ctx, tx, key, counts, note)
	})
	first, more := desk.StocktakeWords(len(counts), found)
	return v.done("/stocktake", strings.Join(append([]string{strings.TrimSuffix(first, ".")}, trimmed(more)...), "; "), err)
}

// trimmed are lines of the terminal as parts of a sentence.
func trimmed(lines []string) (out []string) {
	for _, l := range lines {
		out = append(out, strings.TrimSpace(l))
	}
	return out
}

// excessPage is what will not sell, with what to do with it.
type excessPage struct {
	desk.Excess
	Months, Returned, Reduced string
	asked                     url.Values
}

// NextPath and FirstPath lead to the lines that come after these and to the first, reckoned as these are.
func (p excessPage) NextPath() string  { return p.from(p.Next()) }
func (p excessPage) FirstPath() string { return p.from(1) }

func (p excessPage) from(line int) string {
	asked := maps.Clone(p.asked)
	asked.Set("from", strconv.Itoa(line))
	return "/excess?" + asked.Encode()
}

// linesAsked are the lines of a long list that the address asks for.
func (v *visit) linesAsked() (lines desk.LinesAsked, err error) {
	lines = desk.LinesAsked{From: 1, Most: desk.ScreenLines}
	if from := v.asked("from"); from != "" {
		if lines.From, err = strconv.Atoi(from); err != nil {
			return lines, &statusError{400, fmt.Sprintf("this is the number of a line, not %q", from)}
		}
	}
	if err := lines.Check(); err != nil {
		return lines, &statusError{400, err.Error()}
	}
	return lines, nil
}

func showExcess(v *visit) (string, any, error) {
	p := excessPage{asked: v.r.URL.Query()}
	lines, err := v.linesAsked()
	if err != nil {
		return "", nil, err
	}
	policy, err := shelf.LoadPolicy(v.ctx, v.db())
	if err != nil {
		return "", nil, err
	}
	rule := &policy.Excess
	for field, to := range map[string]struct {
		text *string
		set  func(float64)
		was  float64
	}{
		"months":   {&p.Months, func(x float64) { rule.Months = int(x) }, float64(rule.Months)},
		"returned": {&p.Returned, func(x float64) { rule.Returned = x / 100 }, 100 * rule.Returned},
		"reduced":  {&p.Reduced, func(x float64) { rule.Reduced = x / 100 }, 100 * rule.Reduced},
	} {
		text := v.asked(field)
		if *to.text = strconv.FormatFloat(to.was, 'f', -1, 64); text == "" {
			continue
		}
		x, err := number(text)
		if err != nil {
			return "", nil, &statusError{400, fmt.Sprintf("this is a number, not %q", text)}
		}
		*to.text = text
		to.set(x.InexactFloat64())
	}
	if err := rule.Check(); err != nil {
		return "", nil, &statusError{400, err.Error()}
	}
	p.Excess, err = desk.LoadExcess(v.ctx, v.db(), policy, lines, v.now)
	return "What will not sell", p, err
}

// tubsPage is what is open on the bench.
type tubsPage struct{ Tubs []desk.Tub }

func showTubs(v *visit) (string, any, error) {
	tubs, err := desk.LoadTubs(v.ctx, v.db())
	return "Open on the bench", tubsPage{tubs}, err
}

// Left is what is left of a tub.
func (p tubsPage) Left(t desk.Tub) string { return desk.LeftWords(t.Left) }

func openTub(v *visit, t *typed) (string, error) {
	part := v.namedPart(t, "part")
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done("/tubs", part.Name+" is open on the bench", v.do("opened "+part.Name, func(ctx context.Context, tx pgx.Tx, key string) error {
		_, err := inventory.OpenTub(ctx, tx, key, part.ID)
		return err
	}))
}

// leftInTub says what is left of a tub, by the eye or by the scales.
func leftInTub(v *visit, t *typed) (string, error) {
	id, percent, grams := t.number64("row"), t.plain("percent"), t.plain("grams")
	if percent.Valid == grams.Valid {
		t.mark("percent", "say what is left, in the hundred or in grams")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	tub, err := change(v, "said what is left of a tub", func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Tub, error) {
		if grams.Valid {
			return inventory.WeighTub(ctx, tx, id, grams.Decimal)
		}
		return inventory.SetTub(ctx, tx, id, percent.Decimal.Div(decimal.NewFromInt(100)))
	})
	return v.done("/tubs", desk.LeftWords(tub.Left)+" left", err)
}
