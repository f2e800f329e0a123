package inventory

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

	"stead/inventory/calendar"
	"stead/migrations/testdb"
)

// bench is a committed start for tests in which several programs work at once.
type bench struct {
	pool   *pgxpool.Pool
	parts  []int64
	jobs   []int64
	offers []Offer
}

func newBench(t *testing.T, parts, jobs, pieces int) bench {
	b := bench{pool: testdb.New(t)}
	_, _, err := Once(t.Context(), b.pool, NewKey(), "set up", func(ctx context.Context, tx pgx.Tx) (bool, error) {
		request := begun(t, tx)
		supplier := addSupplier(t, tx)
		addBins(t, tx, "A1", "B2")
		for range parts {
			p := addRing(t, tx)
			b.parts = append(b.parts, p.ID)
			b.offers = append(b.offers, addOffer(t, tx, supplier.ID, p.ID, 10))
			if pieces > 0 {
				require.NoError(t, PutIn(ctx, tx, request, p.ID, "A1", pieces, Opening, ""))
			}
		}
		for range jobs {
			b.jobs = append(b.jobs, addJob(t, tx))
		}
		return true, nil
	})
	require.NoError(t, err)
	return b
}

// change is a request that does one thing.
func (b bench) change(ctx context.Context, do func(ctx context.Context, tx pgx.Tx, request string) error) error {
	key := NewKey()
	_, _, err := Once(ctx, b.pool, key, "change", func(ctx context.Context, tx pgx.Tx) (bool, error) { return true, do(ctx, tx, key) })
	return err
}

// Forty hands reach for the last ten pieces, half to use and half to reserve: ten get one.
func TestTheLastPieces(t *testing.T) {
	b := newBench(t, 1, 4, 10)
	var got, refused atomic.Int64
	var group errgroup.Group
	for i := range 40 {
		group.Go(func() error {
			job := b.jobs[i%len(b.jobs)]
			err := b.change(t.Context(), func(ctx context.Context, tx pgx.Tx, request string) error {
				if i%2 == 0 {
					return Reserve(ctx, tx, job, b.parts[0], "crank.ring", 1)
				}
				return UseOnJob(ctx, tx, request, job, b.parts[0], "crank.ring", 1)
			})
			var short *NotEnoughError
			switch {
			case err == nil:
				got.Add(1)
				return nil
			case errors.As(err, &short):
				refused.Add(1)
				return nil
			}
			return err
		})
	}
	require.NoError(t, group.Wait())
	require.EqualValues(t, 40, got.Load()+refused.Load())
	// A piece reserved and then used by the same job serves two hands, so more than ten may be served; but what is used
	// and what is kept is ten.
	s := stockOf(t, b.pool, b.parts[0])
	var used int
	require.NoError(t, b.pool.QueryRow(t.Context(), `SELECT -COALESCE(sum(pieces), 0) FROM movement WHERE reason = 'used'`).Scan(&used))
	require.Equal(t, 10, used+s.OnHand)
	require.Zero(t, s.Free(), "twenty wished to reserve one of ten, so somebody went away empty, and nothing is left over")
	requireLedgerAddsUp(t, t.Context(), b.pool)
}

