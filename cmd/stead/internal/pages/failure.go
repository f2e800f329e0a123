package pages

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"runtime"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"stead/inventory"
	"stead/inventory/post"
	"stead/migrations"
	"stead/pricing"
	"stead/substitution"
)

// refusal is what is said above a page that could not do what was asked: what is wrong, and a link to what helps.
type refusal struct {
	Sentence string
	Help     help
}

// help is a link to where something is put right; the page's counterpart of the command that a terminal names.
type help struct{ Words, Path string }

// statusError is an error of the visit itself.
type statusError struct {
	status   int
	sentence string
}

func (e *statusError) Error() string { return e.sentence }

// helpFor is where to go about an error; none where the error says all there is to say.
func helpFor(err error) help {
	var stuck *pricing.StuckError
	var later *pricing.LaterDayError
	var undecided *pricing.UndecidedError
	var labour *pricing.NoLabourError
	var rate *inventory.NoRateError
	switch {
	case errors.As(err, &stuck):
		return remedy(stuck)
	case errors.As(err, &later):
		return help{"Quote again", fmt.Sprintf("/jobs/%d", later.JobID)}
	case errors.As(err, &undecided):
		return help{"Answer it", fmt.Sprintf("/jobs/%d/inspect?place=%s", undecided.JobID, undecided.Open[0].Place)}
	case errors.As(err, &labour):
		return help{"Price this work", "/shop"}
	case errors.As(err, &rate):
		return help{"Record the rate", "/shop"}
	case errors.Is(err, post.ErrNoServer):
		return help{"Set it up", "/post"}
	case errors.Is(err, pricing.ErrNoTax):
		return help{"Record the rate of tax", "/shop"}
	}
	return help{}
}

// remedy is the page that gets a job on.
func remedy(e *pricing.StuckError) help {
	job := fmt.Sprintf("/jobs/%d", e.JobID)
	switch e.Remedy {
	case pricing.MakeItsQuote, pricing.QuoteAgain, pricing.AskWhyNot:
		return help{"To the job, to quote it", job}
	case pricing.ShowItsQuote:
		return help{"See the newest quote", job + "/quote"}
	case pricing.RecordFindings:
		return help{"Say what was found", job + "/inspect"}
	case pricing.UseItsParts, pricing.LeaveTheRest, pricing.GiveItUp:
		return help{"To the job", job}
	}
	return help{}
}

// took notes on the visit what came of a button that could not do what was asked, and gives the answer's status.
func (v *visit) took(err error) int {
	var changed *inventory.ChangedError
	var other *inventory.OtherRequestError
	var status *statusError
	switch {
	case errors.Is(err, errWrong):
		v.sorry = &refusal{Sentence: err.Error()}
		return http.StatusUnprocessableEntity
	case errors.As(err, &changed):
		for _, h := range changed.Since {
			v.since = append(v.since, v.tells(h))
		}
		v.typed.stale = true
		v.sorry = &refusal{Sentence: "nothing was done yet, because this has changed since you opened it; what you typed is still here: look it over and send it again"}
		return http.StatusConflict
	case errors.As(err, &other):
		v.typed.key = inventory.NewKey()
		v.sorry = &refusal{Sentence: "this form was sent before, and what it asked then is done; what you have changed since is not: look it over and send it again"}
		return http.StatusConflict
	case errors.As(err, &status):
		v.sorry = &refusal{Sentence: status.sentence}
		return status.status
	}
	code, sentence := v.s.explain(err)
	v.sorry = &refusal{Sentence: sentence, Help: helpFor(err)}
	switch {
	case code == http.StatusNotFound, code == http.StatusConflict:
		return http.StatusUnprocessableEntity // the subject's own sentence about what was asked
	case ofTheMachine(code, err):
		v.s.Log.Error("do what a button asks", "path", v.r.URL.Path, "act", v.typed.act, "error", err)
	}
	return code
}

// tells is a happening as it stands in a history: "Jory Penhale closed the job".
func (v *visit) tells(h inventory.Happening) string {
	at := h.At.In(v.now.Location())
	when := at.Format("15:04")
	if at.Format("2006-01-02") != v.now.Format("2006-01-02") {
		when = at.Format("2 Jan 15:04")
	}
	switch {
	case h.Words != "":
		return fmt.Sprintf("%s %s %s", when, h.By, h.Words)
	case h.What != "":
		return fmt.Sprintf("%s at the terminal: %s", when, h.What)
	}
	return when + " it was changed"
}

