package pages

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// An underscore is where no line ends.
func TestTie(t *testing.T) {
	for page, want := range map[string]string{
		`<p title="20 %">at 20 % by <b>4 May</b> 9 in 10</p>`:                        `<p title="20 %">at 20_% by <b>4_May</b> 9_in_10</p>`,
		`<textarea name="a">20 % &lt;b&gt;</textarea> 5 mm`:                          `<textarea name="a">20 % &lt;b&gt;</textarea> 5_mm`,
		`<select><option>50 mm</option><option selected>4 May</option></select> 3 m`: `<select><option>50 mm</option><option selected>4 May</option></select> 3_m`,
		`<title>4 May</title><svg><text>4 May</text></svg>`:                          `<title>4 May</title><svg><text>4_May</text></svg>`,
		`<p>TAR-CS9-1132, 9-speed 1-2 well-used</p>`:                                 `<p><span><span class="nowrap">TAR-CS9-1132,</span> <span class="nowrap">9-speed</span>_<span class="nowrap">1-2</span> well-used</span></p>`,
		`<svg><text>11-32</text></svg> 11-32 <option>11-32</option>`:                 `<svg><text>11-32</text></svg> <span><span class="nowrap">11-32</span></span> <option>11-32</option>`,
		`<p title="the shop's">the shop's riders' Nm, 5&#39; 6, O&#39;Hara 'so'</p>`: `<p title="the shop's">the shop’s riders’ Nm, 5&#39; 6, O’Hara 'so'</p>`,
		`<textarea>it's</textarea>`:                                                  `<textarea>it's</textarea>`,
		`4 &lt; 5 mm <`:                                                              `4 &lt; 5_mm <`,
		`<option>never ended`:                                                        `<option>never ended`,
	} {
		require.Equal(t, want, strings.ReplaceAll(tie(page), "\u00a0", "_"))
	}
}
