package main

import (
	"errors"
	"fmt"
	"strings"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/mailing"
	"stead/inventory"
	"stead/inventory/people"
	"stead/inventory/post"
	"stead/inventory/shelf"
	"stead/migrations"
	"stead/migrations/backup"
	"stead/migrations/privatepg"
	"stead/pricing"
	"stead/pricing/billing"
	"stead/pricing/orderplan"
	"stead/substitution"
)

// hint is what to do about an error, as a command; empty where the error says all there is to say. It is the one place
// that knows: the packages of the subject tell what is wrong and where, in types where it matters, and a page would show a
// link where this names a command.
func hint(err error) string {
	for _, of := range hints {
		if what := of(err); what != "" {
			return what
		}
	}
	return ""
}

// hints are what to do about each kind of error that there is something to do about.
var hints = []func(error) string{
	about(addressHint),
	about(func(e *desk.NotListedError) string {
		return fmt.Sprintf("`stead stock keep %d` says what is advised of it, and `stead reorder at-least %d PIECES` keeps some all the same", e.PartID, e.PartID)
	}),
	about(func(e *shelf.NoRoomError) string {
		return fmt.Sprintf("`stead stock limit %d --holds PIECES` says what its place holds, and `stead stock keep %d --at LEVEL --to PIECES` keeps fewer", e.Part.ID, e.Part.ID)
	}),
	about(func(e *desk.NotFewerError) string {
		return fmt.Sprintf("take it as advised, or keep more with `stead reorder at-least %d %d`", e.Line.PartID, e.Pieces)
	}),
	where(post.ErrNoServer, "set it up with `stead post server HOST --sender ADDRESS`, or send the paper of `stead print` by hand"),
	about(remedy),
	about(func(e *pricing.LaterDayError) string {
		return fmt.Sprintf("if %s agrees to that day, add --ready-by %s, else quote again with `stead job quote %d`", e.By, e.Day, e.JobID)
	}),
	about(func(e *pricing.UndecidedError) string {
		return fmt.Sprintf("answer with `stead job inspect %d %s …`", e.JobID, e.Open[0].Place)
	}),
	about(func(e *pricing.NoLabourError) string { return labourHint(e.Labour) }),
	about(func(e *billing.NotDoneError) string {
		return fmt.Sprintf("close it with `stead job close %d`", e.JobID)
	}),
	about(func(e *billing.BehindError) string {
		return fmt.Sprintf("put the clock right; where that cannot be, --dated last dates it as %s %d, and --dated today by the clock, where %s %d bears a wrong day", e.Series, e.Number, e.Series, e.Number)
	}),
	about(func(*pricing.NotAllowedError) string {
		return "quote it with `stead job work` or a finding and `stead job amend`, or give it away with --free"
	}),
	where(pricing.ErrNoHourly, "give it a --price, or the shop's hour with `stead shop set --hourly PRICE`"),
	about(func(e *inventory.NoRateError) string {
		return fmt.Sprintf("record it with `stead shop rate %s RATE`", e.Currency)
	}),
	about(func(*orderplan.UnfinishedError) string { return "plan fewer lines at a time" }),
	about(func(e *desk.ColumnsError) string {
		return fmt.Sprintf("`stead pricelist columns %s FILE FIELD=COLUMN`", e.Supplier)
	}),
	about(func(e *desk.UnknownCodeError) string {
		return unless(e.Ours, fmt.Sprintf("give it to one with `stead scan %s --give PART`", quoted(e.Code)))
	}),
	about(func(*migrations.NoDemoError) string { return "`stead demo` makes it" }),
	about(func(*migrations.ForeignDemoError) string {
		return "drop or rename it, or name another database with --database"
	}),
	about(func(*backup.OccupiedError) string {
		return "save it with `stead db backup` if it is of worth, then repeat the restore with --replace"
	}),
	about(func(*backup.UnknownEndError) string { return "`stead db status` says which it is" }),
	about(func(e *privatepg.NoBinariesError) string { return unless(!e.Install, "`stead demo --yes` installs it") }),
	about(func(*privatepg.VersionError) string { return "`stead db backup` there, `stead db restore` here" }),
	where(pricing.ErrNoTax, "record it with `stead shop tax NAME PERCENT --from DATE` (0 if none is due)"),
	about(func(e *inventory.UnknownError) string { return unless(len(e.Near) > 0, whereListed(e)) }),
	about(func(*inventory.NoBinError) string { return "--bin NAME" }),
	about(func(*people.UnnamedError) string { return "name them with --by NAME" }),
	about(func(e *substitution.UnknownRuleError) string {
		return unless(len(e.Near) > 0, "`stead rule list` shows all rules")
	}),
	about(func(e *substitution.UnknownPlaceError) string {
		return unless(len(e.Near) > 0, "`stead place list` shows all places")
	}),
}

// about is the hint for errors of one type.
func about[E error](say func(E) string) func(error) string {
	return func(err error) string {
		var e E
		if !errors.As(err, &e) {
			return ""
		}
		return say(e)
	}
}

// where is the hint for one error that has no type of its own.
func where(known error, what string) func(error) string {
	return func(err error) string { return unless(!errors.Is(err, known), what) }
}

// unless is what to do, or nothing where the error says it already.
func unless(said bool, what string) string {
	if said {
		return ""
	}
	return what
}

// addressHint is the command that keeps somebody's address.
func addressHint(e *mailing.NoAddressError) string {
	switch {
	case e.Of == inventory.OfSupplier:
		return fmt.Sprintf("keep it with `stead supplier set %s --email ADDRESS`, or give one with --to", e.Code)
	case e.ID != 0:
		return fmt.Sprintf("keep it with `stead customer set %d --email ADDRESS`, or give one with --to", e.ID)
	}
	return "give one with --to"
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
	case pricing.CancelIt:
		return fmt.Sprintf("give it up with `stead job cancel %d --why REASON`", e.JobID)
	case pricing.GiveItUp:
		return fmt.Sprintf("approve its quote first, or give it up with `stead job cancel %d --why REASON`", e.JobID)
	case pricing.AmendIt:
		return fmt.Sprintf("quote what has changed with `stead job amend %d`", e.JobID)
	case pricing.AskWhyNot:
		return fmt.Sprintf("`stead job quote %d` says why", e.JobID)
	}
	return ""
}

// whereListed says where a person finds the right name.
func whereListed(e *inventory.UnknownError) string {
	switch e.Kind {
	case inventory.OfPart, inventory.OfCode:
		return "`stead part find WORDS` finds it"
	case inventory.OfBill, inventory.OfCreditNote:
		return "`stead bill list` shows all"
	case inventory.OfOrder:
		return "`stead order list --all` shows all"
	case inventory.OfBin:
		return "`stead shop bin NAME` adds one"
	case inventory.OfSupplier:
		return "`stead supplier add` adds one"
	case inventory.OfCustomer:
		return "`stead job list --all` names all who have been here"
	case inventory.OfBike:
		return "`stead customer find WORDS` finds it"
	case inventory.OfPerson:
		return "`stead person list` shows all"
	case inventory.OfJob:
		return "`stead job list` shows all"
	case inventory.OfPhoto:
		return "`stead photo list` shows those of a job, a bike or a part"
	case inventory.OfMessage:
		return "`stead post list` shows all"
	case inventory.OfReturn:
		return "`stead return list --all` shows all"
	case inventory.OfLine:
		if e.Of == 0 {
			return "`stead order show ORDER` lists the lines of an order"
		}
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
