package pricing

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution"
	"stead/substitution/inspection"
)

// What a bike goes home with not mended is what nobody did of what was found, and what safety hangs on of that. What stops
// safe riding is common practice, no source: brakes, steering, wheels and what holds the rider.
func TestUnmended(t *testing.T) {
	found := func(place substitution.Place, action inspection.Action) inspection.Finding {
		return inspection.Finding{Place: place, Action: action}
	}
	advised := func(place substitution.Place, action inspection.Action) Advice {
		return Advice{Place: place, Action: action}
	}
	pads, worn := substitution.Place("front.pads"), inspection.Replace
	agreedPads := &Agreement{Work: map[substitution.Place]inspection.Action{pads: worn}, Lines: []AgreedLine{{Kind: PartsLine, Place: pads, Pieces: 2}}}
	spokes := substitution.Place("rear.spokes-left")
	agreedSpokes := &Agreement{Work: map[substitution.Place]inspection.Action{spokes: worn}, Lines: []AgreedLine{{Kind: PartsLine, Place: spokes, Pieces: 8}}}
	left := func(place substitution.Place, pieces int) *Ending {
		return &Ending{LeftOut: []LeftOut{{Kind: PartsLine, Place: place, Pieces: pieces}}}
	}
	for _, tc := range []struct {
		name   string
		job    Job
		left   []Advice
		agreed *Agreement
		want   []Unmended
	}{
		{"worn pads, left out", Job{Findings: []inspection.Finding{found(pads, worn)}}, []Advice{advised(pads, worn)}, nil, []Unmended{{pads, true}}},
		{"a brake cable", Job{}, []Advice{advised("rear.brake-cable", worn)}, nil, []Unmended{{"rear.brake-cable", true}}},
		{"a gear cable", Job{}, []Advice{advised("rear.gear-cable", worn)}, nil, nil},
		{"a worn chain", Job{}, []Advice{advised("chain", worn)}, nil, nil},
		{"a brake to be adjusted", Job{}, []Advice{advised("front.caliper", inspection.Adjust)}, nil, []Unmended{{"front.caliper", false}}},
		{"not decided on a place", Job{State: Cancelled, Findings: []inspection.Finding{found(pads, "")}}, nil, nil, nil},
		{"found, and still to be quoted", Job{State: JobApproved, Findings: []inspection.Finding{found(pads, worn)}}, nil, agreedPads, nil},
		{"given up", Job{State: Cancelled, Ending: &Ending{}, Findings: []inspection.Finding{found("fork", worn), found("stem", inspection.Keep)}}, nil, nil, []Unmended{{"fork", true}}},
		{"never meant to be booked in", Job{State: Cancelled, Ending: &Ending{Mistake: true}, Findings: []inspection.Finding{found("fork", worn)}}, nil, nil, nil},
		{"agreed and fitted", Job{State: Closed, Ending: &Ending{}, Findings: []inspection.Finding{found(pads, worn)}}, nil, agreedPads, nil},
		{"agreed and left out at the end", Job{State: Closed, Ending: left(pads, 2), Findings: []inspection.Finding{found(pads, worn)}}, nil, agreedPads, []Unmended{{pads, true}}},
		{"one pad of two", Job{State: Closed, Ending: left(pads, 1), Findings: []inspection.Finding{found(pads, worn)}}, nil, agreedPads, []Unmended{{pads, true}}},
		{"one spoke too many", Job{State: Closed, Ending: left(spokes, 1), Findings: []inspection.Finding{found(spokes, worn)}}, nil, agreedSpokes, nil},
		{"no spoke at all", Job{State: Closed, Ending: left(spokes, 8), Findings: []inspection.Finding{found(spokes, worn)}}, nil, agreedSpokes, []Unmended{{spokes, true}}},
		{"found after the yes and never agreed", Job{State: Closed, Ending: &Ending{}, Findings: []inspection.Finding{found(pads, worn), found("front.tyre", worn)}}, nil, agreedPads, []Unmended{{"front.tyre", true}}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			require.Equal(t, tc.want, tc.job.Unmended(Terms{Advised: tc.left}, tc.agreed))
		})
	}
	require.Equal(t, []Unmended{{pads, true}}, Quote{Advised: []Advice{advised(pads, worn)}}.Unmended())
}

// Each family that stops riding has a place that is a safety part, so that none of them is a name that nothing bears.
func TestStoppingFamiliesAreOnBikes(t *testing.T) {
	safe := map[substitution.Family]bool{}
	for _, site := range substitution.Sites() {
		safe[site.Family] = safe[site.Family] || site.Safety
	}
	for _, list := range []map[substitution.Family]bool{stopping, counted} {
		for family := range list {
			require.True(t, safe[family], family)
		}
	}
}
