package orderplan

import (
	"context"
	"fmt"
	"os"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// BenchmarkSolve plans, for each kind of terms, orders of 40 lines from ten suppliers, one after the other.
func BenchmarkSolve(b *testing.B) {
	for _, k := range []kind{"fix", "thr", "full"} {
		b.Run(string(k), func(b *testing.B) {
			for i := range b.N {
				_, err := Solve(b.Context(), generate(k, 40, 10, uint64(i%5+1)))
				require.NoError(b, err)
			}
		})
	}
}

// BenchmarkAgainstHiGHS prints how long the planner takes in comparison with
// HiGHS on the same machine in the same run. Environment: ORDERPLAN_SIZES
// (default "12x5 40x10 80x15 200x15"), ORDERPLAN_KINDS, ORDERPLAN_SEEDS (how many),
// ORDERPLAN_FIRST (from which seed), ORDERPLAN_LIMIT (seconds an instance: of the
// clock for HiGHS, of the processor for the planner), ORDERPLAN_EACH (a row each).
func BenchmarkAgainstHiGHS(b *testing.B) {
	if why := missing("highs"); why != "" {
		b.Skip(why)
	}
	setting := func(name, standard string) []string {
		if v := os.Getenv(name); v != "" {
			standard = v
		}
		return strings.Fields(standard)
	}
	seeds, _ := strconv.Atoi(setting("ORDERPLAN_SEEDS", "10")[0])
	first, _ := strconv.Atoi(setting("ORDERPLAN_FIRST", "1")[0])
	limit, _ := strconv.ParseFloat(setting("ORDERPLAN_LIMIT", "60")[0], 64)
	fmt.Printf("%-4s %-7s %5s %6s %6s | %9s %9s %9s | %9s | %6s %6s %6s | %s\n", "kind", "size", "seeds", "proven", "HiGHS", "median s", "worst s", "HiGHS s", "gap%", "ratio", "p90", "worst", "different totals")
	for _, k := range setting("ORDERPLAN_KINDS", "fix thr full") {
		for _, size := range setting("ORDERPLAN_SIZES", "12x5 40x10 80x15 200x15") {
			var lines, suppliers int
			fmt.Sscanf(size, "%dx%d", &lines, &suppliers)
			var problems []Problem
			for seed := range seeds {
				problems = append(problems, generate(kind(k), lines, suppliers, uint64(seed+first)))
			}
			var ratios, own, theirs []float64
			proven, solved, differ := 0, 0, 0
			worstGap := 0.0
			answers := reference(b, "highs", limit, problems)
			for i, p := range problems {
				ctx, cancel := context.WithCancel(context.Background())
				runtime.GC() // what earlier instances left behind is not this one's work
				start := cpuSeconds()
				go func() {
					for cpuSeconds()-start < limit && ctx.Err() == nil {
						time.Sleep(50 * time.Millisecond)
					}
					cancel()
				}()
				plan, err := Solve(ctx, p)
				took := cpuSeconds() - start
				cancel()
				if err != nil {
					b.Errorf("%s %s seed %d: %v", k, size, i+first, err)
					continue
				}
				if plan.Proven {
					proven++
				}
				start = cpuSeconds()
				if err := Check(p, plan); err != nil {
					b.Errorf("%s %s seed %d: %v", k, size, i+first, err)
				}
				checked := cpuSeconds() - start
				worstGap = max(worstGap, 100*float64(plan.Gap())/float64(plan.Total))
				if answers[i].Status == "optimal" {
					solved++
					if plan.Proven && int64(*answers[i].Total) != plan.Total || plan.LowerBound > int64(*answers[i].Total) {
						differ++
						b.Errorf("%s %s seed %d: %d, HiGHS %v", k, size, i+first, plan.Total, *answers[i].Total)
					}
				}
				own, theirs = append(own, took), append(theirs, answers[i].Seconds)
				ratios = append(ratios, took/answers[i].Seconds)
				if os.Getenv("ORDERPLAN_EACH") != "" {
					fmt.Printf("  %s %s %d: total %d proven %v gap %d; %.4f s, HiGHS %.4f s %s; %+v; checked %d in %.4f s\n", k, size, i+first, plan.Total, plan.Proven, plan.Gap(), took, answers[i].Seconds, answers[i].Status, plan.Work, plan.Certificate.Bound, checked)
				}
			}
			slices.Sort(ratios)
			slices.Sort(own)
			slices.Sort(theirs)
			n := len(ratios)
			fmt.Printf("%-4s %-7s %5d %6d %6d | %9.4f %9.4f %9.4f | %9.4f | %6.2f %6.2f %6.2f | %d\n", k, size, n, proven, solved,
				own[n/2], own[n-1], theirs[n/2], worstGap, ratios[n/2], ratios[n*9/10], ratios[n-1], differ)
		}
	}
}

// cpuSeconds is the processor time this process has used. The table compares
// processor time, not the clock, so that other work on the machine counts for
// neither side.
func cpuSeconds() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano()).Seconds()
}
