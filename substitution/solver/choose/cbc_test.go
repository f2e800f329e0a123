package choose

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution/supply"
)

// The second reference is CBC, as Debian's coinor-cbc brings it. It reads a model that is written here and shares
// nothing with the one that HiGHS is given.

// TestRecordedOptimaByCBC derives the optima that HiGHS found once more, with another solver and another model.
func TestRecordedOptimaByCBC(t *testing.T) {
	if _, err := exec.LookPath("cbc"); err != nil {
		if os.Getenv("STEAD_CI") == "1" {
			t.Fatal("cbc is not there: apt-get install coinor-cbc")
		}
		t.Skip("cbc is not there, so the recorded optima were not derived by it: apt-get install coinor-cbc")
	}
	data, err := os.ReadFile(optimaFile)
	require.NoError(t, err)
	var recorded []optimum
	require.NoError(t, json.Unmarshal(data, &recorded))
	for seed, want := range recorded {
		if !derivedAnew(seed) {
			continue
		}
		t.Run(fmt.Sprintf("seed %d", seed), func(t *testing.T) {
			t.Parallel()
			require.Equal(t, want.Cost, askCBC(t, referenceProblem(uint64(seed))))
		})
	}
}

var cbcOptimal = regexp.MustCompile(`^Optimal - objective value\s+(\S+)`)

// askCBC is the least cost by CBC, or nil where it finds that nothing fits.
func askCBC(t *testing.T, p *Problem) *int64 {
	dir := t.TempDir()
	model, solution := filepath.Join(dir, "choose.lp"), filepath.Join(dir, "choose.sol")
	require.NoError(t, os.WriteFile(model, []byte(linear(p)), 0o600))
	log, err := exec.Command("cbc", model, "-ratioGap", "0", "-allowableGap", "0", "-sec", "60", "-solve", "-solution", solution).CombinedOutput()
	require.NoError(t, err, string(log))
	text, err := os.ReadFile(solution)
	require.NoError(t, err, string(log))
	if found := cbcOptimal.FindSubmatch(text); found != nil {
		cost, err := strconv.ParseFloat(string(found[1]), 64)
		require.NoError(t, err)
		pence := int64(cost + 0.5)
		require.InDelta(t, cost, pence, 1e-4)
		return &pence
	}
	require.Contains(t, strings.ToLower(string(text)), "infeasible", string(log))
	return nil
}

// linear writes a problem without extras or limits as a mixed-integer program in the LP format: x takes an option, y
// buys packs at a break of an offer and z says that the break is reached, u uses a supplier, f has its carriage free.
func linear(p *Problem) string {
	var rows, costs, bounds, binary, general strings.Builder
	row := func(format string, args ...any) { fmt.Fprintf(&rows, " "+format+"\n", args...) }
	goods := make([]string, len(p.Suppliers))
	takers := make([][][3]int, len(p.Offers)) // by offer: need, option and pieces
	for i, n := range p.Needs {
		one := ""
		for o, option := range n.Options {
			one += fmt.Sprintf(" + x%d_%d", i, o)
			fmt.Fprintf(&binary, " x%d_%d", i, o)
			rest := n.Pieces
			if l := option.First; l != nil {
				takers[l.Offer] = append(takers[l.Offer], [3]int{i, o, l.Pieces})
				rest -= l.Pieces
			}
			takers[option.Offer] = append(takers[option.Offer], [3]int{i, o, rest})
			if s := p.Offers[option.Offer].Supplier; s != supply.Shelf {
				row("x%d_%d - u%d <= 0", i, o, s)
			}
		}
		row("%s = 1", one)
	}
	for k, offer := range p.Offers {
		if len(takers[k]) == 0 {
			continue
		}
		pieces, all := "", 0
		for _, x := range takers[k] {
			pieces += fmt.Sprintf(" - %d x%d_%d", x[2], x[0], x[1])
			all += x[2]
		}
		packs, reached := "", ""
		for b, br := range offer.Breaks {
			y, z := fmt.Sprintf("y%d_%d", k, b), fmt.Sprintf("z%d_%d", k, b)
			row("%s - %d %s >= 0", y, br.Packs, z)
			most := max((all+offer.Pack-1)/offer.Pack, br.Packs) // never more only to reach a carriage-paid level
			row("%s - %d %s <= 0", y, most, z)
			packs += fmt.Sprintf(" + %d %s", offer.Pack, y)
			reached += " + " + z
			fmt.Fprintf(&costs, " + %d %s", br.Price, y)
			fmt.Fprintf(&general, " %s", y)
			fmt.Fprintf(&bounds, " 0 <= %s <= %d\n", y, most)
			fmt.Fprintf(&binary, " %s", z)
			if offer.Supplier != supply.Shelf {
				goods[offer.Supplier] += fmt.Sprintf(" + %d %s", br.Price, y)
			}
		}
		row("%s%s >= 0", packs, pieces)
		row("%s <= 1", reached)
		if offer.Most > 0 {
			row("%s <= %d", packs, offer.Most)
		}
	}
	for s, sup := range p.Suppliers {
		if goods[s] == "" {
			continue
		}
		fmt.Fprintf(&costs, " + %d u%d", sup.Carriage, s)
		fmt.Fprintf(&binary, " u%d", s)
		if sup.MinimumOrder > 0 {
			row("%s - %d u%d >= 0", goods[s], sup.MinimumOrder, s)
		}
		if sup.PaidAt > 0 {
			fmt.Fprintf(&costs, " - %d f%d", sup.Carriage, s)
			fmt.Fprintf(&binary, " f%d", s)
			row("%s - %d f%d >= 0", goods[s], sup.PaidAt, s)
			row("f%d - u%d <= 0", s, s)
		}
	}
	// What a rule stops is written out, one row for each combination of marks.
	for _, rule := range p.Rules {
		marks := make([]int, len(rule.Needs))
		var walk func(k int, terms string)
		walk = func(k int, terms string) {
			if k == len(marks) {
				if rule.Judge(marks).Stops {
					row("%s <= %d", terms, k-1)
				}
				return
			}
			with := map[int]string{}
			for o, m := range rule.Marks[k] {
				with[m] += fmt.Sprintf(" + x%d_%d", rule.Needs[k], o)
			}
			for m, options := range with {
				marks[k] = m
				walk(k+1, terms+options)
			}
		}
		walk(0, "")
	}
	return "Minimize\n cost:" + costs.String() + "\nSubject To\n" + rows.String() + "Bounds\n" + bounds.String() +
		"Binary\n" + binary.String() + "\nGeneral\n" + general.String() + "\nEnd\n"
}
