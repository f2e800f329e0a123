package describe_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
	"stead/substitution"
)

func TestMarshalJSON(t *testing.T) {
	for text, want := range map[string]string{
		"":                `{"text":"","family":null,"spec":{},"unread":[]}`,
		"CHAIN 9/10SPD":   `{"text":"CHAIN 9/10SPD","family":"chain","spec":{"speeds":[9,10]},"unread":[]}`,
		`<&> 1" Ø` + "\t": `{"text":"<&> 1\" Ø\t","family":null,"spec":{},"unread":[]}`,
	} {
		got, err := describe.Read(text).MarshalJSON()
		require.NoError(t, err)
		require.JSONEq(t, want, string(got))
	}
	_, err := describe.Reading{Spec: substitution.Spec{"teeth": {}}}.MarshalJSON()
	require.Error(t, err, "a dimension without a value")
}

// What is written by hand is what the standard library would write.
func FuzzMarshalJSON(f *testing.F) {
	f.Add("C/RING 34T 110PCD 5-BOLT INNER SILVER 9/10SPD", "RS-7")
	f.Add("\xff\u2028\x00<>&\\\"", "\x7f")
	f.Fuzz(func(t *testing.T, text, word string) {
		r := describe.Read(text)
		r.Unread = append(r.Unread, word)
		got, err := r.AppendJSON([]byte("before"))
		require.NoError(t, err)
		require.Equal(t, "before", string(got[:6]))
		plain, err := json.Marshal(struct {
			Text   string                        `json:"text"`
			Family *substitution.Family          `json:"family"`
			Spec   map[string]substitution.Value `json:"spec"`
			Unread []string                      `json:"unread"`
		}{r.Text, familyOrNull(r), r.Spec.Values(), r.Unread})
		require.NoError(t, err)
		require.JSONEq(t, string(plain), string(got[6:]))
		require.NotContains(t, string(got), "\n", "one line")
	})
}

func familyOrNull(r describe.Reading) *substitution.Family {
	if r.Family == "" {
		return nil
	}
	return &r.Family
}
