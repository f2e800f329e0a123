package pages

import (
	"context"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"io/fs"
	"net"
	"net/http"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/catalogue"
	"stead/inventory/exchange"
	"stead/inventory/people"
	"stead/inventory/post"
	"stead/inventory/pricelist"
	"stead/inventory/reorder"
	"stead/inventory/shelf"
	"stead/pricing"
	"stead/pricing/billing"
	"stead/pricing/books"
	"stead/pricing/ordering"
	"stead/pricing/orderplan"
	"stead/pricing/personal"
	"stead/substitution"
	"stead/substitution/inspection"
	"stead/substitution/solver"
	"stead/substitution/solver/choose"
	"stead/substitution/standard"
)

// subjects are errors of the subject, with what a page that meets one is answered with.
var subjects = map[error]int{
	&inventory.UnknownError{Kind: inventory.OfSupplier, Name: "nobody"}: 404,
	&substitution.UnknownPlaceError{}:                                   404,
	&substitution.UnknownRuleError{}:                                    404,
	&inventory.NotDoneError{}:                                           503,
	&inventory.UncertainError{}:                                         503,

	&inventory.BackOrderError{}: 409, &inventory.StaleError{}: 409, &inventory.NothingToCorrectError{}: 409, &inventory.TakenError{}: 409,
	&inventory.NotEnoughError{}: 409, &inventory.NotInBinError{}: 409, &inventory.CountBelowReservedError{}: 409, &inventory.OverReceivedError{}: 409,
	&inventory.JobStateError{}: 409, &inventory.NoRateError{}: 409, &inventory.GTINError{}: 409, &inventory.ChangedError{}: 409,
	&inventory.TakenOfferError{}: 409, &inventory.NoBinError{}: 409, &people.UnnamedError{}: 409, &inventory.OlderOfferError{}: 409, &inventory.OtherRequestError{}: 409, &inventory.SpellingError{}: 409, &shelf.NoRoomError{}: 409,
	&catalogue.UnknownLineError{}: 409, &catalogue.HeldError{Summary: catalogue.Summary{Doubt: "it is empty"}}: 409, &catalogue.LaterListError{}: 409, &catalogue.OlderListError{}: 409,
	&catalogue.MergeError{}: 409, &catalogue.TakeBackError{}: 409, &people.TooManyError{}: 409, &post.StateError{}: 409, &exchange.WrongError{}: 409, &books.BegunError{}: 409, &personal.OpenError{}: 409,
	&pricelist.RefusedError{}: 409, &pricelist.OtherListError{}: 409, &reorder.SalesFileError{}: 409,
	&pricing.CautionError{Finding: substitution.Finding{Rule: substitution.Rules()[0]}}: 409, &pricing.NotAllowedError{}: 409, &pricing.SeveralCustomersError{}: 409, &pricing.UndecidedError{Open: make([]inspection.Finding, 1)}: 409,
	&pricing.LinkError{}: 409, &pricing.NoLabourError{}: 409, &pricing.NotAgreedError{}: 409, &pricing.LaterDayError{}: 409, &billing.NotDoneError{}: 409, &billing.BehindError{}: 409,
	&ordering.ChangedError{}: 409, &orderplan.InputError{Kind: orderplan.ErrPack}: 409, &orderplan.InfeasibleError{}: 409, &orderplan.UnfinishedError{}: 409, &orderplan.UnfinishedError{Cause: context.DeadlineExceeded}: 409,
	&choose.Error{}: 409, &solver.ProblemError{}: 409, &standard.ReadingError{}: 409, &standard.AmbiguousError{}: 409,
	errors.New("a sentence without a type"): 409,
}

// troubles are errors of the machine.
var troubles = map[error]int{
	&pgconn.PgError{Code: "42703", Message: "column is not there"}: 500,
	&pgconn.PgError{Code: "53300", Message: "too many clients"}:    503,
	pgx.ErrNoRows: 500, pgx.ErrTxClosed: 500, io.EOF: 500, &fs.PathError{Op: "open", Path: "x", Err: fs.ErrNotExist}: 500,
	context.Canceled: 503, context.DeadlineExceeded: 503, &net.OpError{Op: "read", Err: errors.New("reset")}: 503,
}

// An error is told for what it is however it is wrapped: the subject's sentence is the page's, the machine's trouble is
// owned to.
func TestErrorsAreToldApart(t *testing.T) {
	s := &Server{}
	for _, all := range []map[error]int{subjects, troubles} {
		for err, want := range all {
			for wraps, e := range []error{err, fmt.Errorf("load the page: %w", err), errors.Join(fmt.Errorf("a: %w", fmt.Errorf("b: %w", err)))} {
				status, sentence := s.explain(e)
				require.Equal(t, want, status, "%T wrapped %d times: %s", err, wraps, sentence)
				require.NotContains(t, sentence, "SQLSTATE")
			}
		}
	}
	for _, code := range []string{"23505", "22001", "P0001", "SD001"} {
		status, _ := s.explain(fmt.Errorf("keep it: %w", &pgconn.PgError{Code: code}))
		require.Equal(t, http.StatusConflict, status, "what was said is refused: %s", code)
	}
}

// Every type of error that the subject has is in the table, so that a new one is thought of. Of stuck jobs pages are
// asked in TestHandBack: outside of its package none can be made.
func TestEveryErrorIsThoughtOf(t *testing.T) {
	known := map[string]bool{"pricing.StuckError": true}
	for err := range subjects {
		known[strings.TrimPrefix(reflect.TypeOf(err).String(), "*")] = true
	}
	root := "../../../.."
	for _, top := range []string{"inventory", "pricing", "substitution"} {
		require.NoError(t, filepath.WalkDir(filepath.Join(root, top), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
			if err != nil {
				return err
			}
			for _, decl := range file.Decls {
				f, is := decl.(*ast.FuncDecl)
				if !is || f.Recv == nil || f.Name.Name != "Error" {
					continue
				}
				receiver := f.Recv.List[0].Type
				if star, pointed := receiver.(*ast.StarExpr); pointed {
					receiver = star.X
				}
				name := file.Name.Name + "." + receiver.(*ast.Ident).Name
				require.True(t, known[name], "%s is no error of the table in this file: say what a page answers with that meets it", name)
			}
			return nil
		}))
	}
}
