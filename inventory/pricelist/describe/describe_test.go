package describe_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/inventory/pricelist/describe"
	"stead/substitution"
)

// A reading is one JSON line, with null for no family and an empty list for nothing unread.
func TestLine(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, text, want string }{
		{"a chainring", "C/RING 34T 110PCD 5-BOLT INNER SILVER 9/10SPD",
			`{"text":"C/RING 34T 110PCD 5-BOLT INNER SILVER 9/10SPD","family":"chainring","spec":{"bcd_mm":110,"bolts":5,"colour":"silver","position":"inner","speeds":[9,10],"teeth":34},"unread":[]}`},
		{"no part of ours", "TROPHY 12IN", `{"text":"TROPHY 12IN","family":null,"spec":{},"unread":["TROPHY"]}`},
		{"nothing", "", `{"text":"","family":null,"spec":{},"unread":[]}`},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			line, err := json.Marshal(describe.Read(c.text))
			require.NoError(t, err)
			require.JSONEq(t, c.want, string(line))
		})
	}
}

// What contradicts itself, or may mean two things, stays out of the spec and is handed back in words.
func TestLeavesOut(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, text string
		absent     []string
		unread     []string
	}{
		{"two bolt circles", "C/RING 46T 110PCD 130PCD", []string{"bcd_mm"}, []string{"110PCD", "130PCD"}},
		{"a decimal for a fraction", "BALLS 5.32 BAG 100", []string{"ball_mm"}, []string{"5.32"}},
		{"a number against its sizes", "BRG 6902 15x26x7", []string{"designation", "bore_mm", "outer_mm", "width_mm"}, []string{"6902", "15x26x7"}},
		{"two colours", "STEM 31.8 90MM BLK/SIL", []string{"colour"}, []string{"BLK/SIL"}},
		{"a square taper of no standard", "BB 68X113 SQ TAPER", []string{"spindle_interface"}, nil},
		{"two shells", "BB CART 68/73 X 118", []string{"shell_mm"}, nil},
		{"left and right differ", "SHIFTERS 3X9SPD PR", []string{"speeds"}, nil},
		{"a valve of two names", "TUBE 26X1.5/2.1 SV", []string{"valve"}, nil},
		{"a range of lengths", "SEATPOST 27.2 300-350MM", []string{"length_mm"}, []string{"300-350MM"}},
		{"a body of two lengths", "HUB RR 32H HG 11SPD", []string{"freehub"}, []string{"HG", "11SPD"}},
		{"a price", "CHAIN 10SPD £19.99", []string{"links", "pack"}, nil},
		{"two answers about a rotor's mount", "ROTOR 160MM 6-BOLT CENTRE LOCK", []string{"rotor_mount"}, []string{"6-BOLT", "CENTRE LOCK"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got := describe.Read(c.text)
			for _, dim := range c.absent {
				require.NotContains(t, got.Spec, dim)
			}
			joined, err := json.Marshal(got.Unread)
			require.NoError(t, err)
			for _, word := range c.unread {
				require.Contains(t, string(joined), word)
			}
		})
	}
}

// A shop's own words for one supplier come before the trade's.
func TestWords(t *testing.T) {
	t.Parallel()
	r, err := describe.NewReader(describe.Words{"RS-7": "pad_shape=B05", "zilv": "colour=silver", "Krunk": "ignore", "kwartel": "family chainring"})
	require.NoError(t, err)

	got := r.Read("DISC PADS RS-7 SINTERED")
	require.Equal(t, substitution.Family("disc-pad"), got.Family)
	require.Equal(t, "B05", got.Spec["pad_shape"].Value.Word())
	require.Equal(t, substitution.FromSupplier, got.Spec["pad_shape"].Origin)
	require.Empty(t, got.Unread)

	got = r.Read("KRUNK kwartel 34T 110PCD ZILV")
	require.Equal(t, substitution.Family("chainring"), got.Family)
	require.Equal(t, "silver", got.Spec["colour"].Value.Word())
	require.Empty(t, got.Unread)

	require.Equal(t, []string{"RS-7"}, describe.Read("DISC PADS RS-7 SINTERED").Unread, "another supplier's list does not know the word")
}

func TestWordsThatMeanNothing(t *testing.T) {
	t.Parallel()
	for name, words := range map[string]describe.Words{
		"no meaning":      {"RS-7": "the small ones"},
		"no dimension":    {"RS-7": "shininess=high"},
		"no family":       {"RS-7": "family bottle"},
		"a word for size": {"RS-7": "teeth=many"},
		"no word":         {"": "colour=black"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, err := describe.NewReader(words)
			require.Error(t, err)
		})
	}
}

// Whatever is read can be meant: it passes the family's own table, and every origin is the supplier's text.
func TestReadingsAreParts(t *testing.T) {
	t.Parallel()
	texts := allTexts(t)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom(texts).Draw(t, "text")
		other := rapid.SampledFrom(texts).Draw(t, "other")
		cut := rapid.IntRange(0, len(other)).Draw(t, "cut")
		got := describe.Read(text + " " + other[cut:])
		if got.Family == "" {
			require.Empty(t, got.Spec)
			return
		}
		_, err := substitution.Part{Family: got.Family, Spec: got.Spec}.Check()
		require.NoError(t, err)
		for _, fact := range got.Spec {
			require.Equal(t, substitution.FromSupplier, fact.Origin)
		}
	})
}

func FuzzRead(f *testing.F) {
	for _, text := range []string{"C/RING 34T 110PCD 5-BOLT INNER SILVER 9/10SPD", "26x1.95 (53-559)", "Ø 27,2 × 350", "1/2x", "½¼ -7°", "M10x", "\xff\xfe x \x00",
		"EC34/28.6 | EC34/", "9,10,11 spd", "+/-", "SET : = 5", "NLGI", "shape:", "2x3x4x5x6", "£ € $", "(((", "6902-", "BCD -"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got := describe.Read(text)
		if got.Failed != nil {
			t.Fatal(got.Failed)
		}
		if got.Text != text {
			t.Fatalf("the text changed to %q", got.Text)
		}
		if got.Family != "" {
			if _, err := (substitution.Part{Family: got.Family, Spec: got.Spec}).Check(); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := json.Marshal(got); err != nil {
			t.Fatal(err)
		}
	})
}
