package pages_test

import (
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
)

// What stands on a job beside its findings is said and taken back with plain forms, and comes to its quote.
func TestTerms(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	path := "/jobs/101/terms"
	require.Contains(t, v.get(path).form("work").send(v).text, "say what is done")
	added := v.get(path).form("work").send(v, "words", "fit the child seat", "price", "12,50", "minutes", "20")
	require.Contains(t, added.text, "fit the child seat is added, 20 min")
	require.Contains(t, v.get(path).form("work").send(v, "usual", "test-ride").text, "ride")
	require.Contains(t, added.form("discount").send(v, "percent", "10", "why", "club member").text, "this has changed since you opened it")
	given := v.get(path).form("discount").send(v, "percent", "10", "why", "club member")
	require.Contains(t, given.text, "10 % off: club member: given")
	quote := v.get("/jobs/101").form("quote").send(v)
	require.Contains(t, v.get("/jobs/101/quote").text, "fit the child seat", quote.text)
	require.Contains(t, v.get("/jobs/101/quote").text, "club member")
	require.Contains(t, v.get(path).form("drop-discount").send(v).text, "the discount is taken back")
	require.Contains(t, v.get(path).form("drop-work").send(v).text, "the work is off the job")

	place := "/jobs/101/at?place=crank.outer-ring"
	left := v.get(place).form("leave-out").send(v, "why", "next spring")
	require.Contains(t, left.text, "left out, and remembered with the bike")
	require.Contains(t, left.text, "next spring")
	require.Contains(t, left.form("take-in").send(v).text, "it is done now")
	require.Contains(t, v.get(place).form("if-opened").send(v, "action", "replace").text, "say for how much at most")
	require.Contains(t, v.get(place).form("if-opened").send(v, "action", "replace", "most", "45").text, "at most £45.00")
	own := v.get(place).form("own").send(v, "words", "from my spares box", "d-teeth", "48")
	require.Contains(t, own.text, "“from my spares box”")
	require.Contains(t, own.form("drop-own").send(v).text, "the workshop finds the part after all")
}

// A person answers for a part that a rule is not sure of, with the caution read where safety hangs on it.
func TestVouch(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	path := "/jobs/104/vouch?" + url.Values{"place": {"crank.ring"}, "part": {"COR-R130-46S-G"}, "rule": {"chainring.teeth"}}.Encode()
	page := v.get(path)
	require.Contains(t, page.text, "Do you answer for it?")
	require.Contains(t, page.form("vouch").send(v, "by", "").text, "give your name")
	done := page.form("vouch").send(v, "by", "Otis Wren", "why", "he asked for a higher gear")
	require.Contains(t, done.text, "Otis Wren answers for it", done.text)
	require.Contains(t, v.get("/jobs/104/at?place=crank.ring").form("unvouch").send(v).text, "the rules are asked there as before")
}

// What was written of a job, a bike and a customer is put right, and who did it stands beside it.
func TestCorrections(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	right := v.get("/jobs/101/correct").form("correct").send(v, "wish", "It jumps under load.", "wanted", "2026-12-18", "why", "misheard")
	require.Contains(t, right.text, "It jumps under load.")
	require.Contains(t, v.get("/jobs/101/correct").text, mechanicName)

	gone := v.get("/jobs/101").form("cancel").send(v, "why", "sold the bike", "because", "price")
	require.Contains(t, gone.text, "the job is given up")
	again := v.get("/jobs/101/correct").form("reopen").send(v, "why", "he kept it")
	require.Contains(t, again.text, "the job is open again")
	require.Contains(t, v.get("/jobs/101/correct").form("unbook").send(v, "why", "twice the same bike").text, "job 101 was begun")
	twice := v.get("/book?bike=1").form("book").send(v)
	require.Contains(t, v.get(twice.path+"/correct").form("unbook").send(v, "why", "twice the same bike").text, "the booking is taken back")

	bike := v.get("/bikes/1").form("correct").send(v, "words", "blue tourer", "frame", "FT 4471 K", "why", "read again")
	require.Contains(t, bike.text, "blue tourer")
	require.Contains(t, bike.text, "FT 4471 K")
	stale := v.get("/bikes/1").form("correct").send(v, "seen", "0", "words", "something else")
	require.Contains(t, stale.text, "has been corrected since you looked, by "+mechanicName)
	customer := v.get("/customers/1").form("correct").send(v, "name", "Ines Falkner-Roe", "why", "married")
	require.Contains(t, customer.text, "Ines Falkner-Roe")
	require.Contains(t, customer.text, "married")
}

