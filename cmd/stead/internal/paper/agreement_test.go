package paper_test

import (
	"testing"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/paper"
	"stead/pricing"
)

func TestAgreement(t *testing.T) {
	q, vat := quoted(), pricing.Tax{Name: "VAT", Percent: money("20")}
	approval := pricing.Approval{Option: "soonest", Total: money("47.57"), By: "Ines Falkner-Kovács", At: now}
	p := desk.AgreedPaper{Different: []string{desk.DifferenceWords(q.Options[0].Deviations[0])}, Cautions: []string{"caution: tighten crank bolts as their maker says"}, Wished: []pricing.Wish{{Words: "outer chainring as it was: black"}}}
	p.Job = desk.Job{Clock: desk.At(now), Quote: &q, Approval: &approval, Currency: "GBP", Agreement: &pricing.Agreement{
		Currency: "GBP", Total: money("47.57"), Words: []pricing.Word{{Version: 2, Approval: approval}},
		Lines: []pricing.AgreedLine{
			{Version: 1, Words: "what gave way", Amount: money("99"), GaveWay: 2},
			{Version: 2, Kind: pricing.WorkLine, Words: "fit chainring", Minutes: 20, Amount: money("18"), Tax: vat},
			{Version: 2, Kind: pricing.PartsLine, Words: "ring bolt", Pieces: 5, Amount: money("29.57"), Tax: vat},
		},
	}}
	p.ID, p.Bike.Words, p.Bike.Customer.Name = 101, "blue touring bike", "Ines Falkner-Kovács"
	requireRead(t, paper.Agreement(shop, p), "Tannery Yard", p.Title(), p.HandedWords(), "fit chainring, 20 min", "£18.00", "5 × ring bolt", "£29.57", "total £47.57", "£39.64 before tax, VAT at 20 % £7.93",
		"different (finish): outer chainring: silver in place of black", p.Cautions[0], "remembered for next time: outer chainring as it was: black", "Ines Falkner-Kovács")
	requireNot(t, read(t, paper.A4, paper.Agreement(shop, p)), "what gave way", "£99.00")
}
