package paper_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/paper"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing"
)

// quoted is a quote with work, a part from a supplier, a discount and a difference.
func quoted() desk.Quote {
	return desk.TellQuote(pricing.Quote{
		JobID: 101, Version: 2, Customer: "Ines Falkner-Kovács", Bike: "blue touring bike", Currency: "GBP",
		ValidUntil: calendar.DayOf(now.AddDate(0, 0, 14)), MadeAt: now, Tax: pricing.Tax{Name: "VAT", Percent: money("20")},
		Labour: []pricing.LabourLine{{Words: "fit chainring", Minutes: 20, Amount: money("18.00")}},
		Options: []pricing.Option{{
			Names: []string{"cheapest", "soonest"}, Total: money("47.57"), TaxInTotal: money("7.93"), ReadyOn: calendar.DayOf(now.AddDate(0, 0, 6)), Promise: "all here by Tuesday 8 December, once enough is wanted of Harbour Lane",
			Parts: []pricing.PartLine{{For: "outer ring", Name: "ring 50T silver", Pieces: 1, Supplier: "Harbour Lane", HereOn: calendar.DayOf(now.AddDate(0, 0, 6)), Amount: money("30.57")}},
			Deviations: []pricing.Deviation{{Difference: pricing.Difference{Place: "crank.outer-ring", Rule: "chainring.finish"}, Kind: "finish",
				Was: "black", Words: "outer chainring: silver in place of black"}},
			Checks:   []string{"5 bolt holes on a circle of 110 mm"},
			Cautions: []string{"tighten crank bolts as their maker says"},
		}},
		Carriage: "a job pays the carriage of its parts in full",
	}, desk.At(now))
}

func TestQuote(t *testing.T) {
	q := quoted()
	says := []string{"Tannery Yard", "Łódź-Straße", q.Title(), q.Stands(), "fit chainring", "20 min", "£18.00", "ring 50T silver", "£30.57",
		"Option cheapest: £47.57, all here by Tuesday 8 December", "here by Tuesday 8 December", "different (finish): outer chainring: silver in place of black", q.CarriageWords()}
	says = append(says, q.Handed().Choices[0].HandedWords(q.Currency)...)
	requireRead(t, paper.Quote(shop, q), says...)
	requireNot(t, read(t, paper.A4, paper.Quote(shop, q)), "Harbour Lane", "chainring.finish", "check when fitting")
}

// Why the day is late is told to the customer, and not who makes it so.
func TestQuoteTellsOfDelays(t *testing.T) {
	one := quoted().Quote
	one.Options[0].Delays = []inventory.Delay{
		{Days: 3, Words: "All suppliers are late just now, by about 3 working days: of 6 parcels due in the last fortnight from 4 suppliers 5 were late."},
		{Supplier: "harbour", From: "Harbour Lane", Days: 2, Words: "Harbour Lane has become slower: 5 of the 6 receipts since August were 2 working days late or more."}}
	q := desk.TellQuote(one, desk.At(now))
	requireRead(t, paper.Quote(shop, q), "all who send us parts are late just now, by about 3 working days; the day counts with it",
		"one who sends us parts has become slower; the day counts with it")
	requireNot(t, read(t, paper.A4, paper.Quote(shop, q)), "Harbour Lane", "fortnight")
}

// What all options share is said once, and each says only what is its own.
func TestQuoteSaysOnceWhatOptionsShare(t *testing.T) {
	one := quoted().Quote
	soon := one.Options[0]
	soon.Names, soon.Total = []string{"soonest"}, money("57.00")
	soon.Parts = append([]pricing.PartLine{{For: "chain", Name: "chain, silver", Pieces: 1, Shelf: true, Amount: money("9.43")}}, soon.Parts...)
	one.Options[0].Names = []string{"cheapest"}
	one.Options = append(one.Options, soon)
	q := desk.TellQuote(one, desk.At(now))
	said := read(t, paper.A4, paper.Quote(shop, q))
	for words, times := range map[string]int{"In every option": 1, "ring 50T silver": 1, "silver in place of black": 1, "tighten crank bolts": 1, "chain, silver": 1, "Option ": 2} {
		require.Equal(t, times, strings.Count(said, words), words)
	}
}
