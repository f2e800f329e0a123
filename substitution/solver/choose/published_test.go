package choose

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution/supply"
)

// handSized is a problem of four needs with four options each. All chosen must share one class; at most two suppliers;
// the front was found by trying all 256 combinations by hand and by an independent program, and printed with it.
func handSized() *Problem {
	const a, b = 0, 1
	const p, q, r = 0, 1, 2
	type offer struct {
		cost      int64
		day       int
		deviation int64
		class     int
		supplier  int
	}
	slots := [][]offer{
		{{1200, 2, 0, a, p}, {900, 5, 0, a, q}, {700, 9, 1, a, r}, {1000, 3, 0, b, q}},
		{{3000, 2, 0, a, p}, {2400, 6, 0, a, q}, {1900, 4, 2, b, r}, {2600, 3, 1, a, r}},
		{{800, 1, 0, a, p}, {650, 5, 1, a, q}, {600, 4, 0, b, q}, {500, 9, 0, a, r}},
		{{1500, 2, 0, a, p}, {1100, 7, 0, a, q}, {1000, 3, 1, b, r}, {1250, 4, 0, a, r}},
	}
	problem := &Problem{Suppliers: []supply.Supplier{{Carriage: 600}, {Carriage: 500}, {Carriage: 400}}, MostSuppliers: 2}
	one := Rule{Judge: func(marks []int) Ruling {
		for _, m := range marks {
			if m != marks[0] {
				return Ruling{Stops: true}
			}
		}
		return Ruling{}
	}}
	for i, slot := range slots {
		need := Need{Name: string(rune('1' + i)), Pieces: 1}
		var marks []int
		for _, o := range slot {
			need.Options = append(need.Options, Option{Offer: len(problem.Offers), Deviation: o.deviation})
			problem.Offers = append(problem.Offers, supply.Offer{Supplier: o.supplier, Pack: 1, Day: o.day, Breaks: []supply.Break{{Packs: 1, Price: o.cost}}})
			marks = append(marks, o.class)
		}
		problem.Needs = append(problem.Needs, need)
		one.Needs, one.Marks = append(one.Needs, i), append(one.Marks, marks)
	}
	problem.Rules = []Rule{one}
	return problem
}

// The ten points with their unique choices. (6100,6,1), (6300,5,2) and (6850,4,1) are best for no weights at all: a
// search by weighted sums misses them.
var handSizedFront = Front{
	{5400, 4, 3, []int{3, 2, 2, 2}, []int{}}, {5450, 9, 2, []int{2, 3, 3, 3}, []int{}}, {5550, 7, 1, []int{1, 1, 1, 1}, []int{}},
	{5800, 9, 0, []int{1, 1, 3, 1}, []int{}}, {6100, 6, 1, []int{1, 1, 1, 3}, []int{}}, {6300, 5, 2, []int{1, 3, 1, 3}, []int{}},
	{6300, 7, 0, []int{1, 1, 0, 1}, []int{}}, {6700, 6, 0, []int{1, 1, 0, 0}, []int{}}, {6850, 4, 1, []int{0, 3, 0, 3}, []int{}},
	{7100, 2, 0, []int{0, 0, 0, 0}, []int{}},
}

func TestHandSizedFront(t *testing.T) {
	wide := handSized()
	require.Equal(t, handSizedFront, normal(verified(t, wide).Front))

	// The same with the one rule over four needs put as six rules over two.
	pairs := handSized()
	one := pairs.Rules[0]
	pairs.Rules = nil
	for i := range one.Needs {
		for j := range i {
			pairs.Rules = append(pairs.Rules, Rule{Needs: []int{i, j}, Marks: [][]int{one.Marks[i], one.Marks[j]}, Judge: one.Judge})
		}
	}
	require.Equal(t, handSizedFront, normal(verified(t, pairs).Front))
}

func normal(f Front) Front {
	for i := range f {
		f[i].Extras = []int{}
	}
	return f
}

