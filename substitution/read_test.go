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
			part.Spec["colour"] = Fact{Value: Text(rapid.StringN(1, -1, 60).Draw(t, "colour")), Origin: Assumed, Note: "as the label says"}
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
		"not an object":       {`[1]`, "it contains array"},
		"cut short":           {`{"teeth": 5`, "unexpected end of object"},
		"more behind":         {`{"teeth": 50} {}`, "unexpected tail"},
		"a comma too many":    {`{"teeth": 50,}`, "cannot find opening"},
		"no value":            {`{"teeth": null}`, "not null"},
		"an object":           {`{"teeth": {"least": 50}}`, "a dimension is a number"},
		"half a speed":        {`{"speeds": [8.5]}`, "a list holds whole numbers only"},
		"half a tooth":        {`{"teeth": 50.5}`, "teeth is a whole number, not 50.5"},
		"an empty list":       {`{"speeds": []}`, "speeds is an empty list"},
		"no such dimension":   {`{"tooth": 50}`, `has no dimension "tooth"`},
		"the first is named":  {`{"tooth": 50, "teeth": 5000, "speed": 9}`, `has no dimension "speed"`},
		"an escape in a name": {`{"tee\u0074h": 50.5}`, "teeth is a whole number, not 50.5"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := ReadPart("chainring", "ring", []byte(test.values), nil, nil)
			require.ErrorContains(t, err, test.problem)
		})
	}
	_, err := ReadPart("chainrings", "ring", []byte(`{}`), nil, nil)
	require.ErrorContains(t, err, `there is no part family "chainrings"`)
}
