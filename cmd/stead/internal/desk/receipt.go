package desk

import (
	"context"
	"fmt"
	"time"

	"stead/inventory"
	"stead/pricing"
)

// PaidPaper is the receipt for what was paid for a job: a deposit, before there is a bill, and what followed.
type PaidPaper struct{ Job }

// LoadPaidPaper gathers what was paid for a job, or an error where nothing was.
func LoadPaidPaper(ctx context.Context, db inventory.DB, jobID int64, now time.Time) (p PaidPaper, err error) {
	if p.Job, err = LoadJob(ctx, db, jobID, now); err != nil {
		return p, err
	}
	if len(p.Account.Payments) == 0 {
		return p, fmt.Errorf("nothing was paid for job %d yet", jobID)
	}
	return p, nil
}

// Title is what the paper is called, and whose it is.
func (p PaidPaper) Title() string { return fmt.Sprintf("Receipt, job %d: %s", p.ID, p.Whose()) }

// Rows are the payments: the day, how it was paid, and the amount; what was paid back is below zero.
func (p PaidPaper) Rows() (out [][]string) {
	for _, one := range p.Account.Payments {
		out = append(out, []string{p.Written(one.At), one.How, pricing.Amount(p.Currency, one.Amount)})
	}
	return out
}

// Total is what was paid in all.
func (p PaidPaper) Total() string { return pricing.Amount(p.Currency, p.Account.Paid) }

// Billed says what it was paid for, as far as it is billed, and what is due or is to be paid back.
func (p PaidPaper) Billed() (out []string) {
	if len(p.Account.Papers) == 0 {
		return []string{"paid before the bill, and counts towards it"}
	}
	for _, b := range p.Account.Papers {
		out = append(out, fmt.Sprintf("%s %d: %s", b.Series, b.Number, pricing.Amount(p.Currency, counted(b, b.Total))))
	}
	return append(out, balanceWords(p.Account, p.Currency))
}
