package paper_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/paper"
)

func TestCard(t *testing.T) {
	c := desk.Card{
		JobID: 102, Customer: "Oduya Bright", Reach: "by post", Bike: "green city bike", Wish: "it skips", ReadyOn: "Friday 4 December",
		Places: []desk.CardLine{
			{Place: "cassette", Work: []string{"fit cassette"}, Read: []string{"wear 0.9 %"}, Note: "skips on the third", Torque: []string{"lockring: 40 N m"}, Measure: []string{"sprockets: 8"},
				Parts: []desk.CardPart{{Name: "cassette 8-speed", Pieces: 1, Bin: "C3"}, {Name: "cable", Pieces: 2, State: "ordered"}}},
			{Work: []string{"fit the child seat"}},
		},
		Own: []string{"the customer brings the seat"}, Opened: []string{"replace the chain, at most £45.00"}, Bench: []string{"grease"},
		Checks: []string{"freehub body takes 8 sprockets"}, Cautions: []string{"tighten the lockring as its maker says"},
		LeaveBe: []string{"replace the saddle"}, Allowed: "£15.00",
	}
	says := append([]string{c.Title(), "cassette", "fit cassette", "1 of cassette 8-speed, bin C3", "2 of cable, ordered", "read: wear 0.9 %", "torque: lockring: 40 N m", "measure before fitting: sprockets: 8",
		"skips on the third", "besides", "caution: tighten the lockring as its maker says", "may be used beyond this without asking: £15.00"}, c.Head()...)
	requireRead(t, paper.Card(c), append(says, c.Notes()...)...)
	witness(t, "zbarimg", "zbar-tools")
	for name, size := range map[string]paper.Size{"A4": paper.A4, "roll": roll} {
		page := filepath.Join(t.TempDir(), name)
		run(t, "pdftoppm", "-r", "300", "-mono", "-singlefile", set(t, size, paper.Card(c)), page)
		require.Equal(t, "CODE-128:job 102\n", run(t, "zbarimg", "--quiet", page+".pbm"), name)
	}
}
