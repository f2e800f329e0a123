package desk

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

// What was agreed is judged by the rules and the record as they are now: told where they would not take it, silent where
// they would, where it is on the bike already, or where somebody answers for it.
func TestJudgedAnew(t *testing.T) {
	was, err := substitution.ParsePart("chainring", "teeth=50 bcd_mm=110 bolts=5")
	require.NoError(t, err)
	crank, err := substitution.ParsePart("crankset", "bcd_mm=110 bolts=5")
	require.NoError(t, err)
	ring := func(spec string) inventory.Part {
		p, err := substitution.ParsePart("chainring", spec)
		require.NoError(t, err)
		return inventory.Part{ID: 7, Part: p}
	}
	for _, c := range []struct {
		name, ring string
		approved   bool
		waived     []pricing.Vouched
		claim      inventory.ClaimState
		told       int
	}{
		{"as agreed", "teeth=50 bcd_mm=110 bolts=5", true, nil, inventory.ClaimOrdered, 0},
		{"another circle was found out since", "teeth=50 bcd_mm=130 bolts=5", true, nil, inventory.ClaimOrdered, 1},
		{"nothing was agreed", "teeth=50 bcd_mm=130 bolts=5", false, nil, inventory.ClaimOrdered, 0},
		{"it arrived and was used", "teeth=50 bcd_mm=130 bolts=5", true, nil, inventory.ClaimArrived, 0},
		{"somebody answers for it", "teeth=50 bcd_mm=130 bolts=5", true, []pricing.Vouched{{Rule: "chainring.bcd", At: "crank.outer-ring"}}, inventory.ClaimWanted, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			v := Job{Parts: map[int64]inventory.Part{7: ring(c.ring)}, Claims: []inventory.Claim{{PartID: 7, Place: "crank.outer-ring", State: c.claim}}}
			v.Bike.Build = substitution.Build{"crank.outer-ring": &was, "crank": &crank}
			v.Limits.Vouched = c.waived
			if c.approved {
				v.Approval = &pricing.Approval{}
			}
			v.judgeAnew()
			require.Len(t, v.Changed, c.told)
			if c.told > 0 {
				require.Contains(t, v.Changed[0], "outer chainring: agreed before")
				require.Contains(t, v.Changed[0], "does not go on")
			}
		})
	}
}
