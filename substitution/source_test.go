package substitution

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
)

// somePage is a page that can be found again: its address, or whose it is.
var somePage = regexp.MustCompile(`\.(com|org|net|uk|au|de|cc)\b|dotpointer|seller's page|component site`)

// What a page says is cited as that page's, and what no page says is not dressed up as one.
func TestSourcesSayWhatTheyAre(t *testing.T) {
	looks, old := 0, 0
	for _, r := range Rules() {
		switch r.Source.Confidence {
		case TradePage:
			require.Regexp(t, somePage, r.Source.Text, r.ID)
		case Practice:
			require.NotRegexp(t, somePage, r.Source.Text, r.ID)
		}
		switch r.Source {
		case byLook:
			looks++
		case byOldPart:
			old++
		}
	}
	t.Logf("of the rules without a source %d say that looks are the owner's to judge and %d that the old part fitted", looks, old)
}
