package pages_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/desk"
	"stead/pricing"
)

func TestLetter(t *testing.T) {
	s := open(t)
	secret := s.link()
	v := s.stranger()
	page := v.get("/q/" + secret)
	for _, words := range []string{
		"Your blue touring bike", "Chain jumps on the big ring", "Fine: rear sprockets, small chainring, pedal bearing",
		"Worn: the chain", "Worn: the big chainring, the larger toothed ring at the pedals", "Ready sooner", "Costs least", "As it was",
		"2 differences, in looks only", "3 differences: 1 in how it rides, 2 in looks", "polished silver aluminium", "black aluminium",
		"£95.58", "These prices stand until",
	} {
		require.Contains(t, page.text, words)
	}
	sooner := v.get("/q/" + secret + "?option=soonest")
	require.Contains(t, sooner.text, "Every gear on this ring 4 % lower; the highest gear goes 9.54 m for one turn of the pedals instead of 9.94 m.")
	require.Contains(t, sooner.text, "50 teeth")

	// What is the workshop's alone is nowhere in it.
	q, err := lastQuote(t, s, 101)
	require.NoError(t, err)
	for _, o := range q.Options {
		for _, page := range []answer{page, sooner, v.get("/q/" + secret + "?option=" + o.Name())} {
			require.NotContains(t, page.source, o.Landed.StringFixed(2), "what the parts cost the workshop")
			for _, words := range []string{"northmoor", "Northmoor", "tworivers", "Two Rivers", "harbour", "gantry", "Bright", "Solheim", "Lindqvist", "mark-up", "margin", "/jobs/", "/orders"} {
				require.NotContains(t, page.source, words)
			}
		}
	}
}

func lastQuote(t *testing.T, s *shop, job int64) (pricing.Quote, error) {
	q, _, err := pricing.LastQuote(t.Context(), s.db, job)
	return q, err
}

func TestLetterAgreed(t *testing.T) {
	s := open(t)
	secret := s.link()
	v := s.stranger()
	form := v.get("/q/" + secret + "?option=cheapest").form("yes")

	half := form.send(v, "answer-1", "accept")
	require.Equal(t, http.StatusUnprocessableEntity, half.status)
	require.Contains(t, half.text, "accept or decline this one")
	require.Contains(t, half.text, "write your name")
	require.Equal(t, "accept", half.form("yes").values.Get("answer-1"), "what was answered is kept")
	require.Regexp(t, `name="answer-2"[^>]*autofocus`, half.source, "the first that is wrong is shown")
	require.Equal(t, 1, strings.Count(half.source, " autofocus"))

	yes := half.form("yes").with("answer-2", "accept", "wish-2", "yes", "name", "Ines Falkner")
	agreed := yes.send(v)
	if strings.Contains(agreed.text, "is that good enough?") { // a day has passed since it was quoted
		yes = agreed.form("yes").with("ready-by", agreed.later(t))
		agreed = yes.send(v)
	}
	require.Equal(t, http.StatusOK, agreed.status, agreed.text)
	require.Contains(t, agreed.text, "Ines Falkner, this is what we agreed on Wednesday 2 December")
	require.Contains(t, agreed.text, "What you accepted")
	require.Contains(t, agreed.text, "£95.58")
	require.Contains(t, yes.send(v).text, "this is what we agreed", "sent twice it is agreed once")
	require.NotContains(t, agreed.text, "stand until", "what is agreed does not run out")

	require.Contains(t, v.get("/q/"+secret+"/quote").header.Get("Content-Disposition"), "agreement-101.pdf", "the paper to keep is what was agreed")

	job := s.as(mechanicName).get("/jobs/101")
	require.Contains(t, job.text, "Approved by Ines Falkner")
	require.Contains(t, job.text, "Ines Falkner, by the link agreed to the quote")
	wishes, err := pricing.OpenWishes(t.Context(), s.db, 1)
	require.NoError(t, err)
	require.Len(t, wishes, 1)
	require.Equal(t, 1, strings.Count(agreed.text, "As it was, next time: we keep that with your bike."), "of the one that they ticked")
	signed, err := desk.LoadAgreedPaper(t.Context(), s.db, 101, time.Now())
	require.NoError(t, err)
	require.Equal(t, []string{"remembered for next time: " + wishes[0].Words}, signed.WishedWords())
	s.pass(60 * 24 * time.Hour)
	require.Contains(t, v.get("/q/"+secret).text, "this is what we agreed", "the bike may wait for its parts for longer than a quote stands")
}

