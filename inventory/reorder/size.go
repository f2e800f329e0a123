package reorder

import (
	"math"
	"slices"
)

// sizes is how many pieces customers ask for at once, in the shop.
//
// A part's sales are few, so their sizes are filled up with those of parts that sell
// in like amounts: what was asked for of parts that were thought to have about the same mean size, just as
// it then came, in dozens where it comes in dozens; and of these, of parts that had sold about as often, for what is new may
// be bought in other amounts than what is known. Where there are few of those either, a
// negative binomial beyond the first piece stands in.
type sizes struct {
	usual     float64   // pieces a sale, over all parts
	shape     float64   // of the negative binomial
	meanWorth float64   // sales of its own from which a part's mean counts half
	formWorth float64   // sales of its own from which its sizes count half, as they were
	grain     float64   // classes of mean size for each doubling; 0: all parts are alike
	apart     bool      // parts that have sold seldom and often are told apart
	like      [][]asked // by how often a part had sold, the first for all, and by class of mean size
}

// asked is how often each size was asked for, and how many sales those were.
type asked struct {
	times []float64
	sales float64
}

func (a *asked) add(size int) {
	for len(a.times) <= size {
		a.times = append(a.times, 0)
	}
	a.times[size]++
	a.sales++
}

// of is how often a size was asked for, beside so much that is believed of it before.
func (a *asked) of(size int, before float64) float64 {
	times := fewestLike * before
	if size < len(a.times) {
		times += a.times[size]
	}
	return times / (fewestLike + a.sales)
}

// mostSize is the largest sale that is reckoned with: nobody keeps a shelf for it.
const mostSize = 400

// newest is how many of a part's last sales tell of their size.
const newest = 60

// fewestLike is how many sales of like parts count as much as the negative binomial.
const fewestLike = 50

// mostSizes is by how many sales the figures common to all are judged, and mostLike how many tell of like parts.
const (
	mostSizes = 3_000
	mostLike  = 20_000
)

// teachSizes finds the sizes that foretell the sales of parts best, each from those before it.
func teachSizes(some [][]Sale) sizes {
	best := sizes{shape: 0.7, meanWorth: 2, formWorth: 30, grain: 1}
	sales := asSold(some)
	every := 1 + len(sales)/mostSizes
	most := math.Inf(-1)
	try := func(z sizes) {
		if score := z.read(sales, every); score > most {
			best, most = z, score
		}
	}
	for range 2 {
		for _, grain := range []float64{0, 1, 3} {
			z := best
			z.grain = grain
			z.apart = false
			try(z)
			z.apart = true
			try(z)
		}
		for _, shape := range []float64{0.25, 0.7, 2} {
			z := best
			z.shape = shape
			try(z)
		}
		for _, worth := range []float64{0.7, 2, 6} {
			z := best
			z.meanWorth = worth
			try(z)
		}
		for _, worth := range []float64{3, 10, 30, 100} {
			z := best
			z.formWorth = worth
			try(z)
		}
	}
	return best
}

// soldAt is a sale, with those of the same part before it.
type soldAt struct {
	day, size         int
	number            int     // of the part's sales before it
	own, pieces, same float64 // of the newest of them: how many, their pieces, and how many were of its size
}

// asSold are the sales of parts in the order in which they were made.
func asSold(parts [][]Sale) (all []soldAt) {
	for _, sales := range parts {
		for k := range sales {
			before := sales[max(0, k-newest):k]
			s := soldAt{day: sales[k].Day, size: min(sales[k].Pieces, mostSize), number: k, own: float64(len(before))}
			for _, earlier := range before {
				size := min(earlier.Pieces, mostSize)
				if s.pieces += float64(size); size == s.size {
					s.same++
				}
			}
			all = append(all, s)
		}
	}
	slices.SortStableFunc(all, func(a, b soldAt) int { return a.day - b.day })
	return all
}

