package pages_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// Two tablets and a customer look at one job: each sees within a second what another does, and what somebody is typing is
// not taken from under their hands.
func TestSeveralAtOnce(t *testing.T) {
	s := open(t)
	one, two, customer := s.tab(800), s.tab(800), s.tab(390)
	one.signIn(ownerName)
	two.signIn(mechanicName)
	secret := s.link()
	one.open("/jobs/101")
	two.open("/jobs/101/send")
	customer.open("/q/" + secret)
	for _, b := range []*tab{one, two, customer} { // each listens
		require.Equal(t, "yes", ask[string](b, `new Promise(done => { const look = () => performance.getEntriesByType('resource').some(r => r.name.includes('/live')) || document.body.dataset.live ? setTimeout(() => done('yes'), 300) : setTimeout(look, 20); look(); })`))
	}

	customer.fill("Ask us", "Will it rattle?")
	customer.press("Send the question")
	two.until("Will it rattle?") // by itself: nothing here looks again unless it is told

	two.fill("Your answer", "Not at all.")
	one.open("/jobs/101")
	one.tap("Give the job up")
	one.fill("Why?", "half typed")
	two.press("Answer")
	customer.until("Not at all.")
	one.until("This has changed since you opened it.")
	require.Equal(t, "half typed", ask[string](one, `document.querySelector('[name=why]').value`))

	// What was made on the older state is answered with what happened, and kept.
	require.True(t, ask[bool](one, `(() => { const f = document.querySelector('[name=why]').form; f.requestSubmit(); return true })()`))
	one.until(mechanicName + " answered a question")
	require.Equal(t, "half typed", ask[string](one, `document.querySelector('[name=why]').value`))
}

// The word of what was just done stays when news of the same page comes; here the word is put where the server puts it.
func TestTheWordOfWhatWasDoneOutlivesNews(t *testing.T) {
	s := open(t)
	b := s.tab(800)
	b.comeIn(mechanicName)
	b.open("/jobs/101/send")
	ask[bool](b, `(() => { const p = document.createElement('p'); p.className = 'word done'; p.textContent = 'it is done'; document.getElementById('main').prepend(p); return true })()`)
	customer := s.stranger()
	require.Equal(t, http.StatusOK, customer.get("/q/"+s.link()).form("ask").send(customer, "question", "Will it rattle?").status)
	b.until("Will it rattle?")
	require.Contains(t, b.text(), "It is done")
}

// What was refused stands open with what was typed into it, on the bench and without a script; news take nothing of it, and
// send nothing again.
func TestWhatWasRefusedIsKept(t *testing.T) {
	s := open(t)
	b, customer := s.tab(390), s.stranger()
	secret := s.link()
	b.comeIn(mechanicName)
	b.open("/jobs/101")
	b.tap("Give the job up")
	b.fill("Why?", strings.Repeat("no ", 70))
	require.True(t, ask[bool](b, `(() => { document.querySelector('[name=why]').form.requestSubmit(); return true })()`))
	b.until("at most 200 can be kept")
	shown := `(() => { const f = document.querySelector('[name=why]'); return f.checkVisibility() ? f.value.length : -1 })()`
	require.Equal(t, 210, ask[int](b, shown))
	require.Equal(t, http.StatusOK, customer.get("/q/"+secret).form("ask").send(customer, "question", "Will it rattle?").status)
	b.until("This has changed since you opened it.")
	require.Equal(t, 210, ask[int](b, shown))

	// The customer's page goes on to a newer quote while it shows what was wrong with an answer to the older one.
	letter := s.tab(390)
	letter.open("/q/" + secret + "?option=soonest")
	letter.press("Send my answers")
	letter.until("Write your name: it is your word")
	ask[bool](letter, `(dirty = false, true)`)
	yes := customer.get("/q/" + secret + "?option=soonest").form("yes")
	require.NotContains(t, yes.send(customer, "name", "Ines Falkner", "answer-1", "decline", "answer-2", "accept", "answer-3", "accept").path, secret)
	letter.until("so we have looked again")
	require.NotContains(t, letter.text(), "what stands beside each field")
}

// A line that is cut and comes back takes nothing from who is typing, and is not told as a change; what then changes is.
func TestTheLineComesBack(t *testing.T) {
	s := open(t)
	b, customer := s.tab(390), s.stranger()
	secret := s.link()
	b.open("/q/" + secret)
	b.fill("Your name", "Ines")
	ask[bool](b, `dispatchEvent(new Event('offline'))`)
	b.until("There is no line to the workshop.")
	ask[bool](b, `dispatchEvent(new Event('online'))`)
	require.Empty(t, ask[string](b, `new Promise(done => { const news = document.getElementById('news'), look = () => news.innerText.includes('no line') ? setTimeout(look, 20) : done(news.innerText); look(); })`))
	require.Equal(t, http.StatusOK, customer.get("/q/"+secret).form("ask").send(customer, "question", "Will it rattle?").status)
	b.until("This has changed since you opened it.")
	require.Equal(t, "Ines", ask[string](b, `document.querySelector('[name=name]').value`))
}

