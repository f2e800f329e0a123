package desk

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
	"stead/substitution/inspection"
)

func TestMarkAt(t *testing.T) {
	const at = substitution.Place("chain")
	found := func(a inspection.Action) []inspection.Finding { return []inspection.Finding{{Place: at, Action: a}} }
	agreed := &pricing.Agreement{Work: map[substitution.Place]inspection.Action{at: inspection.Replace}}
	for _, c := range []struct {
		name string
		job  Job
		want Mark
	}{
		{"nobody looked", Job{}, Unseen},
		{"looked, and noted something", Job{Job: pricing.Job{Findings: found("")}}, Unseen},
		{"looked, and asked something", Job{Job: pricing.Job{Findings: []inspection.Finding{{Place: at, Asks: []string{"what turns in it?"}}}}}, Open},
		{"fine", Job{Job: pricing.Job{Findings: found(inspection.Keep)}}, Fine},
		{"to adjust", Job{Job: pricing.Job{Findings: found(inspection.Adjust)}}, Adjust},
		{"to replace", Job{Job: pricing.Job{Findings: found(inspection.Replace)}}, Replace},
		{"its part is on order, and another is here", Job{Job: pricing.Job{Findings: found(inspection.Replace)}, Agreement: agreed,
			Claims: []inventory.Claim{{Place: at, State: inventory.ClaimOrdered}}, Held: []inventory.Reservation{{Place: at}}}, Wait},
		{"its part is here", Job{Job: pricing.Job{Findings: found(inspection.Replace)}, Agreement: agreed, Held: []inventory.Reservation{{Place: at}}}, Here},
		{"its part is fitted", Job{Job: pricing.Job{Findings: found(inspection.Replace)}, Agreement: agreed, Held: []inventory.Reservation{{Place: "pedals"}}}, Done},
		{"found since the approval", Job{Job: pricing.Job{Findings: found(inspection.Replace)}, Agreement: &pricing.Agreement{}}, Replace},
		{"left out", Job{Job: pricing.Job{Findings: found(inspection.Replace)}, Terms: pricing.Terms{Advised: []pricing.Advice{{Place: at}}}}, Later},
		{"left out, and another agreed", Job{Job: pricing.Job{Findings: found(inspection.Adjust)}, Terms: pricing.Terms{Advised: []pricing.Advice{{Place: at}}}, Agreement: &pricing.Agreement{}}, Later},
		{"given up", Job{Job: pricing.Job{Findings: found(inspection.Replace), State: pricing.Cancelled}, Agreement: agreed}, Replace},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.want, c.job.MarkAt(at))
			require.NotEmpty(t, c.want.Words())
		})
	}
}

// Every place that there is stands once in the list beside the drawing, and with its mark where something was found.
func TestEveryPlaceIsMarkedInTheList(t *testing.T) {
	var job Job
	for _, site := range substitution.Sites() {
		job.Findings = append(job.Findings, inspection.Finding{Place: site.Place, Action: inspection.Clean})
	}
	listed := map[substitution.Place]int{}
	for _, round := range RoundsOf(job) {
		require.NotEmpty(t, round.Known, round.Title)
		require.Empty(t, round.Rest, "%s: it was found, and the list has it among those that nobody looked at", round.Title)
		for _, m := range round.Known {
			listed[m.Place]++
			require.Equal(t, Clean, m.Mark, m.Place)
			require.NotEmpty(t, m.Words, m.Place)
		}
	}
	for _, site := range substitution.Sites() {
		require.Equal(t, 1, listed[site.Place], "%s", site.Place)
	}
}