// later is the day to which the page asks to agree.
func (a answer) later(t *testing.T) string {
	_, rest, found := strings.Cut(a.source, `name="ready-by"`)
	require.True(t, found, a.text)
	_, rest, _ = strings.Cut(rest, `value="`)
	day, _, _ := strings.Cut(rest, `"`)
	return day
}

// A difference that is declined plans anew at once, and the customer has the new version before them.
func TestLetterDeclined(t *testing.T) {
	s := open(t)
	secret := s.link()
	v := s.stranger()
	form := v.get("/q/"+secret+"?option=cheapest").form("yes").with("answer-1", "accept", "answer-2", "decline", "name", "Ines Falkner")
	anew := form.send(v)
	require.Equal(t, http.StatusOK, anew.status, anew.text)
	require.NotContains(t, anew.path, secret, "a link is to one version")
	require.NotContains(t, anew.text, "polished silver")
	require.Contains(t, anew.text, "Your blue touring bike")
	require.Equal(t, anew.path, form.send(v).path, "sent twice it is planned anew once")
	require.Contains(t, anew.text, "you declined something, so we have looked again")
	require.Equal(t, anew.path, v.get("/q/"+secret).path, "the message that the customer has leads on to it")
	q, err := lastQuote(t, s, 101)
	require.NoError(t, err)
	require.Equal(t, 2, q.Version)
	require.Contains(t, s.as(mechanicName).get("/jobs/101").text, "Ines Falkner, by the link declined a difference")
}

// Who declines says why if they like: the reason is kept as the workshop's word would be, and the words are shown at the bench.
func TestLetterDeclinedForAReason(t *testing.T) {
	s := open(t)
	secret := s.link()
	v, bench := s.stranger(), s.as(mechanicName)
	page := v.get("/q/" + secret + "?option=cheapest")
	anew := page.form("yes").with("answer-1", "accept", "answer-2", "decline", "because", "part", "words", "silver on a black bike, no", "name", "Ines Falkner").send(v)
	require.Equal(t, http.StatusOK, anew.status, anew.text)
	says := "Ines Falkner said no to a difference in quote 1 on Wednesday 2 December, for want of the part they had: “silver on a black bike, no”"
	require.Contains(t, bench.get("/jobs/101").text, says)
	require.NotContains(t, bench.get("/lost").text, "Job 101, quote 1", "nobody is asked what the customer has said")
	require.Equal(t, http.StatusUnprocessableEntity, v.get(anew.path).form("no").send(v, "because", "mood", "name", "Ines Falkner").status)
}

