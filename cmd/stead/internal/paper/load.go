package paper

import (
	"context"
	"fmt"
	"strings"
	"time"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
	"stead/pricing/billing"
)

// Paper is a paper with what its file is called, without ".pdf".
type Paper struct {
	Name string
	Set  func(*Sheet)
}

// QuoteOf is the last quote of a job, as things stand at a moment, as are its other papers.
func QuoteOf(ctx context.Context, db inventory.DB, jobID int64, now time.Time) (Paper, error) {
	q, err := desk.LoadQuotePaper(ctx, db, jobID, now)
	if err != nil {
		return Paper{}, err
	}
	shop, err := inventory.LoadShop(ctx, db)
	return Paper{fmt.Sprintf("quote-%d", jobID), Quote(shop, q)}, err
}

// QuoteVersionOf is a version of a job's quotes, as its customer has it.
func QuoteVersionOf(ctx context.Context, db inventory.DB, jobID int64, version int, now time.Time) (Paper, error) {
	written, _, err := pricing.QuoteVersion(ctx, db, jobID, version)
	if err != nil {
		return Paper{}, err
	}
	q := desk.TellQuote(written, desk.At(now))
	if q.Photos, err = desk.PaperPhotos(ctx, db, jobID); err != nil {
		return Paper{}, err
	}
	shop, err := inventory.LoadShop(ctx, db)
	return Paper{fmt.Sprintf("quote-%d", jobID), Quote(shop, q)}, err
}

// AgreementOf is what the customer agreed to of a job.
func AgreementOf(ctx context.Context, db inventory.DB, jobID int64, now time.Time) (Paper, error) {
	p, err := desk.LoadAgreedPaper(ctx, db, jobID, now)
	if err != nil {
		return Paper{}, err
	}
	shop, err := inventory.LoadShop(ctx, db)
	return Paper{fmt.Sprintf("agreement-%d", jobID), Agreement(shop, p)}, err
}

// CardOf is the card of a job for the bench: it is refused before the work is approved.
func CardOf(ctx context.Context, db inventory.DB, jobID int64, now time.Time) (Paper, error) {
	c, err := desk.LoadCard(ctx, db, jobID, now)
	return Paper{fmt.Sprintf("card-%d", jobID), Card(c)}, err
}

// ReceiptOf is what was paid on a job.
func ReceiptOf(ctx context.Context, db inventory.DB, jobID int64, now time.Time) (Paper, error) {
	p, err := desk.LoadPaidPaper(ctx, db, jobID, now)
	if err != nil {
		return Paper{}, err
	}
	shop, err := inventory.LoadShop(ctx, db)
	return Paper{fmt.Sprintf("receipt-%d", jobID), Receipt(shop, p)}, err
}

// BillOf is a bill or a credit note by its number.
func BillOf(ctx context.Context, db inventory.DB, series billing.Series, number int64, now time.Time) (Paper, error) {
	v, err := desk.LoadBill(ctx, db, series, number, now)
	return Paper{fmt.Sprintf("%s-%d", strings.ReplaceAll(string(series), " ", "-"), number), Bill(v)}, err
}

// OrderOf is an order as its supplier is sent it.
func OrderOf(ctx context.Context, db inventory.DB, orderID int64, now time.Time) (Paper, error) {
	p, err := desk.LoadOrderPaper(ctx, db, orderID, now)
	return Paper{fmt.Sprintf("order-%d", orderID), Order(p)}, err
}

// GoodsInOf is the list by which an order's parcel is unpacked; it is refused where nothing is still to come.
func GoodsInOf(ctx context.Context, db inventory.DB, orderID int64, now time.Time) (Paper, error) {
	v, err := desk.LoadGoodsIn(ctx, db, orderID, now)
	if err == nil && len(v.Awaits) == 0 {
		err = fmt.Errorf("nothing of order %d is still to come", orderID)
	}
	return Paper{fmt.Sprintf("goods-in-%d", orderID), GoodsIn(v)}, err
}

// SheetOf is a sheet to count a bin by.
func SheetOf(ctx context.Context, db inventory.DB, bin string, now time.Time) (Paper, error) {
	sheets, err := inventory.Sheets(ctx, db, now, bin)
	if err == nil && len(sheets) == 0 {
		err = fmt.Errorf("bin %s is empty, and was so for a year: there is nothing to count in it", bin)
	}
	if err != nil {
		return Paper{}, err
	}
	return Paper{"count-" + sheets[0].Bin, Count(sheets[0])}, nil
}
