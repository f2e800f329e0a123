package substitution

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The part's own mark counts before the published list, and where neither names one figure the reading only stands.
func TestTorqueDone(t *testing.T) {
	marked := &Part{Family: "seat-clamp", Spec: Spec{"torque_nm": {Value: Num(5), Origin: Measured}}}
	for _, c := range []struct {
		name  string
		place Place
		part  *Part
		nm    float64
		want  Action
		says  string
	}{
		{"as it is marked", "seatpost.clamp", marked, 5.2, Keep, "5 are marked on it"},
		{"far over its mark", "seatpost.clamp", marked, 7, Adjust, "5 are marked on it"},
		{"pedals by a cargo bike's manual, 34.7 to 39.5 N·m", "pedals", nil, 36, Keep, "34.7 to 39.5 by a published list"},
		{"a pedal by hand alone", "pedals", nil, 10, Adjust, "34.7 to 39.5 by a published list"},
		{"a stem has two joints, and which it was is not said", "stem", nil, 6, Keep, "lists run from 5 to 29.4"},
		{"more than any list has of a stem", "stem", nil, 60, Adjust, "lists run from 5 to 29.4"},
		{"front axle nuts by three manuals: 180 to 240 lb·in", "front.axle-nuts", nil, 25, Keep, "20.3 to 27.1 by a published list"},
		{"a rear wheel's nuts want more", "rear.axle-nuts", nil, 25, Adjust, "27.1 to 33.9 by a published list"},
		{"a saddle on two thin bolts, by two manuals 45 to 60 lb·in: which bolts it has is not said", "saddle", nil, 6, Keep, "lists run from 5.1 to 28.3"},
		{"nothing is published for a thru-axle", "rear.thru-axle", nil, 12, Keep, "not on record"},
	} {
		t.Run(c.name, func(t *testing.T) {
			site, err := SiteOf(c.place)
			require.NoError(t, err)
			r, err := ReadingOf(site.Family, "tightened_nm")
			require.NoError(t, err)
			got := r.Advise(Look{Build: Build{c.place: c.part}, Place: c.place, Read: Readings{"tightened_nm": Num(c.nm)}})
			require.Equal(t, c.want, got.Action, got.Words)
			require.Contains(t, got.Words, c.says)
		})
	}
}
