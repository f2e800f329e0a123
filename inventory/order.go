package inventory

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory/calendar"
)

// OrderState is where an order stands.
type OrderState string

const (
	OrderPlaced    OrderState = "placed"    // nothing has come yet
	OrderPartIn    OrderState = "part in"   // some has come, more is awaited
	OrderClosed    OrderState = "closed"    // nothing more is awaited
	OrderCancelled OrderState = "cancelled" // nothing came and nothing will
)

// Words are a state as people read it: "partly in".
func (s OrderState) Words() string {
	if s == OrderPartIn {
		return "partly in"
	}
	return string(s)
}

// Order is what was ordered from a supplier to come in one parcel, at one time or by joining it before its cut-off.
type Order struct {
	ID         int64           `json:"id"` // its number on paper
	SupplierID int64           `json:"supplier_id"`
	State      OrderState      `json:"state"`
	PlacedAt   time.Time       `json:"placed_at"`
	Carriage   decimal.Decimal `json:"carriage"`
	Note       string          `json:"note,omitempty"`
	Lines      []OrderLine     `json:"lines"`
	ToldAt     *time.Time      `json:"told_at,omitempty"` // when its supplier was last told of it by another way than the post
	ToldBy     Way             `json:"told_by,omitempty"`
}

// Way is how a supplier is told of an order other than by the post.
type Way string

const (
	ByTelephone Way = "telephone"
	OnTheirSite Way = "their site"
	InPerson    Way = "in person"
)

// Ways are all of them.
func Ways() []Way { return []Way{ByTelephone, OnTheirSite, InPerson} }

// Words say how: "by telephone".
func (w Way) Words() string {
	switch w {
	case ByTelephone:
		return "by telephone"
	case OnTheirSite:
		return "on their site"
	}
	return string(w)
}

// OrderLine is packs of one offer.
type OrderLine struct {
	ID         int64           `json:"id"`
	OfferID    int64           `json:"offer_id"`
	PartID     int64           `json:"part_id"`
	Packs      int             `json:"packs"`
	Pack       int             `json:"pack"`        // pieces in one
	Price      decimal.Decimal `json:"price"`       // of a pack
	QuotedDays int             `json:"quoted_days"` // working days, as quoted when ordered
	Stock      Signal          `json:"stock"`       // the supplier's signal when ordered
	ExpectedOn calendar.Day    `json:"expected_on"`
	Received   int             `json:"received"`            // good pieces that came, none beyond what was ordered
	Cancelled  int             `json:"cancelled"`           // pieces that will not come
	Claims     []int64         `json:"claims"`              // of jobs that the line serves
	JoinedAt   *time.Time      `json:"joined_at,omitempty"` // absent of what the order was placed with
}

// Awaited is how many pieces are still to come.
func (l OrderLine) Awaited() int { return l.Packs*l.Pack - l.Received - l.Cancelled }

// Cost is what the line costs.
func (l OrderLine) Cost() decimal.Decimal { return l.Price.Mul(decimal.NewFromInt(int64(l.Packs))) }

// Goods is what the order's lines cost, without carriage.
func (o Order) Goods() decimal.Decimal {
	var sum decimal.Decimal
	for _, l := range o.Lines {
		sum = sum.Add(l.Cost())
	}
	return sum
}

// state follows from what has come and what is awaited.
func (o Order) state() OrderState {
	var came, awaited int
	for _, l := range o.Lines {
		came += l.Received
		awaited += l.Awaited()
	}
	switch {
	case awaited > 0 && came == 0:
		return OrderPlaced
	case awaited > 0:
		return OrderPartIn
	case came > 0:
		return OrderClosed
	}
	return OrderCancelled
}

