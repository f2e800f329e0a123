package pages

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"maps"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"stead/inventory/calendar"
)

// typed is what somebody typed into a form, and what is wrong with it field by field. The methods that read a field note
// what is wrong and go on; [typed.wrong] tells at the end whether anything is.
type typed struct {
	act, row string // which button of which line
	key      string // the request's
	state    int    // of the subject on which the form was made
	stale    bool   // the subject was no more in that state
	values   url.Values
	errors   map[string]string
	pointed  bool // the first field that is wrong has the cursor
	today    calendar.Day
	path     string
}

// The fields that a form carries beside what is typed.
var carried = []string{"act", "row", "key", "state", "next", "kept", "progress"}

// secrets are fields that are never shown again, kept, or told apart.
var secrets = []string{"password", "pin", "again"}

// Bounds of what is typed, in characters.
const (
	mostLine = 200
	mostText = 4000
)

// read reads the form that was sent.
func (v *visit) read() error {
	parse := v.r.ParseForm
	if sendsFile(v.r) {
		parse = func() error { return v.r.ParseMultipartForm(mostList) }
	}
	if err := parse(); err != nil {
		v.drain()
		if tooLarge(err) {
			return &statusError{413, largerWords(v.r)}
		}
		return &statusError{400, "what was sent cannot be read: open the page again"}
	}
	v.typed = v.typedFrom(v.r.PostForm)
	return nil
}

// sweep takes away the files of the form that were too large for memory. The server would, but it knows only the
// request that the session was put around, not the one that was read; and a photo left on the disk has its place and
// its maker in it.
func (v *visit) sweep() {
	if v.r.MultipartForm == nil {
		return
	}
	if err := v.r.MultipartForm.RemoveAll(); err != nil {
		v.s.Log.Error("take away what was sent", "error", err)
	}
}

func (v *visit) typedFrom(values url.Values) *typed {
	t := &typed{values: values, errors: map[string]string{}, today: v.today(), path: v.r.URL.Path,
		act: values.Get("act"), row: values.Get("row"), key: values.Get("key")}
	t.state, _ = strconv.Atoi(values.Get("state")) // none is older than all
	return t
}

// what names the request: the page, the button, and a digest of all that was typed but secrets. The same key with another
// name is another request.
func (t *typed) what() string {
	sum := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(t.values)) {
		if slices.Contains(carried, name) || slices.Contains(secrets, name) {
			continue
		}
		for _, value := range t.values[name] {
			fmt.Fprintf(sum, "%d:%s=%d:%s;", len(name), name, len(value), value)
		}
	}
	return fmt.Sprintf("page %s %s%s (content %x)", t.path, t.act, " "+t.row, sum.Sum(nil)[:8])
}

// errWrong says that something typed is wrong; what it is stands beside the field.
var errWrong = errors.New("nothing was done yet: see what stands beside each field")

// wrong is an error while a field that was read is wrong.
func (t *typed) wrong() error {
	if len(t.errors) > 0 {
		return errWrong
	}
	return nil
}

// mark notes what is wrong with a field, the first thing only.
func (t *typed) mark(field, sentence string) {
	if _, already := t.errors[field]; !already {
		t.errors[field] = sentence
	}
}

// take notes what is wrong with a field, where a reader of the subject says so.
func (t *typed) take(field string, err error) {
	if err != nil {
		t.mark(field, err.Error())
	}
}

// line is a text of one line; spaces around and between its words are tidied.
func (t *typed) line(field string) string {
	return t.bounded(field, tidy(t.raw(field)), mostLine)
}

// text is a text of several lines.
func (t *typed) text(field string) string {
	return t.bounded(field, strings.TrimSpace(strings.ReplaceAll(t.raw(field), "\r\n", "\n")), mostText)
}

func (t *typed) bounded(field, value string, most int) string {
	if n := utf8.RuneCountInString(value); n > most {
		t.mark(field, fmt.Sprintf("this is %d characters long, at most %d can be kept: shorten it", n, most))
		return ""
	}
	return value
}

// needed is a line that must not be empty; otherwise says what is wanted: "say whose bike it is".
func (t *typed) needed(field, otherwise string) string {
	value := t.line(field)
	if value == "" {
		t.mark(field, otherwise)
	}
	return value
}

