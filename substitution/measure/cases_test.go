package measure

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution/standard"
)

// row is one published case: readings, and the sizes that they must and must not be taken for.
type row struct {
	Case   string              `json:"case"`
	Source string              `json:"source"`
	Sure   standard.Confidence `json:"sure"`

	MM       map[string]float64 `json:"mm"`             // by the field's JSON name
	Tool     string             `json:"tool,omitempty"` // caliper if absent
	Seal     standard.Seal      `json:"seal,omitempty"`
	InRow    int                `json:"in_row,omitempty"`
	MassG    float64            `json:"mass_g,omitempty"`
	Weighed  int                `json:"weighed,omitempty"`
	Bolts    int                `json:"bolts,omitempty"`
	Pitch    float64            `json:"pitch,omitempty"`
	PerInch  float64            `json:"tpi,omitempty"`
	Turns    int                `json:"turns,omitempty"`
	Female   bool               `json:"female,omitempty"`
	Hand     Hand               `json:"hand,omitempty"`
	Family   string             `json:"family,omitempty"`
	Pitches  int                `json:"pitches,omitempty"`
	Speeds   int                `json:"speeds,omitempty"`
	Threaded bool               `json:"threaded,omitempty"`

	Matches []string `json:"matches"`           // exactly these, in any order
	Near    []string `json:"near,omitempty"`    // at least these among the near misses
	Verdict string   `json:"verdict,omitempty"` // the verdict contains this
}

// take turns the row's reading of a name into a Reading, and crosses it off.
func (r row) take(name string) *Reading {
	mm, ok := r.MM[name]
	if !ok {
		return nil
	}
	delete(r.MM, name)
	switch r.Tool {
	case "ruler":
		return Ruler(mm)
	case "tape":
		return Tape(mm)
	}
	return Caliper(mm)
}

// parts are the tables and what to build from a row of each.
var parts = map[string]func(r row) (Result, error){
	"bearings": func(r row) (Result, error) {
		return Bearing{Bore: r.take("bore"), Outer: r.take("outer"), Width: r.take("width"), Seal: r.Seal}.Identify()
	},
	"balls": func(r row) (Result, error) {
		return Balls{Diameter: r.take("diameter"), Row: r.take("row"), InRow: r.InRow, MassG: r.MassG, Weighed: r.Weighed}.Identify()
	},
	"chainrings": func(r row) (Result, error) {
		return Chainring{Bolts: r.Bolts, Adjacent: r.take("adjacent"), OtherAdjacent: r.take("other_adjacent"),
			NonAdjacent: r.take("non_adjacent"), Opposite: r.take("opposite")}.Identify()
	},
	"threads": func(r row) (Result, error) {
		return Thread{Diameter: r.take("diameter"), Female: r.Female, PitchMM: r.Pitch, PerInch: r.PerInch, Over: r.take("over"), Turns: r.Turns, Hand: r.Hand, Family: r.Family}.Identify()
	},
	"chain_wear": func(r row) (Result, error) {
		return ChainWear{Length: r.take("length"), Pitches: r.Pitches, Speeds: r.Speeds}.Identify()
	},
	"chain_widths": func(r row) (Result, error) {
		return ChainWidth{Inner: r.take("inner"), Pins: r.take("pins")}.Identify()
	},
	"forks": func(r row) (Result, error) {
		return Fork{Steerer: r.take("steerer"), Crown: r.take("crown"), HeadTube: r.take("head_tube")}.Identify()
	},
	"posts": func(r row) (Result, error) {
		return Seatpost{Post: r.take("post"), Tube: r.take("tube")}.Identify()
	},
	"handlebars": func(r row) (Result, error) { return Handlebar{Clamp: r.take("clamp")}.Identify() },
	"rims": func(r row) (Result, error) {
		return Rim{BeadSeat: r.take("bead_seat"), Round: r.take("round"), InnerWidth: r.take("inner_width")}.Identify()
	},
	"tyres": func(r row) (Result, error) {
		return Tyre{Outer: r.take("outer"), Round: r.take("round"), Width: r.take("width")}.Identify()
	},
	"levers":   func(r row) (Result, error) { return Lever{Pull: r.take("pull")}.Identify() },
	"freehubs": func(r row) (Result, error) { return Freehub{Length: r.take("length")}.Identify() },
	"cables":   func(r row) (Result, error) { return Cable{Inner: r.take("wire"), Outer: r.take("housing")}.Identify() },
	"spokes": func(r row) (Result, error) {
		return Spoke{Elbow: r.take("elbow"), Middle: r.take("middle"), Thread: r.take("thread")}.Identify()
	},
	"shells": func(r row) (Result, error) {
		return Shell{Inside: r.take("inside"), Width: r.take("width"), Threaded: r.Threaded, DriveHand: r.Hand}.Identify()
	},
}

func TestPublishedCases(t *testing.T) {
	for part, identify := range parts {
		t.Run(part, func(t *testing.T) {
			rows := readRows(t, part+".json")
			t.Logf("%s: %d published cases", part, len(rows))
			for _, r := range rows {
				t.Run(r.Case, func(t *testing.T) {
					got, err := identify(r)
					require.NoError(t, err)
					require.Empty(t, r.MM, "a reading in the table that the part does not have")
					require.ElementsMatch(t, r.Matches, distinct(matchNames(got.Matches)), got.Words())
					for _, name := range r.Near {
						require.True(t, slices.ContainsFunc(got.NearMisses, func(n NearMiss) bool { return n.Name == name }), "%s among the near misses:\n%s", name, got.Words())
					}
					require.Contains(t, got.Verdict, r.Verdict)
				})
			}
		})
	}
}

// readRows reads a table; an unknown key, a row without a source or one from memory is an error in the table.
func readRows(t *testing.T, name string) []row {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "..", "testdata", "measure", name))
	require.NoError(t, err)
	defer file.Close()
	decoder := json.NewDecoder(file)
	decoder.DisallowUnknownFields()
	var rows []row
	require.NoError(t, decoder.Decode(&rows))
	require.NotEmpty(t, rows)
	for _, r := range rows {
		require.NotEmpty(t, r.Case)
		require.NotEmpty(t, r.Source, r.Case)
		require.True(t, r.Sure.Firm(), "%s is from memory and checks nothing", r.Case)
	}
	return rows
}

// Every table in the folder is read by a part, so that none is forgotten.
func TestEveryTableIsRead(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "measure", "*.json"))
	require.NoError(t, err)
	require.Len(t, files, len(parts))
}
