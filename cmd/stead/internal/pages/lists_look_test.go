package pages_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// A list that was sent is looked at on a small telephone: its preview passes what every page is asked.
func TestLooksOfAList(t *testing.T) {
	s := open(t)
	b := s.tab(360)
	b.signIn(ownerName)
	audit, err := os.ReadFile("testdata/audit.js")
	require.NoError(t, err)
	b.open("/lists/harbour")
	require.True(t, ask[bool](b, `(() => { const text = 'Code,Description,Trade price,RRP\n' + [...Array(30).keys()].map(i => `+"`HL2${i},Chain 9 speed 116 links,${9 + i}.50,${20 + i}.00`"+`).join('\n') + '\n,no code,x,y\n';
		const files = new DataTransfer(); files.items.add(new File([text], 'harbour-spring.csv', { type: 'text/csv' }));
		const input = document.querySelector('input[type=file]'); input.files = files.files; input.form.requestSubmit(); return true })()`))
	b.until("Nothing is written yet")
	for _, dark := range []bool{false, true} {
		b.dark(dark)
		require.Empty(t, ask[[]string](b, string(audit)), "dark: %v", dark)
	}
	requireNames(t, b)
	b.photograph("list-preview")
}
