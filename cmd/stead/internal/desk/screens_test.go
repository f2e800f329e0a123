package desk_test

import (
	"context"
	"fmt"
	"html/template"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/demoshop"
	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/pricelist"
	"stead/inventory/shelf"
	"stead/migrations/testdb"
	"stead/pricing"
	"stead/pricing/ordering"
	"stead/substitution"
	"stead/testdata/demo"
)

func TestMain(m *testing.M) { testdb.Main(m) }

var now = time.Date(2026, 12, 2, 9, 0, 0, 0, time.UTC)

// workshop fills a database with the demo's workshop, before any bike has come.
func workshop(t *testing.T, tx pgx.Tx) {
	t.Helper()
	_, err := tx.Exec(t.Context(), `INSERT INTO request (key, what) VALUES ('demo', 'demo'), ('parcel', 'parcel')`)
	require.NoError(t, err)
	require.NoError(t, demoshop.Load(t.Context(), tx, demo.Files, "demo", now))
}

// week is the demo's workshop with its bikes inspected, quoted and, where the owner has answered, approved.
func week(t *testing.T) (context.Context, pgx.Tx, []int64) {
	t.Helper()
	ctx, tx := t.Context(), testdb.Tx(t)
	workshop(t, tx)
	jobs, err := demoshop.Jobs(demo.Files)
	require.NoError(t, err)
	var ids []int64
	for _, j := range jobs {
		id, err := j.BookIn(ctx, tx, demo.Files, now)
		require.NoError(t, err)
		ids = append(ids, id)
		if j.Note != "" {
			said, err := desk.LoadNote(ctx, tx, id, j.Note)
			require.NoError(t, err)
			_, err = pricing.KeepNote(ctx, tx, id, pricing.Note{Said: j.Note, SaidAt: now, Findings: said.Reading.Findings, Fitted: said.Reading.Fitted})
			require.NoError(t, err)
		}
		for _, visit := range j.Inspect {
			_, err := pricing.Inspect(ctx, tx, id, visit, now)
			require.NoError(t, err)
		}
		q, err := pricing.MakeQuote(ctx, tx, id, now)
		require.NoError(t, err, j.Bike)
		if j.Decide != nil {
			_, err = pricing.Approve(ctx, tx, pricing.Decision{JobID: id, Version: q.Version, Option: j.Decide.Option, By: j.Decide.By, Accept: j.Decide.Accept}, j.Decide.Wish, now)
			require.NoError(t, err, j.Bike)
		}
	}
	return ctx, tx, ids
}

// page is set as a page would be: of what a screen tells, and of nothing else.
func page(t *testing.T, text string, screen any) string {
	t.Helper()
	var out strings.Builder
	require.NoError(t, template.Must(template.New("").Parse(text)).Execute(&out, screen))
	return out.String()
}