// C. C. Petersen, "Computational experience with variants of the Balas algorithm applied to the selection of R&D
// projects", Management Science 13(9), 1967, 736-750, problem 1 (OR-Library, mknap1): a knapsack with ten resources.
// The most profit is the least profit forgone, and the resources are one rule over all six projects.
func TestPetersen1(t *testing.T) {
	profit := []int64{100, 600, 1200, 2400, 500, 2000}
	use := [][]int{
		{8, 12, 13, 64, 22, 41}, {8, 12, 13, 75, 22, 41}, {3, 6, 4, 18, 6, 4}, {5, 10, 8, 32, 6, 12}, {5, 13, 8, 42, 6, 20},
		{5, 13, 8, 48, 6, 20}, {0, 0, 0, 0, 8, 0}, {3, 0, 4, 0, 8, 0}, {3, 2, 4, 0, 8, 4}, {3, 2, 4, 8, 8, 4},
	}
	capacity := []int{80, 96, 20, 36, 44, 48, 10, 18, 22, 24}
	p := &Problem{}
	rule := Rule{Judge: func(taken []int) Ruling {
		for r, row := range use {
			sum := 0
			for i, x := range taken {
				sum += x * row[i]
			}
			if sum > capacity[r] {
				return Ruling{Stops: true}
			}
		}
		return Ruling{}
	}}
	total := int64(0)
	for i, x := range profit {
		total += x
		p.Offers = append(p.Offers, supply.Offer{Supplier: supply.Shelf, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: x}}}, supply.Offer{Supplier: supply.Shelf, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 0}}})
		p.Needs = append(p.Needs, Need{Name: "project", Pieces: 1, Options: []Option{{Offer: 2 * i}, {Offer: 2*i + 1}}})
		rule.Needs, rule.Marks = append(rule.Needs, i), append(rule.Marks, []int{0, 1})
	}
	p.Rules = []Rule{rule}
	r := verified(t, p)
	require.Equal(t, int64(3800), total-r.Front[0].Cost)
	require.Equal(t, []int{0, 1, 1, 0, 0, 1}, r.Front[0].Options)
}

// H. M. Weingartner and D. N. Ness, "Methods for the solution of the multidimensional 0/1 knapsack problem", Operations
// Research 15, 1967, 83-103, problem 1 (OR-Library, weing1), optimum 141278. The first resource is the deviation, of
// which at most 600 is allowed; the second is what a shelf has, 600 pieces, which all needs share.
func TestWeingartner1(t *testing.T) {
	profit := []int64{1898, 440, 22507, 270, 14148, 3100, 4650, 30800, 615, 4975, 1160, 4225, 510, 11880, 479, 440, 490, 330, 110, 560, 24355, 2885, 11748, 4550, 750, 3720, 1950, 10500}
	first := []int64{45, 0, 85, 150, 65, 95, 30, 0, 170, 0, 40, 25, 20, 0, 0, 25, 0, 0, 25, 0, 165, 0, 85, 0, 0, 0, 0, 100}
	second := []int{30, 20, 125, 5, 80, 25, 35, 73, 12, 15, 15, 40, 5, 10, 10, 12, 10, 9, 0, 20, 60, 40, 50, 36, 49, 40, 19, 150}
	most := int64(600)
	p := &Problem{MostDeviation: &most, Offers: []supply.Offer{{Supplier: supply.Shelf, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 0}}, Most: 600}}}
	total := int64(0)
	for i, x := range profit {
		total += x
		left := len(p.Offers)
		need := Need{Name: "project", Pieces: max(1, second[i])}
		pack := need.Pieces // forgoing costs the profit once
		p.Offers = append(p.Offers, supply.Offer{Supplier: supply.Shelf, Pack: pack, Breaks: []supply.Break{{Packs: 1, Price: x}}})
		taken := 0
		if second[i] == 0 {
			taken = len(p.Offers)
			p.Offers = append(p.Offers, supply.Offer{Supplier: supply.Shelf, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 0}}})
		}
		need.Options = []Option{{Offer: left}, {Offer: taken, Deviation: first[i]}}
		p.Needs = append(p.Needs, need)
	}
	r, err := Cheapest(context.Background(), p)
	require.NoError(t, err)
	require.True(t, r.Proven)
	require.NoError(t, p.Verify(r.Front[0]))
	require.Equal(t, int64(141278), total-r.Front[0].Cost)
	var set []int
	for i, o := range r.Front[0].Options {
		if o == 1 {
			set = append(set, i+1)
		}
	}
	require.Equal(t, []int{3, 5, 6, 7, 8, 10, 12, 13, 14, 19, 21, 23, 24, 26}, set)
}