// Deliveries, uses, counts, moves and releases at once, over several parts and jobs: whatever is refused, nothing hangs, the
// books add up, and every piece is accounted for.
func TestEverythingAtOnce(t *testing.T) {
	b := newBench(t, 3, 3, 20)
	var group errgroup.Group
	for worker := range 8 {
		random := rand.New(rand.NewPCG(1, uint64(worker)))
		group.Go(func() error {
			for range 15 {
				n := random.IntN(len(b.parts))
				part, offer, job, pieces, what := b.parts[n], b.offers[n], b.jobs[random.IntN(len(b.jobs))], 1+random.IntN(6), random.IntN(8)
				err := b.change(t.Context(), func(ctx context.Context, tx pgx.Tx, request string) error {
					switch what {
					case 0:
						return Reserve(ctx, tx, job, part, "crank.ring", pieces)
					case 1:
						return UseOnJob(ctx, tx, request, job, part, "crank.ring", pieces)
					case 2:
						return Move(ctx, tx, request, part, "A1", "B2", pieces)
					case 3:
						_, err := CountStock(ctx, tx, request, part, "B2", pieces, "")
						return err
					case 4:
						return ReleaseJob(ctx, tx, job)
					case 5:
						if err := Lock(ctx, tx, b.jobs, b.parts); err != nil {
							return err
						}
						for i := range b.parts {
							if err := Reserve(ctx, tx, job, b.parts[len(b.parts)-1-i], "crank.ring", 1); err != nil {
								return err
							}
						}
						return nil
					default:
						return orderAndReceive(ctx, tx, request, offer, job, pieces)
					}
				})
				if err != nil && !refusal(err) {
					return err
				}
			}
			return nil
		})
	}
	require.NoError(t, group.Wait())
	requireLedgerAddsUp(t, t.Context(), b.pool)
	var lost int
	require.NoError(t, b.pool.QueryRow(t.Context(), `
		SELECT (SELECT COALESCE(sum(pieces), 0) FROM receipt_line WHERE outcome IN ('good', 'over'))
		     - (SELECT COALESCE(sum(pieces), 0) FROM movement WHERE reason = 'received')`).Scan(&lost))
	require.Zero(t, lost, "what came in is in the ledger")
}

// orderAndReceive wants pieces for a job, orders a pack, and books it in short.
func orderAndReceive(ctx context.Context, tx pgx.Tx, request string, offer Offer, job int64, pieces int) error {
	if err := AddClaim(ctx, tx, Claim{JobID: job, Place: "crank.ring", PartID: offer.PartID, OfferID: offer.ID, Pieces: pieces, DueOn: calendar.Date(2026, time.March, 9)}); err != nil {
		return err
	}
	lacks, err := ClaimsOfJob(ctx, tx, job)
	if err != nil {
		return err
	}
	var wanted []int64
	for _, c := range lacks {
		if c.State == ClaimWanted && c.PartID == offer.PartID {
			wanted = append(wanted, c.ID)
		}
	}
	o, err := PlaceOrder(ctx, tx, Order{SupplierID: offer.SupplierID, PlacedAt: day(time.March, 3), Lines: []OrderLine{{OfferID: offer.ID, PartID: offer.PartID,
		Packs: 1, Pack: offer.Pack, Price: pounds("9"), Stock: InStock, ExpectedOn: calendar.Date(2026, time.March, 5), Claims: wanted}}})
	if err != nil {
		return err
	}
	_, err = ReceiveOrder(ctx, tx, request, o.ID, "", Into{Bin: "A1"}, day(time.March, 5), []Arrival{{o.Lines[0].ID, Good, pieces, ""}}, false)
	return err
}

// refusal reports whether an error is one that the shelf may rightly give.
func refusal(err error) bool {
	return errors.As(err, new(*NotEnoughError)) || errors.As(err, new(*NotInBinError)) || errors.As(err, new(*CountBelowReservedError))
}

// One delivery booked twice at the same moment, as by a double click, is in once.
func TestReceiveTwiceAtOnce(t *testing.T) {
	b := newBench(t, 1, 1, 0)
	var o Order
	require.NoError(t, b.change(t.Context(), func(ctx context.Context, tx pgx.Tx, _ string) (err error) {
		o, err = PlaceOrder(ctx, tx, Order{SupplierID: b.offers[0].SupplierID, PlacedAt: day(time.March, 3), Lines: []OrderLine{{OfferID: b.offers[0].ID,
			PartID: b.parts[0], Packs: 1, Pack: 10, Price: pounds("9"), Stock: InStock, ExpectedOn: calendar.Date(2026, time.March, 5)}}})
		return err
	}))
	key := NewKey()
	receipts := make([]Receipt, 6)
	var group errgroup.Group
	for i := range receipts {
		group.Go(func() (err error) {
			receipts[i], _, err = Once(t.Context(), b.pool, key, "receive", func(ctx context.Context, tx pgx.Tx) (Receipt, error) {
				return ReceiveOrder(ctx, tx, key, o.ID, "DN 1", Into{Bin: "A1"}, day(time.March, 5), []Arrival{{o.Lines[0].ID, Good, 10, ""}}, false)
			})
			return err
		})
	}
	require.NoError(t, group.Wait())
	for _, r := range receipts {
		require.Equal(t, receipts[0], r)
	}
	require.Equal(t, Stock{OnHand: 10}, stockOf(t, b.pool, b.parts[0]))
}

