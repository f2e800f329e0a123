package reorder

import "math"

// promise is how what was aimed at turned out in the shop's own past: the log odds of a sale being met are those aimed
// at, with a shift downwards at 19 sales in 20 and a tilt beside it. A rule that keeps what it says has neither.
//
// Where more was met than was said, less is aimed at, but only below 19 in 20, where many sales that were not met tell of
// it. At higher aims they are few and come together, in a month that the few played may not have had; a promise is owed.
type promise struct {
	shift, tilt float64
	luck        float64 // a shift upwards, whole from 18 sales in 20 down and none from 19 up
	sales       int     // on which it rests
}

// middle is the log odds about which a promise tilts: of 19 sales in 20.
var middle = logit(0.95)

// What is believed of a promise before any is looked back upon, in log odds: common practice, no source.
const (
	shiftSpread = 0.5  // how far off the rule may be: at 19 in 20, from 18.4 to 19.4
	tiltSpread  = 0.2  // and how much more or less at other aims
	monthSpread = 1    // how far apart two months are, by what befalls the whole shop at once, in these spreads
	monthWorth  = 2    // months that this is worth
	mostLuck    = 0.8  // of how fast what comes rises with the aim, luck takes so much at most
	lucky       = 0.75 // how much is believed where more was met than was said: it may have been luck, and a promise is owed
)

// month is what was said of a month at one aim, and what came of it.
type month struct {
	said float64 // share of sales to be met
	came Met
}

// judge finds the promise by what came of each aim from each advice to the next. A good or bad month of the shop is the
// luck of all its sales at once, so months are counted beside sales: how much is believed of a shift follows from how
// far it would move if any one month had not been (the jackknife; Cochran, "Sampling Techniques", 1977, 6.17, for a
// ratio over clusters). What rests on a month or two is hardly believed, and levels do not chase after what is past.
func judge(aims [][]month) promise {
	shift, tilt, sales := through(aims, -1)
	if sales == 0 {
		return promise{}
	}
	months := len(aims[0])
	var shifts, tilts spread
	for month := range months {
		if s, t, left := through(aims, month); left > 0 {
			shifts.add(s)
			tilts.add(t)
		}
	}
	chance := 1 / (expit(middle) * expit(-middle) * float64(sales)) // of single sales
	p := promise{
		shift: shift * shifts.believed(months, shiftSpread, chance),
		tilt:  tilt * tilts.believed(months, tiltSpread, chance),
		sales: sales,
	}
	if p.shift > 0 {
		p.shift, p.luck = 0, min(lucky*p.shift, mostLuck*(1+p.tilt)*luckFull)
	}
	return p
}

// through is the straight line through what came of all aims, all months but one together.
func through(aims [][]month, but int) (shift, tilt float64, sales int) {
	var weight, x, y, xx, xy float64
	for _, months := range aims {
		n, met, said := 0.0, 0.0, 0.0
		for month, m := range months {
			if month != but {
				n, met, said = n+float64(m.came.Sales), met+float64(m.came.Met), said+m.said*float64(m.came.Sales)
			}
		}
		if n == 0 {
			return 0, 0, 0
		}
		sales = int(n)
		got, aim := logit((met+0.5)/(n+1)), logit((said+0.5)/(n+1))
		w := n * expit(got) * expit(-got)
		off, away := got-aim, aim-middle
		weight, x, y, xx, xy = weight+w, x+w*away, y+w*off, xx+w*away*away, xy+w*away*off
	}
	if across := weight*xx - x*x; across > 1e-9*weight*weight {
		tilt = (weight*xy - x*y) / across
	}
	return (y - tilt*x) / weight, tilt, sales
}

// spread is that of figures, each found with one month left out.
type spread struct{ n, sum, squares float64 }

func (s *spread) add(x float64) { s.n, s.sum, s.squares = s.n+1, s.sum+x, s.squares+x*x }

// believed is how much of a figure is believed, of those that are spread about nought: by the jackknife, by what is
// believed of a month, and by the chance of single sales.
func (s *spread) believed(months int, about, chance float64) float64 {
	m := float64(months)
	seen := 0.0
	if s.n > 1 {
		seen = (m - 1) * (m - 1) * max(0, s.squares-s.sum*s.sum/s.n)
	}
	month := monthSpread * about
	variance := (monthWorth*month*month+seen)/(monthWorth+m-1)/m + chance
	return about * about / (about*about + variance)
}

// ask is what to aim at, so that the target comes of it.
func (p promise) ask(target float64) float64 {
	if target <= 0 || target >= 1 {
		return target
	}
	is := logit(target) - middle - p.shift
	aim := is / (1 + p.tilt)
	if aim < 0 {
		// Down to where luck is believed whole another line is lower, and below it the first one, less luck.
		aim = min(is/(1+p.tilt-p.luck/luckFull), 0)
		if aim < -luckFull {
			aim = (is - p.luck) / (1 + p.tilt)
		}
	}
	return expit(aim + middle)
}

// gives is what comes of a share that is reckoned with: what was asked for, where [promise.ask] said to aim at it.
func (p promise) gives(share float64) float64 {
	if share <= 0 || share >= 1 {
		return share
	}
	aim := logit(share) - middle
	return expit(aim*(1+p.tilt) + middle + p.shift + p.luck*min(1, max(0, -aim/luckFull)))
}

// luckFull is how far below the middle luck is believed whole: at 18 sales in 20.
var luckFull = middle - logit(0.9)

func logit(p float64) float64 { return math.Log(p / (1 - p)) }
func expit(x float64) float64 { return 1 / (1 + math.Exp(-x)) }