// PlaceOrder keeps an order that is sent to its supplier. Each line serves its claims in the order given, as far as its
// pieces go: a claim that it serves in part is split, and what nobody serves stays wanted. So a claim may stand on two
// lines that share it. What is over serves the shelf. ID, State and what came are not asked.
func PlaceOrder(ctx context.Context, tx pgx.Tx, o Order) (Order, error) {
	if len(o.Lines) == 0 {
		return Order{}, errors.New("an order without lines cannot be placed")
	}
	err := tx.QueryRow(ctx, `
		INSERT INTO purchase_order (supplier_id, placed_at, carriage, note) VALUES ($1, $2, $3, $4) RETURNING id`,
		o.SupplierID, o.PlacedAt, o.Carriage, o.Note).Scan(&o.ID)
	if err != nil {
		return Order{}, fmt.Errorf("place an order: %w", err)
	}
	if err := addLines(ctx, tx, o, o.Lines); err != nil {
		return Order{}, err
	}
	return OrderByID(ctx, tx, o.ID)
}

// addLines checks lines, puts them on an order and gives their pieces to their claims.
func addLines(ctx context.Context, tx pgx.Tx, o Order, lines []OrderLine) error {
	var claimIDs []int64
	for i, l := range lines {
		if err := checkLine(ctx, tx, o.SupplierID, l); err != nil {
			return fmt.Errorf("line %d of the order: %w", i+1, err)
		}
		claimIDs = append(claimIDs, l.Claims...)
	}
	if err := lockJobsOf(ctx, tx, nil, `WHERE id = ANY($1)`, claimIDs); err != nil {
		return err
	}
	for i, l := range lines {
		err := tx.QueryRow(ctx, `
			INSERT INTO order_line (order_id, offer_id, part_id, packs, pack, price, quoted_days, stock, expected_on, joined_at)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10) RETURNING id`,
			o.ID, l.OfferID, l.PartID, l.Packs, l.Pack, l.Price, l.QuotedDays, l.Stock, l.ExpectedOn, l.JoinedAt).Scan(&l.ID)
		if err != nil {
			return fmt.Errorf("line %d of the order: %w", i+1, err)
		}
		if err := serve(ctx, tx, l); err != nil {
			return fmt.Errorf("line %d of the order: %w", i+1, err)
		}
	}
	return nil
}

func checkLine(ctx context.Context, db DB, supplierID int64, l OrderLine) error {
	if l.Packs <= 0 || l.Pack <= 0 || l.Packs > mostPieces/l.Pack {
		return fmt.Errorf("%d packs of %d pieces cannot be ordered: both are above zero, and the most pieces are %d", l.Packs, l.Pack, mostPieces)
	}
	if !l.Price.IsPositive() {
		return fmt.Errorf("a price of %s a pack cannot be meant", l.Price)
	}
	offer, err := OfferByID(ctx, db, l.OfferID)
	if err != nil {
		return err
	}
	if offer.SupplierID != supplierID {
		return fmt.Errorf("offer %d, %s, is another supplier's: an order goes to one supplier", offer.ID, offer.Code)
	}
	if is, err := Became(ctx, db, l.PartID); err != nil {
		return err
	} else if offer.PartID != is {
		return fmt.Errorf("offer %d, %s, is of part %d, not of part %d", offer.ID, offer.Code, offer.PartID, l.PartID)
	}
	return nil
}

// serve gives a line's pieces to its claims, whose jobs are locked.
func serve(ctx context.Context, tx pgx.Tx, l OrderLine) error {
	left := l.Packs * l.Pack
	for _, id := range l.Claims {
		c, err := collectOne(ctx, tx, pgx.RowToStructByPos[Claim], `SELECT `+claimColumns+` FROM claim WHERE id = $1`, id)
		if errors.Is(err, pgx.ErrNoRows) {
			return &UnknownError{Kind: OfClaim, Name: fmt.Sprint(id)}
		}
		if err != nil {
			return fmt.Errorf("read claim %d: %w", id, err)
		}
		if c.PartID != l.PartID {
			return fmt.Errorf("job %d wants part %d for %s, and the line brings part %d", c.JobID, c.PartID, c.Place, l.PartID)
		}
		if c.State != ClaimWanted {
			return fmt.Errorf("what job %d lacks for %s is %s already: plan the order again", c.JobID, c.Place, c.State)
		}
		served := min(c.Pieces, left)
		if served == 0 {
			return nil
		}
		left -= served
		if served < c.Pieces {
			if id, err = splitClaim(ctx, tx, id, served); err != nil {
				return err
			}
		}
		if _, err := tx.Exec(ctx, `UPDATE claim SET state = 'ordered', order_line_id = $2 WHERE id = $1`, id, l.ID); err != nil {
			return fmt.Errorf("order what job %d lacks: %w", c.JobID, err)
		}
	}
	return nil
}

