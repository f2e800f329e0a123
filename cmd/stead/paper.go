package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory/calendar"
	"stead/pricing"
)

// today is the workshop's day, from which dates in words are told.
func today() calendar.Day { return calendar.DayOf(now()) }

// printFinding tells what was found at a place and what the readings proposed.
func printFinding(cmd *cobra.Command, f desk.Finding) {
	say(cmd, "  %s", f.Words)
	for _, words := range f.More {
		say(cmd, "    %s", words)
	}
}

// printQuote sets a quote as the customer sees it.
func printQuote(cmd *cobra.Command, q desk.Quote) {
	say(cmd, "%s", q.Title())
	stands := q.Stands()
	if words := q.CarriageWords(); words != "" {
		stands += "; " + words
	}
	say(cmd, "%s", stands)
	if words := q.AmendsWords(); words != "" {
		say(cmd, "%s", words)
	}
	if len(q.Instead) > 0 {
		say(cmd, "\nGives way")
		printAgreed(cmd, q.Currency, q.Instead)
	}
	indented(cmd, q.TermWords())
	indented(cmd, q.UnmendedNotes())
	if len(q.Labour) > 0 {
		say(cmd, "Work")
		var rows [][]string
		for _, l := range q.Labour {
			rows = append(rows, []string{"  " + l.Said(), fmt.Sprintf("%d min", l.Minutes), pricing.Amount(q.Currency, l.Amount)})
		}
		terminal.Table(cmd.OutOrStdout(), []string{"", ">", ">"}, rows)
		for _, words := range q.Bench {
			say(cmd, "  %s", "from the bench: "+words)
		}
	}
	if !q.Shared.Empty() {
		say(cmd, "\nIn every option")
		printLines(cmd, q.Currency, q.Shared.Lines)
		indented(cmd, q.Shared.Notes())
	}
	for _, c := range q.Choices {
		say(cmd, "")
		printChoice(cmd, q.Currency, c)
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
		say(cmd, "\nMight fit, with an answer (`stead job answer %d`):", q.JobID)
		indented(cmd, desk.MightFit(q.Unsure))
	}
}

func printChoice(cmd *cobra.Command, currency string, c desk.Choice) {
	say(cmd, "%s", c.Head(currency))
	printLines(cmd, currency, c.Apart.Lines)
	indented(cmd, c.NotesApart(currency))
}

// sayEach says sentences, a line each.
func sayEach(cmd *cobra.Command, sentences []string) {
	for _, words := range sentences {
		say(cmd, "%s", words)
	}
}

// printLines sets the parts of an option, or those that all have, with what each costs.
func printLines(cmd *cobra.Command, currency string, lines []desk.QuoteLine) {
	var rows [][]string
	for _, l := range lines {
		what, name := "  "+l.For, l.Name
		for _, from := range l.From {
			rows = append(rows, []string{what, name, from.Words, pricing.Amount(currency, from.Amount)})
			what, name = "", ""
		}
	}
	if len(rows) > 0 {
		terminal.Table(cmd.OutOrStdout(), []string{"", "", "", ">"}, rows)
	}
}

// printJob tells where a job stands.
func printJob(cmd *cobra.Command, v desk.Job) {
	say(cmd, "Job %d, %s: %s", v.ID, v.State, v.Whose())
	if reach := v.Bike.Customer.Reach(); reach != "" {
		say(cmd, "  %s", "to reach them: "+reach)
	}
	if v.Wish != "" {
		say(cmd, "  %s", "asked for: "+v.Wish)
	}
	indented(cmd, v.LimitWords())
	indented(cmd, v.NoteWords())
	indented(cmd, desk.PhotoWords(v.Photos))
	if len(v.Findings) > 0 {
		say(cmd, "\nFound")
		for _, f := range v.Found() {
			printFinding(cmd, f)
		}
	}
	switch {
	case v.Approval != nil:
		say(cmd, "\n%s", v.ApprovedWords())
		if words := v.LaterWords(); words != "" {
			say(cmd, "  %s", words)
		}
		for _, words := range v.Changed {
			say(cmd, "%s", terminal.Wrap("  ", words))
		}
		indented(cmd, v.AgreedWords())
	case v.Quote != nil:
		say(cmd, "")
		printQuote(cmd, *v.Quote)
	}
	if v.Amendment != nil {
		say(cmd, "")
		printQuote(cmd, *v.Amendment)
	}
	indented(cmd, v.NoWords())
	indented(cmd, v.EndingWords())
	indented(cmd, v.UnmendedNotes())
	indented(cmd, v.AccountWords())
	indented(cmd, v.PartWords())
	indented(cmd, v.AdvisedWords())
	for _, g := range v.Wishes {
		say(cmd, "  a wish can be met: %s", desk.WishWords(g))
	}
	sayPost(cmd, v.Clock, v.Post)
	if next := nextStep(v); next != "" {
		say(cmd, "\n%s", next)
	}
}

// indented says sentences under a heading.
func indented(cmd *cobra.Command, sentences []string) {
	for _, words := range sentences {
		say(cmd, "  %s", words)
	}
}
