package desk

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"time"

	"stead/inventory"
	"stead/pricing"
)

// Limits are what a job must keep to.
type Limits struct {
	pricing.Limits
	JobID int64    `json:"-"`
	Words []string `json:"-"` // one for each; none where nothing is set
}

// LoadLimits gathers a job's limits as they read at a moment.
func LoadLimits(ctx context.Context, db inventory.DB, jobID int64, now time.Time) (v Limits, err error) {
	job, err := pricing.JobByID(ctx, db, jobID)
	if err != nil {
		return v, err
	}
	parts, err := inventory.Parts(ctx, db, job.Limits.Parts())
	if err != nil {
		return v, err
	}
	names, err := supplierNames(ctx, db, job.Limits)
	if err != nil {
		return v, err
	}
	shop, err := inventory.LoadShop(ctx, db)
	return Limits{job.Limits, jobID, limitWords(job.Limits, parts, names, shop.Currency, At(now))}, err
}

// supplierNames are the names of suppliers by their codes, where limits name any.
func supplierNames(ctx context.Context, db inventory.DB, l pricing.Limits) (map[string]string, error) {
	if l.OnlySupplier == "" && len(l.NotSuppliers) == 0 {
		return nil, nil
	}
	all, err := inventory.Suppliers(ctx, db)
	names := map[string]string{}
	for _, s := range all {
		names[s.Code] = s.Name
	}
	return names, err
}

func limitWords(l pricing.Limits, parts map[int64]inventory.Part, names map[string]string, currency string, clock Clock) []string {
	var out []string
	if l.Latest != nil {
		out = append(out, "parts here by "+clock.Day(*l.Latest))
	}
	if l.MostToSpend.Valid {
		out = append(out, "at most "+pricing.Amount(currency, l.MostToSpend.Decimal))
	}
	if l.NoFunctionChange {
		out = append(out, "it must ride and shift as before")
	}
	if l.SameFinish {
		out = append(out, "it must look as before")
	}
	for _, place := range slices.Sorted(maps.Keys(l.OnlyParts)) {
		out = append(out, fmt.Sprintf("only %s for the %s", parts[l.OnlyParts[place]].Name, SiteWords(place)))
	}
	for _, v := range l.Vouched {
		out = append(out, VouchedWords(v))
	}
	for _, id := range l.NotParts {
		out = append(out, "not "+parts[id].Name)
	}
	if l.OnlySupplier != "" {
		out = append(out, "everything from "+sourceWords(l.OnlySupplier, names))
	}
	for _, code := range l.NotSuppliers {
		out = append(out, "nothing from "+sourceWords(code, names))
	}
	if l.MostSuppliers > 0 {
		out = append(out, fmt.Sprintf("parts from %s at most", Several(l.MostSuppliers, "supplier")))
	}
	for _, d := range l.Declined {
		out = append(out, fmt.Sprintf("declined: %s as %s", d.Found, SiteWords(d.Place)))
	}
	return out
}

// VouchedWords say who answers for what, and why; with the caution where parts are said not to go together.
func VouchedWords(v pricing.Vouched) string {
	words := fmt.Sprintf("%s answers for it: %s (%s): %s", v.By, SiteWords(v.Place), v.Words, v.Why)
	if v.Caution != "" {
		words += ". Caution: " + v.Caution
	}
	return words
}
