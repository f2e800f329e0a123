package pricing

import (
	"context"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/substitution"
	"stead/substitution/inspection"
)

// tubelessShop has what a set-up takes on its shelf: tapes of two kinds, valves of two lengths and a bottle.
func tubelessShop(t *testing.T) *workshop {
	w := newWorkshop(t, testdb.Tx(t))
	_, err := inventory.ChangeShop(t.Context(), w.tx, func(s *inventory.Shop) { s.Hourly = nullPounds("48.00") })
	require.NoError(t, err)
	for name, text := range map[string]string{"cloth tape": "width_mm=21 tubeless=no", "airtight tape": "width_mm=23 tubeless=yes", "broad airtight tape": "width_mm=30 tubeless=yes"} {
		w.shelve(w.part(name, "rim-tape", text, "12.00"), 9)
	}
	for name, text := range map[string]string{"short valve": "purpose=tubeless-valve valve_mm=30", "long valve": "purpose=tubeless-valve valve_mm=44", "sealant": "purpose=sealant"} {
		w.shelve(w.part(name, "consumable", text, "7.50"), 9)
	}
	return w
}

func setUpWheel(t *testing.T, w *workshop, job int64, place substitution.Place) AddedWork {
	t.Helper()
	added, err := AddWork(t.Context(), w.tx, job, AddedWork{Place: place, Words: "tubeless"}, decimal.NullDecimal{}, now)
	require.NoError(t, err)
	return added
}

func partNames(o Option) (out []string) {
	for _, p := range o.Parts {
		out = append(out, p.Name)
	}
	return out
}

// Tyre and rim stay: the tape is as wide as the rim inside, the valve longer than the rim is deep, one bottle serves both
// wheels, and the work is its 20 minutes at £48.00 an hour, 19.20 with tax.
func TestTubelessOnATyreThatStays(t *testing.T) {
	w := tubelessShop(t)
	build := substitution.Build{}
	for _, end := range []substitution.Place{"front", "rear"} {
		build[end+".rim"] = parsed(t, "rim", "bead_mm=622 inner_width_mm=21 hookless=no depth_mm=28 valve_hole_mm=6.5")
		build[end+".tyre"] = parsed(t, "tyre", "bead_mm=622 width_mm=40 tubeless=yes")
		build[end+".tube"] = parsed(t, "tube", "bead_mm=622")
		build[end+".rim-tape"] = parsed(t, "rim-tape", "width_mm=18 tubeless=no")
	}
	job := w.bookIn(build, Limits{})
	require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
		_, err := AddWork(ctx, tx, job, AddedWork{Words: "tubeless"}, decimal.NullDecimal{}, now)
		return err
	}), "a set-up without tubes is of one wheel")
	setUpWheel(t, w, job, "front.tyre")
	q := w.quote(job)
	require.Len(t, q.Labour, 1)
	require.Equal(t, "19.20", q.Labour[0].Amount.StringFixed(2))
	require.ElementsMatch(t, []string{"airtight tape", "long valve", "sealant"}, partNames(q.Options[0]))
	for _, p := range q.Options[0].Parts {
		if p.Brought {
			require.Equal(t, []substitution.Place{"front.rim-tape"}, p.With, "it goes with the tape")
		}
	}

	rear := setUpWheel(t, w, job, "rear.rim")
	require.ElementsMatch(t, []string{"airtight tape", "airtight tape", "long valve", "long valve", "sealant"}, partNames(w.quote(job).Options[0]))
	require.NoError(t, DropWork(t.Context(), w.tx, job, rear.ID, now))
	q = w.quote(job)
	w.approve(job, q.Options[0].Name())

	// The rear wheel as well, once the front one is agreed, is an amendment with its own tape and valve.
	setUpWheel(t, w, job, "rear.tyre")
	require.Subset(t, partNames(w.amend(job).Options[0]), []string{"airtight tape", "long valve"})
	require.Len(t, w.amend(job).Instead, 0, "what is agreed stays")
}