// Each screen of the demo's week, set in a template: a page costs no more.
func TestScreens(t *testing.T) {
	ctx, tx, jobs := week(t)
	first, second, refused := jobs[0], jobs[1], jobs[3]

	t.Run("job", func(t *testing.T) {
		v, err := desk.LoadJob(ctx, tx, first, now)
		require.NoError(t, err)
		text := page(t, `{{.Whose}}|{{range .Found}}{{.Words}};{{end}}|{{.ApprovedWords}}|{{range .PartWords}}{{.}};{{end}}|{{.Next}}`, v)
		require.Contains(t, text, "Ines Falkner&#39;s blue touring bike|")
		require.Contains(t, text, "Approved by Ines Falkner on Wednesday 2 December: option")
		require.Contains(t, text, "|order its parts")
	})
	t.Run("quote", func(t *testing.T) {
		v, quoted, err := desk.LoadQuote(ctx, tx, second, now)
		require.NoError(t, err)
		require.True(t, quoted)
		text := page(t, `{{.Stands}}{{range .Choices}}[{{.Title}}{{range .Lines}}|{{.For}}: {{.Name}}{{range .From}} from {{.Words}} {{.Amount}}{{end}}{{end}}{{if .AsBefore}}|as before{{end}}|{{.Late}}]{{end}}{{.Next}}`, v)
		require.Contains(t, text, "prices stand until")
		require.Contains(t, text, "|cassette: ")
		require.Contains(t, text, "]ask the customer")
		for i, c := range v.Choices { // what is shown adds up to what is asked
			sum := decimal.Zero
			for _, l := range v.Labour {
				sum = sum.Add(l.Amount)
			}
			for _, l := range c.Lines {
				for _, from := range l.From {
					sum = sum.Add(from.Amount)
				}
			}
			require.True(t, sum.Equal(v.Options[i].Total), "option %s: %s, and its lines come to %s", c.Title(), v.Options[i].Total, sum)
		}
	})
	t.Run("options", func(t *testing.T) {
		v, err := desk.LoadOptions(ctx, tx, second, now)
		require.NoError(t, err)
		require.NotEmpty(t, v.Marked)
		cheapest, dearest := v.Span()
		require.False(t, cheapest.Total.GreaterThan(dearest.Total))
		require.Contains(t, page(t, `{{range .Marked}}{{.Promise}} {{.Differs}};{{end}}`, v), "all here by")
	})
	t.Run("why", func(t *testing.T) {
		v, err := desk.LoadWhy(ctx, tx, second, "cheapest", "rear.cassette", now)
		require.NoError(t, err)
		require.Contains(t, page(t, `{{.From}}{{range .Others}}|{{.Name}} {{.From}} {{.Pays}} {{.Days}} {{range .But}}{{.}};{{end}}{{end}}`, v), "|Tarnhow cassette 8-speed 12-32 shelf")
	})
	t.Run("limits", func(t *testing.T) {
		_, err := pricing.Limit(ctx, tx, refused, func(l pricing.Limits) (pricing.Limits, error) {
			l.SameFinish, l.NotSuppliers = true, []string{pricing.Shelf}
			return l, nil
		})
		require.NoError(t, err)
		v, err := desk.LoadLimits(ctx, tx, refused, now)
		require.NoError(t, err)
		require.Subset(t, v.Words, []string{"it must look as before", "nothing from the shelf"})
	})
	t.Run("note", func(t *testing.T) {
		v, err := desk.LoadNote(ctx, tx, first, "chain's at point nine")
		require.NoError(t, err)
		require.Contains(t, page(t, `{{range .Findings}}{{.Proposes}}{{end}}`, v), "replace")
		require.False(t, v.Kept)
	})
	t.Run("orders", func(t *testing.T) {
		plan, err := desk.LoadOrderPlan(ctx, tx, ordering.Policy{}, true, now)
		require.NoError(t, err)
		require.NotEmpty(t, plan.WhatIf)
		require.Contains(t, page(t, `{{range .CostWords}}{{.}};{{end}}`, plan), "no list that meets the dates is cheaper")
		late, err := desk.LoadLate(ctx, tx, now)
		require.NoError(t, err)
		require.Contains(t, late.Words(late.Promises[0]), "not ordered")
		placed, err := ordering.Place(ctx, tx, plan.List, nil, now)
		require.NoError(t, err)
		list, err := desk.LoadOrders(ctx, tx, true, now)
		require.NoError(t, err)
		require.Len(t, list.Orders, len(placed))
		for _, o := range placed {
			v, err := desk.LoadGoodsIn(ctx, tx, o.ID, now)
			require.NoError(t, err)
			require.Len(t, v.Rows, len(o.Lines))
			require.Len(t, v.Awaits, len(o.Lines), "nothing has come")
			require.NotEmpty(t, v.Bins)
			require.Regexp(t, `^(\S+ .+ 202[67]-\d\d-\d\d;)+$`, page(t, `{{range .Rows}}{{index $.Codes .ID}} {{.Part}} {{.Expected}};{{end}}`, v))
		}
		receipt, err := inventory.ReceiveAll(ctx, tx, "parcel", placed[0].ID, "DN 1", inventory.Into{Bin: "A1"}, now, nil, false)
		require.NoError(t, err)
		words, more := desk.ReceiptWords(receipt)
		require.Equal(t, fmt.Sprintf("delivery of order %d booked in; the order is closed", placed[0].ID), words)
		require.NotEmpty(t, more)
	})
	t.Run("today", func(t *testing.T) {
		v, err := desk.LoadToday(ctx, tx, now.AddDate(0, 0, 40))
		require.NoError(t, err)
		require.Len(t, v.Stand, len(jobs))
		require.NotEmpty(t, v.PromisedWords())
		require.NotEmpty(t, v.LateWords())
		require.NotEmpty(t, v.OverdueWords())
		for _, l := range v.Late {
			i := slices.IndexFunc(v.Stand, func(j desk.OnStand) bool { return j.ID == l.JobID })
			require.False(t, l.InTime() && v.Stand[i].Next == desk.OrderParts, "job %d is to be ordered for, and not late", l.JobID)
		}
		for _, j := range v.Stand {
			job, err := desk.LoadJob(ctx, tx, j.ID, now)
			require.NoError(t, err)
			require.Equal(t, job.Next, j.Next, "job %d: the list and the job's own screen ask for the same", j.ID)
		}
	})
	t.Run("shelf", func(t *testing.T) {
		policy, err := shelf.LoadPolicy(ctx, tx)
		require.NoError(t, err)
		all, err := desk.LoadKeepAll(ctx, tx, policy, nil, now)
		require.NoError(t, err)
		require.Contains(t, all.TotalWords()[0], "As set: ")
		require.Regexp(t, `^That is \d+\.\d in 100; one step less would meet \d+\.\d for £[\d.]+, one step more would meet`, all.TotalWords()[2])
		week, err := desk.LoadReorder(ctx, tx, policy, desk.LinesAsked{From: 1, Most: desk.ScreenLines}, now)
		require.NoError(t, err)
		require.Contains(t, week.TotalWords(), "Money now: £")
		ledger, err := desk.LoadLedger(ctx, tx, "KES-B14-G25", now)
		require.NoError(t, err)
		require.Contains(t, page(t, `{{range .Movements}}{{$.Stamp .At}} {{.Reason}};{{end}}`, ledger), "opening;")
		part, err := desk.LoadPart(ctx, tx, "COR-R110-50O-S", now)
		require.NoError(t, err)
		require.Contains(t, page(t, `{{range .Dimensions}}{{.Name}}={{.Value}};{{end}}`, part), "teeth=50T;")
	})
	t.Run("suppliers and settings", func(t *testing.T) {
		v, err := desk.LoadSupplier(ctx, tx, "harbour", now)
		require.NoError(t, err)
		require.Contains(t, v.Closed[0], "closed on")
		shop, err := desk.LoadShop(ctx, tx, now)
		require.NoError(t, err)
		require.Contains(t, shop.Rules()[0], "dates are promised at")
		wishes, err := desk.LoadWishes(ctx, tx, now)
		require.NoError(t, err)
		for _, w := range wishes {
			require.Contains(t, desk.WishWords(w), " — ")
		}
	})
	t.Run("fit", func(t *testing.T) {
		site, err := substitution.SiteOf("crank.outer-ring")
		require.NoError(t, err)
		v, err := desk.LoadFitAtPlace(ctx, tx, first, site, "COR-R110-50O-S", 1)
		require.NoError(t, err)
		require.Contains(t, desk.DifferentWords(v.Fittings[0].Verdict), "silver")
	})
}

