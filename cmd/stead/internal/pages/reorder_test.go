package pages_test

import (
	"net/http"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/shelf"
)

// What is too many is used up by jobs, once somebody says so, and no more where that is taken back.
func TestUseUp(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	sheet := v.get("/stocktake?bin=D2")
	counted := regexp.MustCompile(`name="(count-0-\d+)"`).FindStringSubmatch(sheet.source)
	require.NotEmpty(t, counted, sheet.text)
	sheet.form("take").send(v, counted[1], "3000")
	page := v.get("/excess")
	row := regexp.MustCompile(`name="row" value="(\d+)".*\n<input type="hidden" name="stay"`).FindStringSubmatch(page.source)
	require.NotEmpty(t, row, page.source)
	told := page.form("use-up", row[1]).send(v)
	require.Contains(t, told.text, "quotes prefer it where it fits")
	require.Contains(t, told.text, "To be used up on jobs")
	require.Contains(t, told.form("as-advised", row[1]).send(v).text, "as advised again")
	require.Equal(t, http.StatusBadRequest, page.form("use-up", row[1]).send(v, "stay", "many", "key", "AAAAAAAAAAAAAAAAAAAAAAAAAA").status)
}

// The week's list is answered part by part, and what is said is remembered.
func TestReorder(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	orders, err := inventory.Orders(t.Context(), s.db, true)
	require.NoError(t, err)
	for _, o := range orders { // what is on its way is not asked for again
		v.get(pathOf("/orders/%d", o.ID)).form("cancel", "").send(v)
	}
	policy, err := shelf.LoadPolicy(t.Context(), s.db)
	require.NoError(t, err)
	list, err := desk.LoadReorder(t.Context(), s.db, policy, desk.LinesAsked{From: 1, Most: desk.ScreenLines}, moment)
	require.NoError(t, err)
	require.NotEmpty(t, list.Blocks)
	line := list.Blocks[0].Lines[0]
	page, row := v.get("/reorder"), pathOf("%d", line.PartID)
	require.Contains(t, page.text, line.Why)
	require.Contains(t, page.text, line.RiskWords)

	require.Equal(t, http.StatusConflict, page.form("take", row).send(v, "pieces", "999").status, "the list is not as it was shown")
	require.Equal(t, http.StatusConflict, page.form("take-all").send(v, "list", "another").status)
	require.Contains(t, page.form("say", row).send(v, "answer", "less", "pieces", "999").text, "is not fewer")
	require.Contains(t, page.form("say", row).send(v, "answer", "snooze").text, "say on which day")
	require.Contains(t, page.form("say", row).send(v).text, "say what is to be done with it")

	taken := page.form("take", row).send(v)
	require.Contains(t, taken.text, line.Name+": "+pathOf("%d taken; the order plan orders them", line.Order))
	require.Contains(t, taken.text, "Not listed, for what was said")
	noted := taken.form("as-advised", row).send(v)
	require.Equal(t, http.StatusConflict, noted.form("say", row).send(v, "answer", "take", "advised", "999").status)
	noted = v.get("/reorder").form("say", row).send(v, "answer", "take", "note", "before the fair")
	require.Contains(t, noted.text, pathOf("%d taken; the order plan orders them", line.Order))
	require.Contains(t, noted.text, "before the fair")
	back := noted.form("as-advised", row).send(v)
	require.Contains(t, back.text, "as advised again")
	again := v.get("/reorder").form("take-all").send(v)
	require.Contains(t, again.text, "taken; the order plan orders them")
	require.Contains(t, v.get("/orders/plan").text, line.Name)
}
