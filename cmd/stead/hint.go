package main

import (
	"errors"
	"fmt"
	"strings"

	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

// hint is what to do about an error, as a command; empty where the error says all there is to say. It is the one place
// that knows: the packages of the subject tell what is wrong and where, in types where it matters, and a page would show a
// link where this names a command.
func hint(err error) string {
	var stuck *pricing.StuckError
	var later *pricing.LaterDayError
	var undecided *pricing.UndecidedError
	var labour *pricing.NoLabourError
	var rate *inventory.NoRateError
	var unknown *inventory.UnknownError
	var rule *substitution.UnknownRuleError
	var place *substitution.UnknownPlaceError
	switch {
	case errors.As(err, &stuck):
		return remedy(stuck)
	case errors.As(err, &later):
		return fmt.Sprintf("if %s agrees to that day, add --ready-by %s, else quote again with `stead job quote %d`", later.By, later.Day, later.JobID)
	case errors.As(err, &undecided):
		return fmt.Sprintf("answer with `stead job inspect %d %s …`", undecided.JobID, undecided.Open[0].Place)
	case errors.As(err, &labour):
		return labourHint(labour.Labour)
	case errors.As(err, &rate):
		return fmt.Sprintf("record it with `stead shop rate %s RATE`", rate.Currency)
	case errors.Is(err, pricing.ErrNoTax):
		return "record it with `stead shop tax NAME PERCENT --from DATE` (0 if none is due)"
	case errors.As(err, &unknown) && len(unknown.Near) == 0:
		return whereListed(unknown)
	case errors.As(err, &rule) && len(rule.Near) == 0:
		return "`stead rule list` shows all rules"
	case errors.As(err, &place) && len(place.Near) == 0:
		return "`stead place list` shows all places"
	}
	return ""
}

// remedy is the command that gets a job on.
func remedy(e *pricing.StuckError) string {
	switch e.Remedy {
	case pricing.MakeItsQuote:
		return fmt.Sprintf("make a quote with `stead job quote %d`", e.JobID)
	case pricing.QuoteAgain:
		return fmt.Sprintf("quote again with `stead job quote %d`", e.JobID)
	case pricing.ShowItsQuote:
		return fmt.Sprintf("show it with `stead job show %d`", e.JobID)
	case pricing.RecordFindings:
		return fmt.Sprintf("record what was found with `stead job inspect %d …` first", e.JobID)
	case pricing.UseItsParts:
		return fmt.Sprintf("use them with `stead job use %d`, or close with --leave-out to give them back", e.JobID)
	case pricing.LeaveTheRest:
		return fmt.Sprintf("close it with `stead job close %d --leave-out`, which counts what was left out", e.JobID)
	case pricing.GiveItUp:
		return fmt.Sprintf("approve its quote first, or give it up with `stead job cancel %d --why REASON`", e.JobID)
	case pricing.AskWhyNot:
		return fmt.Sprintf("`stead job quote %d` says why", e.JobID)
	}
	return ""
}

// whereListed says where a person finds the right name.
func whereListed(e *inventory.UnknownError) string {
	switch e.Kind {
	case "part":
		return "`stead part find WORDS` finds it"
	case "order":
		return "`stead order list --all` shows all"
	case "bin":
		return "`stead shop bin NAME` adds one"
	case "supplier":
		return "`stead supplier add` adds one"
	case "job":
		return "`stead job list` shows all"
	case "line":
		return fmt.Sprintf("`stead order show %d` lists its lines", e.Of)
	}
	return ""
}

// labourHint is the command that prices some work, with the usual words and minutes.
func labourHint(l pricing.Labour) string {
	words, minutes := "…", "…"
	if l.Words != "" {
		words, minutes = `"`+l.Words+`"`, fmt.Sprint(l.Minutes)
	}
	return fmt.Sprintf("record it with `stead shop labour %s %s --words %s --minutes %s --price …`", l.Family, l.Action, words, minutes)
}

// withHint puts what to do after what is wrong, one sentence in all.
func withHint(sentence string, err error) string {
	what := hint(err)
	if what == "" || strings.Contains(sentence, what) {
		return sentence
	}
	return sentence + ": " + what
}

// hinted is an error that says what to do about itself.
type hinted struct{ error }

func (e hinted) Error() string { return withHint(e.error.Error(), e.error) }
func (e hinted) Unwrap() error { return e.error }
