package pages_test

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"stead/inventory"
)

func scanPath(code string) string { return "/scan?code=" + url.QueryEscape(code) }

// A code leads to what bears it without any script, from the page for it and from the search of the shelf.
func TestScan(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	for code, leads := range map[string]string{
		"part 1": "/parts/1", "PART 1": "/parts/1", "bin a1": "/shelf?bin=A1", "bike 1": "/bikes/1", "job 101": "/jobs/101",
		"2000000000374": "/parts/1", "02000000000374": "/parts/1", "]C10102000000000374": "/parts/1", "TAR-CH8": "/parts/1",
	} {
		require.Equal(t, leads, v.get(scanPath(code)).path, code)
		require.Equal(t, leads, v.get("/shelf?go=yes&q="+url.QueryEscape(code)).path, code)
	}
	require.Contains(t, v.get("/shelf").source, `name="go" value="yes"`, "what Enter sends")
	require.Contains(t, v.get("/shelf?q=TAR-CH8").path, "/shelf", "while one types nothing is left")
	box := v.get(scanPath("12000000000371"))
	require.Contains(t, box.text, "on a box of several")
	require.Contains(t, box.source, `href="/parts/1"`)
	require.Contains(t, v.get(scanPath("2000000000375")).text, "it would end in 4: a digit may be misread")
	require.Equal(t, http.StatusNotFound, v.get(scanPath(strings.Repeat("x", 300))).status)
}

// A code that nothing bears is given to a part, found by words, and taken away again.
func TestGiveCode(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	unknown := v.get(scanPath("drawer 7/B"))
	require.Contains(t, unknown.text, "No part bears the code drawer 7/B")
	asked := v.get(scanPath("drawer 7/B") + "&q=chain+8")
	given := asked.form("give", "1").send(v)
	require.Equal(t, "/parts/1", given.path, given.text)
	require.Contains(t, given.text, "the code drawer 7/B is of this part")
	require.Equal(t, "/parts/1", v.get(scanPath("Drawer 7/B")).path)
	refused := asked.form("give", "1").send(v, "key", "AAAAAAAAAAAAAAAAAAAAAAAAAA")
	require.Contains(t, refused.text, "there is nothing to correct")
	gone := given.form("take-code").send(v)
	require.Contains(t, gone.text, "the code is taken away")
	require.Equal(t, 2, count(t, s, `SELECT count(*) FROM correction WHERE of = 'part' AND number = 1 AND by_whom = '`+mechanicName+`'`))
	require.NotContains(t, v.get(scanPath("part 9999")).text, "Of which part is it?", "a label of ours is given to nothing")
}

// types sends keys to what has the focus, so many milliseconds apart by the events' own clock, then Enter; before the key of
// each number in lags there is a fifth of a second. It gives whether the browser would have done what Enter does.
func (b *tab) types(code string, apart int, lags ...int) bool {
	b.t.Helper()
	return ask[bool](b, fmt.Sprintf(`(() => {
		window.clock = (window.clock ?? performance.now()) + 1000;
		const lags = %v;
		let at = 0;
		const key = k => {
			if (lags.includes(at++)) window.clock += 200;
			const e = new KeyboardEvent('keydown', { key: k, bubbles: true, cancelable: true });
			Object.defineProperty(e, 'timeStamp', { value: window.clock += %d });
			return document.activeElement.dispatchEvent(e);
		};
		for (const k of %q) {
			const at = document.activeElement;
			if (key(k) && at.matches('input, textarea')) { at.value += k; at.dispatchEvent(new Event('input', { bubbles: true })); }
		}
		return key('Enter');
	})()`, strings.ReplaceAll(fmt.Sprint(lags), " ", ","), apart, code))
}

func TestScannerAnywhere(t *testing.T) {
	s := open(t)
	b := s.tab(800)
	b.signIn(mechanicName)
	b.open("/orders")
	b.types("part 1", 5)
	b.until("Sell it over the counter")

	// Into a field of a form that something was typed into: the field is as before, the page stays, and a link leads on.
	b.open("/book?bike=1")
	b.fill("What is wrong, in their words", "it ")
	b.types("job 101", 5)
	b.until("“job 101” was scanned")
	require.Equal(t, "it ", ask[string](b, `document.activeElement.value`))
	// What nothing bears stays where it was typed.
	require.False(t, b.types("drawer", 5), "and sends no form")
	require.Equal(t, "it drawer", ask[string](b, `document.activeElement.value`))

	// A hand is slower, and Enter does what it does.
	require.True(t, b.types("part 1", 120))
	require.Equal(t, "it drawerpart 1", ask[string](b, `document.activeElement.value`))

	// Where nothing can be typed a scanner may be as slow as one by radio, and one key of a quick one may lag in a field.
	ask[bool](b, `!!document.activeElement.blur() || true`)
	ask[bool](b, `(dirty = false, true)`)
	require.False(t, b.types("part 1", 300))
	b.until("Sell it over the counter")
	b.open("/book?bike=1")
	b.fill("What is wrong, in their words", "it ")
	require.False(t, b.types("part 1", 30, 4))
	b.until("“part 1” was scanned")
	require.Equal(t, "it ", ask[string](b, `document.activeElement.value`))

	// In a field for a code Enter leads a hand on to the next field, so that no form goes half filled in; the last one to the button that sends it.
	b.open("/parts/new?family=chainring")
	b.fill("Bar code", "2")
	require.False(t, b.types("9110", 120))
	require.Equal(t, "retail", ask[string](b, `document.activeElement.name`))
	b.open("/tubs")
	b.fill("Which tub?", "n")
	require.False(t, b.types("one of ours", 120))
	require.Equal(t, "Open it", ask[string](b, `document.activeElement.textContent`))
	require.Equal(t, "none of ours", ask[string](b, `document.querySelector('form [data-code]').value`), "nothing is sent yet")
}

