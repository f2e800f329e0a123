package pricing

import (
	"errors"
	"fmt"

	"stead/inventory/calendar"
	"stead/substitution"
	"stead/substitution/inspection"
)

// Remedy is what would get a job on that is stuck.
type Remedy string

const (
	MakeItsQuote   Remedy = "quote"         // it has none yet
	QuoteAgain     Remedy = "quote again"   // what was quoted no longer holds
	ShowItsQuote   Remedy = "show"          // a newer version stands
	RecordFindings Remedy = "inspect"       // nothing was found yet
	UseItsParts    Remedy = "use"           // or leave them out
	LeaveTheRest   Remedy = "leave out"     // it was begun: close it without the rest
	CancelIt       Remedy = "give up"       // it was begun
	GiveItUp       Remedy = "cancel"        // or have it approved
	AmendIt        Remedy = "amend"         // what is new is an amendment
	AskWhyNot      Remedy = "quote for why" // nothing does it: the quote says why
)

// StuckError says why a job cannot do what was asked of it, and what would get it on. What that is called on a screen is
// the screen's to say.
type StuckError struct {
	JobID  int64
	Remedy Remedy
	why    error
}

func (e *StuckError) Error() string { return e.why.Error() }
func (e *StuckError) Unwrap() error { return errors.Unwrap(e.why) }

func stuck(jobID int64, remedy Remedy, format string, args ...any) error {
	return &StuckError{jobID, remedy, fmt.Errorf(format, args...)}
}

// NoLabourError says that some work has no price.
type NoLabourError struct {
	Labour Labour // family and action, with the usual words and minutes where the family knows them
	Place  substitution.Place
}

func (e *NoLabourError) Error() string {
	return fmt.Sprintf("no labour price for %s %s (%s)", e.Labour.Action, e.Labour.Family, e.Place)
}

// UndecidedError says that a job cannot be quoted while the findings at some places ask something.
type UndecidedError struct {
	JobID int64
	Open  []inspection.Finding
}

// LaterDayError says that the day of a quote's option can no longer be kept: the customer may agree to a later one, or the
// job is quoted again.
type LaterDayError struct {
	JobID  int64
	Option string
	By     string // who must agree
	Day    calendar.Day
	was    string // the days in words
	is     string
}

func (e *LaterDayError) Error() string {
	return fmt.Sprintf("option %s cannot be here by %s any more: ordered now it is here by %s", e.Option, e.was, e.is)
}
