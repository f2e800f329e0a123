package desk

import (
	"fmt"

	"stead/inventory/shelf"
)

// ShelfAnswerWords say what comes of an answer to a line of the week's list; plan is what orders what was taken.
func ShelfAnswerWords(w shelf.Word, plan string) string {
	switch w.Answer {
	case shelf.Take, shelf.Less:
		return fmt.Sprintf("%d taken; %s orders them", w.Pieces, plan)
	case shelf.Snooze:
		return "not asked again before " + w.Until.String()
	case shelf.Never:
		return "never ordered for the shelf"
	case shelf.AtLeast:
		return fmt.Sprintf("always at least %d on the shelf or on order", w.Pieces)
	case shelf.UseUp:
		if w.Pieces == 0 {
			return "quotes prefer it where it fits, until none is left"
		}
		return fmt.Sprintf("quotes prefer it where it fits, until %d are left", w.Pieces)
	}
	return "as advised again"
}

// NotListedError says that a part is not on the week's list.
type NotListedError struct {
	PartID int64
	Name   string
}

func (e *NotListedError) Error() string { return e.Name + " is not on the list" }

// NotFewerError says that a number is no less than what the list advises.
type NotFewerError struct {
	Line   shelf.WeekLine
	Pieces int
}

func (e *NotFewerError) Error() string {
	return fmt.Sprintf("the list advises %d of %s, and %d is not fewer", e.Line.Order, e.Line.Name, e.Pieces)
}