// raw is a field as it was sent, unless it holds what no text can.
func (t *typed) raw(field string) string {
	value := t.values.Get(field)
	if !utf8.ValidString(value) {
		t.mark(field, "this holds bytes that are no text: type it again")
		return ""
	}
	for _, r := range value {
		if unicode.IsControl(r) && r != '\n' && r != '\r' && r != '\t' || turns(r) {
			t.mark(field, fmt.Sprintf("this holds a character that cannot be seen (U+%04X): take it out", r))
			return ""
		}
	}
	return value
}

// turns reports whether a character turns the direction of what follows, so that it reads as something else. Text that
// runs from right to left needs none of them.
func turns(r rune) bool { return r >= 0x202A && r <= 0x202E || r >= 0x2066 && r <= 0x2069 }

// tidy is a line with its words a space apart.
func tidy(text string) string { return strings.Join(strings.Fields(text), " ") }

// secret is a password or a PIN, as it was typed.
func (t *typed) secret(field string) string { return t.values.Get(field) }

// day is a day; none where nothing was typed.
func (t *typed) day(field string) *calendar.Day {
	text := t.line(field)
	if text == "" {
		return nil
	}
	d, err := calendar.ParseDay(text)
	if err != nil {
		t.take(field, err)
		return nil
	}
	return &d
}

// comingDay is a day from today on; none where nothing was typed.
func (t *typed) comingDay(field string) *calendar.Day {
	d := t.day(field)
	if d != nil && *d < t.today {
		t.mark(field, d.Words(t.today)+" has passed: give a day from today on")
		return nil
	}
	return d
}

// amount is money, with a point or a comma; none where nothing was typed.
func (t *typed) amount(field string) decimal.NullDecimal {
	text := t.line(field)
	if text == "" {
		return decimal.NullDecimal{}
	}
	d, err := number(text)
	switch {
	case err != nil || d.IsNegative():
		t.mark(field, fmt.Sprintf("this is an amount such as 5.95, not %q", text))
	case d.Exponent() < -2:
		t.mark(field, fmt.Sprintf("%s has more than two places behind the point: give whole pence", text))
	case d.GreaterThanOrEqual(decimal.New(1, 10)):
		t.mark(field, text+" cannot be meant: it is beyond ten thousand million")
	default:
		return decimal.NewNullDecimal(d)
	}
	return decimal.NullDecimal{}
}

// number reads a decimal number as it is typed here and on the continent. Neither has more than one mark, and it is not
// guessed which of two is meant.
func number(text string) (decimal.Decimal, error) {
	text = strings.TrimSpace(text)
	if strings.ContainsAny(text, "eE") {
		return decimal.Decimal{}, fmt.Errorf("%q is no number", text)
	}
	return decimal.NewFromString(strings.Replace(text, ",", ".", 1))
}

// count is a whole number from 1 on; 0 with a mark beside the field where it is none.
func (t *typed) count(field string) int {
	text := t.line(field)
	n, err := strconv.Atoi(text)
	switch {
	case text == "":
		t.mark(field, "say how many")
		return 0
	case err != nil || n < 1 || n > 1_000_000:
		t.mark(field, fmt.Sprintf("this is a whole number from 1 on, not %q", text))
		return 0
	}
	return n
}

// pieces is a number of pieces, 0 too; given is false where nothing was typed, or no such number.
func (t *typed) pieces(field string) (n int, given bool) {
	text := t.line(field)
	if text == "" {
		return 0, false
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 || n > 1_000_000 {
		t.mark(field, fmt.Sprintf("a number of pieces is a whole number, not %q", text))
		return 0, false
	}
	return n, true
}

// number64 is a number that the form itself carries, such as that of a line.
func (t *typed) number64(field string) int64 {
	n, err := strconv.ParseInt(t.values.Get(field), 10, 64)
	if err != nil {
		t.mark(field, "the form is not whole: open the page again")
	}
	return n
}

// oneOf is one of a few words; empty where none was chosen.
func (t *typed) oneOf(field string, words ...string) string {
	word := t.line(field)
	if word != "" && !slices.Contains(words, word) {
		t.mark(field, "choose one of these")
		return ""
	}
	return word
}

// ticked reports whether a box is ticked.
func (t *typed) ticked(field string) bool { return t.values.Get(field) != "" }

// all are the values of boxes with one name.
func (t *typed) all(field string) []string { return t.values[field] }
