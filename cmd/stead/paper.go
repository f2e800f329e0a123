package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing"
	"stead/pricing/ordering"
	"stead/substitution"
	"stead/substitution/inspection"
)

// today is the workshop's day, from which dates in words are told.
func today() calendar.Day { return calendar.DayOf(now()) }

// siteWords is a place as it is called on paper.
func siteWords(p substitution.Place) string {
	if site, err := substitution.SiteOf(p); err == nil {
		return site.Words
	}
	return "for the other parts"
}

// printFinding tells what was found at a place and what the readings proposed.
func printFinding(cmd *cobra.Command, f inspection.Finding) {
	action := string(f.Action)
	if action == "" && len(f.Asks) > 0 {
		action = "not decided"
	} else if action == "" {
		action = "noted"
	}
	words := fmt.Sprintf("%s: %s", siteWords(f.Place), action)
	if f.Proposal.Words != "" {
		words += " — " + f.Proposal.Words
	} else if len(f.Proposal.Reasons) == 0 && f.Action == "" {
		words += notedWords(f.Readings)
	}
	if f.Proposal.Action != "" && f.Proposal.Action != f.Action {
		words += fmt.Sprintf("; the readings propose %s", f.Proposal.Action)
	}
	if f.Note != "" {
		words += " (" + f.Note + ")"
	}
	say(cmd, "  %s", words)
	for _, c := range f.Contradictions {
		say(cmd, "    %s", c.Words)
	}
	for _, question := range f.Asks {
		say(cmd, "    %s", question)
	}
	for _, p := range f.Proposal.LookAt {
		say(cmd, "    look at the %s as well", siteWords(p))
	}
}

// notedWords are readings that decide nothing, as they were given.
func notedWords(r inspection.Readings) string {
	words := ""
	for _, name := range slices.Sorted(maps.Keys(r)) {
		words += fmt.Sprintf(" %s=%s", name, r[name])
	}
	return words
}

// printEnding says how a job ended and what is due for it.
func printEnding(cmd *cobra.Command, e *pricing.Ending, currency string) {
	if e == nil {
		return
	}
	if e.Why != "" {
		words := fmt.Sprintf("given up on %s: %s; nothing is due", calendar.DayOf(e.At.In(zone())).Words(today()), e.Why)
		if e.Agreed.Valid {
			words += " of the " + pricing.Amount(currency, e.Agreed.Decimal) + " agreed"
		}
		say(cmd, "  %s", words)
		return
	}
	for _, l := range e.LeftOut {
		words := l.Words
		if l.Pieces > 0 {
			words = fmt.Sprintf("%d of %s", l.Pieces, l.Words)
		}
		say(cmd, "  %s", fmt.Sprintf("left out: %s, %s", words, pricing.Amount(currency, l.Amount)))
	}
	if e.Agreed.Valid {
		say(cmd, "  %s", fmt.Sprintf("due: %s", pricing.Amount(currency, e.Due)))
	}
}

