package desk

import (
	"fmt"
	"slices"

	"stead/inventory"
	"stead/pricing"
)

// Handed is the quote as it is handed to the customer: where a part comes from is told by the shelf or by its day, never by
// who supplies it; carriage is one sum; what only the bench minds is left out.
func (v Quote) Handed() Quote {
	v.Options = slices.Clone(v.Options)
	v.Choices = slices.Clone(v.Choices)
	for i := range v.Options {
		v.Options[i] = v.handedOption(v.Options[i])
	}
	for i := range v.Choices {
		c := &v.Choices[i]
		c.Option = v.handedOption(c.Option)
		c.Lines = quoteLines(c.Option, v.Clock)
	}
	v.Shared = sayOnce(v.Choices)
	v.Refusal = nil // its ways out speak of suppliers
	return v
}

// handedOption is an option without what only the workshop minds.
func (v Quote) handedOption(o pricing.Option) pricing.Option {
	chance := o.Chance()
	o.Promise = "all on the shelf"
	if len(o.Parts) == 0 {
		o.Promise = "no parts to wait for"
	}
	if slices.ContainsFunc(o.Parts, func(p pricing.PartLine) bool { return !p.Shelf }) {
		o.Promise = "all here by " + v.Day(o.ReadyOn)
		if chance != "" {
			o.Promise += ", " + chance
		}
	}
	if v.Amends > 0 {
		o.Promise = "what is new: " + o.Promise
	}
	if len(o.Minimums) > 0 {
		o.Promise += ", once enough is ordered with it"
	}
	o.Minimums, o.Checks = nil, nil
	o.Delays = handedDelays(o.Delays)
	o.Parts = slices.Clone(o.Parts)
	for i := range o.Parts {
		o.Parts[i].Supplier, o.Parts[i].From, o.Parts[i].UseUp = "", "", false
	}
	if len(o.Carriage) > 0 {
		all := pricing.CarriageLine{}
		for _, c := range o.Carriage {
			all.Amount = all.Amount.Add(c.Amount)
		}
		o.Carriage = []pricing.CarriageLine{all}
	}
	return o
}

// handedDelays are delays as a customer reads them, who is not told from whom parts come.
func handedDelays(delays []inventory.Delay) []inventory.Delay {
	handed := make([]inventory.Delay, len(delays))
	for i, d := range delays {
		handed[i] = inventory.Delay{Days: d.Days, Words: "one who sends us parts has become slower; the day counts with it"}
		if d.Supplier == "" {
			handed[i].Words = fmt.Sprintf("all who send us parts are late just now, by about %s; the day counts with it", Several(d.Days, "working day"))
		}
	}
	return handed
}

// HandedWords are an option's notes on the customer's paper, without what all options share.
func (c Choice) HandedWords(currency string) []string {
	return c.notes(currency, c.Apart, DifferenceWords)
}

// HandedNotes are the notes of what all options share, on the customer's paper.
func (s Said) HandedNotes() []string { return s.notes(DifferenceWords) }

// DifferenceWords are a difference as a customer reads it.
func DifferenceWords(d pricing.Deviation) string {
	return fmt.Sprintf("different (%s): %s", d.Kind, d.Words)
}

// HandedWords say by whom, when and for what it was approved, on the customer's paper.
func (p AgreedPaper) HandedWords() string {
	handed := p.Quote.Handed()
	p.Quote = &handed
	return p.ApprovedWords()
}
