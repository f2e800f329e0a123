package paper_test

import (
	"testing"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/paper"
	"stead/pricing"
	"stead/pricing/billing"
	"stead/substitution/inspection"
)

func TestReceipt(t *testing.T) {
	p := desk.PaidPaper{Job: desk.Job{Clock: desk.At(now), Currency: "GBP", Account: billing.Account{Paid: money("55"), Due: money("-55"),
		Payments: []billing.Payment{{How: "cash", Amount: money("60"), At: now}, {How: "card", Amount: money("-5"), At: now.AddDate(0, 0, 1)}}}}}
	p.ID, p.Bike.Words, p.Bike.Customer.Name = 101, "blue touring bike", "Ines Falkner-Kovács"
	requireRead(t, paper.Receipt(shop, p), "Tannery Yard", p.Title(), "2 December 2026", "cash", "£60.00", "3 December 2026", "card", "-£5.00", "paid £55.00", "paid before the bill, and counts towards it")

	p.Account.Papers, p.Account.Due = []billing.Bill{{Series: billing.Bills, Number: 12, Total: money("43.20")}}, money("-11.80")
	requireRead(t, paper.Receipt(shop, p), "bill 12: £43.20", "to be paid back: £11.80")
	p.Account.Due = money("0")
	requireRead(t, paper.Receipt(shop, p), "all of it is paid")
	requireNot(t, read(t, paper.A4, paper.Receipt(shop, p)), "caution")

	// Somebody who pays on the way out may be handed nothing else.
	p.Findings = []inspection.Finding{{Place: "rear.rim-pads", Action: inspection.Replace}}
	p.Terms.Advised = []pricing.Advice{{Place: "rear.rim-pads", Action: inspection.Replace}}
	requireRead(t, paper.Receipt(shop, p), "caution: The bike goes home with this not mended", "Our advice is not to ride it")
}
