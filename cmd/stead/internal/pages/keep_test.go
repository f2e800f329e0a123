package pages_test

import (
	"net/http"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
)

// A bin is counted by its sheet, which does not say how many there should be; what differs is told afterwards.
func TestStocktake(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	require.Contains(t, v.get("/stocktake").text, "Best counted next")
	sheet := v.get("/stocktake?bin=D2")
	form := sheet.form("take")
	require.Contains(t, form.send(v).text, "nothing is counted yet")
	field := regexp.MustCompile(`name="(count-0-\d+)"`).FindStringSubmatch(sheet.source)
	require.NotEmpty(t, field, sheet.text)
	require.Contains(t, form.send(v, field[1], "many").text, "a number of pieces is a whole number")
	require.Contains(t, form.send(v, field[1], "3").text, "are held for job 106")
	booked := form.send(v, field[1], "300", "note", "year's end")
	require.Equal(t, "/stocktake", booked.path, booked.text)
	require.Contains(t, v.get("/stocktake").text, "last counted on Wed 2 Dec")
	require.Contains(t, v.get("/excess").text, "What will not sell")
	require.Equal(t, http.StatusBadRequest, v.get("/excess?months=soon").status)
	beyond := v.get("/excess?from=90&months=12")
	require.Contains(t, beyond.text, "There is no line 90")
	require.Contains(t, beyond.source, `href="/excess?from=1&amp;months=12"`, "back to the first, reckoned as before")
	require.Equal(t, http.StatusBadRequest, v.get("/excess?from=soon").status)
	require.Equal(t, http.StatusBadRequest, v.get("/excess?from=0").status)
}

// What to keep is set by hand, as advised and not at all, of one part and of all.
func TestLevels(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	all := v.get("/levels")
	require.Contains(t, all.text, "As set: ")
	path := "/parts/" + partNumber(t, s, "TAR-CH9") + "/keep"
	by := v.get(path).form("set").send(v, "at", "2", "to", "6")
	require.Contains(t, by.text, "ordered again when 2 are left, up to 6")
	require.Contains(t, v.get(path).form("set").send(v, "at", "2").text, "this is a whole number")
	never := by.form("never").send(v)
	require.Contains(t, never.text, "not ordered again by itself")
	limited := never.form("limit").send(v, "holds", "5", "months", "24")
	require.Contains(t, limited.text, "its place holds 5; it keeps 24 months")
	require.Contains(t, limited.form("set").send(v, "at", "2", "to", "6").text, "and its place holds 5")
	require.Contains(t, limited.form("limit").send(v, "months", "9000").text, "keeps for 9000 months")
	all = v.get("/levels")
	set := all.form("as-advised")
	require.Equal(t, http.StatusConflict, set.send(v, "changes", "999").status)
	require.Contains(t, set.send(v).text, "set as advised")
	require.NotContains(t, v.get("/levels").source, `value="as-advised"`, "nothing is left to set")
}

// A tub is opened, and what is left of it said by the eye or by the scales.
func TestTubs(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	page := v.get("/tubs")
	opened := page.form("open").send(v, "part", "VEX-GR-400")
	require.Contains(t, opened.text, "is open on the bench")
	require.Contains(t, opened.form("left").send(v).text, "say what is left")
	require.Contains(t, opened.form("left").send(v, "percent", "50").text, "50 % left")
	require.Contains(t, opened.form("open").send(v, "part", "TAR-CH9", "key", "AAAAAAAAAAAAAAAAAAAAAAAAAA").text, "it is not opened but fitted")
}

// A part is added, found by its size, put right, bought by hand and offered by a supplier; a code that stands on the wrong
// one is given to it.
func TestPartsOfTheCatalogue(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	form := v.get("/parts/new?family=chainring").form("add")
	wrong := form.send(v, "name", "ring 46T violet", "d-teeth", "many", "code", "Q-46")
	require.Contains(t, wrong.text, "say whose number it is")
	added := wrong.form("add").send(v, "brand", "Quill", "d-teeth", "46", "d-bcd_mm", "110", "d-colour", "violet", "retail", "34,50")
	require.Regexp(t, `^/parts/\d+$`, added.path, added.text)
	require.Contains(t, added.text, "is in the catalogue")
	require.Contains(t, v.get("/find?family=chainring&d-teeth=46&d-colour=violet").text, "ring 46T violet")
	require.Contains(t, v.get("/find?family=chainring&d-teeth=99").text, "cannot be meant")
	require.Contains(t, v.get("/find?family=chainring&d-teeth=79&d-colour=violet").text, "None of these sizes")

	set := added.path + "/set"
	right := v.get(set).form("set").send(v, "d-colour", "silver", "why", "on the bench")
	require.Contains(t, right.text, "changed")
	require.Contains(t, right.text, "on the bench")
	stale := v.get(set).form("set").send(v, "seen", "0", "d-colour", "black")
	require.Contains(t, stale.text, "has been corrected since you looked")

	offered := v.get(set).form("offer").send(v, "supplier", "harbour", "offered", "HL-4711", "price", "19,90", "price-many", "18.00", "many", "5", "stock", "in-stock")
	require.Contains(t, offered.text, "offers it as HL-4711")
	require.Contains(t, v.get(added.path+"/prices").text, "£19.90")
	require.Contains(t, v.get(set).form("offer").send(v, "supplier", "harbour", "offered", "HL-4712").text, "say what a pack costs")
	hand := v.get(set).form("by-hand").send(v, "how", "from", "from", "harbour", "why", "they match the anodising")
	require.Contains(t, hand.text, "is bought from")
	require.Contains(t, hand.form("by-hand").send(v, "how", "planned").text, "say why")
	require.Contains(t, hand.form("by-hand").send(v, "how", "later", "until", "2026-01-04", "why", "the new list").text, "has passed")
	require.Contains(t, hand.form("by-hand").send(v, "how", "instead", "why", "grey ones rust").text, "say which part")
	chain := v.get("/parts/" + partNumber(t, s, "TAR-CH9") + "/set").form("by-hand")
	require.Contains(t, chain.send(v, "how", "instead", "instead", "MAR-CH9", "why", "grey ones rust").text, "is bought in the stead of")
	moved := v.get("/parts/"+partNumber(t, s, "COR-R110-48O-B")+"/set").form("code").send(v, "moved", "harbour:HL-4711", "why", "it is the black one")
	require.Contains(t, moved.text, "is of this part now", moved.text)
}

// partNumber is the number of a part that a code names.
func partNumber(t *testing.T, s *shop, code string) string {
	part, err := inventory.PartNamed(t.Context(), s.db, code)
	require.NoError(t, err)
	return pathOf("%d", part.ID)
}
