package substitution

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// However a part is written, it is read as encoding/json reads it.
func TestReadPart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		part := anyPart(t, rapid.SampledFrom(Families()).Draw(t, "family"), "")
		part.Name = "a part"
		if rapid.Bool().Draw(t, "of another colour") {
			part.Spec["colour"] = Fact{Value: Text(rapid.SampledFrom(vocabulary["colour"]).Draw(t, "colour")), Origin: Assumed, Note: "as the label says"}
		}
		checked, err := part.Check()
		if err != nil {
			t.Skip("a draw that cannot be meant")
		}
		written := rapid.SampledFrom([]func(any) ([]byte, error){json.Marshal, indented}).Draw(t, "written")
		values, err := written(checked.Spec.Values())
		require.NoError(t, err)
		read, err := ReadPart(checked.Family, checked.Name, values, checked.Spec.Origins(), checked.Spec.Notes())
		require.NoError(t, err)
		require.Equal(t, checked, read)
	})
}

func indented(v any) ([]byte, error) { return json.MarshalIndent(v, "\t", "  ") }

func TestReadPartRefusesWhatCannotBeMeant(t *testing.T) {
	for name, test := range map[string]struct{ values, problem string }{
		"not an object":    {`[1]`, "it contains array"},
		"cut short":        {`{"teeth": 5`, "unexpected end of object"},
		"more behind":      {`{"teeth": 50} {}`, "unexpected tail"},
		"a comma too many": {`{"teeth": 50,}`, "cannot find opening"},
		"no value":         {`{"teeth": null}`, "not null"},
		"an object":        {`{"teeth": {"least": 50}}`, "a dimension is a number"},
		"half a speed":     {`{"speeds": [8.5]}`, "a list holds whole numbers only"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := ReadPart("chainring", "ring", []byte(test.values), nil, nil)
			require.ErrorContains(t, err, test.problem)
		})
	}
	_, err := ReadPart("chainrings", "ring", []byte(`{}`), nil, nil)
	require.ErrorContains(t, err, `there is no part family "chainrings"`)
}

// A record that an older vocabulary let in opens as it is: what can be read has its form and spelling, the rest stays to be
// seen, and nothing that is of no form gets to a rule.
func TestReadPartOpensOlderRecords(t *testing.T) {
	for _, test := range []struct {
		name   string
		family Family
		values string
		want   string
	}{
		{"a word spelled otherwise", "hub", `{"axle": "QR", "rotor_mount": "6 bolt"}`, "axle qr, rotor_mount 6-bolt"},
		{"a thread spelled otherwise", "freewheel", `{"thread": "1.370 x 24"}`, "thread 1.37x24"},
		{"a word that is none now", "hub", `{"axle": "banana", "oln_mm": 135}`, "axle banana, oln_mm 135"},
		{"a dimension that is none now", "hub", `{"wobble_mm": 2}`, "wobble_mm 2"},
		{"a figure beyond today's bounds", "chainring", `{"teeth": 200}`, "teeth 200"},
		{"half a tooth", "chainring", `{"teeth": 50.5, "bolts": 5}`, "bolts 5"},
		{"an empty list", "chain", `{"speeds": [], "links": 114}`, "links 114"},
	} {
		t.Run(test.name, func(t *testing.T) {
			p, err := ReadPart(test.family, "part", []byte(test.values), nil, nil)
			require.NoError(t, err)
			require.Equal(t, test.want, p.Spec.String())
		})
	}
}
