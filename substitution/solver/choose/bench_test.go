package choose

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// sizes are those of a small, a usual and a large job.
var sizes = []struct {
	name  string
	shape shape
}{
	{"6 needs x 50 offers, 6 suppliers", shape{needs: 6, options: 50, suppliers: 6, values: []int{4, 5, 3}, extraLinks: 0.25}},
	{"8 needs x 250 offers, 10 suppliers", shape{needs: 8, options: 250, suppliers: 10, values: []int{4, 5, 3}, extraLinks: 0.25}},
	{"12 needs x 400 offers, 12 suppliers", shape{needs: 12, options: 400, suppliers: 12, values: []int{4, 5, 3}, extraLinks: 0.25}},
}

const seeds = 5

func BenchmarkFront(b *testing.B) {
	for _, size := range sizes {
		b.Run(size.name, func(b *testing.B) {
			b.ReportAllocs()
			points := 0
			for i := range b.N {
				r, err := Solve(context.Background(), generate(uint64(i%seeds), size.shape))
				require.NoError(b, err)
				points += len(r.Front)
			}
			b.ReportMetric(float64(points)/float64(b.N), "points")
		})
	}
}

func BenchmarkCheapest(b *testing.B) {
	for _, size := range sizes {
		b.Run(size.name, func(b *testing.B) {
			b.ReportAllocs()
			for i := range b.N {
				_, err := Cheapest(context.Background(), generate(uint64(i%seeds), size.shape))
				require.NoError(b, err)
			}
		})
	}
}

// BenchmarkAgainstReferences prints, from one run on one machine, how long the search takes beside HiGHS and Gecode:
// the cheapest choice against both, the front against HiGHS by epsilon-constraint. Each is given a minute; of the fronts
// of the largest size none is tried: HiGHS takes seconds for one point of them. Of milliseconds the best of a few tries is
// told, for the search and for Gecode alike, and the search has solved other problems before, because the others' seconds
// leave out their start as well.
func BenchmarkAgainstReferences(b *testing.B) {
	for warm := range uint64(20) {
		_, err := Cheapest(context.Background(), generate(seeds+warm, sizes[0].shape))
		require.NoError(b, err)
	}
	for range b.N {
		fmt.Printf("\n%-38s %5s %9s %9s %9s | %6s %9s %10s\n", "", "seed", "cheapest", "HiGHS", "Gecode", "points", "front", "HiGHS")
		for k, size := range sizes {
			for seed := range uint64(seeds) {
				compare(b, size.name, seed, generate(seed, size.shape), k < 2)
			}
		}
	}
}

// tries of which the best is told.
const tries = 3

func compare(b *testing.B, name string, seed uint64, p *Problem, whole bool) {
	var cheap Result
	single := time.Hour
	for range tries {
		begun := time.Now()
		var err error
		cheap, err = Cheapest(context.Background(), p)
		single = min(single, time.Since(begun))
		require.NoError(b, err)
	}
	begun := time.Now()
	front, err := Solve(context.Background(), p)
	all := time.Since(begun)
	require.NoError(b, err)
	require.True(b, front.Proven)

	against := func(seconds float64, ours time.Duration, finished bool) string {
		over := ""
		if !finished {
			over = ">"
		}
		return fmt.Sprintf("%s%.3gx", over, seconds/ours.Seconds())
	}
	highsSingle, highsFront, gecode := "absent", "absent", "absent"
	if haveHighs() == nil {
		answers, err := ask[optimum]([]*Problem{p})
		require.NoError(b, err)
		if answers[0].Cost != nil {
			require.Equal(b, *answers[0].Cost, cheap.Front[0].Cost)
		}
		highsSingle = against(answers[0].Seconds, single, answers[0].Cost != nil)
		highsFront = "not tried"
		if whole {
			type answer struct {
				Points   [][3]int64
				Finished bool
				Seconds  float64
			}
			answers, err := ask[answer]([]*Problem{p}, "--front", "60")
			require.NoError(b, err)
			if answers[0].Finished {
				require.Len(b, answers[0].Points, len(front.Front))
			}
			highsFront = against(answers[0].Seconds, all, answers[0].Finished)
		}
	}
	cost, seconds, proven, err := askGecode(p)
	for range tries - 1 {
		if _, again, _, err := askGecode(p); err == nil {
			seconds = min(seconds, again)
		}
	}
	if err == nil {
		if proven {
			require.Equal(b, cost, cheap.Front[0].Cost)
		}
		gecode = against(seconds, single, proven)
	}
	fmt.Printf("%-38s %5d %9v %9s %9s | %6d %9v %10s\n", name, seed, single.Round(100*time.Microsecond), highsSingle, gecode, len(front.Front), all.Round(time.Millisecond), highsFront)
}

