package describe

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"

	"stead/substitution"
)

// Tally is what reading lines whose truth is known came to.
type Tally struct {
	Lines       int `json:"lines"`
	FamilyRight int `json:"family_right"` // the family that is meant, or rightly none
	Said        int `json:"said"`         // dimensions that the lines name
	Right       int `json:"right"`
	Wrong       int `json:"wrong"` // dimensions read otherwise, or that the line does not name
}

// Count reads the lines of a truth file, one JSON object a line (text, family, spec), and adds what they came to.
func (t *Tally) Count(file io.Reader) error {
	lines := bufio.NewScanner(file)
	for n := 1; lines.Scan(); n++ {
		var want struct {
			Text   string                        `json:"text"`
			Family substitution.Family           `json:"family"`
			Spec   map[string]substitution.Value `json:"spec"`
		}
		if err := json.Unmarshal(lines.Bytes(), &want); err != nil {
			return fmt.Errorf("line %d: %w", n, err)
		}
		got := Read(want.Text)
		t.Lines++
		t.Said += len(want.Spec)
		if got.Family == want.Family {
			t.FamilyRight++
		}
		for name, fact := range got.Spec {
			if v, said := want.Spec[name]; said && v.Equal(fact.Value) {
				t.Right++
			} else {
				t.Wrong++
			}
		}
	}
	return lines.Err()
}