// A list goes from file to review, and its screens tell the same of it.
func TestListScreens(t *testing.T) {
	ctx, tx := t.Context(), testdb.Tx(t)
	workshop(t, tx)
	text := "Code,Description,Trade\nX-1,9-speed chain 114 links,12.50\nX-2,zorbling kit,3.20\n"
	file, err := pricelist.Open("december.csv", strings.NewReader(text), int64(len(text)))
	require.NoError(t, err)
	_, err = inventory.AddSupplier(ctx, tx, inventory.Supplier{Code: "oak", Name: "Oak Lane", LeadDays: 2, ToOrderDays: 10})
	require.NoError(t, err)

	l, err := desk.ReadListFile(ctx, tx, "oak", file)
	require.NoError(t, err)
	require.NoError(t, l.CheckColumns())
	require.False(t, l.Confirmed)
	preview, err := desk.LoadListPreview(ctx, tx, l, 5, 25, now, nil)
	require.NoError(t, err)
	require.Equal(t, 2, preview.Load.Rows)
	require.Equal(t, []desk.Doubt{desk.DoubtColumns}, desk.ListDoubts(preview.Confirmed, *preview.Load))
	require.Contains(t, page(t, `{{range .Rows}}{{.Code}} {{$.PriceWords .}};{{end}}`, preview), "X-1 £12.50;")
	loaded, err := desk.LoadLists(ctx, tx, now)
	require.NoError(t, err)
	require.Nil(t, of(t, loaded, "oak").Last, "a preview loads nothing")

	_, err = l.Load(decimal.Zero, now).Run(ctx, tx)
	require.NoError(t, err)
	loaded, err = desk.LoadLists(ctx, tx, now)
	require.NoError(t, err)
	require.Equal(t, "december.csv", of(t, loaded, "oak").Last.File)
	review, err := desk.LoadReview(ctx, tx, l.Supplier)
	require.NoError(t, err)
	require.Len(t, review.Waiting, of(t, loaded, "oak").Waiting)
	require.Len(t, review.Words, of(t, loaded, "oak").Unread)
	require.NotEmpty(t, review.Words)
	supplier, err := desk.LoadSupplier(ctx, tx, "oak", now)
	require.NoError(t, err)
	require.Len(t, supplier.Lists, 1)
	prices, err := desk.LoadPrices(ctx, tx, "X-1", now)
	require.NoError(t, err)
	require.Len(t, prices.Sold, 1)
}

func of(t *testing.T, v desk.Lists, code string) desk.SupplierList {
	t.Helper()
	for _, l := range v.Suppliers {
		if l.Supplier.Code == code {
			return l
		}
	}
	t.Fatalf("no supplier %s", code)
	return desk.SupplierList{}
}