// askGecode finds the cheapest choice with Gecode, as Debian's minizinc brings it. Its seconds are those of the search
// alone, without reading and flattening the problem.
func askGecode(p *Problem) (cost int64, seconds float64, proven bool, err error) {
	if _, err := exec.LookPath("minizinc"); err != nil {
		return 0, 0, false, err
	}
	dir, err := os.MkdirTemp("", "gecode")
	if err != nil {
		return 0, 0, false, err
	}
	defer os.RemoveAll(dir)
	model := filepath.Join(dir, "choose.mzn")
	if err := os.WriteFile(model, []byte(minizinc(p)), 0o600); err != nil {
		return 0, 0, false, err
	}
	out, err := exec.Command("minizinc", "--solver", "gecode", "--time-limit", "60000", "--statistics", model).Output()
	if err != nil {
		return 0, 0, false, err
	}
	for _, line := range strings.Split(string(out), "\n") {
		fmt.Sscanf(line, "cost=%d", &cost)
		fmt.Sscanf(line, "%%%%%%mzn-stat: solveTime=%g", &seconds)
		proven = proven || strings.HasPrefix(line, "==========")
	}
	return cost, seconds, proven, nil
}

// minizinc writes a problem of single pieces, rules over two needs and plain carriage for Gecode, options sorted by
// price so that it tries cheap ones first.
func minizinc(p *Problem) string {
	var m strings.Builder
	write := func(format string, args ...any) { fmt.Fprintf(&m, format, args...) }
	numbers := func(n int, at func(i int) any) string {
		text, _ := json.Marshal(slices.Collect(func(yield func(any) bool) {
			for i := range n {
				if !yield(at(i)) {
					return
				}
			}
		}))
		return string(text)
	}
	order := make([][]int, len(p.Needs))
	var costs []string
	for i, n := range p.Needs {
		price := func(o int) int64 { return p.Offers[n.Options[o].Offer].Breaks[0].Price }
		for o := range n.Options {
			order[i] = append(order[i], o)
		}
		slices.SortStableFunc(order[i], func(a, b int) int { return int(price(a) - price(b)) })
		write("var 1..%d: x%d;\n", len(n.Options), i)
		costs = append(costs, fmt.Sprintf("%s[x%d]", numbers(len(n.Options), func(o int) any { return price(order[i][o]) }), i))
	}
	for s, sup := range p.Suppliers {
		write("var bool: used%d;\n", s)
		for i, n := range p.Needs {
			write("constraint %s[x%d] -> used%d;\n", numbers(len(n.Options), func(o int) any { return p.Offers[n.Options[order[i][o]].Offer].Supplier == s }), i, s)
		}
		costs = append(costs, fmt.Sprintf("%d*bool2int(used%d)", sup.Carriage, s))
	}
	for _, r := range p.Rules {
		a, b := r.Needs[0], r.Needs[1]
		rows, cols := slices.Max(r.Marks[0])+1, slices.Max(r.Marks[1])+1
		allowed := numbers(rows*cols, func(k int) any { return !r.Judge([]int{k / cols, k % cols}).Stops })
		mark := func(need int, marks []int) string {
			return numbers(len(marks), func(o int) any { return marks[order[need][o]] })
		}
		write("constraint %s[%d*%s[x%d] + %s[x%d] + 1];\n", allowed, cols, mark(a, r.Marks[0]), a, mark(b, r.Marks[1]), b)
	}
	write("var int: cost = %s;\n", strings.Join(costs, " + "))
	var all []string
	for i := range p.Needs {
		all = append(all, fmt.Sprintf("x%d", i))
	}
	write("solve :: int_search([%s], dom_w_deg, indomain_min) minimize cost;\noutput [\"cost=\\(cost)\\n\"];\n", strings.Join(all, ", "))
	return m.String()
}

// BenchmarkGrowth prints how the time of a whole front grows with needs, offers and suppliers, the median of five, and
// draws it: a bar for each, on a scale where the same length is the same factor everywhere.
func BenchmarkGrowth(b *testing.B) {
	for range b.N {
		grow := func(what string, values []int, set func(*shape, int)) {
			fmt.Printf("\n%-10s %8s %10s %10s  0.1 ms     1 ms      10 ms     100 ms    1 s       10 s\n", what, "points", "nodes", "front")
			for _, v := range values {
				sh := shape{needs: 8, options: 100, suppliers: 8, values: []int{4, 5, 3}, extraLinks: 0.25}
				set(&sh, v)
				var times []time.Duration
				var points, nodes int64
				for seed := range uint64(seeds) {
					p := generate(seed, sh)
					begun := time.Now()
					r, err := Solve(context.Background(), p)
					require.NoError(b, err)
					times = append(times, time.Since(begun))
					points, nodes = points+int64(len(r.Front)), nodes+r.Nodes
				}
				slices.Sort(times)
				median := times[seeds/2]
				fmt.Printf("%-10d %8d %10d %10v  |%s\n", v, points/seeds, nodes/seeds, median.Round(100*time.Microsecond), bar(median))
			}
		}
		grow("needs", []int{3, 4, 6, 8, 10, 12}, func(sh *shape, v int) { sh.needs = v })
		grow("offers", []int{25, 50, 100, 200, 400}, func(sh *shape, v int) { sh.options = v })
		grow("suppliers", []int{2, 4, 8, 12, 15}, func(sh *shape, v int) { sh.suppliers = v })
	}
}

// bar is ten characters long for every factor of ten above 0.1 ms.
func bar(d time.Duration) string {
	decades := math.Log10(float64(d) / float64(100*time.Microsecond))
	return strings.Repeat("#", max(0, int(math.Round(10*decades))))
}
