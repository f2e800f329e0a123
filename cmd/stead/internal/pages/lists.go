package pages

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/catalogue"
	"stead/inventory/pricelist"
)

// listsPage is where each supplier's list stands.
type listsPage struct{ desk.Lists }

func showLists(v *visit) (string, any, error) {
	lists, err := desk.LoadLists(v.ctx, v.db(), v.now)
	return "Price lists", listsPage{lists}, err
}

// listPage is one supplier's list: a file that is looked at before it is loaded, or what of the last one waits for a word.
type listPage struct {
	desk.Clock
	Supplier inventory.Supplier
	File     string // that is looked at; empty: none
	Preview  *desk.ListPreview
	Sorry    string
	Sheets   []string // of the workbook, where it has several
	Sheet    string   // that is looked at
	Header   string   // the line of the headings, where somebody said so
	Jump     string   // a price that moves by more per cent is shown
	Own      map[string]string
	Last     *catalogue.List
	Words    []catalogue.Unread
	Waiting  []catalogue.WaitingLine
	More     int // words that are not shown
}

// loadTime is how long the loading of a list may take.
const loadTime = 10 * time.Minute

// Bounds of what is shown of a list at once.
const (
	shownLines = 8
	shownWords = 12
	shownFar   = 20
)

func showList(v *visit) (string, any, error) {
	s, err := inventory.SupplierByCode(v.ctx, v.db(), v.r.PathValue("supplier"))
	if err != nil {
		return "", nil, err
	}
	p := listPage{Clock: desk.At(v.now), Supplier: s, File: v.asked("file")}
	title := "Price lists of " + s.Name
	if p.File != "" {
		return title, p, p.look(v)
	}
	review, err := desk.LoadReview(v.ctx, v.db(), s)
	if err != nil {
		return "", nil, err
	}
	p.Words, p.Waiting = review.Words, review.Waiting
	if p.Own, err = catalogue.WordsOf(v.ctx, v.db(), s.ID); err != nil {
		return "", nil, err
	}
	p.More = max(0, len(p.Words)-shownWords)
	p.Words = p.Words[:len(p.Words)-p.More]
	lists, err := catalogue.Lists(v.ctx, v.db(), s.ID)
	for _, l := range lists {
		if l.TakenBackAt == nil {
			p.Last = &l
			break
		}
	}
	return title, &p, err
}

// look reads a file that was sent, in a transaction of which nothing is kept.
func (p *listPage) look(v *visit) error {
	file, err := v.s.sent.open(p.File)
	if err != nil {
		return err
	}
	defer file.Close() // only read from
	l, sorry, err := v.listFile(p.Supplier.Code, file)
	if err != nil {
		return ofTheQuestion(err)
	}
	jump, err := jumpAsked(v)
	if err != nil {
		return err
	}
	p.Sorry, p.Sheet, p.Header, p.Jump = sorry, v.asked("sheet"), v.asked("header"), cmp.Or(v.asked("jump"), "25")
	if p.Sheets = file.Sheets(); len(p.Sheets) < 2 {
		p.Sheets = nil
	}
	tx, err := v.s.DB.Begin(v.ctx)
	if err != nil {
		return fmt.Errorf("begin the preview of %s: %w", file.Name(), err)
	}
	preview, err := desk.LoadListPreview(v.ctx, tx, l, shownLines, jump, v.now, nil)
	p.Preview = &preview
	return errors.Join(err, tx.Rollback(context.WithoutCancel(v.ctx)))
}

// listFile finds out by which columns a file is to be read: as the address says of its sheet and its headings, else as a
// person has confirmed, else as the file itself suggests. A list that looks otherwise than before is told of.
func (v *visit) listFile(supplier string, file *pricelist.File) (l desk.ListFile, sorry string, err error) {
	l, err = desk.ReadListFile(v.ctx, v.db(), supplier, file)
	var columns *desk.ColumnsError
	other := errors.As(err, &columns)
	if err != nil && !other {
		return l, "", err
	}
	if other {
		sorry = err.Error()
	}
	if !other && v.asked("sheet") == "" && v.asked("header") == "" {
		return l, "", nil
	}
	proposal, err := v.proposal(file)
	l.Mapping, l.Doubts, l.Asks, l.Confirmed = proposal.Mapping, proposal.Doubts, proposal.Asks, false
	l.Mapping = l.Mapping.In(l.Supplier.Currency)
	return l, sorry, err
}

