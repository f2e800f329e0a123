package pricing

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/invented"
	"stead/migrations/testdb"
	"stead/substitution"
	"stead/substitution/inspection"
	"stead/testdata/demo"
)

// BenchmarkJobOptions takes jobs of the demo from the question to the options, over the demo's catalogue and one of a
// million parts (which takes a few minutes to fill). Beside the mean it gives medians: of the whole, and of what it is
// spent on.
//
// Loading is the database: cand-ms for the parts that fit, unsure-ms for those to be measured, offer-ms and stock-ms
// for what is offered of them and on the shelf, rest-ms for the job, the shop and its deliveries, each with the reading
// of its answers. brings-ms is what else loading does: what the candidates would bring, and the parts that are just
// that. Then problem-ms puts all before the solver, solve-ms solves it and price-ms prices and dates the options.
func BenchmarkJobOptions(b *testing.B) {
	for _, parts := range []int{300, 1_000_000} {
		b.Run(fmt.Sprintf("%d parts", parts), func(b *testing.B) {
			pool := testdb.New(b)
			jobs := demoJobs(b, pool)
			invented.Fill(b, pool, parts, demoParts(b)...)
			watched, watch := watchedPool(b, pool)
			for _, j := range jobs {
				b.Run(j.name, func(b *testing.B) { benchmarkOptions(b, watched, watch, j.id) })
			}
		})
	}
}

func benchmarkOptions(b *testing.B, pool *pgxpool.Pool, watch *stopwatch, job int64) {
	ctx := b.Context()
	var s Situation
	options := func() Quote {
		var err error
		began := time.Now()
		s, err = LoadSituation(ctx, pool, job, now)
		require.NoError(b, err)
		watch.spent["loading"] = time.Since(began)
		q, err := s.Draft(ctx)
		require.NoError(b, err)
		watch.spent["all"] = time.Since(began)
		return q
	}
	q := options() // warms the caches
	require.NotEmpty(b, q.Options, "%+v", q.Refusal)

	spent := map[string][]float64{}
	b.ReportAllocs()
	for b.Loop() {
		clear(watch.spent)
		options()
		b.StopTimer()
		w := watch.spent
		w["brings"] = w["loading"] - w["cand"] - w["unsure"] - w["offer"] - w["stock"] - w["rest"]
		delete(w, "loading")
		solveInSteps(b, ctx, s, w)
		for what, took := range w {
			spent[what] = append(spent[what], float64(took.Microseconds())/1000)
		}
		b.StartTimer()
	}
	for what, times := range spent {
		slices.Sort(times)
		b.ReportMetric(times[len(times)/2], what+"-ms")
	}
	offers := 0
	for _, list := range s.Offers {
		offers += len(list)
	}
	b.ReportMetric(float64(len(s.Parts)), "parts")
	b.ReportMetric(float64(offers), "offers")
}

// solveInSteps is what Draft does where options are found, step by step.
func solveInSteps(b *testing.B, ctx context.Context, s Situation, spent map[string]time.Duration) {
	began := time.Now()
	problem, err := s.problem()
	require.NoError(b, err)
	spent["problem"] = time.Since(began)
	began = time.Now()
	answer, err := s.solve(ctx, problem)
	require.NoError(b, err)
	spent["solve"] = time.Since(began)
	began = time.Now()
	_, err = s.options(problem, answer)
	require.NoError(b, err)
	spent["price"] = time.Since(began)
}

// stopwatch adds up how long the questions to the database take, by what they ask. It is for one question at a time.
type stopwatch struct {
	spent map[string]time.Duration
	asked string
	began time.Time
}

func (w *stopwatch) TraceQueryStart(ctx context.Context, _ *pgx.Conn, q pgx.TraceQueryStartData) context.Context {
	w.asked = "rest"
	for _, kind := range []struct{ what, sql string }{
		{"brings", `part.dims @>`}, {"unsure", `part.id IN (SELECT part.id`}, {"cand", `SELECT part.id`}, {"offer", `SELECT offer.id`}, {"stock", `SELECT part_id, sum(on_hand)`},
	} {
		if strings.Contains(q.SQL, kind.sql) {
			w.asked = kind.what
			break
		}
	}
	w.began = time.Now()
	return ctx
}

