package substitution

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Parts that fit and were once kept out of the search, each by a cause of its own; TestNarrowNeverDropsWhatFits found them,
// but draws so at chance that it would seldom find them again.
func TestNarrowIsAsJudged(t *testing.T) {
	for name, c := range map[string]struct {
		at        Place
		was, now  map[Place]string
		candidate string
		open      []Place // what else is still to be chosen
	}{
		"a new crankset brings a smaller ring": {
			at:        "crank.guard",
			was:       map[Place]string{"crank": "bcd_mm=110 bolts=5 teeth_outer=48", "crank.ring": "teeth=48", "crank.guard": "kind=case teeth_max=48"},
			now:       map[Place]string{"crank": "bcd_mm=110 bolts=5 teeth_outer=38", "crank.ring": "teeth=48"},
			candidate: "kind=case teeth_max=40",
		},
		"a table that takes an unknown hanger for the usual one": {
			at:        "rear.derailleur",
			now:       map[Place]string{"rear.hanger": "axle_thread=M12x1"},
			candidate: "mount=hanger teeth_min=11",
			open:      []Place{"shifter.right", "rear.cassette", "chain"},
		},
	} {
		t.Run(name, func(t *testing.T) {
			s := Scene{Was: parts(t, c.was), Now: parts(t, c.now), Open: map[Place]bool{c.at: true}}
			for _, place := range c.open {
				s.Open[place] = true
			}
			for place, text := range c.now { // what is written alike stayed on
				if c.was[place] == text {
					s.Now[place] = s.Was[place]
				}
			}
			site, err := SiteOf(c.at)
			require.NoError(t, err)
			candidate := made(t, site.Family, c.candidate)
			require.Empty(t, s.Choose(c.at, candidate).Check(c.at).Stops())
			for _, condition := range s.Narrow(c.at) {
				require.True(t, condition.Admits(candidate), "%#v", condition)
			}
		})
	}
}
