package pages

import (
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"strings"

	"github.com/shopspring/decimal"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/people"
	"stead/pricing"
)

// screen is what a template is given: what every page has, and the page's own struct as Page.
type screen struct {
	v       *visit
	Title   string
	Page    any
	Version string // of what is under /static/
}

func (s *screen) Shop() inventory.Shop  { return s.v.shop }
func (s *screen) Person() people.Person { return s.v.person }
func (s *screen) Owner() bool           { return s.v.owns() }
func (s *screen) Demo() bool            { return s.v.s.As != nil }
func (s *screen) Said() string          { return s.v.said }
func (s *screen) SaidAt() string        { return s.v.saidAt }
func (s *screen) Sorry() *refusal       { return s.v.sorry }
func (s *screen) Since() []string       { return s.v.since }
func (s *screen) Live() string          { return s.v.listens() }
func (s *screen) State() int            { return s.v.state }
func (s *screen) Clock() string         { return s.v.now.Format("15:04") }

// Before is the page of ours that led to this one; none where that is not known, or is this very page.
func (s *screen) Before() string {
	from, err := url.Parse(s.v.r.Referer())
	if err != nil || from.Host != s.v.r.Host && from.Scheme+"://"+from.Host != s.v.s.Public {
		return ""
	}
	path := from.RequestURI()
	if !ours(path) || s.v.r.Method == http.MethodGet && path == s.v.r.URL.RequestURI() {
		return ""
	}
	return path
}

// Here tells how a link of the heading stands to the page: "page" for its own, "true" for what the page belongs to.
func (s *screen) Here(path string) string {
	switch at := s.v.r.URL.Path; {
	case at == path:
		return "page"
	case path != "/" && strings.HasPrefix(at, path+"/"):
		return "true"
	}
	return ""
}

// Money writes an amount in the shop's currency.
func (s *screen) Money(x decimal.Decimal) string { return pricing.Amount(s.v.shop.Currency, x) }

// From is what a supplier is called, by its code.
func (s *screen) From(code string) string {
	supplier, err := inventory.SupplierByCode(s.v.ctx, s.v.db(), code)
	if err != nil {
		return code
	}
	return supplier.Name
}

// Day writes a day as it is said across the counter: "Thursday 10 December"; nothing for none.
func (s *screen) Day(day any) string {
	switch d := day.(type) {
	case calendar.Day:
		return d.Words(s.v.today())
	case *calendar.Day:
		if d != nil {
			return d.Words(s.v.today())
		}
	}
	return ""
}

// Short writes a day as it stands in a list: "Thu 10 Dec"; nothing for none.
func (s *screen) Short(day any) string {
	switch d := day.(type) {
	case calendar.Day:
		return d.Short(s.v.today())
	case *calendar.Day:
		if d != nil {
			return d.Short(s.v.today())
		}
	}
	return ""
}

// helpers are what templates may call beside the methods of what they are given.
var helpers = template.FuncMap{
	"several":  desk.Several,
	"sentence": sentence,
	"amount":   pricing.Amount,
	"kind":     desk.KindWords,
	"stock":    desk.SignalWords,
	"list2":    func(a, b any) []any { return []any{a, b} }, // what a template of two things is given
	"paper":    func(words, path string, of ...any) printed { return printed{words, fmt.Sprintf(path, of...)} },
	"mark":     func(state any, words string) placeMark { return placeMark{fmt.Sprint(state), words} },
}

// placeMark is the mark of a state with its words.
type placeMark struct{ State, Words string }