// TraceQueryEnd comes when the last row has been read.
func (w *stopwatch) TraceQueryEnd(context.Context, *pgx.Conn, pgx.TraceQueryEndData) {
	w.spent[w.asked] += time.Since(w.began)
}

// watchedPool is another pool on the same database, with a stopwatch.
func watchedPool(b *testing.B, pool *pgxpool.Pool) (*pgxpool.Pool, *stopwatch) {
	watch := &stopwatch{spent: map[string]time.Duration{}}
	config := pool.Config()
	config.ConnConfig.Tracer = watch
	watched, err := pgxpool.NewWithConfig(b.Context(), config)
	require.NoError(b, err)
	b.Cleanup(watched.Close)
	return watched, watch
}

func demoFile(b *testing.B, name string, into any) {
	data, err := demo.Files.ReadFile(name)
	require.NoError(b, err)
	require.NoError(b, json.Unmarshal(data, into))
}

// demoParts are what parts of a catalogue look like.
func demoParts(b *testing.B) []substitution.Part {
	data, err := demo.Files.ReadFile("parts.jsonl")
	require.NoError(b, err)
	var parts []substitution.Part
	for line := range bytes.Lines(data) {
		var p inventory.Part
		require.NoError(b, json.Unmarshal(line, &p))
		parts = append(parts, p.Part)
	}
	return parts
}

type namedJob struct {
	name string
	id   int64
}

// demoJobs sets up the demo's workshop and books in some of its bikes, with what the demo finds or, for the drivetrain,
// with all that turns to be replaced.
func demoJobs(b *testing.B, pool *pgxpool.Pool) []namedJob {
	ctx := b.Context()
	var shop struct {
		Shop   inventory.Shop
		Labour []Labour
	}
	var suppliers []inventory.Supplier
	var bikes []struct {
		Customer, Bike string
		Build          substitution.Build
		Inspect        []inspection.Taken
	}
	demoFile(b, "shop.json", &shop)
	demoFile(b, "suppliers.json", &suppliers)
	demoFile(b, "jobs.json", &bikes)
	tx, err := pool.Begin(ctx)
	require.NoError(b, err)
	require.NoError(b, inventory.SaveShop(ctx, tx, shop.Shop))
	require.NoError(b, SetTax(ctx, tx, Tax{"VAT", pounds("20")}, Everything, time.Date(2011, time.January, 4, 0, 0, 0, 0, time.UTC)))
	for _, l := range shop.Labour {
		require.NoError(b, SetLabour(ctx, tx, l))
	}
	for _, s := range suppliers {
		_, err := inventory.AddSupplier(ctx, tx, s)
		require.NoError(b, err)
	}
	var jobs []namedJob
	for _, j := range []struct {
		name, bike string
		replace    []substitution.Place
	}{
		{"chain and ring", "blue touring bike", []substitution.Place{"chain", "crank.outer-ring"}},
		{"chain and cassette", "red road bike, 8-speed", nil},
		{"one bearing", "green gravel bike", []substitution.Place{"rear.hub.bearing-right"}},
		{"balls, bearings and pads", "black hybrid", nil},
		{"drivetrain", "blue touring bike", []substitution.Place{"chain", "rear.cassette", "crank.outer-ring", "crank.inner-ring", "rear.derailleur"}},
	} {
		for _, bike := range bikes {
			if bike.Bike != j.bike {
				continue
			}
			findings := bike.Inspect
			if j.replace != nil {
				findings = nil
				for _, p := range j.replace {
					findings = append(findings, inspection.Taken{Place: p, Action: inspection.Replace})
				}
			}
			added, err := AddBike(ctx, tx, Bike{Customer: Customer{Name: bike.Customer}, Words: bike.Bike, Build: bike.Build})
			require.NoError(b, err)
			id, err := OpenJob(ctx, tx, added.ID, "", nil, Limits{}, now)
			require.NoError(b, err)
			for _, f := range findings {
				_, err := Inspect(ctx, tx, id, f, now)
				require.NoError(b, err)
			}
			jobs = append(jobs, namedJob{j.name, id})
		}
	}
	require.NoError(b, tx.Commit(ctx))
	return jobs
}