// A parcel is unpacked with the scanner alone: each scan of a part counts what its supplier sells as one, the bin that is
// scanned after it is where it goes, one that is scanned first is for all that has no place, and what is not in the order is
// told without leaving it.
func TestScannerAtTheParcel(t *testing.T) {
	s := open(t)
	b := s.tab(390)
	b.comeIn(mechanicName)
	b.open("/orders/533/receive")
	b.types("TAR-CH9", 5)
	b.until("Tarnhow chain 9-speed, 116 links, grey is not on this list.")
	b.types("a box of ours", 5)
	b.until("Nothing bears the code “a box of ours”.")
	b.types("bin C2", 5)
	require.Equal(t, "C2", ask[string](b, `new Promise(done => { const bin = document.querySelector('[name=bin]'), look = () => bin.value ? done(bin.value) : setTimeout(look, 20); look() })`))
	for n := range 3 {
		b.types("KES-6902-2RS", 5)
		b.until(fmt.Sprintf("Kestle Bearings bearing 6902 2RS 15x28x7: %d of 6 scanned.", n+1))
	}
	// A whole pack is told, and one tap takes it back.
	ask[bool](b, `document.querySelectorAll('[data-counts]').forEach(e => e.dataset.counts = 2) || true`)
	b.types("KES-6902-2RS", 5)
	b.until("Kestle Bearings bearing 6902 2RS 15x28x7: 5 of 6 scanned, a pack of 2 counted.")
	b.tap("Take it back")
	b.until("Kestle Bearings bearing 6902 2RS 15x28x7: 3 of 6 scanned.")
	ask[bool](b, `document.querySelectorAll('[data-counts]').forEach(e => e.dataset.counts = 1) || true`)
	b.types("KES-6000-2RS", 5)
	b.until("Kestle Bearings bearing 6000 2RS 10x26x8: 1 of 6 scanned.")
	b.types("bin E1", 5)
	b.until("Kestle Bearings bearing 6000 2RS 10x26x8 goes into E1.")
	require.Equal(t, "/orders/533/receive", ask[string](b, `location.pathname`))
	b.press("Book it in")
	b.until("Delivery of order 533 booked in")
	part := func(code string) int64 {
		p, err := inventory.PartNamed(t.Context(), s.db, code)
		require.NoError(t, err)
		return p.ID
	}
	for code, came := range map[string]string{"KES-6902-2RS": "3 D1", "KES-6000-2RS": "1 E1"} {
		require.Equal(t, 1, count(t, s, fmt.Sprintf(`SELECT count(*) FROM movement JOIN bin ON bin.id = bin_id WHERE part_id = %d AND reason = 'received' AND pieces || ' ' || bin.name = '%s'
			AND receipt_line_id IN (SELECT receipt_line.id FROM receipt_line JOIN order_line ON order_line.id = order_line_id WHERE order_id = 533)`, part(code), came)), code)
	}

	// What is ticked is not counted beside.
	b.open("/orders/533/receive")
	b.tap("Everything came as ordered")
	b.types("KES-6902-2RS", 5)
	b.until("it is ticked that all came. Take the tick away to count with the scanner.")
	require.Empty(t, ask[string](b, `[...document.querySelectorAll('[data-counts]')].map(e => e.value).join('')`))
}

// A part is taken for a job by its code alone, wherever the cursor is; a field that keeps a code keeps it, and the Enter of a
// scanner sends no form.
func TestScannerNamesAPart(t *testing.T) {
	s := open(t)
	b := s.tab(390)
	b.comeIn(mechanicName)
	b.open("/jobs/106/used")
	b.types("KES-B14-G25", 60)
	b.until("Where does it go?")
	require.Equal(t, "/jobs/106/used?part=KES-B14-G25", ask[string](b, `location.pathname + location.search`))

	b.open("/tubs")
	for name, apart := range map[string]int{"quick": 5, "by radio": 120} {
		ask[bool](b, `(document.querySelector('form [data-code]').value = '', document.querySelector('form [data-code]').focus(), true)`)
		require.False(t, b.types("2000000000374", apart), "%s: it sends no form", name)
		require.Equal(t, "2000000000374", ask[string](b, `document.querySelector('form [data-code]').value`), name)
	}
}

// The camera is offered where the browser can read bars; here a stand-in does, and its picture is a canvas.
func TestCamera(t *testing.T) {
	s := open(t)
	b := s.tab(390)
	b.signIn(mechanicName)
	b.open("/scan")
	require.False(t, ask[bool](b, `'BarcodeDetector' in window && document.body.innerText.includes('Use the camera') !== true`))
	b.do(chromedp.Evaluate[chromedp.Void](`
		window.BarcodeDetector = class { static getSupportedFormats() { return Promise.resolve(['qr_code', 'code_128']) } constructor(o) { window.asked = o.formats } detect() { return Promise.resolve([{ rawValue: 'bin A1' }]) } };
		const canvas = document.createElement('canvas'); canvas.getContext('2d').fillRect(0, 0, 9, 9);
		navigator.mediaDevices.getUserMedia = () => Promise.resolve(canvas.captureStream(5));
		camera()`))
	require.Contains(t, b.text(), "Use the camera")
	b.press("Use the camera")
	b.until("A1")
	require.Equal(t, "/shelf?bin=A1", ask[string](b, `location.pathname + location.search`))
}