// The customer may want none of it. The bench hears it, with their words, and offers something else.
func TestLetterSaysNo(t *testing.T) {
	s := open(t)
	secret := s.link()
	v, bench := s.stranger(), s.as(mechanicName)
	form := v.get("/q/" + secret).form("no")
	nameless := form.send(v, "because", "price")
	require.Equal(t, http.StatusUnprocessableEntity, nameless.status)
	require.Contains(t, nameless.text, "write your name, so that we know who said no")
	require.Equal(t, "price", nameless.form("no").values.Get("because"), "what was answered is kept")
	no := form.with("because", "", "words", "I sell the bike.", "name", "Ines Falkner")
	said := no.send(v)
	require.Contains(t, said.text, "Ines Falkner, you said no to this on Wednesday 2 December. Nothing is done to your bike")
	require.Contains(t, said.text, "You wrote: I sell the bike.")
	require.Equal(t, said.text, no.send(v).text, "sent twice it is said once")
	require.NotContains(t, said.source, `name="answer-1"`)

	require.Contains(t, bench.get("/").text, "The customer said no 101 blue touring bike")
	require.Contains(t, bench.get("/lost").text, "They said: I sell the bike.", "with words alone the bench is asked for the reason")
	job := bench.get("/jobs/101")
	require.Contains(t, job.text, "Ines Falkner, by the link said no to the quote")
	require.Contains(t, job.text, "They said no: offer something else")
	require.Equal(t, http.StatusOK, bench.get("/jobs/101/options").form("quote").send(bench).status, "another quote is made")
	require.NotContains(t, bench.get("/jobs/101").text, "They said no")
}

// An amendment goes to the customer like a quote: they are asked about what is new, and their no leaves what was agreed.
func TestLetterAmends(t *testing.T) {
	s := open(t)
	bench, v := s.as(mechanicName), s.stranger()
	bench.get("/jobs/103/inspect?place=headset").form("look").send(bench, "action", "adjust")
	job := bench.get("/jobs/103")
	require.Contains(t, job.text, "Next Quote what is new")
	require.Contains(t, bench.get("/").text, "Found since they agreed 103")
	bench.get("/jobs/103/amend").form("amend").send(bench)
	sent := bench.get("/jobs/103/send").form("link").send(bench)
	require.Contains(t, sent.text, "Send quote 2 to Marit Solheim")
	require.Contains(t, sent.source, "there is more to do on your green gravel bike than we agreed on")
	_, secret, made := strings.Cut(sent.path, "?link=")
	require.True(t, made, sent.text)

	letter := v.get("/q/" + secret)
	require.NotContains(t, letter.text, "rear wheel bearing", "what was agreed before is not told as new")
	for _, words := range []string{"There is more than we agreed on", "When All is here.", "steering bearing: to adjust", "What was agreed before, and stays£65.72", "In all£78.92", "Yes, do this too: £78.92 in all", "No, leave it as we agreed"} {
		require.Contains(t, letter.text, words)
	}
	said := letter.form("no").send(v, "because", "price", "words", "it can wait", "name", "Marit Solheim")
	require.Contains(t, said.text, "What we agreed on before stays as it is.")
	job = bench.get("/jobs/103")
	require.Contains(t, job.text, "Marit Solheim said no to quote 2 on Wednesday 2 December, for its price: “it can wait”")
	require.NotContains(t, job.text, "Quote what is new", "what was declined is advised, and not asked again")
}

func TestLetterQuestion(t *testing.T) {
	s := open(t)
	secret := s.link()
	v, bench := s.stranger(), s.as(mechanicName)
	asked := v.get("/q/"+secret).form("ask").send(v, "question", "Will it <b>rattle</b>?\nI ride cobbles.")
	require.Contains(t, asked.text, "You asked: Will it <b>rattle</b>? I ride cobbles.")
	require.Contains(t, asked.text, "We will answer here.")

	require.Contains(t, bench.get("/").text, "Customers ask Job 101")
	page := bench.get("/jobs/101/send")
	require.Contains(t, page.text, "Will it <b>rattle</b>?")
	answered := page.form("answer").send(bench, "answer", "No, it runs as quietly.")
	require.Contains(t, answered.text, mechanicName+": No, it runs as quietly.")
	require.Contains(t, v.get("/q/"+secret).text, "No, it runs as quietly.")
	require.Equal(t, http.StatusUnprocessableEntity, v.get("/q/"+secret).form("ask").send(v, "question", "  ").status)
}

