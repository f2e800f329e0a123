package inventory

import (
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

func TestStockGoesInAndOut(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	part, request := addRing(t, tx), begun(t, tx)
	addBins(t, tx, "A1", "B2")
	job := addJob(t, tx)

	require.NoError(t, PutIn(ctx, tx, request, part.ID, "A1", 10, Opening, "found on the shelf"))
	require.NoError(t, Move(ctx, tx, request, part.ID, "a1", "B2", 4))
	require.NoError(t, UseOnJob(ctx, tx, request, job, part.ID, "crank.outer-ring", 5))
	require.NoError(t, Scrap(ctx, tx, request, part.ID, "A1", 1, "bent"))
	difference, err := CountStock(ctx, tx, request, part.ID, "A1", 6, "two behind the tin")
	require.NoError(t, err)
	require.Equal(t, 2, difference)
	difference, err = CountStock(ctx, tx, request, part.ID, "A1", 6, "")
	require.NoError(t, err)
	require.Zero(t, difference)

	// Four of the five used came from B2, the bin with fewer.
	contents, err := ContentsOf(ctx, tx, part.ID)
	require.NoError(t, err)
	require.Equal(t, []Content{{part.ID, "A1", 6}}, contents)
	require.Equal(t, Stock{OnHand: 6}, stockOf(t, tx, part.ID))
	requireLedgerAddsUp(t, ctx, tx)

	history, err := History(ctx, tx, part.ID)
	require.NoError(t, err)
	var told []string
	for _, m := range history {
		told = append(told, string(m.Reason)+" "+m.Bin)
	}
	require.Equal(t, []string{"opening A1", "moved B2", "moved A1", "used B2", "used A1", "scrapped A1", "counted A1"}, told)
	require.Equal(t, 6, history[6].OnHand)
	require.Equal(t, job, *history[3].JobID)
	require.Equal(t, "found on the shelf", history[0].Note)
}

func TestStockRefuses(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	part, request := addRing(t, tx), begun(t, tx)
	addBins(t, tx, "A1", "A2", "Z9")
	mine, other := addJob(t, tx), addJob(t, tx)
	require.NoError(t, PutIn(ctx, tx, request, part.ID, "A1", 6, Opening, ""))
	require.NoError(t, Reserve(ctx, tx, other, part.ID, "crank.outer-ring", 2))
	var quoted int64
	require.NoError(t, tx.QueryRow(ctx, `INSERT INTO job (bike_id, state) SELECT bike_id, 'quoted' FROM job WHERE id = $1 RETURNING id`, mine).Scan(&quoted))

	use := func(job, part int64, pieces int) func(pgx.Tx) error {
		return func(tx pgx.Tx) error { return UseOnJob(ctx, tx, request, job, part, "crank.outer-ring", pieces) }
	}
	for _, c := range []struct {
		name, problem string
		is            any
		do            func(pgx.Tx) error
	}{
		{"use more than is free", "there are 4 of " + part.Name + " free, not 5; 2 more are held for job " + text(other), new(*NotEnoughError), use(mine, part.ID, 5)},
		{"use more than one's own and what is free", "there are 6 of " + part.Name + " free, not 7", new(*NotEnoughError), use(other, part.ID, 7)},
		{"reserve more than is free", "there are 4 of " + part.Name + " free, not 5", new(*NotEnoughError), func(tx pgx.Tx) error {
			return Reserve(ctx, tx, mine, part.ID, "crank.ring", 5)
		}},
		{"use for a job that is not approved", "job " + text(quoted) + " is quoted", new(*JobStateError), use(quoted, part.ID, 1)},
		{"use for an unknown job", "there is no job 4711", new(*UnknownError), use(4711, part.ID, 1)},
		{"use an unknown part", "there is no part 4711", new(*UnknownError), use(mine, 4711, 1)},
		{"use none", "a number of pieces is above zero, not 0", new(error), use(mine, part.ID, 0)},
		{"move more than is there", "bin A1 holds 6 of " + part.Name + ", not 7", new(*NotInBinError), func(tx pgx.Tx) error {
			return Move(ctx, tx, request, part.ID, "A1", "A2", 7)
		}},
		{"move to where it is", "name another", new(error), func(tx pgx.Tx) error { return Move(ctx, tx, request, part.ID, "A1", "a1", 1) }},
		{"an unknown bin", "there is no bin A11: did you mean A1", new(*UnknownError), func(tx pgx.Tx) error {
			return PutIn(ctx, tx, request, part.ID, "A11", 1, Opening, "")
		}},
		{"put in as used", "not as used", new(error), func(tx pgx.Tx) error { return PutIn(ctx, tx, request, part.ID, "A1", 1, Used, "") }},
		{"put in a negative number", "above zero, not -3", new(error), func(tx pgx.Tx) error {
			return PutIn(ctx, tx, request, part.ID, "A1", -3, Opening, "")
		}},
		{"put in a slip of the pen", "3000000000 pieces cannot be meant", new(error), func(tx pgx.Tx) error {
			return PutIn(ctx, tx, request, part.ID, "A1", 3_000_000_000, Opening, "")
		}},
		{"scrap what a job holds", "free, not 5; 2 more are held", new(*NotEnoughError), func(tx pgx.Tx) error {
			return Scrap(ctx, tx, request, part.ID, "A1", 5, "")
		}},
		{"count below what is held", "with this count there would be 1 of " + part.Name + ", but 2 are held for job " + text(other), new(*CountBelowReservedError), func(tx pgx.Tx) error {
			_, err := CountStock(ctx, tx, request, part.ID, "A1", 1, "")
			return err
		}},
		{"count below zero", "a count of -1 cannot be meant", new(error), func(tx pgx.Tx) error {
			_, err := CountStock(ctx, tx, request, part.ID, "A1", -1, "")
			return err
		}},
		{"a request that was not begun", "movement_request_fkey", new(*pgconn.PgError), func(tx pgx.Tx) error {
			return PutIn(ctx, tx, "nobody's", part.ID, "A1", 1, Opening, "")
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			before := stockOf(t, tx, part.ID)
			inner, err := tx.Begin(ctx)
			require.NoError(t, err)
			err = c.do(inner)
			require.ErrorContains(t, err, c.problem)
			require.ErrorAs(t, err, c.is)
			require.NoError(t, inner.Rollback(ctx))
			require.Equal(t, before, stockOf(t, tx, part.ID))
		})
	}
}

// The last wall: what the program should never ask, the database refuses.
func TestDatabaseRefuses(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	part, request := addRing(t, tx), begun(t, tx)
	addBins(t, tx, "A1")
	job := addJob(t, tx)
	require.NoError(t, PutIn(ctx, tx, request, part.ID, "A1", 2, Opening, ""))
	require.NoError(t, Reserve(ctx, tx, job, part.ID, "crank.ring", 2))
	for _, c := range []struct{ name, sql, constraint string }{
		{"changing the ledger", `UPDATE movement SET pieces = 9`, "ledger_is_append_only"},
		{"emptying the ledger", `TRUNCATE movement CASCADE`, "ledger_is_append_only"},
		{"a reserved piece leaving", `INSERT INTO movement (part_id, bin_id, pieces, reason, job_id, request) SELECT part_id, bin_id, -1, 'used', ` +
			text(job) + `, request FROM movement`, "reserved_within_stock"},
		{"a reservation beyond stock", `INSERT INTO reservation (job_id, part_id, place, pieces) SELECT job_id, part_id, place, 1 FROM reservation`, "reserved_within_stock"},
		{"used pieces that are put in", `INSERT INTO movement (part_id, bin_id, pieces, reason, job_id, request) SELECT part_id, bin_id, 1, 'used', ` +
			text(job) + `, request FROM movement`, "movement_has_its_direction"},
		{"a movement without a cause", `INSERT INTO movement (part_id, bin_id, pieces, reason, request) SELECT part_id, bin_id, 1, 'received', request FROM movement`,
			"movement_names_its_cause"},
	} {
		t.Run(c.name, func(t *testing.T) {
			inner, err := tx.Begin(ctx)
			require.NoError(t, err)
			_, err = inner.Exec(ctx, c.sql)
			var told *pgconn.PgError
			require.ErrorAs(t, err, &told)
			require.Equal(t, c.constraint, told.ConstraintName)
			require.NoError(t, inner.Rollback(ctx))
		})
	}
}

func TestReservations(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	part, request := addRing(t, tx), begun(t, tx)
	addBins(t, tx, "A1")
	job, other := addJob(t, tx), addJob(t, tx)
	require.NoError(t, PutIn(ctx, tx, request, part.ID, "A1", 20, Opening, ""))
	require.NoError(t, Reserve(ctx, tx, job, part.ID, "rear.hub.balls-left", 5))
	require.NoError(t, Reserve(ctx, tx, job, part.ID, "rear.hub.balls-right", 5))
	require.NoError(t, Reserve(ctx, tx, other, part.ID, "front.hub.balls-left", 9))
	require.Equal(t, 1, stockOf(t, tx, part.ID).Free())

	// Six on the right: the five kept for it, and one of those kept for the left.
	require.NoError(t, UseOnJob(ctx, tx, request, job, part.ID, "rear.hub.balls-right", 6))
	held, err := ReservationsOf(ctx, tx, job)
	require.NoError(t, err)
	require.Len(t, held, 1)
	require.Equal(t, Reservation{held[0].ID, job, part.ID, "rear.hub.balls-left", 4}, held[0])
	require.Equal(t, Stock{OnHand: 14, Reserved: 13}, stockOf(t, tx, part.ID))

	// Five on the left: the four kept, and the last free one.
	require.NoError(t, UseOnJob(ctx, tx, request, job, part.ID, "rear.hub.balls-left", 5))
	require.Equal(t, Stock{OnHand: 9, Reserved: 9}, stockOf(t, tx, part.ID))
	err = UseOnJob(ctx, tx, request, job, part.ID, "rear.hub.balls-left", 1)
	require.EqualError(t, err, "there are 0 of "+part.Name+" free, not 1; 9 more are held for job "+text(other))

	require.NoError(t, ReleaseJob(ctx, tx, other))
	require.Equal(t, 9, stockOf(t, tx, part.ID).Free())
	all, err := ReservationsOf(ctx, tx)
	require.NoError(t, err)
	require.Empty(t, all)
	requireLedgerAddsUp(t, ctx, tx)
}
