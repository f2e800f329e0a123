package desk

import (
	"context"
	"fmt"

	"stead/inventory"
	"stead/pricing"
)

// loadAgreed gathers what was agreed on a job of which something was; last is its newest quote.
func (v *Job) loadAgreed(ctx context.Context, db inventory.DB, last Quote) error {
	quote, approval, err := pricing.ApprovedQuote(ctx, db, v.ID)
	if err != nil {
		return err
	}
	agreed, err := pricing.AgreedOn(ctx, db, v.ID)
	if err != nil {
		return err
	}
	told := TellQuote(quote, v.Clock)
	v.Quote, v.Approval, v.Agreement = &told, &approval, &agreed
	if last.Amends > 0 && last.State == pricing.Open {
		v.Amendment = &last
	}
	v.Extras, err = pricing.ExtrasOf(ctx, db, v.ID)
	return err
}

// AgreedWords say what has come to what was approved since, what is allowed beyond it, and what was used of that.
func (v Job) AgreedWords() []string {
	if v.Agreement == nil {
		return nil
	}
	var out []string
	for _, w := range v.Agreement.Words[1:] {
		out = append(out, fmt.Sprintf("amended with version %d by %s on %s: %s in all, all here by %s", w.Version, w.By, v.DayOf(w.At),
			pricing.Amount(v.Currency, w.Total), v.Day(w.ReadyOn)))
	}
	if v.Agreement.Allowed.Valid {
		out = append(out, pricing.Amount(v.Currency, v.Agreement.Allowed.Decimal)+" may be used beyond that without asking")
	}
	for _, o := range v.Agreement.Opened {
		out = append(out, "agreed beforehand: "+o.Words(v.Currency))
	}
	for _, x := range v.Extras {
		out = append(out, "used beyond that: "+ExtraWords(x, v.Currency))
	}
	return out
}

// ExtraWords say what was used beyond what was agreed, and for how much.
func ExtraWords(x pricing.Extra, currency string) string {
	return fmt.Sprintf("%d of %s, %s", x.Pieces, x.Words, pricing.Amount(currency, x.Amount))
}

// AdvisedWords say what was advised in the bike's earlier jobs and not done since.
func (v Job) AdvisedWords() []string {
	var out []string
	for _, a := range v.Advised {
		out = append(out, fmt.Sprintf("advised in job %d: %s", a.JobID, a.Words))
	}
	return out
}

// AdviceWords are what was advised and is not done now, with why not.
func AdviceWords(a pricing.Advice) string {
	if a.Why == "" {
		return a.Words
	}
	return a.Words + "; not now: " + a.Why
}

// AmendsWords say what an amendment adds to; empty of a quote of the whole job.
func (v Quote) AmendsWords() string {
	if v.Amends == 0 {
		return ""
	}
	words := fmt.Sprintf("adds to version %d, which stays as agreed: %s", v.Amends, pricing.Amount(v.Currency, v.Agreed.Decimal))
	if v.AgreedFor != nil { // amendments did not always keep it
		words += ", promised for " + v.Day(*v.AgreedFor)
	}
	return words
}

// TermWords are what stands on a quote beside its work and parts: the customer's own parts, what is done only if it proves
// so, what is left out.
func (v Quote) TermWords() []string {
	var out []string
	for _, o := range v.Own {
		out = append(out, o.Said())
	}
	for _, o := range v.IfOpened {
		out = append(out, o.Words(v.Currency))
	}
	for _, a := range v.Advised {
		out = append(out, "advised, and left out: "+a.Words)
	}
	return out
}
