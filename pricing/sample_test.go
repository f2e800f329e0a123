package pricing

import (
	"context"
	"fmt"
	"regexp"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/shelf"
	"stead/migrations/testdb"
	"stead/substitution"
	"stead/substitution/inspection"
)

func TestMain(m *testing.M) { testdb.Main(m) }

// now is a Tuesday morning, before every supplier's cut-off.
var now = time.Date(2026, time.March, 3, 10, 0, 0, 0, time.UTC)

var today = calendar.DayOf(now)

func pounds(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func nullPounds(s string) decimal.NullDecimal { return decimal.NewNullDecimal(pounds(s)) }

// A black ring for an even 110 mm spider of five bolts, one like it in silver, and one of which nobody has measured the
// circle.
const (
	blackRing  = "teeth=50 bcd_mm=110 bolts=5 bolt_pattern=even position=outer speeds=9,10 chain_width=11/128 pairs_with=34 colour=black material=alloy treatment=anodised"
	silverRing = "teeth=50 bcd_mm=110 bolts=5 bolt_pattern=even position=outer speeds=9,10 chain_width=11/128 pairs_with=34 colour=silver material=alloy treatment=polished"
	unsureRing = "teeth=50 bolts=5 bolt_pattern=even position=outer speeds=9,10 chain_width=11/128 pairs_with=34 colour=black material=alloy treatment=anodised"
	chain9     = "speeds=9 chain_width=11/128 links=116 colour=silver material=steel"
)

// parsed is a part as a person writes it.
func parsed(t testing.TB, family substitution.Family, text string) *substitution.Part {
	t.Helper()
	p, err := substitution.ParsePart(family, text)
	require.NoError(t, err)
	return &p
}

// touringBike has its outer ring's place filled as asked; of its bottom bracket nothing is known yet.
func touringBike(t testing.TB) substitution.Build {
	t.Helper()
	b := substitution.Build{"bottom-bracket": nil}
	for place, text := range map[substitution.Place]string{
		"chain":            "speeds=9 chain_width=11/128 links=108 colour=silver material=steel",
		"rear.cassette":    "speeds=9 teeth_min=11 teeth_max=32 freehub=hg colour=silver material=steel",
		"crank":            "bcd_mm=110 bcd_inner_mm=110 bolts=5 arm_mm=170 speeds=9,10",
		"crank.outer-ring": blackRing,
		"crank.inner-ring": "teeth=34 bcd_mm=110 bolts=5 bolt_pattern=even position=inner speeds=9,10 chain_width=11/128 colour=black material=alloy treatment=anodised",
		"rear.derailleur":  "speeds=9 teeth_max=34 capacity=43 pull_family=R1.7 cage=long mount=hanger",
		"front.derailleur": "speeds=9 clamp_mm=28.6 capacity=16 teeth_outer=50",
		"shifter.right":    "speeds=9 pull_family=R1.7 side=right",
		"rear.hub":         "freehub=hg oln_mm=135 axle=qr position=rear",
		"frame":            "chainstay_mm=440 seat_tube_mm=28.6 oln_mm=135",
	} {
		site, err := substitution.SiteOf(place)
		require.NoError(t, err)
		b[place] = parsed(t, site.Family, text)
	}
	return b
}

// looseHub is a front hub that takes ten balls a side.
func looseHub(t testing.TB) substitution.Build {
	return substitution.Build{
		"front.hub":             parsed(t, "hub", "oln_mm=100 axle=qr position=front"),
		"front.hub.balls-left":  parsed(t, "loose-balls", "ball_mm=4.7625 material=steel"),
		"front.hub.balls-right": parsed(t, "loose-balls", "ball_mm=4.7625 material=steel"),
	}
}

// workshop is a shop with two suppliers, prices and tax, on a transaction or, for tests of several at once, on a pool.
type workshop struct {
	t              testing.TB
	tx             pgx.Tx
	harbour, north inventory.Supplier // two days and carriage free from £75; four days, from £100, at least £15
	request        string
}

// deliveries is what is known of them so many days after now.
func (w *workshop) deliveries(later int) *inventory.Deliveries {
	w.t.Helper()
	d, err := inventory.LoadDeliveries(w.t.Context(), w.tx, now.AddDate(0, 0, later))
	require.NoError(w.t, err)
	return d
}

// newWorkshop charges 20 % tax, half as much again on parts, £15 for a ring, £11 for a chain and £15 for setting gears.
func newWorkshop(t testing.TB, tx pgx.Tx) *workshop {
	t.Helper()
	ctx := t.Context()
	w := &workshop{t: t, tx: tx}
	shop, err := inventory.LoadShop(ctx, tx)
	require.NoError(t, err)
	shop.MarkUp, shop.QuoteDays = pounds("0.5"), 14
	require.NoError(t, inventory.SaveShop(ctx, tx, shop))
	require.NoError(t, SetTax(ctx, tx, Tax{"VAT", pounds("20")}, Everything, time.Date(2011, time.January, 4, 0, 0, 0, 0, time.UTC)))
	for _, l := range []Labour{
		{"chainring", inspection.Replace, "fit chainring", 20, pounds("15.00")},
		{"chain", inspection.Replace, "fit and size chain", 15, pounds("11.00")},
		{"rear-derailleur", inspection.Adjust, "set gears", 20, pounds("15.00")},
		{"hub", inspection.Clean, "strip, clean and grease hub", 40, pounds("30.00")},
		{"loose-balls", inspection.Replace, "clean race and fit balls", 15, pounds("11.00")},
	} {
		require.NoError(t, SetLabour(ctx, tx, l))
	}
	require.NoError(t, inventory.AddBin(ctx, tx, "A1"))
	w.harbour = w.supplier(inventory.Supplier{Code: "harbour", Name: "Harbour Lane Cycle Trade", LeadDays: 2, ToOrderDays: 12,
		Carriage: pounds("5.95"), CarriagePaidAt: decimal.NewNullDecimal(pounds("75"))})
	w.north = w.supplier(inventory.Supplier{Code: "northmoor", Name: "Northmoor Wheel Goods", LeadDays: 4, ToOrderDays: 15,
		Carriage: pounds("4.50"), CarriagePaidAt: decimal.NewNullDecimal(pounds("100")), MinimumOrder: pounds("15")})
	w.request = inventory.NewKey()
	_, err = tx.Exec(ctx, `INSERT INTO request (key, what) VALUES ($1, 'test')`, w.request)
	require.NoError(t, err)
	return w
}

func (w *workshop) supplier(s inventory.Supplier) inventory.Supplier {
	w.t.Helper()
	s, err := inventory.AddSupplier(w.t.Context(), w.tx, s)
	require.NoError(w.t, err)
	return s
}

// minimum changes what a supplier's orders must come to.
func (w *workshop) minimum(s inventory.Supplier, least string) {
	w.t.Helper()
	_, err := inventory.ChangeSupplier(w.t.Context(), w.tx, s.Code, func(s *inventory.Supplier) { s.MinimumOrder = pounds(least) })
	require.NoError(w.t, err)
}

// part adds a part to the catalogue; an empty retail price is not known.
func (w *workshop) part(name string, family substitution.Family, text, retail string) inventory.Part {
	w.t.Helper()
	p := inventory.Part{Part: *parsed(w.t, family, text)}
	p.Name = name
	if retail != "" {
		p.Retail = decimal.NewNullDecimal(pounds(retail))
	}
	p, err := inventory.AddPart(w.t.Context(), w.tx, p)
	require.NoError(w.t, err)
	return p
}

// offer sells a part in packs; prices go by "from packs: price".
func (w *workshop) offer(s inventory.Supplier, p inventory.Part, pack int, stock inventory.Signal, prices ...inventory.Break) inventory.Offer {
	w.t.Helper()
	o, err := inventory.PutOffer(w.t.Context(), w.tx, inventory.Offer{SupplierID: s.ID, Code: fmt.Sprintf("%s-%d-%d", s.Code, p.ID, pack), PartID: p.ID,
		Pack: pack, Stock: stock, AsOf: now, Breaks: prices})
	require.NoError(w.t, err)
	return o
}

func at(price string) inventory.Break { return inventory.Break{FromPacks: 1, Price: pounds(price)} }

func (w *workshop) shelve(p inventory.Part, pieces int) {
	w.t.Helper()
	require.NoError(w.t, inventory.PutIn(w.t.Context(), w.tx, w.request, p.ID, "A1", pieces, inventory.Opening, "opening stock"))
}

func (w *workshop) keepOnShelf(p inventory.Part, level, to int) {
	w.t.Helper()
	require.NoError(w.t, shelf.SetReorder(w.t.Context(), w.tx, p.ID, &level, &to))
}

func (w *workshop) stock(p inventory.Part) inventory.Stock {
	w.t.Helper()
	m, err := inventory.StockOf(w.t.Context(), w.tx, []int64{p.ID})
	require.NoError(w.t, err)
	return m[p.ID]
}

// bookIn opens a job for a new bike.
func (w *workshop) bookIn(build substitution.Build, limits Limits) int64 {
	w.t.Helper()
	ctx := w.t.Context()
	bike, err := AddBike(ctx, w.tx, Bike{Customer: Customer{Name: "Ines Falkner"}, Words: "blue touring bike", Build: build})
	require.NoError(w.t, err)
	id, err := OpenJob(ctx, w.tx, bike.ID, "", nil, limits, now)
	require.NoError(w.t, err)
	return id
}

// find records findings by the mechanic's own judgement.
func (w *workshop) find(job int64, action inspection.Action, places ...substitution.Place) {
	w.t.Helper()
	for _, p := range places {
		_, err := Inspect(w.t.Context(), w.tx, job, inspection.Taken{Place: p, Action: action}, now)
		require.NoError(w.t, err)
	}
}

// ringJob is a job on a touring bike that needs an outer ring.
func (w *workshop) ringJob(limits Limits) int64 {
	w.t.Helper()
	job := w.bookIn(touringBike(w.t), limits)
	w.find(job, inspection.Replace, "crank.outer-ring")
	return job
}

func (w *workshop) quote(job int64) Quote {
	w.t.Helper()
	q, err := MakeQuote(w.t.Context(), w.tx, job, now)
	require.NoError(w.t, err)
	return q
}

// approve accepts every difference of an option of the newest quote.
func (w *workshop) approve(job int64, option string) Quote {
	w.t.Helper()
	q, err := w.decide(Decision{JobID: job, Option: option, Accept: []string{"all"}})
	require.NoError(w.t, err)
	return q
}

// decide records a decision on the newest quote unless it names another version, by the owner unless by somebody else.
func (w *workshop) decide(d Decision, wishBack ...string) (Quote, error) {
	w.t.Helper()
	if d.Version == 0 {
		q, found, err := LastQuote(w.t.Context(), w.tx, d.JobID)
		require.NoError(w.t, err)
		require.True(w.t, found)
		d.Version = q.Version
	}
	if d.By == "" {
		d.By = "Ines Falkner"
	}
	return Approve(w.t.Context(), w.tx, d, wishBack, now)
}

func (w *workshop) job(id int64) Job {
	w.t.Helper()
	j, err := JobByID(w.t.Context(), w.tx, id)
	require.NoError(w.t, err)
	return j
}

func (w *workshop) claims(job int64) []inventory.Claim {
	w.t.Helper()
	c, err := inventory.ClaimsOfJob(w.t.Context(), w.tx, job)
	require.NoError(w.t, err)
	return c
}

func (w *workshop) held(job int64) []inventory.Reservation {
	w.t.Helper()
	r, err := inventory.ReservationsOf(w.t.Context(), w.tx, job)
	require.NoError(w.t, err)
	return r
}

// refused is an attempt that must fail, in a savepoint so that the test can go on and see that nothing was written. Jobs
// are all called N.
func (w *workshop) refused(do func(ctx context.Context, tx pgx.Tx) error) string {
	w.t.Helper()
	inner, err := w.tx.Begin(w.t.Context())
	require.NoError(w.t, err)
	err = do(w.t.Context(), inner)
	require.Error(w.t, err)
	require.NotContains(w.t, err.Error(), "SQLSTATE", "refused in words before the last wall")
	require.NoError(w.t, inner.Rollback(w.t.Context()))
	return jobNumber.ReplaceAllString(err.Error(), "$1 N")
}

// jobNumber is told from one test to the next by a sequence that no rollback sets back.
var jobNumber = regexp.MustCompile(`(\bjob|job quote|job show|job use) \d+`)

// named is an option of a quote by one of its names.
func named(t testing.TB, q Quote, name string) Option {
	t.Helper()
	o, err := q.option(name)
	require.NoError(t, err, "%+v", q.Refusal)
	return o
}

// onPaper writes amounts as one does on paper, to compare them.
func onPaper(amounts ...decimal.Decimal) []string {
	var out []string
	for _, a := range amounts {
		out = append(out, a.StringFixed(2))
	}
	return out
}

// requireLedgerAddsUp checks that for every part the shelf and the bins are the sum of the movements, and what is reserved
// is the sum of the reservations that are held.
func requireLedgerAddsUp(t require.TestingT, ctx context.Context, db inventory.DB) {
	rows, err := db.Query(ctx, `
		SELECT format('part %s: shelf %s, movements %s, bins %s; reserved %s, held %s', part_id, on_hand, moved, binned, reserved, held)
		FROM (SELECT shelf.*,
		             (SELECT coalesce(sum(pieces), 0) FROM movement m WHERE m.part_id = shelf.part_id) AS moved,
		             (SELECT coalesce(sum(pieces), 0) FROM balance b WHERE b.part_id = shelf.part_id) AS binned,
		             (SELECT coalesce(sum(pieces), 0) FROM reservation r WHERE r.part_id = shelf.part_id AND state = 'held') AS held
		      FROM shelf) AS sums
		WHERE on_hand <> moved OR on_hand <> binned OR reserved <> held OR reserved > on_hand`)
	require.NoError(t, err)
	wrong, err := pgx.CollectRows(rows, pgx.RowTo[string])
	require.NoError(t, err)
	require.Empty(t, wrong)
}
