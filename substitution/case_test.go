package substitution

import (
	"fmt"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
)

const leastPublished = 8 // cases of a family

// unpublished are families without a physical standard, and why nothing more is published about their fit.
var unpublished = map[Family]string{
	"bar-tape": "it is cut to length; makers publish the length of theirs and nothing that decides fit",

	"hanger":          hasNoStandard,
	"saddle":          "trade pages name rails and mounts, and no standard gives them",
	"seat-clamp":      "three sizes of tube are published",
	"headset-spacer":  hasNoStandard,
	"top-cap":         hasNoStandard,
	"crank-arm":       "spindles and threads are published with crankset and pedals",
	"chain-guard":     hasNoStandard,
	"cleat":           goesByMaker,
	"seal-kit":        goesByMaker,
	"bleed-kit":       goesByMaker,
	"hub-internals":   goesByMaker,
	"indicator-chain": goesByMaker,
	"non-turn-washer": goesByMaker,
	"hub-spare":       goesByMaker,
	"hub-shifter":     goesByMaker,
	"lamp-wire":       "one page tells one pole from two",
	"rack":            "the standard asks for a mark and gives no figure that was read",
	"child-seat":      "the standard asks for a mark and gives no figure that was read",
	"basket":          "the standard asks for a mark and gives no figure that was read",
	"kickstand":       hasNoStandard,
	"bottle-cage":     hasNoStandard,
	"bell":            hasNoStandard,
	"frame-lock":      hasNoStandard,
	"suspension-oil":  goesByMaker,
	"motor-ring":      goesByMaker,
	"speed-sensor":    goesByMaker,
	"wheel-magnet":    goesByMaker,
	"display":         goesByMaker,
	"drive-battery":   goesByMaker,
	"charger":         goesByMaker,
	"peg":             hasNoStandard,
	"stabiliser":      hasNoStandard,
	"cotter-pin":      hasNoStandard,
	"half-link":       "chain widths are published with the chain",
	"bar-plug":        hasNoStandard,
}

const (
	hasNoStandard = "no standard gives its sizes, and the pages that were read name few"
	goesByMaker   = "only its maker's number or code vouches for it"
)

// onlyAsk are rules that hold or ask, because no dimension in a catalogue could prove a misfit.
var onlyAsk = map[string]bool{"stabiliser.load": true, "hub-cone.track": true, "freehub-body.hub": true, "seatpost.length": true,
	"cassette.lockring": true, "disc-rotor.lockring": true, "headset.preload": true,
	"fork.axle-to-crown": true, "fork.rotor": true, "fork.tyre": true, "fork.material": true, "rim.depth": true, "rim.valve-hole": true, "hub.spoke-hole": true, "disc-rotor.pads-kept": true, "thru-axle.over": true, "thru-axle.fork-over": true, "cable-inner.lever-head": true, "spoke.hole-loose": true, "lamp.watts-least": true, "rim-tape.narrower-than-rim": true, "consumable.valve-hole": true, "bottom-bracket.spindle-room": true, "grip.bar": true, "front-derailleur.tab": true,
	"brake-hose.system": true, "bleed-kit.system": true, "lamp.mount": true, "mudguard.mount": true, "mudguard.narrower": true, "rack.mount": true, "rack.load": true,
	"child-seat.mount": true, "child-seat.load": true, "basket.mount": true, "basket.load": true, "kickstand.mount": true, "kickstand.load": true,
	"bottle-cage.mount": true, "bell.mount": true, "frame-lock.mount": true, "frame-lock.room": true,
	"motor-ring.number": true, "speed-sensor.number": true, "wheel-magnet.number": true, "display.number": true, "drive-battery.number": true, "charger.number": true}

var sureness = []Confidence{Standard, Catalogue, Handbook, TradePage, Practice, Arithmetic}

// published tells a case that a standard, a maker or a handbook vouches for from a trade page, common practice and our
// own arithmetic.
func published(c Case) bool {
	return c.Sure != TradePage.String() && c.Sure != Practice.String() && c.Sure != Arithmetic.String()
}

func TestCases(t *testing.T) {
	all, err := Cases()
	require.NoError(t, err)
	total, sourced := 0, 0
	for _, table := range tables {
		if len(table.Rules) == 0 {
			continue
		}
		cases := all[table.Family]
		for _, c := range cases {
			t.Run(string(table.Family)+"/"+c.Name, func(t *testing.T) { tryCase(t, table.Family, c) })
		}
		n := 0
		for _, c := range cases {
			if published(c) {
				n++
			}
		}
		total, sourced = total+len(cases), sourced+n
		t.Logf("%-18s %3d cases, %3d of them published, %2d rules", table.Family, len(cases), n, len(table.Rules))
		if why, exempt := unpublished[table.Family]; exempt {
			t.Logf("%-18s %s", "", why)
			require.GreaterOrEqual(t, len(cases), 2*len(table.Rules), "cases of %s", table.Family)
			require.Less(t, n, leastPublished, "%s is no longer unpublished: strike it off the list", table.Family)
			continue
		}
		require.GreaterOrEqual(t, n, leastPublished, "published cases of %s", table.Family)
	}
	t.Logf("%-18s %3d cases, %3d of them published", "all families", total, sourced)
}

