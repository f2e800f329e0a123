package inventory

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory/leadtime"
)

// Signal is what a supplier says of its own stock; it decides which lead time to expect.
type Signal = leadtime.Signal

// The stock signals.
const (
	InStock = leadtime.InStock
	Low     = leadtime.Low
	ToOrder = leadtime.ToOrder
	Unknown = leadtime.Unknown
)

// Offer is a part as one supplier sells it.
type Offer struct {
	ID           int64     `json:"id"`
	SupplierID   int64     `json:"supplier_id"`
	Code         string    `json:"code"` // the supplier's own
	PartID       int64     `json:"part_id"`
	Description  string    `json:"description,omitempty"`
	GTIN         string    `json:"gtin,omitempty"`
	Pack         int       `json:"pack"` // pieces sold together
	MinimumPacks int       `json:"minimum_packs"`
	Stock        Signal    `json:"stock"`
	AsOf         time.Time `json:"as_of"`          // when all this was said
	Gone         bool      `json:"gone,omitempty"` // no longer in the supplier's list
	Breaks       []Break   `json:"breaks"`
}

// Break is the price of a pack from a number of packs on, before tax, in the supplier's currency.
type Break struct {
	FromPacks int             `json:"from_packs"`
	Price     decimal.Decimal `json:"price"`
}

// PacksFor is the least number of packs to order for so many pieces: whole packs, and no fewer than the minimum.
func (o Offer) PacksFor(pieces int) int {
	if pieces <= 0 {
		return 0
	}
	return max((pieces+o.Pack-1)/o.Pack, o.MinimumPacks)
}

// PriceAt is the price of a pack when so many are bought: that of the highest break reached.
func (o Offer) PriceAt(packs int) decimal.Decimal {
	var price decimal.Decimal
	for i, b := range o.Breaks {
		if i == 0 || packs >= b.FromPacks {
			price = b.Price
		}
	}
	return price
}

// Cost is what so many packs cost, all at the price of the highest break reached. It is exact, not rounded to pence.
func (o Offer) Cost(packs int) decimal.Decimal {
	return o.PriceAt(packs).Mul(decimal.NewFromInt(int64(packs)))
}

// Check returns the offer with its breaks in order and an absent pack, minimum or signal filled in, or says what is wrong.
func (o Offer) Check() (Offer, error) {
	if strings.TrimSpace(o.Code) == "" {
		return Offer{}, errors.New("an offer needs the supplier's own code")
	}
	if o.Pack == 0 {
		o.Pack = 1
	}
	if o.MinimumPacks == 0 {
		o.MinimumPacks = 1
	}
	if o.Stock == "" {
		o.Stock = Unknown
	}
	o.Stock = Signal(strings.ReplaceAll(string(o.Stock), " ", "-")) // lists write "in stock" too
	if o.Pack < 0 || o.MinimumPacks < 0 || o.Pack > mostPieces || o.MinimumPacks > mostPieces {
		return Offer{}, fmt.Errorf("a pack of %d and a minimum of %d packs cannot be meant: both are between 1 and %d", o.Pack, o.MinimumPacks, mostPieces)
	}
	if !slices.Contains([]Signal{InStock, Low, ToOrder, Unknown}, o.Stock) {
		return Offer{}, fmt.Errorf("stock signal %q is not one of in-stock, low, to-order, unknown", o.Stock)
	}
	o.GTIN = asGTIN13(o.GTIN)
	if err := checkOptionalGTIN(o.GTIN); err != nil {
		return Offer{}, err
	}
	if len(o.Breaks) == 0 {
		return Offer{}, errors.New("an offer needs a price")
	}
	o.Breaks = slices.SortedFunc(slices.Values(o.Breaks), func(a, b Break) int { return a.FromPacks - b.FromPacks })
	for i, b := range o.Breaks {
		if b.FromPacks < 1 || !b.Price.IsPositive() || b.Price.GreaterThan(mostPrice) || !b.Price.Equal(b.Price.Truncate(4)) {
			return Offer{}, fmt.Errorf("a price of %s from %d packs on cannot be meant: both are above zero, and a price has at most four decimals", b.Price, b.FromPacks)
		}
		if i > 0 && o.Breaks[i-1].FromPacks == b.FromPacks {
			return Offer{}, fmt.Errorf("there are two prices from %d packs on, %s and %s: keep one", b.FromPacks, o.Breaks[i-1].Price, b.Price)
		}
	}
	if o.Breaks[0].FromPacks > o.MinimumPacks {
		return Offer{}, fmt.Errorf("the first price is from %d packs on and the minimum is %d: say what those between cost", o.Breaks[0].FromPacks, o.MinimumPacks)
	}
	return o, nil
}

