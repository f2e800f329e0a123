package orderplan

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// testdata/orderplan/optima.csv holds optima that HiGHS and CBC agree on. An
// instance is recorded as the family, size and seed that generate it and a
// checksum of its JSON, so that a changed generator cannot pass unnoticed.
const optimaFile = "../../testdata/orderplan/optima.csv"

// small is the family of generateSmall: every feature, incremental discounts and
// infeasible problems among them.
const small kind = "small"

type recorded struct {
	kind             kind
	lines, suppliers int
	seed             uint64
	checksum         string
	total            string // "infeasible" or pence
}

func (r recorded) problem() Problem {
	if r.kind == small {
		return generateSmall(rand.New(rand.NewPCG(r.seed, 77)).IntN, r.lines, r.suppliers)
	}
	return generate(r.kind, r.lines, r.suppliers, r.seed)
}

func checksum(p Problem) string {
	text, err := json.Marshal(p)
	if err != nil {
		panic(err)
	}
	h := fnv.New64a()
	h.Write(text)
	return fmt.Sprintf("%016x", h.Sum64())
}

func readOptima(t testing.TB) (all []recorded) {
	file, err := os.Open(optimaFile)
	require.NoError(t, err)
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	for _, row := range rows[1:] {
		r := recorded{kind: kind(row[0]), checksum: row[4], total: row[5]}
		r.lines, r.suppliers = int(number(row[1])), int(number(row[2]))
		r.seed = uint64(number(row[3]))
		all = append(all, r)
	}
	return all
}

func (r recorded) matches(a answer) bool {
	if a.Status == "optimal" {
		return r.total == strconv.FormatFloat(*a.Total, 'f', 0, 64)
	}
	return a.Status == r.total
}

func TestRecordedOptima(t *testing.T) {
	all := readOptima(t)
	require.Greater(t, len(all), 200)
	for _, r := range all {
		p := r.problem()
		require.Equal(t, r.checksum, checksum(p), "the generator has changed: record the optima anew")
		plan, err := Solve(context.Background(), p)
		if r.total == "infeasible" {
			var no *InfeasibleError
			require.ErrorAs(t, err, &no, "%+v", r)
			continue
		}
		require.NoError(t, err, "%+v", r)
		require.Equal(t, r.total, fmt.Sprint(plan.Total), "%+v", r)
		require.True(t, plan.Proven, "%+v", r)
		require.NoError(t, Check(p, plan), "%+v", r)
	}
}

// The recorded optima derived anew: all of them where STEAD_CI is 1 (a missing
// solver is then a failure), else some of them where a solver is installed.
func TestRecordedOptimaDerivedAnew(t *testing.T) {
	all := readOptima(t)
	for _, solver := range []string{"highs", "cbc"} {
		t.Run(solver, func(t *testing.T) {
			chosen := all
			if os.Getenv("STEAD_CI") != "1" {
				if why := missing(solver); why != "" {
					t.Skip(why)
				}
				chosen = nil
				for i := 0; i < len(all); i += 29 {
					chosen = append(chosen, all[i])
				}
			}
			require.Empty(t, missing(solver))
			var problems []Problem
			for _, r := range chosen {
				problems = append(problems, r.problem())
			}
			for i, a := range reference(t, solver, 60, problems) {
				require.True(t, chosen[i].matches(a), "%+v: %s says %+v", chosen[i], solver, a)
			}
		})
	}
}

// TestRecordOptima writes the file: ORDERPLAN_RECORD=1 go test -run RecordOptima.
func TestRecordOptima(t *testing.T) {
	if os.Getenv("ORDERPLAN_RECORD") != "1" {
		t.Skip("set ORDERPLAN_RECORD=1 to record the optima anew")
	}
	var all []recorded
	for _, k := range []kind{fix, thr, full} {
		for _, size := range [][2]int{{6, 3}, {12, 5}, {20, 6}, {30, 8}} {
			for seed := range uint64(15) {
				all = append(all, recorded{kind: k, lines: size[0], suppliers: size[1], seed: 1000 + seed})
			}
		}
	}
	for seed := uint64(0); len(all) < 260; seed++ {
		r := recorded{kind: small, lines: 3 + int(seed%8), suppliers: 2 + int(seed%5), seed: seed}
		if err := r.problem().Validate(); err == nil {
			all = append(all, r)
		}
	}
	var problems []Problem
	for _, r := range all {
		problems = append(problems, r.problem())
	}
	highs, cbc := reference(t, "highs", 60, problems), reference(t, "cbc", 60, problems)
	file, err := os.Create(optimaFile)
	require.NoError(t, err)
	w := csv.NewWriter(file)
	require.NoError(t, w.Write([]string{"kind", "lines", "suppliers", "seed", "checksum", "total"}))
	for i, r := range all {
		r.total = highs[i].Status
		if highs[i].Status == "optimal" {
			r.total = strconv.FormatFloat(*highs[i].Total, 'f', 0, 64)
		}
		require.True(t, r.matches(cbc[i]), "%+v: HiGHS %+v, CBC %+v", r, highs[i], cbc[i])
		require.NoError(t, w.Write([]string{string(r.kind), fmt.Sprint(r.lines), fmt.Sprint(r.suppliers), fmt.Sprint(r.seed), checksum(problems[i]), r.total}))
	}
	w.Flush()
	require.NoError(t, w.Error())
	require.NoError(t, file.Close())
}