// proposal looks which column is what, on the sheet and below the headings that the address names.
func (v *visit) proposal(file *pricelist.File) (p pricelist.Proposal, err error) {
	sheet, header := v.asked("sheet"), v.askedNumber("header")
	switch {
	case sheet == "":
		p, err = pricelist.ProposeFile(file)
	case !slices.Contains(file.Sheets(), sheet):
		return p, &statusError{http.StatusNotFound, fmt.Sprintf("the file has no sheet %q", sheet)}
	default:
		p, err = pricelist.Propose(file, sheet)
	}
	if err == nil && header > 0 {
		err = desk.HeadingsFrom(file, &p.Mapping, int(min(header, 1_000_000)))
	}
	return p, err
}

// jumpAsked is by how many per cent a price may move before it is shown; 0: the usual.
func jumpAsked(v *visit) (int, error) {
	text := v.asked("jump")
	if text == "" {
		return 0, nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > 1000 {
		return 0, &statusError{http.StatusBadRequest, fmt.Sprintf("a price moves by 1 to 1000 per cent, not %q", text)}
	}
	return n, nil
}

// Column asks which column holds a field.
func (p listPage) Column(f *Form, field pricelist.Field) Field {
	out := f.field("select", string(field), strings.ReplaceAll(string(field), "_", " "), p.Preview.Mapping.Columns[field])
	out.Choices = append(out.Choices, Choice{"0", "none", "", out.Value == "0"})
	for i, heading := range p.Preview.Mapping.Headings {
		if heading != "" {
			n := fmt.Sprint(i + 1)
			out.Choices = append(out.Choices, Choice{n, desk.ColumnWords(p.Preview.Mapping.ColumnName(i + 1)), "", out.Value == n})
		}
	}
	return out
}

// Tax is what is known of the tax in the prices, in per cent; empty where nobody has said.
func (p listPage) Tax() string {
	if tax := p.Preview.Mapping.TaxIn; tax.Valid {
		return tax.Decimal.String()
	}
	return ""
}

// IsOrder reports whether the file looks like an order's confirmation.
func (p listPage) IsOrder() bool { return p.Preview.Load.Paper == pricelist.Confirmation }

// Fields are what a column may hold.
func (p listPage) Fields() []pricelist.Field { return pricelist.Fields }

// Read is what a line's description was understood to say.
func (p listPage) Read(r desk.PreviewRow) string { return desk.ReadingWords(r.Read) }

// Counts are what loading would do.
func (p listPage) Counts(s catalogue.Summary) []desk.ListCount { return desk.ListCounts(s) }

// Moved is by how much a price moved.
func (p listPage) Moved(j catalogue.Jump) string { return desk.JumpWords(j) }

// Bad, Jumps and LeftOut are the first of them.
func (p listPage) Bad() []pricelist.Problem {
	return p.Preview.Load.Bad[:min(len(p.Preview.Load.Bad), shownFar)]
}

func (p listPage) Jumps() []catalogue.Jump {
	return p.Preview.Load.Jumps[:min(len(p.Preview.Load.Jumps), shownFar)]
}

func (p listPage) LeftOut() []catalogue.LeftOut {
	return p.Preview.Load.LeftOut[:min(len(p.Preview.Load.LeftOut), shownFar)]
}

// doubtWords are a person's word by which a list is taken in spite of a doubt.
var doubtWords = map[desk.Doubt]struct{ name, words string }{
	desk.DoubtColumns: {"columns", "The columns are as they stand above"},
	desk.DoubtTax:     {"prices", "The prices are before tax all the same"},
	desk.DoubtPrices:  {"prices", "The prices are right as they stand"},
	desk.DoubtGone:    {"gone", "Most of what the supplier had is really gone"},
	desk.DoubtBad:     {"good", "Load the good lines although others are bad"},
	desk.DoubtJumps:   {"jumps", "The prices that moved far are right"},
}

// Accept asks for a word about each doubt: without it nothing is loaded, so the browser does not send the form.
func (p listPage) Accept(f *Form) (out []Field) {
	for _, d := range desk.ListDoubts(p.Preview.Confirmed, *p.Preview.Load) {
		out = append(out, f.Tick(doubtWords[d].name, doubtWords[d].words).Must())
	}
	return out
}

// WaitWords are how many lines wait.
func (p listPage) WaitWords() string { return desk.WaitWords(len(p.Waiting)) }

func (p listPage) ShownWaiting() []catalogue.WaitingLine {
	return p.Waiting[:min(len(p.Waiting), shownFar)]
}

// sendList keeps a file to look at.
func sendList(v *visit, t *typed) (string, error) {
	s, err := inventory.SupplierByCode(v.ctx, v.db(), v.r.PathValue("supplier"))
	if err != nil {
		return "", err
	}
	name, data, err := v.file("list")
	if err != nil {
		t.take("list", err)
		return "", t.wrong()
	}
	id := v.s.sent.keep(name, data)
	file, err := v.s.sent.open(id)
	if err != nil {
		t.take("list", err)
		return "", t.wrong()
	}
	return listPath(s) + "?file=" + url.QueryEscape(id), file.Close()
}

func listPath(s inventory.Supplier) string { return "/lists/" + url.PathEscape(s.Code) }

// sayColumns keeps which column of a supplier's lists is what.
func sayColumns(v *visit, t *typed) (string, error) {
	s, err := inventory.SupplierByCode(v.ctx, v.db(), v.r.PathValue("supplier"))
	if err != nil {
		return "", err
	}
	file, err := v.s.sent.open(v.asked("file"))
	if err != nil {
		return "", err
	}
	defer file.Close() // only read from
	proposal, err := v.proposal(file)
	if err != nil {
		return "", ofTheQuestion(err)
	}
	m := proposal.Mapping.In(s.Currency)
	columns := map[pricelist.Field]int{}
	for _, field := range pricelist.Fields {
		n := t.whole(string(field))
		if n > len(m.Headings) {
			t.mark(string(field), "choose one of these")
		}
		if n > 0 {
			columns[field] = n
		}
	}
	m.Assign(columns)
	m.Each(func(m *pricelist.Mapping) {
		m.DecimalComma, m.PriceEach, m.RetailEach = t.ticked("comma"), t.ticked("price-each"), t.ticked("retail-each")
	})
	if tax := t.plain("tax-in"); tax.Valid {
		t.take("tax-in", pricelist.CheckTax(tax.Decimal))
		m = m.WithTax(tax.Decimal)
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	if err := m.CheckComplete(); err != nil {
		return "", ofTheQuestion(err)
	}
	return v.done(v.r.URL.RequestURI(), "the columns are kept for its lists", v.do("said which column of the lists of "+s.Name+" is what", func(ctx context.Context, tx pgx.Tx, _ string) error {
		return catalogue.PutMapping(ctx, tx, s.ID, m)
	}))
}

// loadList loads a file that was looked at, all of it or nothing.
func loadList(v *visit, t *typed) (string, error) {
	file, err := v.s.sent.open(v.asked("file"))
	if err != nil {
		return "", err
	}
	defer file.Close() // only read from
	l, _, err := v.listFile(v.r.PathValue("supplier"), file)
	if err != nil {
		return "", ofTheQuestion(err)
	}
	jump, err := jumpAsked(v)
	if err != nil {
		return "", err
	}
	if !l.Confirmed && !t.ticked("columns") {
		t.mark("columns", "look which column is what, and say that it is so")
	}
	from := v.now
	if day := t.day("as-of"); day != nil {
		from = day.Time()
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	if err := l.CheckColumns(); err != nil {
		return "", ofTheQuestion(err)
	}
	tax, err := desk.TaxPercent(v.ctx, v.db(), v.now)
	if err != nil {
		return "", err
	}
	// A large list takes longer than a page may; who sent it is told how far it is.
	if err := http.NewResponseController(v.w).SetWriteDeadline(time.Now().Add(loadTime)); err != nil && !errors.Is(err, http.ErrNotSupported) {
		return "", fmt.Errorf("give the list its time: %w", err)
	}
	did, err := change(v, "loaded the list "+file.Name()+" of "+l.Supplier.Name, func(ctx context.Context, tx pgx.Tx, _ string) (catalogue.Summary, error) {
		if !l.Confirmed {
			if err := catalogue.PutMapping(ctx, tx, l.Supplier.ID, l.Mapping); err != nil {
				return catalogue.Summary{}, err
			}
		}
		load := l.Load(tax, v.now)
		load.AsOf, load.JumpPercent = from, jump
		load.Progress = func(read, about int) { v.s.live.tell(fmt.Sprintf("progress-%s %d %d", t.key, read, about)) }
		load.Accept = catalogue.Accept{GoodRows: t.ticked("good"), Jumps: t.ticked("jumps"), Prices: t.ticked("prices"), Gone: t.ticked("gone")}
		return load.Run(ctx, tx)
	})
	var held *catalogue.HeldError
	if errors.As(err, &held) {
		return "", &statusError{http.StatusConflict, err.Error()}
	}
	words := "this very list is loaded already: nothing changed"
	if !did.Again {
		words = fmt.Sprintf("the list is loaded: %s", countWords(did))
	}
	return v.done(listPath(l.Supplier), words, err)
}

// countWords are what a load did, in a row.
func countWords(s catalogue.Summary) string {
	var out []string
	for _, c := range desk.ListCounts(s) {
		out = append(out, fmt.Sprintf("%d %s", c.N, c.Words))
	}
	return strings.Join(out, ", ")
}

// answerWord says what a word of a supplier's list means.
func answerWord(v *visit, t *typed) (string, error) {
	s, err := inventory.SupplierByCode(v.ctx, v.db(), v.r.PathValue("supplier"))
	if err != nil {
		return "", err
	}
	word := t.row
	meaning := t.needed("meaning", "say what it means")
	words, err := catalogue.Review(v.ctx, v.db(), s.ID)
	if err != nil {
		return "", err
	}
	if !slices.ContainsFunc(words, func(u catalogue.Unread) bool { return u.Word == word }) {
		t.mark("meaning", "this word waits no more: open the page again")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	did, err := change(v, "said what "+word+" means", func(ctx context.Context, tx pgx.Tx, _ string) (catalogue.Summary, error) {
		return catalogue.Answer(ctx, tx, s.ID, word, meaning)
	})
	return v.done(listPath(s), fmt.Sprintf("%s means %s: %s", word, meaning, desk.AnsweredWords(did)), err)
}

// sayLine says what one line of a list is.
func sayLine(v *visit, t *typed) (string, error) {
	s, err := inventory.SupplierByCode(v.ctx, v.db(), v.r.PathValue("supplier"))
	if err != nil {
		return "", err
	}
	code, forget := t.needed("code", "give the line’s code"), t.ticked("forget")
	is := strings.FieldsFunc(t.line("is"), func(r rune) bool { return r == ',' || r == ';' })
	if len(is) == 0 && !forget {
		t.mark("is", "say what it is, or tick that what was said is taken back")
	}
	if forget {
		is = nil
	}
	for i := range is {
		is[i] = strings.TrimSpace(is[i])
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	did, err := change(v, "said what line "+code+" is", func(ctx context.Context, tx pgx.Tx, _ string) (catalogue.Summary, error) {
		return catalogue.SayLine(ctx, tx, s.ID, code, is)
	})
	return v.done(listPath(s), code+": "+desk.AnsweredWords(did), err)
}

// takeBackList undoes the last load.
func takeBackList(v *visit, _ *typed) (string, error) {
	s, err := inventory.SupplierByCode(v.ctx, v.db(), v.r.PathValue("supplier"))
	if err != nil {
		return "", err
	}
	back, err := change(v, "took back the last list of "+s.Name, func(ctx context.Context, tx pgx.Tx, _ string) (catalogue.TakenBack, error) {
		return catalogue.TakeBack(ctx, tx, s.ID)
	})
	return v.done(listPath(s), desk.TakenBackWords(s.Name, back, desk.At(v.now)), err)
}
