package desk

import (
	"fmt"
	"strings"

	"stead/inventory/catalogue"
	"stead/inventory/pricelist/describe"
)

// ColumnWords is a column as it stands in a table: "C, price" of "column C, price".
func ColumnWords(name string) string { return strings.TrimPrefix(name, "column ") }

// ReadingWords is what a description was understood to say.
func ReadingWords(r describe.Reading) string {
	var out string
	switch {
	case r.Other != "":
		return "none of our parts: " + r.Other
	case r.Family == "":
		out = "no part that is known"
	case len(r.Spec) == 0:
		out = string(r.Family)
	default:
		out = string(r.Family) + ": " + r.Spec.String()
	}
	if len(r.Unread) > 0 {
		out += "; not read: " + strings.Join(r.Unread, ", ")
	}
	return out
}

// JumpWords is by how much a price moved: "+31 %".
func JumpWords(j catalogue.Jump) string {
	percent := j.Now.Sub(j.Was).Div(j.Was).Shift(2).Round(0)
	if percent.IsPositive() {
		return "+" + percent.String() + " %"
	}
	return percent.String() + " %"
}

// ListCount is one figure of what a load did or would do.
type ListCount struct {
	N     int
	Words string
}

// ListCounts are what a load did or would do: the first five always, the others where there is any.
func ListCounts(s catalogue.Summary) []ListCount {
	var out []ListCount
	for i, c := range []ListCount{
		{s.Rows, "lines read"}, {s.New, "new"}, {s.Changed, "changed price"}, {s.Same, "as before"}, {s.Gone, "gone from the list"}, {s.Back, "back in the list"}, {s.Ended, "no longer to be had, as the list says"},
		{s.Parts, "new parts in the catalogue"}, {s.Waiting, "name no kind of part that is known: they wait"}, {s.Mended, "read as another kind of part than before"}, {s.Unread, "with words that could not be read"},
		{s.Refused, "refused"}, {len(s.Jumps), "price jumps"}, {len(s.Retail), "recommended prices that can hardly be meant"},
	} {
		if c.N > 0 || i < 5 {
			out = append(out, c)
		}
	}
	return out
}

// AnsweredWords say what an answer to a word has settled.
func AnsweredWords(s catalogue.Summary) string {
	switch {
	case s.Again:
		return "that was said before, nothing changed"
	case s.Rows == 0:
		return "kept for the next list, no line has it now"
	}
	out := Several(s.Rows, "line") + " read again"
	if s.Mended > 0 {
		out += fmt.Sprintf(", %d as another kind of part", s.Mended)
	}
	if s.Waiting > 0 {
		out += fmt.Sprintf(", %d waiting", s.Waiting)
	}
	if s.New > 0 {
		out += ", " + Several(s.New, "new offer")
	}
	if s.Unread > 0 {
		out += fmt.Sprintf(", %d with other words unread", s.Unread)
	}
	return out
}

// TakenBackWords say what taking a list back has undone.
func TakenBackWords(supplier string, back catalogue.TakenBack, clock Clock) string {
	return fmt.Sprintf("the list %s of %s, of %s, is taken back: %s as before it, %s gone that came with it", back.File, supplier, clock.DayOf(back.AsOf),
		Several(back.Restored, "offer"), Several(back.Gone, "offer"))
}

// WaitWords are how many lines wait.
func WaitWords(n int) string {
	if n == 1 {
		return "1 line waits"
	}
	return fmt.Sprintf("%d lines wait", n)
}
