package pages_test

import (
	"context"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// One browser serves all tests of this package; each tab has cookies of its own.
var theBrowser struct {
	sync.Once
	ctx    context.Context
	cancel context.CancelFunc
	why    string // why there is none
}

func closeBrowser() {
	if theBrowser.cancel != nil {
		theBrowser.cancel()
	}
}

// slow bounds what one step in a browser may take, on the busiest machine: who is answered at once does not wait for it.
const slow = 5 * time.Minute

// unanswered is after how long a question is put anew to a page that was leaving when it was asked.
const unanswered = 2 * time.Second

// tab is a page in a browser, as wide as one says.
type tab struct {
	t    testing.TB
	shop *shop
	ctx  context.Context
}

// tab opens one. Without a browser on the machine the test is skipped; in CI it fails.
func (s *shop) tab(width int) *tab {
	theBrowser.Do(func() {
		found := ""
		// Without a window to keep it takes half the time.
		for _, name := range []string{"chromium-headless-shell", "chromium", "chromium-browser", "google-chrome"} {
			if path, err := exec.LookPath(name); err == nil {
				found = path
				break
			}
		}
		if found == "" {
			theBrowser.why = "there is no chromium on this machine: install it to try the pages in a browser"
			return
		}
		ctx, cancel := chromedp.NewExecAllocator(context.Background(), chromedp.ExecPath(found), chromedp.Headless, chromedp.NoSandbox, chromedp.NoFirstRun, chromedp.DisableGPU, chromedp.Flag("disable-dev-shm-usage", true))
		tab, cancelTab := chromedp.NewContext(ctx)
		theBrowser.ctx, theBrowser.cancel = tab, func() { cancelTab(); cancel() }
		if err := chromedp.Do(tab); err != nil {
			theBrowser.why = "chromium does not start: " + err.Error()
		}
	})
	if theBrowser.why != "" {
		if os.Getenv("STEAD_CI") != "" {
			s.t.Fatal(theBrowser.why)
		}
		s.t.Skip(theBrowser.why)
	}
	ctx, cancel := chromedp.NewContext(theBrowser.ctx, chromedp.WithNewBrowserContext())
	s.t.Cleanup(cancel)
	require.NoError(s.t, chromedp.Do(ctx)) // the tab lives as long as the context that it is opened with
	b := &tab{s.t, s, ctx}
	b.do(chromedp.EmulateViewport(int64(width), 800))
	return b
}

// do takes steps, which must come to an end.
func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, slow)
	defer cancel()
	require.NoError(b.t, chromedp.Do(ctx, steps...))
}

// ask is the value of an expression in the page.
func ask[T any](b *tab, expression string) T {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, slow)
	defer cancel()
	out, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	require.NoError(b.t, err, expression)
	return out
}

// open goes to a page.
func (b *tab) open(path string) { b.t.Helper(); b.do(chromedp.Navigate(b.shop.web.URL + path)) }

// until waits for words to stand in the page.
func (b *tab) until(words string) {
	b.t.Helper()
	said := ""
	for end := time.Now().Add(slow); !strings.Contains(said, words); time.Sleep(30 * time.Millisecond) {
		require.True(b.t, time.Now().Before(end), "the page never says %q: it says %q", words, said)
		if text, err := peek[string](b, `document.body?.innerText ?? ''`); err == nil {
			said = strings.Join(strings.Fields(text), " ")
		}
	}
}

// peek is the value of an expression in a page that may be leaving: what is asked in that moment may never be answered,
// so it is not waited for long, and whoever waits asks again.
func peek[T any](b *tab, expression string) (T, error) {
	ctx, cancel := context.WithTimeout(b.ctx, unanswered)
	defer cancel()
	return chromedp.Run(ctx, chromedp.Evaluate[T](expression))
}

// text is what the page says, or the next one where this one is leaving.
func (b *tab) text() string {
	b.t.Helper()
	for end := time.Now().Add(slow); ; time.Sleep(30 * time.Millisecond) {
		text, err := peek[string](b, `document.body?.innerText ?? ''`)
		if err == nil {
			return strings.Join(strings.Fields(text), " ")
		}
		require.True(b.t, time.Now().Before(end), "no page says anything: %v", err)
	}
}

// press taps the first button or link of these words that is seen, and waits for the page that it leads to.
func (b *tab) press(words string) {
	b.t.Helper()
	ask[bool](b, `window.before = true`)
	b.tap(words)
	b.arrive(words)
}

// tap taps without waiting.
func (b *tab) tap(words string) {
	b.t.Helper()
	quoted := strings.ReplaceAll(words, `'`, `\'`)
	tapped := ask[bool](b, `(() => {
		const it = [...document.querySelectorAll('button, a, label, summary')].find(e => (e.innerText ?? '').replace(/\s+/g, ' ').trim() === '`+quoted+`' && e.checkVisibility());
		if (it) it.click();
		return !!it;
	})()`)
	if !tapped { // else the page is leaving
		require.Fail(b.t, "it is nowhere to tap", "%q: %s", words, b.text())
	}
}

// fill types into the field of a label.
func (b *tab) fill(label, text string) {
	b.t.Helper()
	id := ask[string](b, `(() => {
		const label = [...document.querySelectorAll('label')].find(l => l.innerText.trim() === '`+strings.ReplaceAll(label, `'`, `\'`)+`' && l.checkVisibility());
		return label ? label.htmlFor : '';
	})()`)
	require.NotEmpty(b.t, id, "there is no field %q: %s", label, b.text())
	b.do(chromedp.SendKeys(chromedp.JSPath(`document.getElementById('`+id+`')`), text))
}

// signIn signs in by the page.
func (b *tab) signIn(name string) {
	b.t.Helper()
	b.open("/sign-in")
	b.fill("Your name", name)
	b.fill("Password", password)
	b.press("Sign in")
	b.until(name)
}

// dark asks for the dark palette, or for the light one.
func (b *tab) dark(on bool) {
	scheme := "light"
	if on {
		scheme = "dark"
	}
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, slow)
	defer cancel()
	_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
	require.NoError(b.t, err)
}

// contextFor bounds a step of a tab.
func contextFor(b *tab) (context.Context, context.CancelFunc) {
	return context.WithTimeout(b.ctx, slow)
}

// comeIn signs somebody in without the page that asks.
func (b *tab) comeIn(name string) {
	b.t.Helper()
	c := b.shop.server.SignedIn(b.t, name)
	ctx, cancel := contextFor(b)
	defer cancel()
	_, err := chromedp.Call(ctx, network.SetCookie, network.SetCookieParams{Name: c.Name, Value: c.Value, URL: b.shop.web.URL})
	require.NoError(b.t, err)
}
