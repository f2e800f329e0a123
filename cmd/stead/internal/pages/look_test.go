package pages_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// shots is a folder for a picture of each page, where somebody wants to look at them.
var shots = os.Getenv("STEAD_SHOTS")

// TestLooks opens every page of the table in a browser: on a small telephone, where everything is tightest, light and dark, and on a
// tablet and a desk.
// What is asked of each stands in testdata/audit.js.
func TestLooks(t *testing.T) {
	s := open(t)
	b := s.tab(360)
	audit, err := os.ReadFile("testdata/audit.js")
	require.NoError(t, err)
	signedIn, nowhere := false, false
	for _, row := range accessRows(t) {
		who := "owner"
		switch {
		case row.answers["customer"] == "200" && row.answers["stranger"] != "200":
			who = "customer"
		case row.answers["stranger"] == "200":
			who = "stranger"
		case row.answers["owner"] == "404" && !nowhere:
			nowhere = true // what leads nowhere is answered by one page
		case row.answers["owner"] != "200":
			continue
		}
		t.Run(row.example, func(t *testing.T) {
			b := &tab{t, s, b.ctx}
			if who == "owner" && !signedIn {
				b.signIn(ownerName)
				signedIn = true
			}
			b.open(s.example(row.example))
			for _, dark := range []bool{false, true} {
				b.dark(dark)
				require.Empty(t, ask[[]string](b, string(audit)), "dark: %v", dark)
			}
			requireNames(t, b)
			require.Zero(t, ask[float64](b, `new Promise(done => { let sum = 0; new PerformanceObserver(l => { for (const e of l.getEntries()) sum += e.value }).observe({ type: 'layout-shift', buffered: true }); setTimeout(() => done(sum), 50) })`), "something moves after it is shown")
			requireFocusSeen(t, b)
			if size := ask[int](b, `performance.getEntriesByType('navigation')[0].decodedBodySize`); who == "owner" {
				require.Less(t, size, 100_000, "bytes of the page")
			}
			for _, width := range []int64{768, 1280} {
				b.do(chromedp.EmulateViewport(width, 800))
				require.Empty(t, ask[[]string](b, string(audit)), "%d px wide", width)
			}
			b.do(chromedp.EmulateViewport(360, 800))
			requirePrints(t, b)
			b.photograph(row.example)
		})
	}
}

// requirePrints looks at the page as it comes out of a printer: what it says in black on white, and nothing to press.
func requirePrints(t *testing.T, b *tab) {
	ctx, cancel := contextFor(b)
	defer cancel()
	_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
	require.NoError(t, err)
	require.Empty(t, ask[string](b, `[...document.querySelectorAll('nav, button, .thumb, select')].filter(e => e.checkVisibility()).map(e => e.outerHTML.slice(0, 100)).join(' | ')`), "it prints what is to press")
	require.NotEmpty(t, strings.TrimSpace(ask[string](b, `document.querySelector('main').innerText`)), "it prints nothing")
	require.Equal(t, "rgb(255, 255, 255) rgb(0, 0, 0)", ask[string](b, `getComputedStyle(document.documentElement).backgroundColor + ' ' + getComputedStyle(document.documentElement).color`))
	_, err = chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: ""})
	require.NoError(t, err)
}

// photograph keeps a picture of the page at three widths, light and dark.
func (b *tab) photograph(example string) {
	if shots == "" {
		return
	}
	name := strings.Trim(strings.Map(func(r rune) rune {
		if strings.ContainsRune("/?=&", r) {
			return '-'
		}
		return r
	}, example), "-")
	ask[bool](b, `(() => { document.activeElement.blur(); return true })()`) // where the tabulator stopped
	for _, width := range []int64{390, 800, 1280} {
		b.do(chromedp.EmulateViewport(width, 900))
		for _, dark := range []bool{false, true} {
			b.dark(dark)
			picture, err := chromedp.Run(b.ctx, chromedp.FullScreenshot(100))
			require.NoError(b.t, err)
			file := fmt.Sprintf("%s-%d-%s.png", name, width, map[bool]string{false: "light", true: "dark"}[dark])
			require.NoError(b.t, os.WriteFile(filepath.Join(shots, file), picture, 0o600))
		}
	}
	b.do(chromedp.EmulateViewport(360, 800))
}

// requireNames reads the page as a screen reader does: every control has a name.
func requireNames(t *testing.T, b *tab) {
	ctx, cancel := context.WithTimeout(b.ctx, slow)
	defer cancel()
	tree, err := chromedp.Call(ctx, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	require.NoError(t, err)
	controls := 0
	for _, n := range tree.Nodes {
		if n.Ignored || n.Role == nil {
			continue
		}
		switch role := strings.Trim(string(n.Role.Value), `"`); role {
		case "button", "link", "textbox", "checkbox", "radio", "combobox", "searchbox", "spinbutton", "img", "image", "Date", "DisclosureTriangle":
			controls++
			name := ""
			if n.Name != nil {
				name = strings.Trim(string(n.Name.Value), `" `)
			}
			require.NotEmpty(t, name, "a %s has no name", role)
		}
	}
	require.Positive(t, controls)
}

// requireFocusSeen goes through the page by the tabulator: what has the focus shows it, and nothing traps it.
func requireFocusSeen(t *testing.T, b *tab) {
	b.do(chromedp.Evaluate[chromedp.Void](`document.activeElement.blur()`))
	seen := map[string]bool{}
	for range 6 {
		b.do(chromedp.KeyEvent("\t"))
		at := ask[string](b, `(() => { const e = document.activeElement, s = getComputedStyle(e), l = e.id && document.querySelector('label[for="' + CSS.escape(e.id) + '"]');
			if (e === document.body) return 'end ';
			const shown = parseFloat(s.outlineWidth) >= 2 && s.outlineStyle !== 'none' || (l && parseFloat(getComputedStyle(l).outlineWidth) >= 2) || !!e.closest('.places');
			return (shown ? 'shown ' : 'hidden ') + e.outerHTML.slice(0, 100) })()`)
		require.NotContains(t, at, "hidden ", "what has the focus does not show it")
		seen[at] = true
	}
	require.Greater(t, len(seen), 1, "the focus is trapped")
}
