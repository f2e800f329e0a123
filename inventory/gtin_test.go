package inventory

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/migrations/testdb"
)

func TestCheckGTIN13(t *testing.T) {
	for _, c := range []struct {
		name, gtin, problem string
	}{
		// GS1 General Specifications, section 7.9.1: the worked example of a GTIN-13 check digit.
		{"GS1's worked example", "6291041500213", ""},
		// By hand: 2·1 + 6·3 = 20, a multiple of ten already.
		{"a check digit of zero", "2000000000060", ""},
		{"one digit wrong", "6291041500214", "GTIN 6291041500214 ends in the wrong check digit: after 629104150021 comes 3, so one of its digits is misread"},
		{"two neighbours swapped", "6291045100213", "comes"},
		{"too short", "629104150021", "is not 13 digits"},
		{"a letter", "62910415OO213", "is not 13 digits"},
		{"empty", "", "is not 13 digits"},
	} {
		t.Run(c.name, func(t *testing.T) {
			err := CheckGTIN13(c.gtin)
			if c.problem == "" {
				require.NoError(t, err)
				return
			}
			require.ErrorContains(t, err, c.problem)
			require.ErrorAs(t, err, new(*GTINError))
		})
	}
}

// A shorter GTIN is kept with noughts in front, which change no check digit, and one of fourteen without its nought.
func TestShorterGTIN(t *testing.T) {
	for typed, kept := range map[string]string{"96385074": "0000096385074", "123456789012": "0123456789012", "06291041500213": "6291041500213", "6291041500213": "6291041500213"} {
		p := ring(50, 110, "black")
		p.GTIN = typed
		p, err := p.Check()
		require.NoError(t, err, typed)
		require.Equal(t, kept, p.GTIN)
	}
	for _, wrong := range []string{"96385070", "16291041500210", "4711"} {
		p := ring(50, 110, "black")
		p.GTIN = wrong
		_, err := p.Check()
		require.ErrorAs(t, err, new(*GTINError), wrong)
	}
}

// The rule stands twice, here and in the schema; both must say the same of every code.
func TestDatabaseChecksGTINAlike(t *testing.T) {
	tx := testdb.Tx(t)
	rapid.Check(t, func(t *rapid.T) {
		code := rapid.OneOf(rapid.StringMatching(`[0-9]{13}`), rapid.StringMatching(`[0-9a]{11,14}`)).Draw(t, "code")
		var right bool
		require.NoError(t, tx.QueryRow(t.Context(), `SELECT gtin13_is_right($1)`, code).Scan(&right))
		require.Equal(t, CheckGTIN13(code) == nil, right)
	})
}