// Where the line was cut it is tried before a form is sent: what was typed does not go down with it.
func TestNothingIsSentWithoutALine(t *testing.T) {
	s := open(t)
	b := s.tab(390)
	b.comeIn(mechanicName)
	b.open("/jobs/101")
	b.tap("Give the job up")
	b.fill("Why?", "sold the bike")
	ask[bool](b, `(window.there = window.fetch, window.fetch = () => Promise.reject(new TypeError('no line')), dispatchEvent(new Event('offline')))`)
	send := `(() => { document.querySelector('[name=why]').form.requestSubmit(); return true })()`
	ask[bool](b, send)
	b.until("What you typed stays here")
	require.Equal(t, "sold the bike", ask[string](b, `document.querySelector('[name=why]').value`))
	require.Zero(t, count(t, s, `SELECT count(*) FROM job WHERE id = 101 AND state = 'cancelled'`))
	ask[bool](b, `(window.fetch = window.there, true)`)
	ask[bool](b, send)
	b.until("cancelled")
}

// The customer answers on a telephone: a declined finish is planned anew, the new version agreed to, with the wish for
// next time; the back button and a second tap agree to nothing twice.
func TestApprovalOnATelephone(t *testing.T) {
	s := open(t)
	b := s.tab(390)
	b.open("/q/" + s.link())
	b.press("Ready sooner £107.18 Parts here by Wednesday 2 December 3 differences: 1 in how it rides, 2 in looks Look at this one")
	require.Contains(t, b.text(), "50 teeth")
	choose := func(i int, answer string) {
		require.True(t, ask[bool](b, `(() => { const r = [...document.querySelectorAll('.diff')][`+string(rune('0'+i))+`].querySelector('input[value=`+answer+`]'); r.click(); return r.checked })()`))
	}
	choose(0, "decline")
	choose(1, "accept")
	choose(2, "accept")
	b.fill("Your name", "Ines Falkner")
	b.press("Send my answers")
	b.until("Your blue touring bike")
	require.NotContains(t, b.text(), "48 teeth", "planned anew without what was declined")

	n := ask[int](b, `document.querySelectorAll('.diff').length`)
	require.Positive(t, n)
	for i := range n {
		choose(i, "accept")
	}
	require.True(t, ask[bool](b, `(() => { const w = [...document.querySelectorAll('.diff')].at(-1).querySelector('input[type=checkbox]'); w.click(); return w.checked })()`))
	b.fill("Your name", "Ines Falkner")
	b.press("Send my answers")
	if strings.Contains(b.text(), "is that good enough?") {
		require.True(t, ask[bool](b, `(() => { const r = document.querySelector('input[name=ready-by]'); r.click(); return r.checked })()`))
		b.press("Send my answers")
	}
	b.until("this is what we agreed")
	b.do(chromedp.NavigateBack())
	b.until("Your blue touring bike")
	var agreed, wishes int
	require.NoError(t, s.db.QueryRow(t.Context(), `SELECT (SELECT count(*) FROM approval a JOIN quote q ON q.id = a.quote_id WHERE q.job_id = 101), (SELECT count(*) FROM wish WHERE bike_id = 1)`).Scan(&agreed, &wishes))
	require.Equal(t, 1, agreed)
	require.Equal(t, 1, wishes)
}

// The whole job without any script: booked in, looked at, priced, sent, agreed to, fitted and handed back. It takes twelve
// pages at the bench.
func TestWholeJobWithoutScript(t *testing.T) {
	s := open(t)
	bench, customer := s.as(mechanicName), s.stranger()
	job := bench.get("/book").form("book").send(bench, "customer", "Nils Aaberg", "contact", "01632 960099", "bike", "old roadster", "wish", "It will not change gear.")
	require.Contains(t, job.text, "Say what was found")
	path := job.path

	found := bench.get(path+"/inspect?place=rear.derailleur").form("look").send(bench, "r-shifting", "slow")
	require.Contains(t, found.text, "rear derailleur: adjust")
	options := bench.get(path).form("quote").send(bench)
	require.Equal(t, path+"/quote", options.path, "what is next stands on the quote")
	sent := bench.get(path + "/send").form("link").send(bench)
	_, secret, made := strings.Cut(sent.path, "?link=")
	require.True(t, made, sent.text)
	require.Contains(t, sent.source, `href="sms:01632960099?body=Hello%20Nils%20Aaberg`)

	letter := customer.get("/q/" + secret)
	require.Contains(t, letter.text, "Needs a hand, no parts: rear gear changer: to adjust")
	require.Contains(t, letter.text, "Nothing would be different")
	agreed := letter.form("yes").send(customer, "name", "Nils Aaberg")
	require.Contains(t, agreed.text, "this is what we agreed")

	job = bench.get(path)
	require.Contains(t, job.text, "Hand the bike back")
	home := job.form("close").send(bench)
	require.Contains(t, home.text, "the bike has gone home")
	for _, happened := range []string{"booked the bike in", "looked at the rear derailleur", "made a quote", "sent the quote to the customer", "Nils Aaberg, by the link agreed to the quote", "handed the bike back"} {
		require.Contains(t, home.text, happened)
	}
}