// mostPrice is more than any pack costs.
var mostPrice = decimal.NewFromInt(1_000_000)

// TakenOfferError says that the supplier's code stands for another part already.
type TakenOfferError struct {
	Code   string
	PartID int64
	Part   string
}

func (e *TakenOfferError) Error() string {
	return fmt.Sprintf("the supplier's code %s stands for part %d already, %s: correct the code, or that part", e.Code, e.PartID, e.Part)
}

const offerItself = `offer.id, offer.supplier_id, offer.code, offer.part_id, offer.description, COALESCE(offer.gtin, ''), offer.pack,
	offer.minimum_packs, offer.stock, offer.as_of, offer.gone_at IS NOT NULL`

const offerColumns = offerItself + `,
	ARRAY(SELECT from_packs FROM price_break WHERE offer_id = offer.id ORDER BY from_packs),
	ARRAY(SELECT price FROM price_break WHERE offer_id = offer.id ORDER BY from_packs)`

func readOffer(row pgx.CollectableRow) (Offer, error) {
	var o Offer
	var from []int
	var prices []decimal.Decimal
	err := row.Scan(&o.ID, &o.SupplierID, &o.Code, &o.PartID, &o.Description, &o.GTIN, &o.Pack,
		&o.MinimumPacks, &o.Stock, &o.AsOf, &o.Gone, &from, &prices)
	for i := range from {
		o.Breaks = append(o.Breaks, Break{FromPacks: from[i], Price: prices[i]})
	}
	return o, err
}

// OlderOfferError says that something later is known of an offer than what is to be kept.
type OlderOfferError struct {
	Code string
	AsOf time.Time // of what is known
}

func (e *OlderOfferError) Error() string {
	return fmt.Sprintf("offer %s is known as of %s, which is later than this: nothing changed", e.Code, e.AsOf.Format("2 January 2006, 15:04"))
}

// PutOffer keeps what a supplier says of a part now, as a person has it from them: a new code is a new offer, a known
// one is brought up to date. An absent AsOf is now; what was said before what is kept changes nothing and is an
// *[OlderOfferError]. A code that stands for another part is a *[TakenOfferError].
func PutOffer(ctx context.Context, tx pgx.Tx, o Offer) (Offer, error) {
	o, err := o.Check()
	if err != nil {
		return Offer{}, fmt.Errorf("offer %q: %w", o.Code, err)
	}
	if o.AsOf.IsZero() {
		o.AsOf = time.Now()
	}
	var id int64
	err = tx.QueryRow(ctx, `
		INSERT INTO offer (supplier_id, code, part_id, description, gtin, pack, minimum_packs, stock, as_of, gone_at, said)
		VALUES ($1, $2, $3, $4, NULLIF($5, ''), $6, $7, $8, $9, CASE WHEN $10 THEN $9::timestamptz END, true)
		ON CONFLICT (supplier_id, code) DO UPDATE
		SET (description, gtin, pack, minimum_packs, stock, as_of, gone_at) =
		    (EXCLUDED.description, EXCLUDED.gtin, EXCLUDED.pack, EXCLUDED.minimum_packs, EXCLUDED.stock, EXCLUDED.as_of, EXCLUDED.gone_at)
		WHERE offer.part_id = EXCLUDED.part_id AND offer.as_of <= EXCLUDED.as_of
		RETURNING id`,
		o.SupplierID, o.Code, o.PartID, o.Description, o.GTIN, o.Pack, o.MinimumPacks, o.Stock, o.AsOf, o.Gone).Scan(&id)
	if errors.Is(err, pgx.ErrNoRows) {
		return Offer{}, notPut(ctx, tx, o)
	}
	if err != nil {
		return Offer{}, fmt.Errorf("offer %q: %w", o.Code, err)
	}
	var from []int
	var prices []decimal.Decimal
	for _, b := range o.Breaks {
		from, prices = append(from, b.FromPacks), append(prices, b.Price)
	}
	if _, err := tx.Exec(ctx, `DELETE FROM price_break WHERE offer_id = $1`, id); err != nil {
		return Offer{}, fmt.Errorf("offer %q: %w", o.Code, err)
	}
	_, err = tx.Exec(ctx, `
		INSERT INTO price_break (offer_id, from_packs, price)
		SELECT $1, * FROM unnest($2::int[], $3::numeric[])`, id, from, prices)
	if err != nil {
		return Offer{}, fmt.Errorf("offer %q: %w", o.Code, err)
	}
	return OfferByID(ctx, tx, id)
}

