package pages_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"stead/inventory/people"
)

// leads presses what a selector finds, and waits for the page that it leads to.
func (b *tab) leads(selector string) {
	b.t.Helper()
	require.True(b.t, ask[bool](b, `(() => { const e = document.querySelector('`+selector+`'); e?.setAttribute('data-pressed', ''); return !!e })()`), "%s is nowhere: %s", selector, b.text())
	ask[bool](b, `window.before = true`)
	ask[bool](b, `(() => { document.querySelector('[data-pressed]').click(); return true })()`)
	b.arrive(selector)
}

// arrive waits for the page that something leads to.
func (b *tab) arrive(by string) {
	b.t.Helper()
	require.Eventually(b.t, func() bool {
		there, err := peek[bool](b, `!window.before && document.readyState === 'complete'`)
		return err == nil && there
	}, slow, 20*time.Millisecond, "%q leads nowhere", by)
}

// at is the path where the tab is.
func (b *tab) at() string { return ask[string](b, `location.pathname`) }

// noScript turns scripts off in the tab, or on.
func (b *tab) noScript(off bool) {
	ctx, cancel := contextFor(b)
	defer cancel()
	_, err := chromedp.Call(ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: off})
	require.NoError(b.t, err)
}

// A job goes from the counter to the road on a tablet: booked in, looked at, priced, agreed to, its part ordered, more found
// and agreed to as an amendment, the parcel booked in, fitted, handed back and billed. With the script and without.
func TestWholeJobAtTheBench(t *testing.T) {
	for name, off := range map[string]bool{"with script": false, "without script": true} {
		t.Run(name, func(t *testing.T) {
			s := open(t)
			b := s.tab(800)
			b.comeIn(mechanicName)
			b.noScript(off)
			b.open("/book?bike=1")
			b.fill("What is wrong, in their words", "It jumps again.")
			b.press("Book it in")
			job := b.at()
			require.Regexp(t, `^/jobs/\d+$`, job)

			b.leads(`.thumb a[href$="/inspect"]`)
			b.open(job + "/inspect?place=crank.outer-ring")
			b.tap("replace it")
			b.press("Keep that")
			b.until("chainring: replace")
			b.open(job + "/options")
			b.press("Make the quote")
			require.Equal(t, job+"/quote", b.at())
			b.answers("Ines Falkner")
			require.Equal(t, job, b.at(), b.text())
			b.until("Order its parts")

			b.open(job + "/inspect?place=rear.derailleur")
			b.tap("adjust it")
			b.press("Keep that")
			b.open(job + "/amend")
			b.press("Quote what has changed")
			b.until("adds to version")
			b.answers("Ines Falkner")
			require.Equal(t, job, b.at(), b.text())

			b.open("/orders/plan")
			b.leads(".thumb .act")
			parcels := []string{}
			b.open("/orders")
			for path := range strings.FieldsSeq(ask[string](b, `[...document.querySelectorAll('a.line[href^="/orders/"]')].map(a => a.getAttribute('href')).join(' ')`)) {
				parcels = append(parcels, path)
			}
			require.NotEmpty(t, parcels)
			for _, path := range parcels {
				b.open(path)
				b.press("The parcel is here")
				b.tap("Everything came as ordered")
				require.True(t, ask[bool](b, `(() => { const s = document.querySelector('select[name=bin]'); s.value = 'A1'; return s.value === 'A1' })()`))
				b.press("Book it in")
				b.until("booked in")
			}

			b.open(job)
			b.leads(".thumb button.act")
			b.until("onto the bike")
			b.leads(".thumb button.act")
			b.until("The bike has gone home")
			b.open(job + "/bill")
			b.tap("card")
			b.press("Write the bill")
			b.until("All of it is paid")
		})
	}
}

// answers takes the customer's yes to the newest quote at the counter; where a day has moved, to that as well.
func (b *tab) answers(by string) {
	b.t.Helper()
	ask[int](b, `(() => { const all = document.querySelectorAll('#answer input[type=radio][value=yes]'); all.forEach(r => r.checked = true); return all.length })()`)
	b.fill("Who gave their word?", by)
	b.press("That is their answer")
}

// A second tap, while the first is under way, books nothing in twice; nor does the back button and the same form again.
func TestTappedTwiceInABrowser(t *testing.T) {
	s := open(t)
	b := s.tab(390)
	b.comeIn(mechanicName)
	b.open("/book")
	b.fill("Customer’s name", "Nils Aaberg")
	b.fill("A few words to know the bike by", "old roadster")
	ask[bool](b, `window.before = true`)
	ask[bool](b, `(() => { const act = [...document.querySelectorAll('button.act')].find(e => e.innerText === 'Book it in'); act.click(); act.click(); return true })()`)
	b.arrive("Book it in")
	b.until("is booked in")
	b.do(chromedp.NavigateBack())
	b.until("Whose bike is it?")
	b.tap("Book it in") // the fields that it needs are empty again, so it stays
	require.Equal(t, "/book", b.at())
	require.Equal(t, 1, count(t, s, `SELECT count(*) FROM job j JOIN bike b ON b.id = j.bike_id WHERE b.words = 'old roadster'`))
}

// Who guesses is told to wait, and where a link leads that is cut short, forged, taken back or past its day is said.
func TestKeptOutInABrowser(t *testing.T) {
	s := open(t)
	secret := s.link()
	b := s.tab(390)
	for path, says := range map[string]string{
		"/q/" + secret[:20]:                "cut short",
		"/q/" + strings.Repeat("A", 26):    "leads nowhere",
		"/jobs/101":                        "Sign in",
		"/q/" + secret:                     "Your blue touring bike",
		"/q/" + secret + "/../../jobs/101": "Sign in",
	} {
		b.open(path)
		b.until(says)
	}
	bench := s.as(mechanicName)
	require.Equal(t, http.StatusOK, bench.get("/jobs/101/send").form("revoke").send(bench).status)
	b.open("/q/" + secret)
	b.until("We have taken this link back")
	other := s.link()
	s.pass(60 * 24 * time.Hour)
	b.open("/q/" + other)
	b.until("This quote stood until")

	b.open("/sign-in")
	for range people.MostForAccount {
		b.fill("Your name", mechanicName)
		b.fill("Password", "guessed wrong")
		b.press("Sign in")
		b.until("do not go together")
		ask[string](b, `document.querySelector('[name=name]').value = ''`)
	}
	b.fill("Your name", mechanicName)
	b.fill("Password", password)
	b.press("Sign in")
	b.until("too many wrong tries")
}

// A form that is longer than the screen is sent from where the thumb is.
func TestLongFormsAreSentFromTheThumb(t *testing.T) {
	v := open(t).as(mechanicName)
	for path, id := range map[string]string{"/orders/533/receive": "parcel", "/stocktake?bin=A1": "count", "/book": "booked", "/book?bike=1": "booked", "/jobs/106/used?part=KES-B14-G25": "take"} {
		source := v.get(path).source
		require.Contains(t, source, ` id="`+id+`"`, path)
		require.Regexp(t, `(?s)class="thumb".*<button class="act" form="`+id+`"`, source, path)
	}
	require.Regexp(t, `(?s)id="sell".*class="thumb".*<a class="act" href="#sell">`, v.get("/parts/1").source, "a tap leads to what is asked, and sells nothing yet")
}