// Errors that published pages hold and that the vocabulary must not take in.
func TestVocabularyRefusesKnownErrors(t *testing.T) {
	for _, known := range []struct {
		name   string
		family Family
		part   string
	}{
		{"bike5000.com gives pedals 24 turns to the inch; JIS B 0225 has 20", "pedal", "thread=9/16x24"},
		{"bike5000.com gives French pedals a pitch of 1 mm; the arms say 14 x 125", "pedal", "thread=M14x1"},
		{"urbanvelo.org gives the lockring of a fixed sprocket 29 turns to the inch; mtb-news.de has 24", "hub", "lockring_thread=1.29x29"},
		{"bike5000.com gives one-piece cranks 24 turns to the inch; JIS B 0225 has 20", "pedal", "thread=1/2x24"},
	} {
		t.Run(known.name, func(t *testing.T) {
			_, err := ParsePart(known.family, known.part)
			require.Error(t, err)
		})
	}
}

// requireNoEcho finds a word that is said twice in a row, as where a sentence is put together of a part's word and a place
// that is named by it.
func requireNoEcho(t *testing.T, sentence string) {
	words := strings.Fields(sentence)
	for i := range words[min(1, len(words)):] {
		require.False(t, words[i] == words[i+1] && unicode.IsLetter(rune(words[i][0])), "%q twice in %q", words[i], sentence)
	}
}

func tryCase(t *testing.T, family Family, c Case) {
	require.NotEmpty(t, c.Source)
	require.False(t, published(c) && c.Source == "the same", "that it is the same needs no page, and none was read")
	require.Contains(t, fmt.Sprint(sureness), c.Sure)
	require.NotEmpty(t, c.Sure)
	f, err := c.Try()
	require.NoError(t, err)
	require.Equal(t, family, f.Rule.Family())
	require.Equal(t, c.Answer, f.Answer.String(), "%s: %s", c.Rule, f.Words)
	require.Contains(t, f.Words, c.Says)
	requireNoEcho(t, f.Words)
	var brings []string
	for _, b := range f.Brings {
		brings = append(brings, b.String())
		_, err := Part{Family: b.Family, Spec: b.Spec}.Check()
		require.NoError(t, err, "what it brings must be a part of the vocabulary")
	}
	require.Equal(t, c.Brings, brings)
	require.True(t, len(brings) == 0 || f.Rule.MayBring(), "a rule that brings something may bring something")
}

// Every rule has an example that holds and one that breaks.
func TestEveryRuleHasExamples(t *testing.T) {
	for _, rule := range Rules() {
		t.Run(rule.ID, func(t *testing.T) {
			examples, err := ExamplesOf(rule)
			require.NoError(t, err)
			answers := map[string]int{}
			for _, c := range examples {
				answers[c.Answer]++
			}
			if rule.Across != "" { // asked only of what is another thing: of some there is nothing that holds
				require.NotEmpty(t, examples)
				return
			}
			require.Positive(t, answers[Holds.String()], "no example that holds")
			if onlyAsk[rule.ID] {
				require.Positive(t, answers[CantTell.String()], "no example that asks")
				return
			}
			require.Positive(t, answers[Breaks.String()], "no example that breaks")
		})
	}
}

func TestRulesAreWellMade(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Rules() {
		require.False(t, seen[r.ID], "%s stands twice", r.ID)
		seen[r.ID] = true
		_, err := TableOf(r.Family())
		require.NoError(t, err, r.ID)
		require.NotEmpty(t, r.Says, r.ID)
		require.NotEmpty(t, r.Source.Text, r.ID)
		require.NotEmpty(t, r.Source.String()+r.Severity.String(), r.ID)
		for _, in := range Instances(r.Places()...) {
			for _, ref := range in.Reads() {
				site, err := SiteOf(ref.Place)
				require.NoError(t, err, "%s reads %s", in.Rule().ID, ref.Place)
				if ref.Dimension == "" {
					continue
				}
				table, err := TableOf(site.Family)
				require.NoError(t, err)
				_, ok := table.Dimension(ref.Dimension)
				require.True(t, ok, "%s reads %s of %s", in.Rule().ID, ref.Dimension, ref.Place)
			}
		}
	}
}
