package pages_test

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"stead/inventory"
	"stead/pricing"
)

func TestBookIn(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	form := v.get("/book").form("book")

	empty := form.send(v, "wish", "It squeaks.", "wanted", "2026-11-30", "most", "1,234.50")
	require.Equal(t, http.StatusUnprocessableEntity, empty.status)
	for _, sentence := range []string{"say whose bike it is", "give a few words to know the bike by", "Monday 30 November has passed", `this is an amount such as 5.95, not "1,234.50"`} {
		require.Contains(t, empty.text, sentence)
	}
	require.Equal(t, "It squeaks.", empty.form("book").values.Get("wish"), "what was typed is kept")

	in := empty.form("book").send(v, "customer", "  Nils   Aaberg ", "contact", "07700 900123", "bike", "old roadster", "wanted", "2026-12-09", "most", "80,50", "same-finish", "yes")
	require.Regexp(t, `^/jobs/\d+$`, in.path)
	for _, words := range []string{"old roadster", "Nils Aaberg, 07700 900123", "It squeaks.", "Wednesday 9 December", "is booked in", "Say what was found"} {
		require.Contains(t, in.text, words)
	}
	require.Contains(t, in.text, mechanicName+" booked the bike in", "the history")

	found := v.get("/book?q=" + url.QueryEscape("900 123 077009001"))
	require.Contains(t, found.text, "Nobody of these words")
	found = v.get("/book?q=" + url.QueryEscape("(07700) 900-123"))
	require.Contains(t, found.text, "Nils Aaberg, old roadster")
	again := v.get("/book?bike=7").form("book").send(v, "wish", "Still squeaks.")
	require.Contains(t, again.text, "Still squeaks.")
	other := v.get("/book?customer=7").form("book").send(v, "bike", "folder")
	require.Contains(t, other.text, "folder")
	require.Contains(t, v.get("/customers/7").text, "old roadster")
	require.Contains(t, v.get("/customers/7").text, "folder")
}

// A double tap, a retry and the back button change nothing twice.
func TestSentTwice(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	form := v.get("/book").form("book").with("customer", "Nils Aaberg", "bike", "old roadster")
	first, second := form.send(v), form.send(v)
	require.Equal(t, first.path, second.path)
	jobs, err := pricing.CountJobs(t.Context(), s.db)
	require.NoError(t, err)
	require.Equal(t, 7, jobs)

	back := form.send(v, "bike", "new roadster")
	require.Equal(t, http.StatusConflict, back.status)
	require.Contains(t, back.text, "this form was sent before")
	require.Equal(t, "new roadster", back.form("book").values.Get("bike"))
	require.NotEqual(t, form.values.Get("key"), back.form("book").values.Get("key"))
	require.Regexp(t, `^/jobs/\d+$`, back.form("book").send(v).path)
}

// A form made before somebody else's change is answered with that change, and keeps what was typed.
func TestStaleForm(t *testing.T) {
	s := open(t)
	v, other := s.as(mechanicName), s.as(ownerName)
	mine := v.get("/jobs/104").form("cancel")
	theirs := other.get("/jobs/104")
	theirs.form("cancel").send(other, "why", "sold the bike")

	stale := mine.send(v, "why", "nobody came")
	require.Equal(t, http.StatusConflict, stale.status)
	require.Contains(t, stale.text, "this has changed since you opened it")
	require.Contains(t, stale.text, "09:30 "+ownerName+" gave the job up: sold the bike")

	mine = v.get("/jobs/103").form("cancel")
	_, _, err := inventory.Once(t.Context(), s.db, inventory.NewKey(), "job use 103", func(ctx context.Context, tx pgx.Tx) (bool, error) {
		_, err := tx.Exec(ctx, `UPDATE job SET wish = wish WHERE id = 103`)
		return true, err
	})
	require.NoError(t, err)
	stale = mine.send(v, "why", "nobody came")
	require.Contains(t, stale.text, "at the terminal: job use 103")
	require.Equal(t, "nobody came", stale.form("cancel").values.Get("why"), "what was typed is kept")
	require.Contains(t, stale.form("cancel").send(v).text, "the job is given up", "and is done when it is sent once more")
}

// A job that is ready goes home with two taps.
func TestHandBack(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	require.Contains(t, v.get("/jobs/106").text, "Fit what is held")
	fitted := v.get("/jobs/106").form("use").send(v)
	require.Contains(t, fitted.text, "onto the bike")
	home := fitted.form("close").send(v)
	require.Contains(t, home.text, "the bike has gone home")
	require.Contains(t, home.text, "closed")
	require.Contains(t, home.text, mechanicName+" handed the bike back")
	require.Contains(t, home.text, "Next Write the bill")
	require.Contains(t, v.get("/jobs/106/bill").form("bill").send(v, "how", "").text, "is written")
	require.Contains(t, v.get("/jobs/106").text, "Next Take the money that is due")
	require.Contains(t, v.get("/jobs/106/bill").form("pay").send(v, "how", "card").text, "all of it is paid")
	require.NotContains(t, v.get("/jobs/106").text, "Next")

	open := v.get("/jobs/103")
	stuck := open.form("close", "early").send(v)
	require.Equal(t, http.StatusUnprocessableEntity, stuck.status)
	require.Contains(t, stuck.text, "job 103 is not done")
}