// Parts are taken for a job beyond what it holds, as far as the customer allowed it, and come back from it.
func TestPartsUsed(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	require.Contains(t, v.get("/jobs/106/used?part=zorbling").text, "No part goes by “zorbling”.")
	some := v.get("/jobs/106/used?part=ball+1/4").source
	require.Contains(t, some, "Is it one of these?")
	require.Regexp(t, `href="/jobs/106/used\?part=\d+"><span><strong>Kestle Bearings ball`, some)
	page := v.get("/jobs/106/used?part=KES-B14-G25")
	require.Contains(t, page.form("use").send(v, "pieces", "1", "place", "").text, "say where it goes")
	require.Contains(t, page.form("use").send(v, "part", "zorbling").text, "there is no part zorbling")
	require.NotContains(t, page.source, `value="chain"`, "no place where none of these goes")
	over := page.form("use").send(v, "place", "rear.hub.balls-left", "pieces", "30")
	require.Equal(t, http.StatusUnprocessableEntity, over.status, over.text)
	free := page.form("use").send(v, "place", "bench", "pieces", "2", "free", "yes")
	require.Contains(t, free.text, "used on job 106", free.text)
	require.Contains(t, free.text, "Used so far 2 of Kestle Bearings ball 1/4 in, grade 25")
	back := free.form("bring-back").send(v, "part", "KES-B14-G25", "pieces", "1", "bin", "D2")
	require.Contains(t, back.text, "back from job 106", back.text)
	require.Contains(t, back.text, "Used so far 1 of Kestle Bearings ball 1/4 in, grade 25")
}

// What is held for a job is one tap, and goes where it is held for.
func TestTakeWhatIsHeld(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	held, err := inventory.ReservationsOf(t.Context(), s.db, 106)
	require.NoError(t, err)
	require.NotEmpty(t, held)
	last := held[len(held)-1]
	path := fmt.Sprintf("/jobs/106/used?part=%d&place=%s", last.PartID, last.Place)
	require.Contains(t, v.get("/jobs/106/used").source, `href="`+strings.ReplaceAll(path, "&", "&amp;")+`"`)
	form := v.get(path).form("use")
	require.Equal(t, string(last.Place), form.values.Get("place"), "is chosen already")
	require.Contains(t, form.send(v).text, "used on job 106")
}

// What a quote asks is answered where it was measured, and it is quoted anew; of what came to nothing it is said why.
func TestAsksAndLost(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	for _, job := range []string{"101", "102", "103", "104", "105", "106"} {
		page := v.get("/jobs/" + job + "/asks")
		if !strings.Contains(page.source, `value="answer"`) {
			continue
		}
		form := page.form("answer")
		require.Contains(t, form.send(v).text, "say what you measured")
		titles := map[string]bool{}
		for _, title := range regexp.MustCompile(`<section class="reading"><h2>([^<]*)`).FindAllStringSubmatch(page.source, -1) {
			require.False(t, titles[title[1]], "%s is asked for twice", title[1])
			titles[title[1]] = true
		}
	}
	v.get("/jobs/101").form("cancel").send(v, "why", "sold the bike")
	lost := v.get("/lost")
	require.Contains(t, lost.text, "Job 101, quote 1")
	require.Contains(t, v.get("/").text, "say why")
	require.Contains(t, lost.form("say", "101 1").send(v).text, "say why")
	require.Contains(t, lost.form("say", "101 1").send(v, "because", "date").text, "job 101: kept")
}

// All that is to be measured is answered at once: what is wrong with one answer loses none of the others, and the quote is
// made anew once.
func TestSeveralAsksAtOnce(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	path := v.get("/book").form("book").send(v, "customer", "Nils Aaberg", "contact", "01632 960099", "bike", "old roadster").path
	v.get(path+"/inspect?place=rear.cassette").form("record").send(v, "d-speeds", "9", "d-teeth_min", "11", "d-teeth_max", "32")
	v.get(path+"/inspect?place=rear.cassette").form("look").send(v, "action", "replace")
	v.get(path+"/inspect?place=front.tyre").form("record").send(v, "d-width_mm", "32")
	v.get(path+"/inspect?place=front.tyre").form("look").send(v, "r-damaged", "yes")
	require.Contains(t, v.get(path).form("quote").send(v).text, "Say what you measured")

	asks := v.get(path + "/asks")
	require.Contains(t, asks.source, `<option value="hg">hg</option>`, "what has a list of words is chosen from it")
	hub, bead := "d-place:rear.hub:freehub", "d-place:front.tyre:bead_mm"
	wrong := asks.form("answer").send(v, hub, "hg", bead, "round")
	require.Equal(t, http.StatusUnprocessableEntity, wrong.status)
	require.Contains(t, wrong.text, `bead seat diameter is a whole number, not "round": write the figure in mm, such as 410`)
	require.Equal(t, "hg", wrong.form("answer").values.Get(hub))
	require.Equal(t, "round", wrong.form("answer").values.Get(bead))
	require.Contains(t, wrong.form("answer").send(v, bead, "622").text, "Quote 2 for job")
}
