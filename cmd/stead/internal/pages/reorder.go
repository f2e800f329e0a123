package pages

import (
	"context"
	"fmt"
	"net/http"
	"strconv"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/shelf"
)

// reorderPage is what to order for the shelf this week: a line a part, why, and what waiting risks.
type reorderPage struct {
	desk.Clock
	desk.Reorder
}

func showReorder(v *visit) (string, any, error) {
	lines, err := v.linesAsked()
	if err != nil {
		return "", nil, err
	}
	policy, err := shelf.LoadPolicy(v.ctx, v.db())
	if err != nil {
		return "", nil, err
	}
	list, err := desk.LoadReorder(v.ctx, v.db(), policy, lines, v.now)
	return "What to order for the shelf", reorderPage{desk.At(v.now), list}, err
}

// Quarter says what became of what was said a quarter ago.
func (p reorderPage) Quarter() string { return desk.QuarterWords(p.LastQuarter, p.Target, p.Today()) }

// FloorWords say what is kept lower for what is always kept.
func (p reorderPage) FloorWords() string { return desk.FloorWords(p.Floors) }

// Use is how many are expected to be used until the order after this one can be here.
func (p reorderPage) Use(l shelf.WeekLine) string { return desk.UseWords(l) }

// weekList is the whole list as it is now.
func (v *visit) weekList() (list shelf.WeekList, err error) {
	policy, err := shelf.LoadPolicy(v.ctx, v.db())
	if err != nil {
		return list, err
	}
	return desk.LoadWeekList(v.ctx, v.db(), policy, v.now)
}

// NextPath and FirstPath lead to the lines that come after these and to the first.
func (p reorderPage) NextPath() string  { return fmt.Sprintf("/reorder?from=%d", p.Next()) }
func (p reorderPage) FirstPath() string { return "/reorder" }

// All is what the button says that takes all that is listed, also what is not shown.
func (p reorderPage) All() string {
	if p.SomeWords() == "" {
		return "Take the whole list"
	}
	return fmt.Sprintf("Take the whole list, %s", desk.Several(p.Parts, "part"))
}

// Coming are how many are on their way, and by when.
func (p reorderPage) Coming(l shelf.WeekLine) string { return desk.ComingWords(l) }

// changedList says that the list is no more what was shown.
var changedList = &statusError{http.StatusConflict, "the list has changed since it was shown, and nothing was taken: look it over and take it again"}

// say keeps what is said of parts, and goes back to a page.
func (v *visit) say(back, words string, said []shelf.Word) (string, error) {
	if err := v.do(words, func(ctx context.Context, tx pgx.Tx, _ string) error {
		for i := range said {
			said[i].At = v.now
		}
		return shelf.Say(ctx, tx, said...)
	}); err != nil {
		return "", err
	}
	told := desk.Several(len(said), "part") + " taken; the order plan orders them"
	if len(said) == 1 {
		p, err := inventory.PartByID(v.ctx, v.db(), said[0].PartID)
		if err != nil {
			return "", err
		}
		told = p.Name + ": " + desk.ShelfAnswerWords(said[0], "the order plan")
	}
	return v.done(back, told, nil)
}

// listed is the list's line of the part that a form is of.
func listed(v *visit, t *typed) (shelf.WeekLine, error) {
	list, err := v.weekList()
	if err != nil {
		return shelf.WeekLine{}, err
	}
	id, _ := strconv.ParseInt(t.row, 10, 64) // none is no part's
	line, there := list.Line(id)
	if !there {
		return line, changedList
	}
	return line, nil
}

func takeAdvised(v *visit, t *typed) (string, error) {
	line, err := listed(v, t)
	if err != nil {
		return "", err
	}
	if t.number64("pieces") != int64(line.Order) {
		return "", changedList
	}
	return v.say(v.r.URL.RequestURI(), "took "+line.Name+" for the shelf", []shelf.Word{{PartID: line.PartID, Answer: shelf.Take, Pieces: line.Order}})
}

func takeAll(v *visit, t *typed) (string, error) {
	list, err := v.weekList()
	if err != nil {
		return "", err
	}
	said := desk.TakenWhole(list)
	if t.line("list") != list.Mark() {
		return "", changedList
	}
	if len(said) == 0 {
		return "", changedList
	}
	return v.say("/reorder", "took the week’s list for the shelf", said)
}

func sayOfPart(v *visit, t *typed) (string, error) {
	word := shelf.Word{Note: t.line("note"), Answer: shelf.Answer(t.oneOf("answer",
		string(shelf.Take), string(shelf.Less), string(shelf.Snooze), string(shelf.Never), string(shelf.AtLeast)))}
	switch word.Answer {
	case shelf.Less, shelf.AtLeast:
		word.Pieces = t.count("pieces")
	case shelf.Snooze:
		if word.Until = t.comingDay("until"); word.Until == nil {
			t.mark("until", "say on which day it is to be asked of again")
		} else if *word.Until == t.today {
			t.mark("until", "this is a day to come, not today")
		}
	case "":
		t.mark("answer", "say what is to be done with it")
	}
	if err := t.wrong(); err != nil {
		return "", err // before the whole shelf is weighed
	}
	line, err := listed(v, t)
	if err != nil {
		return "", err
	}
	word.PartID = line.PartID
	switch {
	case word.Answer == shelf.Take && t.line("advised") != strconv.Itoa(line.Order):
		return "", changedList
	case word.Answer == shelf.Take:
		word.Pieces = line.Order
	case word.Answer == shelf.Less && word.Pieces >= line.Order:
		t.mark("pieces", (&desk.NotFewerError{Line: line, Pieces: word.Pieces}).Error())
		return "", t.wrong()
	}
	return v.say(v.r.URL.RequestURI(), fmt.Sprintf("said of %s for the shelf: %s", line.Name, word.Answer), []shelf.Word{word})
}

// asAdvised takes back what was said of a part.
func asAdvised(v *visit, t *typed) (string, error) { return takeBackWord(v, t, v.r.URL.RequestURI()) }

// useUp lets quotes prefer what is too many of a part, and noLonger takes that back.
func useUp(v *visit, t *typed) (string, error) {
	id, err := strconv.ParseInt(t.row, 10, 64)
	stay, err2 := strconv.Atoi(t.line("stay"))
	if err != nil || err2 != nil {
		return "", &statusError{400, "the form is not whole: open the page again"}
	}
	p, err := inventory.PartByID(v.ctx, v.db(), id)
	if err != nil {
		return "", err
	}
	return v.say("/excess", "said of "+p.Name+" that jobs use it up", []shelf.Word{{PartID: id, Answer: shelf.UseUp, Pieces: stay}})
}

func noLonger(v *visit, t *typed) (string, error) { return takeBackWord(v, t, "/excess") }

func takeBackWord(v *visit, t *typed, back string) (string, error) {
	id, err := strconv.ParseInt(t.row, 10, 64)
	if err != nil {
		return "", &statusError{400, "the form is not whole: open the page again"}
	}
	p, err := inventory.PartByID(v.ctx, v.db(), id)
	if err != nil {
		return "", err
	}
	return v.say(back, "took back what was said of "+p.Name, []shelf.Word{{PartID: id, Answer: shelf.AsAdvised}})
}