// printQuote sets a quote as the customer sees it.
func printQuote(cmd *cobra.Command, q pricing.Quote) {
	say(cmd, "Quote %d for job %d: %s, %s", q.Version, q.JobID, q.Customer, q.Bike)
	say(cmd, "prices stand until %s and include %s at %s %%; days are for an answer on %s", q.ValidUntil.Words(today()), q.Tax.Name, q.Tax.Percent,
		calendar.DayOf(q.MadeAt.In(zone())).Words(today()))
	if len(q.Labour) > 0 {
		say(cmd, "\nWork")
		var rows [][]string
		for _, l := range q.Labour {
			rows = append(rows, []string{"  " + l.Words, fmt.Sprintf("%d min", l.Minutes), pricing.Amount(q.Currency, l.Amount)})
		}
		terminal.Table(cmd.OutOrStdout(), []string{"", ">", ">"}, rows)
		for _, words := range q.Bench {
			say(cmd, "  %s", "from the bench: "+words)
		}
	}
	for _, o := range q.Options {
		say(cmd, "")
		printOption(cmd, q.Currency, o)
		if days := o.DaysAfter(q.WantedBy); days > 0 {
			say(cmd, "  %s after %s, by which it is wanted", several(days, "day"), q.WantedBy.Words(today()))
		}
	}
	if q.Carriage != "" && slices.ContainsFunc(q.Options, func(o pricing.Option) bool { return len(o.Parts) > 0 }) {
		say(cmd, "\n%s", q.Carriage)
	}
	if q.Unproven && len(q.Options) > 0 {
		say(cmd, "\nThe search was stopped: there may be better options than these.")
	}
	if q.Refusal != nil {
		say(cmd, "\nNothing does the job as asked:")
		for _, why := range q.Refusal.Why {
			say(cmd, "  %s", why)
		}
		if len(q.Refusal.WaysOut) > 0 {
			say(cmd, "What would make it possible:")
			for _, way := range q.Refusal.WaysOut {
				say(cmd, "  %s", way)
			}
		}
	}
	for _, words := range q.LeftOut {
		say(cmd, "%s", terminal.Wrap("", "left out: "+words))
	}
	if len(q.Unsure) > 0 {
		say(cmd, "\nMight fit as well; measure first:")
		for _, u := range q.Unsure {
			say(cmd, "  %s as %s: %s", u.Name, siteWords(u.Place), strings.Join(u.Measure, "; "))
		}
	}
}

func printOption(cmd *cobra.Command, currency string, o pricing.Option) {
	say(cmd, "Option %s: %s, %s", strings.Join(o.Names, " = "), pricing.Amount(currency, o.Total), o.Promise)
	var rows [][]string
	for _, lines := range o.ByNeed() {
		p, pieces := lines[0], 0
		for _, l := range lines {
			pieces += l.Pieces
		}
		name := p.Name
		if pieces > 1 {
			name = fmt.Sprintf("%d × %s", pieces, p.Name)
		}
		what := p.For
		if what == "" {
			what = siteWords(p.Place)
		}
		what = "  " + what
		for i, from := range sources(lines) {
			rows = append(rows, []string{what, name, from, pricing.Amount(currency, lines[i].Amount)})
			what, name = "", ""
		}
	}
	for _, c := range o.Carriage {
		what := "  carriage"
		if c.Words != "" {
			what += ", " + c.Words
		}
		rows = append(rows, []string{what, "", c.Supplier, pricing.Amount(currency, c.Amount)})
	}
	if len(rows) > 0 {
		terminal.Table(cmd.OutOrStdout(), []string{"", "", "", ">"}, rows)
	}
	if len(o.Deviations) == 0 && len(o.Parts) > 0 {
		say(cmd, "  nothing is different from before")
	}
	for _, d := range o.Deviations {
		say(cmd, "  different (%s): %s  [%s %s]", d.Kind, d.Words, d.Place, d.Rule)
	}
	for _, m := range o.Minimums {
		say(cmd, "  %s", m)
	}
	for _, c := range o.Checks {
		say(cmd, "  %s", "check when fitting: "+c)
	}
	for _, c := range o.Cautions {
		say(cmd, "  %s", "caution: "+c)
	}
	say(cmd, "  tax contained %s", pricing.Amount(currency, o.TaxInTotal))
}

// sources say where each line of a need comes from, with pieces and day where there are two.
func sources(lines []pricing.PartLine) []string {
	if len(lines) == 1 {
		return []string{source(lines[0].Supplier)}
	}
	var words []string
	for _, l := range lines {
		if l.Shelf {
			words = append(words, fmt.Sprintf("%d from the shelf", l.Pieces))
		} else {
			words = append(words, fmt.Sprintf("%d from %s by %s", l.Pieces, l.Supplier, l.HereOn.Words(today())))
		}
	}
	return words
}