// Orders are all orders, or those of which something is awaited, the oldest first.
func Orders(ctx context.Context, db DB, open bool) ([]Order, error) {
	return orders(ctx, db, `WHERE NOT $1 OR state IN ('placed', 'part in')`, open)
}

// SuppliersAwaited are those from whom something is still to come, by number.
func SuppliersAwaited(ctx context.Context, db DB) ([]int64, error) {
	ids, err := Collect(ctx, db, pgx.RowTo[int64], `
		SELECT DISTINCT supplier_id FROM purchase_order WHERE state IN ('placed', 'part in') ORDER BY supplier_id`)
	if err != nil {
		return nil, fmt.Errorf("reading whose orders are open: %w", err)
	}
	return ids, nil
}

// OrderByID is an order by its number; an unknown one is an *[UnknownError].
func OrderByID(ctx context.Context, db DB, id int64) (Order, error) {
	found, err := orders(ctx, db, `WHERE id = $1`, id)
	if err != nil {
		return Order{}, err
	}
	if len(found) == 0 {
		return Order{}, &UnknownError{Kind: OfOrder, Name: fmt.Sprint(id)}
	}
	return found[0], nil
}

func orders(ctx context.Context, db DB, where string, args ...any) ([]Order, error) {
	all, err := Collect(ctx, db, func(row pgx.CollectableRow) (o Order, err error) {
		return o, row.Scan(&o.ID, &o.SupplierID, &o.State, &o.PlacedAt, &o.Carriage, &o.Note, &o.ToldAt, &o.ToldBy)
	}, `SELECT id, supplier_id, state, placed_at, carriage, note, told_at, COALESCE(told_by, '') FROM purchase_order `+where+` ORDER BY id`, args...)
	if err != nil {
		return nil, fmt.Errorf("read the orders: %w", err)
	}
	at := make(map[int64]*Order, len(all))
	ids := make([]int64, len(all))
	for i := range all {
		ids[i] = all[i].ID
		at[all[i].ID] = &all[i]
	}
	rows, err := db.Query(ctx, `
		SELECT order_id, id, offer_id, part_id, packs, pack, price, quoted_days, stock, expected_on, received, cancelled, joined_at,
		       ARRAY(SELECT claim.id FROM claim WHERE order_line_id = order_line.id ORDER BY due_on, claim.id)
		FROM order_line
		WHERE order_id = ANY($1)
		ORDER BY id`, ids)
	if err != nil {
		return nil, fmt.Errorf("read the lines of orders: %w", err)
	}
	_, err = pgx.CollectRows(rows, func(row pgx.CollectableRow) (l OrderLine, err error) {
		var orderID int64
		err = row.Scan(&orderID, &l.ID, &l.OfferID, &l.PartID, &l.Packs, &l.Pack, &l.Price, &l.QuotedDays, &l.Stock, &l.ExpectedOn,
			&l.Received, &l.Cancelled, &l.JoinedAt, &l.Claims)
		if err == nil {
			at[orderID].Lines = append(at[orderID].Lines, l)
		}
		return l, err
	})
	if err != nil {
		return nil, fmt.Errorf("read the lines of orders: %w", err)
	}
	return all, nil
}

// ordersLately is how many of a supplier's last orders tell what an order there comes to.
const ordersLately = 12

// UsualGoods is by supplier what the goods of an order there have come to of late, on average, in the supplier's currency.
// A supplier that nothing was ordered from is not among them.
func UsualGoods(ctx context.Context, db DB) (map[int64]decimal.Decimal, error) {
	rows, err := db.Query(ctx, `
		SELECT supplier_id, avg(goods)
		FROM (
			SELECT supplier_id, sum(packs * price) AS goods, row_number() OVER (PARTITION BY supplier_id ORDER BY purchase_order.id DESC) AS ago
			FROM purchase_order JOIN order_line ON order_id = purchase_order.id
			WHERE state <> 'cancelled'
			GROUP BY purchase_order.id
		) AS lately
		WHERE ago <= $1
		GROUP BY supplier_id`, ordersLately)
	if err != nil {
		return nil, fmt.Errorf("read what orders come to: %w", err)
	}
	usual := map[int64]decimal.Decimal{}
	var id int64
	var goods decimal.Decimal
	if _, err := pgx.ForEachRow(rows, []any{&id, &goods}, func() error { usual[id] = goods; return nil }); err != nil {
		return nil, fmt.Errorf("read what orders come to: %w", err)
	}
	return usual, nil
}