// notPut says why an offer was not kept: its code stands for another part, or something later is known.
func notPut(ctx context.Context, db DB, o Offer) error {
	kept, err := collectOne(ctx, db, readOffer, `SELECT `+offerColumns+` FROM offer WHERE supplier_id = $1 AND code = $2`, o.SupplierID, o.Code)
	if err != nil {
		return fmt.Errorf("offer %q: %w", o.Code, err)
	}
	if kept.PartID == o.PartID {
		return &OlderOfferError{Code: o.Code, AsOf: kept.AsOf}
	}
	other, err := PartByID(ctx, db, kept.PartID)
	if err != nil {
		return err
	}
	return &TakenOfferError{Code: o.Code, PartID: other.ID, Part: other.Name}
}

// OfferByID is an offer by its number, gone or not; an unknown one is an *[UnknownError].
func OfferByID(ctx context.Context, db DB, id int64) (Offer, error) {
	o, err := collectOne(ctx, db, readOffer, `SELECT `+offerColumns+` FROM offer WHERE id = $1`, id)
	if errors.Is(err, pgx.ErrNoRows) {
		return Offer{}, &UnknownError{Kind: OfOffer, Name: fmt.Sprint(id)}
	}
	if err != nil {
		return Offer{}, fmt.Errorf("read offer %d: %w", id, err)
	}
	return o, nil
}

// OffersOf are the offers of parts, by part, that still stand in their suppliers' lists.
func OffersOf(ctx context.Context, db DB, partIDs []int64) (map[int64][]Offer, error) {
	// Many offers are read at once: a row for each break costs the server less than gathering the breaks of each offer.
	// OFFSET has it look the breaks of each offer up, by index: left to choose it may read those of all offers there
	// are.
	rows, err := db.Query(ctx, `
		SELECT `+offerItself+`, COALESCE(from_packs, 0), COALESCE(price, 0)
		FROM offer LEFT JOIN LATERAL (SELECT from_packs, price FROM price_break WHERE offer_id = offer.id OFFSET 0) AS b ON true
		WHERE part_id = ANY($1) AND gone_at IS NULL
		ORDER BY part_id, supplier_id, offer.id, from_packs`, partIDs)
	if err != nil {
		return nil, fmt.Errorf("read offers: %w", err)
	}
	m := make(map[int64][]Offer)
	var o Offer
	var b Break
	_, err = pgx.ForEachRow(rows, []any{&o.ID, &o.SupplierID, &o.Code, &o.PartID, &o.Description, &o.GTIN, &o.Pack,
		&o.MinimumPacks, &o.Stock, &o.AsOf, &o.Gone, &b.FromPacks, &b.Price}, func() error {
		list := m[o.PartID]
		if n := len(list); n == 0 || list[n-1].ID != o.ID {
			list = append(list, o)
		}
		if last := &list[len(list)-1]; b.FromPacks > 0 {
			last.Breaks = append(last.Breaks, b)
		}
		m[o.PartID] = list
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("read offers: %w", err)
	}
	return m, nil
}
