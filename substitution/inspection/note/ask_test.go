package note_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution"
	"stead/substitution/inspection/note"
)

// What is understood and handed back leaves a question, in the note's own words.
func TestQuestionsAreAsked(t *testing.T) {
	reader, err := note.NewReader(nil)
	require.NoError(t, err)
	for _, tc := range []struct {
		text, words, question string
		says                  []note.Saying
	}{
		{"headset a bit loose", "headset a bit loose", "slight or marked play?", []note.Saying{{"headset slight play", "", true}, {"headset marked play", "", true}}},
		{"Rear hub's got play.", "Rear hub's got play", "slight or marked play?", []note.Saying{{"Rear hub slight play", "", true}, {"Rear hub marked play", "", true}}},
		{"Front wheel is true", "Front wheel is true", "how many mm does the rim run out?", nil},
		{"Both wheels need truing.", "Both wheels need truing", "how many mm does the rim run out?", []note.Saying{{"true Both rims", "", true}}},
		{"true rear wheel", "true rear wheel", "how many mm does the rim run out?", []note.Saying{{"true rear rim", "", true}}},
		{"Front wheel is buckled.", "Front wheel is buckled", "how many mm does the rim run out?", []note.Saying{{"true Front rim", "", true}}},
		{"bleed the rear brake", "bleed the rear brake", "bled at its lever?", []note.Saying{{"bleed the rear brake lever", "", true}}},
		{"brakes want bleeding", "brakes want bleeding", "bled at its lever?", []note.Saying{{"bleed front and rear brake levers", "", true}}},
		{"chain stretched past one percent", "chain stretched past one percent", "how worn, in per cent?", []note.Saying{{"replace chain", "", true}}},
		{"Chain is over point five.", "Chain is over point five", "how worn, in per cent?", []note.Saying{{"replace Chain", "", true}}},
		{"cassette worn", "cassette worn", "are its teeth hooked?", []note.Saying{{"cassette hooked", "", true}, {"cassette not hooked", "", true}, {"replace cassette", "", true}}},
		{"The rear tyre is a bit worn.", "The rear tyre is a bit worn", "worn down to its mark?",
			[]note.Saying{{"rear tyre worn to its mark", "", true}, {"rear tyre not worn to its mark", "", true}, {"replace rear tyre", "", true}}},
		{"chain badly worn", "chain badly worn", "how worn, in per cent?", []note.Saying{{"replace chain", "", true}}},
		{"rear brake pads down to the line", "rear brake pads", "rim or disc?", // a disc pad has no line
			[]note.Saying{{"rear disc pads", "rear.pads", false}, {"rear rim brake pads", "rear.rim-pads", true}}},
		{"replace the brake pads", "the brake pads", "rim or disc, front or rear?", []note.Saying{{"front and rear disc pads", "", true}, {"front and rear rim brake pads", "", true},
			{"front disc pads", "front.pads", true}, {"front rim brake pads", "front.rim-pads", true}, {"rear disc pads", "rear.pads", true}, {"rear rim brake pads", "rear.rim-pads", true}}},
		{"block's hooked", "block", "cassette, freewheel or sprocket?", []note.Saying{{"cassette", "rear.cassette", true}, {"freewheel", "rear.freewheel", true}, {"sprocket", "rear.sprocket", false}}},
	} {
		r := reader.ReadAsking(tc.text, nil)
		require.Equal(t, []note.Ask{{Words: tc.words, Question: tc.question, Says: tc.says}}, r.Asks, "%s", tc.text)
		require.Empty(t, r.Findings, "%s", tc.text)
		for _, say := range tc.says {
			require.Equal(t, say.Reads, len(reader.Read(r.Asks[0].Answered(tc.text, say), nil).Findings) > 0, "%s, answered %s", tc.text, say.Words)
		}
	}
}

// What is handed back says where somebody has looked.
func TestPlacesOfWhatIsHandedBack(t *testing.T) {
	for text, named := range map[string][]substitution.Place{
		"cassette worn, chain stretched past one percent": {"rear.cassette", "chain"},
		"front tyre might do another year":                {"front.tyre"},
		"brake pads had it":                               nil,
		"he says it rattles":                              nil,
		"chain's at point nine":                           nil,
	} {
		require.Equal(t, named, note.Read(text, nil).Named, text)
	}
}

// What reads only without a word of no table is asked, never kept; a word that may be half of a part's name asks nothing.
func TestAskedWhetherItIsMeant(t *testing.T) {
	reader, err := note.NewReader(nil)
	require.NoError(t, err)
	for _, tc := range []struct{ text, words, plain string }{
		{"rear hub is rough klonk whizz", "rear hub is rough klonk whizz", "rear hub is rough"},
		{"Sattel ist gerissen zefix", "Sattel ist gerissen zefix", "Sattel ist gerissen"},
		{"Kette gut, der Vorbau ist zefix gerissen", "Vorbau ist zefix gerissen", "Vorbau ist gerissen"},
		{"la selle est déchirée saperlotte", "la selle est déchirée saperlotte", "la selle est déchirée"},
		{text: "replace the stem zonkwise"}, // it may be a part of the stem
		{text: "saddle clamp shot"},
		{text: "never replace the chain"},
		{text: "I wouldn't replace the chain at all zonk"},
	} {
		r := reader.ReadAsking(tc.text, nil)
		if tc.plain == "" {
			require.Empty(t, r.Asks, tc.text)
			continue
		}
		require.Equal(t, []note.Ask{{Words: tc.words, Question: "meant as “" + tc.plain + "”?", Says: []note.Saying{{Words: tc.plain, Reads: true}}}}, r.Asks, tc.text)
		require.Greater(t, len(reader.Read(r.Asks[0].Answered(tc.text, r.Asks[0].Says[0]), nil).Findings), len(r.Findings), tc.text)
	}
}