// explain is the status and the sentence for an error.
func (s *Server) explain(err error) (int, string) {
	var status *statusError
	var unknown *inventory.UnknownError
	var place *substitution.UnknownPlaceError
	var rule *substitution.UnknownRuleError
	switch {
	case errors.As(err, &status):
		return status.status, status.sentence
	case errors.As(err, &unknown), errors.As(err, &place), errors.As(err, &rule):
		return http.StatusNotFound, err.Error()
	case errors.As(err, new(*inventory.NotDoneError)), errors.As(err, new(*inventory.UncertainError)):
		return http.StatusServiceUnavailable, err.Error() + ": send it again, it is not done twice"
	case errors.Is(err, context.Canceled):
		return http.StatusServiceUnavailable, "the page was not waited for"
	}
	sentence, passing := migrations.Explain(err)
	switch {
	case passing, unreached(err):
		return http.StatusServiceUnavailable, sentence + ", then try again; what you typed is still in the page before this one"
	case trouble(err):
		return http.StatusInternalServerError, sentence
	}
	return http.StatusConflict, sentence // the subject's own about how things stand
}

// trouble reports whether an error, however it is wrapped, is the machine's: nothing that somebody asked or typed brings it
// about, and nothing that they could ask instead would help.
func trouble(err error) bool {
	var database *pgconn.PgError
	if errors.As(err, &database) {
		return !ofWhatWasSaid(database)
	}
	for _, sentinel := range []error{pgx.ErrNoRows, pgx.ErrTooManyRows, pgx.ErrTxClosed, pgx.ErrTxCommitRollback, context.Canceled, context.DeadlineExceeded, io.EOF, io.ErrUnexpectedEOF, fs.ErrClosed} {
		if errors.Is(err, sentinel) {
			return true
		}
	}
	return unreached(err) || errors.As(err, new(pgx.ScanArgError)) || errors.As(err, new(*fs.PathError)) ||
		errors.As(err, new(net.Error)) || errors.As(err, new(runtime.Error)) || errors.As(err, new(*json.SyntaxError)) || errors.As(err, new(*json.UnmarshalTypeError))
}

// unreached reports whether the database could not be asked at all: it is not running, or does not let the program in.
func unreached(err error) bool { return errors.As(err, new(*pgconn.ConnectError)) }

// ofTheMachine reports whether somebody who looks after the machine is to read of an error in the log.
func ofTheMachine(status int, err error) bool {
	return status == http.StatusInternalServerError || unreached(err)
}

// ofWhatWasSaid reports whether the database refused what it was given: classes 22 and 23 and what triggers raise, by
// appendix A of the PostgreSQL manual.
func ofWhatWasSaid(e *pgconn.PgError) bool {
	return strings.HasPrefix(e.Code, "22") || strings.HasPrefix(e.Code, "23") || e.Code == "P0001" || e.Code == "SD001"
}

// ofTheQuestion is an error of a page's own address, which asks what there is no answer to; trouble stays as it is.
func ofTheQuestion(err error) error {
	if err == nil || trouble(err) {
		return err
	}
	return &statusError{http.StatusNotFound, err.Error()}
}

// fail answers a visit that comes to nothing with a page of one sentence.
func (v *visit) fail(err error) {
	status, sentence := v.s.explain(err)
	if ofTheMachine(status, err) {
		v.s.Log.Error("answer a page", "path", v.r.URL.Path, "error", err)
	}
	v.sorryPage(status, sentence, helpFor(err))
}

func (v *visit) refuse(status int, sentence string) { v.sorryPage(status, sentence, help{}) }

func (v *visit) sorryPage(status int, sentence string, h help) {
	layout := "book"
	if v.person.ID == 0 {
		layout = "letter"
	}
	v.page.live, v.page.on = "", ""
	v.write(status, "sorry", layout, "Sorry", refusal{sentence, h})
}

// fail answers a request that did not become a visit.
func (s *Server) fail(w http.ResponseWriter, r *http.Request, err error) {
	status, sentence := s.explain(err)
	if ofTheMachine(status, err) {
		s.Log.Error("answer a request", "path", r.URL.Path, "error", err)
	}
	s.sentence(w, r, status, sentence)
}

// sentence answers with a page of one sentence, for whoever it is.
func (s *Server) sentence(w http.ResponseWriter, r *http.Request, status int, sentence string) {
	v := &visit{s: s, w: w, r: r, ctx: r.Context(), now: s.Now()}
	v.write(status, "sorry", "letter", "Sorry", refusal{Sentence: sentence})
}