// A tyre for a wheel that is set up without a tube is not held to the range of the tube that comes out of it.
func TestTubeComesOut(t *testing.T) {
	w := tubelessShop(t)
	require.NoError(t, SetLabour(t.Context(), w.tx, Labour{"tyre", inspection.Replace, "fit tyre", 15, pounds("12.00")}))
	w.shelve(w.part("tyre 45-622 tubeless", "tyre", "bead_mm=622 width_mm=45 tubeless=yes", "44.00"), 1)
	job := w.bookIn(substitution.Build{
		"rear.rim":  parsed(t, "rim", "bead_mm=622 inner_width_mm=21 hookless=no depth_mm=28 valve_hole_mm=6.5"),
		"rear.tyre": parsed(t, "tyre", "bead_mm=622 width_mm=40 tubeless=no"),
		"frame":     parsed(t, "frame", "tyre_max_mm=50"),
		"rear.tube": parsed(t, "tube", "bead_mm=622 width_min_mm=28 width_max_mm=42 valve=presta"),
	}, Limits{})
	w.find(job, inspection.Replace, "rear.tyre")
	for _, o := range w.quote(job).Options {
		require.NotContains(t, partNames(o), "tyre 45-622 tubeless", "45 mm over a tube for 42")
	}
	setUpWheel(t, w, job, "rear.tyre")
	require.ElementsMatch(t, []string{"tyre 45-622 tubeless", "airtight tape", "long valve", "sealant"}, partNames(w.quote(job).Options[0]))
}

// Tyre and tape are to be replaced where there was a tube, and nothing is said of a set-up: what the tyre brings beside
// whichever tape is known before the tape is chosen.
func TestTyreAndTapeAtOnce(t *testing.T) {
	w := tubelessShop(t)
	ctx := t.Context()
	require.NoError(t, SetLabour(ctx, w.tx, Labour{"tyre", inspection.Replace, "fit tyre", 15, pounds("12.00")}))
	require.NoError(t, SetLabour(ctx, w.tx, Labour{"rim-tape", inspection.Replace, "fit rim tape", 10, pounds("8.00")}))
	w.shelve(w.part("tyre 40-622 tubeless", "tyre", "bead_mm=622 width_mm=40 tubeless=yes", "44.00"), 1)
	job := w.bookIn(substitution.Build{
		"rear.rim":      parsed(t, "rim", "bead_mm=622 inner_width_mm=21 hookless=no"),
		"rear.tyre":     parsed(t, "tyre", "bead_mm=622 width_mm=40 tubeless=no"),
		"rear.rim-tape": parsed(t, "rim-tape", "width_mm=21"),
	}, Limits{})
	w.find(job, inspection.Replace, "rear.tyre", "rear.rim-tape")
	require.Subset(t, partNames(w.quote(job).Options[0]), []string{"tyre 40-622 tubeless", "airtight tape", "sealant"})
}

// A tyre for tubes that stays stops the set-up, and so does one of which nobody has read what it is for.
func TestNoTubelessWithATyreForTubes(t *testing.T) {
	w := tubelessShop(t)
	for tyre, why := range map[string]string{"tubeless=no": "is made for a tube", "width_mm=40": "is not known: read"} {
		job := w.bookIn(substitution.Build{
			"rear.rim":  parsed(t, "rim", "bead_mm=622 inner_width_mm=21"),
			"rear.tyre": parsed(t, "tyre", tyre),
		}, Limits{})
		setUpWheel(t, w, job, "rear.tyre")
		q := w.quote(job)
		require.NotNil(t, q.Refusal)
		require.Contains(t, q.Refusal.Why[0], why)
	}
}

// A tape that the customer brings changes nothing of what is asked of the tyre, and valve and sealant are not forgotten.
func TestTubelessWithTheCustomersTape(t *testing.T) {
	w := tubelessShop(t)
	for tyre, stops := range map[string]bool{"tubeless=yes": false, "tubeless=no": true} {
		job := w.bookIn(substitution.Build{"rear.rim": parsed(t, "rim", "bead_mm=622"), "rear.tyre": parsed(t, "tyre", tyre), "rear.rim-tape": nil}, Limits{})
		setUpWheel(t, w, job, "rear.tyre")
		require.NoError(t, SetOwnPart(t.Context(), w.tx, job, OwnPart{Place: "rear.rim-tape", Words: "a roll"}, now))
		q := w.quote(job)
		if stops {
			require.Contains(t, q.Refusal.Why[0], "is made for a tube")
			continue
		}
		checks := named(t, q, "no parts").Checks
		require.Contains(t, checks[len(checks)-1], "see that it is airtight, and that valve and sealant came with it")
	}
}