// read takes in the sales as they were made, and tells how well every so many of them was foretold by those before it:
// the sum of the log chances.
func (z *sizes) read(sales []soldAt, every int) (score float64) {
	z.like = make([][]asked, mostOften+1)
	for i := range z.like {
		z.like[i] = make([]asked, classOf(mostSize, finestGrain)+1)
	}
	total := 0.0
	for n, s := range sales {
		z.usual = usualSize(total, n)
		mean := z.mean(s.pieces, s.own)
		all, like := z.alike(mean, s.number)
		if n%every == 0 {
			base := all.of(s.size, z.smooth(mean, s.size))
			if z.apart {
				base = like.of(s.size, base)
			}
			score += math.Log((z.formWorth*base + s.same) / (z.formWorth + s.own))
		}
		all.add(s.size)
		if z.apart {
			like.add(s.size)
		}
		total += float64(s.size)
	}
	z.usual = usualSize(total, len(sales))
	return score
}

// usualSize is the pieces of a sale over all parts, by those of so many: 1.2 before anything is sold (common practice,
// no source).
func usualSize(pieces float64, sales int) float64 { return (pieces + 5*1.2) / (float64(sales) + 5) }

// mostOften is the number of these classes.
const mostOften = 4

// often is the class of how often a part has sold, from 1 on: up to twice, up to eight times, and so on.
func often(sales int) int {
	class := 1
	for upTo := 3; sales >= upTo && class < mostOften; upTo *= 3 {
		class++
	}
	return class
}

// finestGrain is that of the most classes.
const finestGrain = 3

// classOf is the class of a mean size, where there are so many for each doubling.
func classOf(mean, grain float64) int { return int(math.Round(grain * math.Log2(max(1, mean)))) }

// alike is what was asked for of parts that were thought to have the mean: of all, and of those that had sold about as
// often.
func (z *sizes) alike(mean float64, sales int) (all, like *asked) {
	class := classOf(mean, z.grain)
	all = &z.like[0][class]
	if !z.apart {
		return all, all
	}
	return all, &z.like[often(sales)][class]
}

// mean size of a part's sales.
func (z *sizes) mean(total, n float64) float64 {
	return (z.meanWorth*z.usual + total) / (z.meanWorth + n)
}

// smooth is one piece, and a negative binomial more.
func (z *sizes) smooth(mean float64, size int) float64 {
	beyond := max(mean-1, 0.01)
	q := beyond / (z.shape + beyond)
	chance := math.Pow(1-q, z.shape)
	for k := 0.0; k < float64(size-1); k++ {
		chance *= (z.shape + k) / (k + 1) * q
	}
	return chance
}

// of is the chance of each size, from 1 on (the first is of none), for a part.
func (z *sizes) of(sales []Sale) []float64 {
	newest := sales[max(0, len(sales)-newest):]
	total, largest := 0.0, 1
	for _, s := range newest {
		total += float64(min(s.Pieces, mostSize))
		largest = max(largest, min(s.Pieces, mostSize))
	}
	own := float64(len(newest))
	form := z.likeForm(z.mean(total, own), len(sales), largest)
	for i := range form {
		form[i] *= z.formWorth
	}
	for _, s := range newest {
		form[min(s.Pieces, mostSize)]++
	}
	for i := range form {
		form[i] /= z.formWorth + own
	}
	return form
}

// likeForm is the chance of each size of a part of which no more is known than its mean and how often it sold, up to
// the largest at least.
func (z *sizes) likeForm(mean float64, sales, largest int) []float64 {
	all, like := z.alike(mean, sales)
	beyond := max(mean-1, 0.01)
	q := beyond / (z.shape + beyond)
	form := make([]float64, 1, largest+1)
	chance, told, sum := math.Pow(1-q, z.shape), 0.0, 0.0
	for size := 1; size <= largest || size < len(all.times) || (told < 0.999 && size <= mostSize); size++ {
		told += chance
		c := all.of(size, chance)
		if z.apart {
			c = like.of(size, c)
		}
		form = append(form, c)
		sum += form[size]
		k := float64(size - 1)
		chance *= (z.shape + k) / (k + 1) * q
	}
	for i := range form {
		form[i] /= sum
	}
	return form
}