// The day of a parcel that is later than any before it is said to be a guess, on the job and among what is late.
func TestAGuessIsSaidToBeOne(t *testing.T) {
	s := open(t)
	const guess = ", a guess (nothing like it has been this late and come in the last year: ask its supplier)"
	require.NotContains(t, s.as(mechanicName).get("/jobs/102").text, guess)
	s.pass(21 * 24 * time.Hour)
	v := s.as(mechanicName)
	require.Contains(t, v.get("/jobs/102").text, guess)
	require.Contains(t, v.get("/").text, guess)
}

// A part whose supplier cannot say when is not told as coming by the day that was promised.
func TestBackOrderedPartHasNoDay(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	var order, line int64
	require.NoError(t, s.db.QueryRow(t.Context(), `SELECT l.order_id, l.id FROM claim c JOIN order_line l ON l.id = c.order_line_id WHERE c.job_id = 102 AND c.state = 'ordered'`).Scan(&order, &line))
	require.NotContains(t, v.get("/jobs/102").text, "no day can be given")
	said := v.get(fmt.Sprintf("/orders/%d", order)).form("answer", fmt.Sprint(line)).send(v, "back-ordered", "yes")
	require.Contains(t, said.text, "1 to come, nobody can say when")
	require.Contains(t, v.get("/jobs/102").text, "waiting for a part no day can be given")
	o, err := inventory.OrderByID(t.Context(), s.db, order)
	require.NoError(t, err)
	for _, l := range o.Lines {
		v.get(fmt.Sprintf("/orders/%d", order)).form("answer", fmt.Sprint(l.ID)).send(v, "back-ordered", "yes")
	}
	require.Regexp(t, fmt.Sprintf(`Order %d, [^,]* to comeno day can be given`, order), v.get("/").text)
	require.Contains(t, v.get("/orders").text, "placed no day can be given")

	for _, l := range o.Lines {
		v.get(fmt.Sprintf("/orders/%d", order)).form("answer", fmt.Sprint(l.ID)).send(v, "day", "2026-12-22")
	}
	require.Regexp(t, fmt.Sprintf(`Order %d, [^,]* to comehere by then, they say`, order), v.get("/").text, "of their own day nothing is known to come 9 times in 10")
}

// What was just done is told by the page that follows, even where the one before has asked for its own new state meanwhile.
func TestTheWordOfWhatWasDoneIsNotTakenByTheOldPage(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	form := v.get("/jobs/101/inspect?place=rear.derailleur").form("look")
	v.http.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	kept := form.send(v, "action", "adjust")
	require.Equal(t, http.StatusSeeOther, kept.status, kept.text)

	r, err := http.NewRequest(http.MethodGet, s.web.URL+"/jobs/101", nil)
	require.NoError(t, err)
	r.Header.Set("Stead-Renews", "yes")
	old, err := v.http.Do(r)
	require.NoError(t, err)
	require.NotContains(t, v.read(old).source, `class="word done"`)
	require.Contains(t, v.get(kept.header.Get("Location")).source, `class="word done"`)
}

// A bike that should have gone home before today is not told as promised today, and where nothing does the job yet what
// is to be measured is one tap away.
func TestTodayAndWhatIsAsked(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	today := v.get("/").text
	require.Contains(t, today, "Promised before today 105 city bike", "it was promised for Saturday 28 November")
	require.NotContains(t, today, "Promised today")
	require.Regexp(t, `3 lines to come, the first by Fri 4 Dec`, today)
	require.Contains(t, v.get("/orders").text, "the first by Fri 4 Dec, the last by Wed 30 Dec")
	require.Contains(t, v.get("/jobs/102").text, "See what is on its way")

	v.get("/jobs/101/note").form("say").send(v, "said", "front tyre down to the canvas").form("keep").send(v, "finding", "0")
	require.Contains(t, v.get("/jobs/101/options").text, "What fits as front tyre cannot be told yet", "why, before any quote is made of it")
	require.Contains(t, v.get("/jobs/101/options").text, "Might fit, once it is measured")
	options := v.get("/jobs/101/options").form("quote").send(v)
	require.Equal(t, "/jobs/101/options", options.path, "there is nothing to send")
	require.Contains(t, options.text, "What fits as front tyre cannot be told yet")
	require.Contains(t, options.source, `href="/jobs/101/asks"`)
}

// What an option comes to can be added up on the page: its own lines, and those that every one has.
func TestOptionsAddUp(t *testing.T) {
	page := open(t).as(mechanicName).get("/jobs/101/options")
	every, offers := decimal.Zero, 0
	each(page.doc, func(n *html.Node) {
		if attribute(n, "class") == "every" {
			every = every.Add(sumOf(t, n, "dd"))
		}
	})
	require.True(t, every.IsPositive(), "the work")
	each(page.doc, func(n *html.Node) {
		if n.Data == "article" {
			offers++
			require.Equal(t, sumOf(t, n, "p").String(), every.Add(sumOf(t, n, "dd")).String(), textOf(n))
		}
	})
	require.Equal(t, 3, offers)
}

// sumOf adds up the amounts that elements say, of which they are all that is said.
func sumOf(t *testing.T, within *html.Node, element string) decimal.Decimal {
	sum := decimal.Zero
	each(within, func(n *html.Node) {
		if amount, is := strings.CutPrefix(strings.TrimSpace(textOf(n)), "£"); n.Data == element && is {
			d, err := decimal.NewFromString(amount)
			require.NoError(t, err)
			sum = sum.Add(d)
		}
	})
	return sum
}
