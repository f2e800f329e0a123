package reorder

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// months is what came of the aims in so many months, each off by so much in log odds, at so many sales a month.
func months(sales int, off ...float64) [][]month {
	all := make([][]month, len(aims))
	for k, aim := range aims {
		for _, by := range off {
			came := Met{sales, int(float64(sales)*expit(logit(aim)+by) + 0.5)}
			all[k] = append(all[k], month{said: aim, came: came})
		}
	}
	return all
}

// What is corrected is what was off in every month, not what was off in one.
func TestWhatCameOfEveryMonthIsBelieved(t *testing.T) {
	require.InDelta(t, 0.95, promise{}.ask(0.95), 1e-12)
	require.Equal(t, promise{}, judge(months(1000)), "without a month nothing is corrected")
	require.Equal(t, promise{}, judge(months(0, 0, 0)), "nor without a sale")

	steady := judge(months(10_000, -0.5, -0.5, -0.5, -0.5, -0.5, -0.5))
	require.InDelta(t, -0.45, steady.shift, 0.05)
	require.InDelta(t, 0, steady.tilt, 0.02)
	require.Greater(t, steady.ask(0.95), 0.965)
	require.InDelta(t, 0.95, expit(logit(steady.ask(0.95))-0.5), 0.006, "then 19 in 20 come of it")

	once := judge(months(10_000, -3, 0, 0, 0, 0, 0))
	every := judge(months(10_000, -0.8, -0.8, -0.8, -0.8, -0.8, -0.8)) // about as many missed in all
	require.Greater(t, once.shift, 0.7*every.shift, "one bad month is luck")

	for name, little := range map[string][][]month{"one month": months(10_000, -0.5), "few sales": months(10, -0.5, -0.5, -0.5, -0.5, -0.5, -0.5)} {
		seen, _, _ := through(little, -1)
		is := judge(little).shift
		require.Less(t, is, 0.1*seen, name)
		require.Greater(t, is, 0.6*seen, "of %s little is believed", name)
	}
}

// A rule that is off by more at high aims than at low ones is asked for more where it is.
func TestAPromiseTilts(t *testing.T) {
	all := make([][]month, len(aims))
	for k, aim := range aims {
		for range 6 {
			all[k] = append(all[k], month{said: aim, came: Met{100_000, int(100_000 * expit(0.8*(logit(aim)-middle)+middle))}})
		}
	}
	p := judge(all)
	require.InDelta(t, -0.2, p.tilt, 0.05)
	require.Greater(t, p.ask(0.99), 0.99)
	require.Less(t, p.ask(0.9), 0.9)
}

// Where more was met than was said, less is aimed at of what is asked for at 18 in 20, and no less at 19 in 20 or above.
func TestLuckIsNotCountedOnAtHighAims(t *testing.T) {
	lucky := judge(months(10_000, 0.4, 0.4, 0.4, 0.4, 0.4, 0.4))
	require.Less(t, lucky.ask(0.9), 0.88)
	require.Less(t, lucky.ask(0.8), 0.76)
	for _, high := range []float64{0.95, 0.98, 0.995} {
		require.InDelta(t, high, lucky.ask(high), 0.002)
	}
	unlucky := judge(months(10_000, -0.4, -0.4, -0.4, -0.4, -0.4, -0.4))
	require.Greater(t, unlucky.ask(0.98), 0.983, "what was missing is made up for at all aims")
}

// What comes of an aim rises with it, however lucky the shop was.
func TestMoreComesOfMore(t *testing.T) {
	for _, off := range []float64{-3, -0.5, 0, 0.5, 3, 6} {
		p, was := judge(months(10_000, off, off, off, off)), 0.0
		for aim := 0.01; aim < 1; aim += 0.01 {
			is := p.gives(aim)
			require.Greater(t, is, was)
			require.InDelta(t, aim, p.ask(is), 1e-9)
			was = is
		}
	}
}