// TellOrder keeps that a supplier was told of an order, as it stands, by another way than the post.
func TellOrder(ctx context.Context, tx pgx.Tx, id int64, by Way, at time.Time) (Order, error) {
	o, err := lockOrder(ctx, tx, id)
	if err != nil {
		return Order{}, err
	}
	if !slices.Contains(Ways(), by) {
		return Order{}, fmt.Errorf("a supplier is told by telephone, on their site or in person, not %q", by)
	}
	if o.State != OrderPlaced && o.State != OrderPartIn {
		return Order{}, fmt.Errorf("order %d is %s: nothing of it is to be told", id, o.State.Words())
	}
	if _, err := tx.Exec(ctx, `UPDATE purchase_order SET told_at = $2, told_by = $3 WHERE id = $1`, id, at, by); err != nil {
		return Order{}, fmt.Errorf("keep that order %d was told: %w", id, err)
	}
	return OrderByID(ctx, tx, id)
}

// lockOrder locks an order and reads it. It comes before the locks of jobs and shelf.
func lockOrder(ctx context.Context, tx pgx.Tx, id int64) (Order, error) {
	if _, err := tx.Exec(ctx, `SELECT FROM purchase_order WHERE id = $1 FOR NO KEY UPDATE`, id); err != nil {
		return Order{}, fmt.Errorf("lock order %d: %w", id, err)
	}
	return OrderByID(ctx, tx, id)
}

// settle brings an order's state up to date with its lines and reads it again.
func settle(ctx context.Context, tx pgx.Tx, id int64) (Order, error) {
	o, err := OrderByID(ctx, tx, id)
	if err != nil {
		return Order{}, err
	}
	o.State = o.state()
	if _, err := tx.Exec(ctx, `UPDATE purchase_order SET state = $2 WHERE id = $1`, id, o.State); err != nil {
		return Order{}, fmt.Errorf("set the state of order %d: %w", id, err)
	}
	return o, nil
}

// CancelOrder says that what an order still awaits will not come: of the lines named, or with none named of all. What
// jobs were to have of it is wanted again.
func CancelOrder(ctx context.Context, tx pgx.Tx, orderID int64, lineIDs ...int64) (Order, error) {
	o, err := lockOrder(ctx, tx, orderID)
	if err != nil {
		return Order{}, err
	}
	for _, id := range lineIDs {
		if _, ok := o.line(id); !ok {
			return Order{}, unknownLine(id, orderID)
		}
	}
	var cancelled []int64
	for _, l := range o.Lines {
		if l.Awaited() > 0 && (len(lineIDs) == 0 || slices.Contains(lineIDs, l.ID)) {
			cancelled = append(cancelled, l.ID)
		}
	}
	if len(cancelled) == 0 {
		return Order{}, fmt.Errorf("order %d awaits nothing that could be cancelled: it is %s", orderID, o.State)
	}
	if err := lockJobsOf(ctx, tx, nil, `WHERE order_line_id = ANY($1) AND state = 'ordered'`, cancelled); err != nil {
		return Order{}, err
	}
	if _, err := tx.Exec(ctx, `
		UPDATE claim SET state = 'wanted', order_line_id = NULL WHERE order_line_id = ANY($1) AND state = 'ordered'`, cancelled); err != nil {
		return Order{}, fmt.Errorf("cancel order %d: %w", orderID, err)
	}
	if _, err := tx.Exec(ctx, `UPDATE order_line SET cancelled = packs * pack - received WHERE id = ANY($1)`, cancelled); err != nil {
		return Order{}, fmt.Errorf("cancel order %d: %w", orderID, err)
	}
	return settle(ctx, tx, orderID)
}