// Four hands book the same delivery in, whole and with whatever came over: it is booked in once.
func TestReceiveAllAtOnce(t *testing.T) {
	b := newBench(t, 1, 0, 0)
	var order Order
	require.NoError(t, b.change(t.Context(), func(ctx context.Context, tx pgx.Tx, _ string) (err error) {
		order, err = PlaceOrder(ctx, tx, Order{SupplierID: b.offers[0].SupplierID, PlacedAt: day(time.March, 3), Lines: []OrderLine{{
			OfferID: b.offers[0].ID, PartID: b.parts[0], Packs: 2, Pack: 10, Price: pounds("9.00"), Stock: InStock, ExpectedOn: calendar.Date(2026, time.March, 5)}}})
		return err
	}))
	var begun sync.WaitGroup
	begun.Add(4)
	var got atomic.Int64
	var group errgroup.Group
	for range 4 {
		group.Go(func() error {
			err := b.change(t.Context(), func(ctx context.Context, tx pgx.Tx, request string) error {
				begun.Done()
				begun.Wait()
				_, err := ReceiveAll(ctx, tx, request, order.ID, "DN 1", Into{Bin: "A1"}, day(time.March, 5), nil, true)
				return err
			})
			if err != nil && err.Error() == fmt.Sprintf("nothing of order %d is still to come", order.ID) {
				return nil
			}
			got.Add(1)
			return err
		})
	}
	require.NoError(t, group.Wait())
	require.EqualValues(t, 1, got.Load())
	stock, err := StockOf(t.Context(), b.pool, b.parts)
	require.NoError(t, err)
	require.Equal(t, Stock{OnHand: 20}, stock[b.parts[0]])
}

// Twelve hands change a setting each, of the shop and of a supplier: all twelve stand.
func TestChangeSettingsAtOnce(t *testing.T) {
	b := newBench(t, 1, 0, 0)
	supplier, err := SupplierByID(t.Context(), b.pool, b.offers[0].SupplierID)
	require.NoError(t, err)
	wantShop, err := LoadShop(t.Context(), b.pool)
	require.NoError(t, err)
	shop := []func(*Shop){
		func(s *Shop) { s.Name = "Tannery Yard" },
		func(s *Shop) { s.Country = "DE" },
		func(s *Shop) { s.Zone = "Europe/Berlin" },
		func(s *Shop) { s.Currency = "EUR" },
		func(s *Shop) { s.Confidence = 0.8 },
		func(s *Shop) { s.ClosedOn = []time.Weekday{time.Sunday, time.Monday} },
		func(s *Shop) { s.MarkUp = pounds("0.35") },
		func(s *Shop) { s.QuoteDays = 21 },
		func(s *Shop) { s.Overbuy = pounds("3") },
	}
	terms := []func(*Supplier){
		func(s *Supplier) { s.Name = "Harbour" },
		func(s *Supplier) { s.Carriage = pounds("7.25") },
		func(s *Supplier) { s.MinimumOrder = pounds("30") },
	}
	var group errgroup.Group
	for _, set := range shop {
		group.Go(func() error {
			return b.change(t.Context(), func(ctx context.Context, tx pgx.Tx, _ string) error {
				_, err := ChangeShop(ctx, tx, set)
				return err
			})
		})
	}
	for _, set := range terms {
		group.Go(func() error {
			return b.change(t.Context(), func(ctx context.Context, tx pgx.Tx, _ string) error {
				_, err := ChangeSupplier(ctx, tx, supplier.Code, set)
				return err
			})
		})
	}
	require.NoError(t, group.Wait())
	for _, set := range shop {
		set(&wantShop)
	}
	for _, set := range terms {
		set(&supplier)
	}
	gotShop, err := LoadShop(t.Context(), b.pool)
	require.NoError(t, err)
	got, err := SupplierByID(t.Context(), b.pool, supplier.ID)
	require.NoError(t, err)
	require.Equal(t, fmt.Sprint(wantShop), fmt.Sprint(gotShop))
	require.Equal(t, fmt.Sprint(supplier), fmt.Sprint(got))
}