// A page that says sorry leads back to where one came from, where that is one of ours.
func TestTheWayBack(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	for from, back := range map[string]string{
		s.web.URL + "/shelf?q=chain":         "/shelf?q=chain",
		s.web.URL + "/jobs/999":              "", // itself
		s.web.URL + "//elsewhere.example/":   "",
		"https://elsewhere.example/jobs/101": "",
		"":                                   "",
	} {
		r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, s.web.URL+"/jobs/999", nil)
		require.NoError(t, err)
		r.Header.Set("Referer", from)
		got, err := v.http.Do(r)
		require.NoError(t, err)
		a := v.read(got)
		require.Equal(t, http.StatusNotFound, a.status)
		require.Equal(t, back != "", strings.Contains(a.text, "Back to the page before"), from)
		require.Contains(t, a.source, `href="`+back)
	}
}

func TestLinksThatLeadNowhere(t *testing.T) {
	s := open(t)
	secret := s.link()
	v := s.stranger()
	for name, c := range map[string]struct {
		secret string
		status int
		says   string
	}{
		"whole":                    {secret, 200, "Your blue touring bike"},
		"with what was put behind": {secret + url.PathEscape(">,"), 200, "Your blue touring bike"},
		"cut short":                {secret[:20], 404, "cut short"},
		"forged":                   {strings.Repeat("A", 26), 404, "leads nowhere"},
		"a number":                 {"1", 404, "cut short"},
		"longer":                   {secret + "AAAA", 404, "leads nowhere"},
		"small letters":            {strings.ToLower(secret), 404, "his link"}, // which it ends in, a letter or a figure, is chance
	} {
		t.Run(name, func(t *testing.T) {
			v := &visitor{t, s, v.http}
			a := v.get("/q/" + c.secret)
			require.Equal(t, c.status, a.status)
			require.Contains(t, a.text, c.says)
			require.Equal(t, "no-store", a.header.Get("Cache-Control"))
		})
	}
	form := v.get("/q/"+secret).form("yes").with("answer-1", "accept", "answer-2", "accept", "name", "Ines Falkner")
	bench := s.as(mechanicName)
	bench.get("/jobs/101/send").form("revoke").send(bench)
	require.Equal(t, http.StatusGone, v.get("/q/"+secret).status)
	require.Equal(t, http.StatusGone, form.send(v).status, "nor is anything agreed by it")
	other := s.link()
	require.Equal(t, http.StatusOK, v.get("/q/"+other).status)
	s.pass(60 * 24 * time.Hour)
	require.Equal(t, http.StatusGone, v.get("/q/"+other).status)
	require.Contains(t, v.get("/q/"+other).text, "This quote stood until")
	var kept int
	require.NoError(t, s.db.QueryRow(t.Context(), `SELECT count(*) FROM (SELECT row_to_json(l)::text AS t FROM quote_link l UNION ALL SELECT row_to_json(r)::text FROM request r) all_rows WHERE t LIKE '%' || $1 || '%'`, secret).Scan(&kept))
	require.Zero(t, kept, "the database has no link")
}

// What is left out, and what a yes covers besides, is read before the yes; on the job what is left out is not called for.
func TestWhatIsLeftOutStandsBeforeTheYes(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	v.get("/jobs/101/at?place=crank.outer-ring").form("leave-out").send(v, "why", "next spring")
	v.get("/jobs/101/at?place=bottom-bracket").form("if-opened").send(v, "action", "replace", "most", "45")
	require.Regexp(t, `left for next time outer chainring: replace`, v.get("/jobs/101").text)
	v.get("/jobs/101/options").form("quote").send(v)
	_, secret, made := strings.Cut(v.get("/jobs/101/send").form("link").send(v).path, "?link=")
	require.True(t, made)
	letter := s.stranger().get("/q/" + secret).text
	for _, said := range []string{"Left for next time Replace the big chainring: next spring.", "Your yes covers this too", "at most £45.00"} {
		require.Contains(t, letter, said)
		require.Less(t, strings.Index(letter, said), strings.Index(letter, "Say yes"), said)
	}
}