// printJob tells where a job stands.
func printJob(cmd *cobra.Command, v desk.Job) {
	parts := v.Parts
	say(cmd, "Job %d, %s: %s's %s", v.ID, v.State, v.Bike.Customer.Name, v.Bike.Words)
	if v.Wish != "" {
		say(cmd, "  %s", "asked for: "+v.Wish)
	}
	for _, words := range limitWords(v.Limits, parts) {
		say(cmd, "  %s", words)
	}
	for _, n := range v.Notes {
		say(cmd, "  %s", fmt.Sprintf("said on %s: “%s”", n.SaidAt.In(zone()).Format("2006-01-02 15:04"), strings.Join(strings.Fields(n.Said), " ")))
	}
	if len(v.Findings) > 0 {
		say(cmd, "\nFound")
		for _, f := range v.Findings {
			printFinding(cmd, f)
		}
	}
	switch {
	case v.Approval != nil:
		say(cmd, "\nApproved by %s on %s: option %s, %s", v.Approval.By, v.Approval.At.In(zone()).Format("2006-01-02 15:04"), v.Approval.Option,
			approvedWords(*v.Quote, *v.Approval))
		if words := laterThan(v.Approval.ReadyOn, v.Expected); words != "" {
			say(cmd, "  %s", words)
		}
	case v.Quote != nil:
		say(cmd, "")
		printQuote(cmd, *v.Quote)
	}
	printEnding(cmd, v.Ending, v.Currency)
	for _, h := range v.Held {
		say(cmd, "  held on the shelf: %d of %s", h.Pieces, parts[h.PartID].Name)
	}
	for _, c := range v.Claims {
		if c.State != inventory.ClaimCancelled {
			continue // it is among what is expected or held, or fitted
		}
		say(cmd, "  %s: %d of %s, due %s", c.State, c.Pieces, parts[c.PartID].Name, c.DueOn.Words(today()))
	}
	for _, l := range v.Expected {
		state := inventory.ClaimOrdered
		if l.NotOrdered {
			state = inventory.ClaimWanted
		}
		say(cmd, "  %s: %d of %s, due %s; it %s", state, l.Pieces, l.Part, l.Promised.Words(today()), l.When(today()))
	}
	for _, g := range v.Wishes {
		say(cmd, "  a wish can be met: %s — %s, %s", g.Wish.Words, g.Part.Name, g.Source)
	}
	if next := nextStep(v); next != "" {
		say(cmd, "\n%s", next)
	}
}

// laterThan says that what a job waits for is not all here by the day that was promised; nothing where it is.
func laterThan(promised calendar.Day, expected []ordering.Late) string {
	switch last := ordering.LastOf(expected); {
	case last == nil:
		return "later than that: for some of it no day can be given now"
	case *last > promised:
		return "later than that: as things stand all is here by " + last.Words(today())
	}
	return ""
}

// sourceWords is a supplier's code, or the shelf in words.
func sourceWords(code string) string {
	if code == pricing.Shelf {
		return "the shelf"
	}
	return code
}

func limitWords(l pricing.Limits, parts map[int64]inventory.Part) []string {
	var out []string
	if l.Latest != nil {
		out = append(out, "parts here by "+l.Latest.Words(today()))
	}
	if l.MostToSpend.Valid {
		out = append(out, "at most "+l.MostToSpend.Decimal.StringFixed(2))
	}
	if l.NoFunctionChange {
		out = append(out, "it must ride and shift as before")
	}
	if l.SameFinish {
		out = append(out, "it must look as before")
	}
	for _, place := range slices.Sorted(maps.Keys(l.OnlyParts)) {
		out = append(out, fmt.Sprintf("only %s for the %s", parts[l.OnlyParts[place]].Name, siteWords(place)))
	}
	for _, id := range l.NotParts {
		out = append(out, "not "+parts[id].Name)
	}
	if l.OnlySupplier != "" {
		out = append(out, "everything from "+sourceWords(l.OnlySupplier))
	}
	for _, code := range l.NotSuppliers {
		out = append(out, "nothing from "+sourceWords(code))
	}
	if l.MostSuppliers > 0 {
		out = append(out, fmt.Sprintf("parts from %s at most", several(l.MostSuppliers, "supplier")))
	}
	for _, d := range l.Declined {
		out = append(out, fmt.Sprintf("declined: %s as %s", d.Found, siteWords(d.Place)))
	}
	return out
}
