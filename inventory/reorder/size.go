package reorder

import "math"

// sizes is how many pieces customers ask for at once, in the shop.
//
// A part's sales are few, so their sizes are filled up with those of parts that sell
// in like amounts: what was asked for of parts with about the same mean size, just as
// it came, in dozens where it comes in dozens. Where there are few of those either, a
// negative binomial beyond the first piece stands in.
type sizes struct {
	usual     float64     // pieces a sale, over all parts
	shape     float64     // of the negative binomial
	meanWorth float64     // sales of its own from which a part's mean counts half
	formWorth float64     // sales of its own from which its sizes count half, as they were
	like      [][]float64 // by class of mean size: how often each size was asked for
	likeSales []float64   // and how many sales those were
}

// mostSize is the largest sale that is reckoned with: nobody keeps a shelf for it.
const mostSize = 400

// newest is how many of a part's last sales tell of their size.
const newest = 60

// fewestLike is how many sales of like parts count as much as the negative binomial.
const fewestLike = 50

// teachSizes finds the sizes that foretell the records' sales best, each from those of
// the same part before it.
func teachSizes(records []*record) sizes {
	total, n := 0.0, 0.0
	for _, r := range records {
		for _, s := range r.sizes {
			total += float64(min(s.Pieces, mostSize))
			n++
		}
	}
	best := sizes{usual: (total + 5*1.2) / (n + 5), shape: 1, meanWorth: 3, formWorth: 10}
	best.collect(records)
	step := max(1, int(n)/mostSizes)
	most := math.Inf(-1)
	start := best
	for _, shape := range []float64{0.25, 0.7, 2} {
		for _, meanWorth := range []float64{0.7, 2, 6} {
			for _, formWorth := range []float64{3, 10, 30, 100} {
				try := start
				try.shape, try.meanWorth, try.formWorth = shape, meanWorth, formWorth
				if score := try.score(records, step); score > most {
					best, most = try, score
				}
			}
		}
	}
	best.collect(records)
	return best
}

// mostSizes is from how many sales the figures common to all are learnt.
const mostSizes = 3000

// collect counts the sizes asked for of parts of each class.
func (z *sizes) collect(records []*record) {
	z.like, z.likeSales = make([][]float64, classOf(mostSize)+1), make([]float64, classOf(mostSize)+1)
	for _, r := range records {
		total := 0.0
		for _, s := range r.sizes {
			total += float64(min(s.Pieces, mostSize))
		}
		n := float64(len(r.sizes))
		for _, s := range r.sizes {
			x := min(s.Pieces, mostSize)
			// by what the part's other sales would have said of this one
			class := classOf(z.mean(total-float64(x), n-1))
			for len(z.like[class]) <= x {
				z.like[class] = append(z.like[class], 0)
			}
			z.like[class][x]++
			z.likeSales[class]++
		}
	}
}

// classOf is the class of a mean size: four of them for each doubling.
func classOf(mean float64) int { return int(math.Round(3 * math.Log2(max(1, mean)))) }

func (z *sizes) score(records []*record, step int) float64 {
	sum := 0.0
	for i := 0; i < len(records); i += step {
		r := records[i]
		total := 0.0
		for k, s := range r.sizes[:min(len(r.sizes), 20)] {
			x := min(s.Pieces, mostSize)
			same := 0.0
			for _, earlier := range r.sizes[:k] {
				if earlier.Pieces == s.Pieces {
					same++
				}
			}
			base := z.base(z.mean(total, float64(k)), x)
			sum += math.Log((z.formWorth*base + same) / (z.formWorth + float64(k)))
			total += float64(x)
		}
	}
	return sum
}

// mean size of a part's sales.
func (z *sizes) mean(total, n float64) float64 {
	return (z.meanWorth*z.usual + total) / (z.meanWorth + n)
}

// base is the chance of a size where the mean is given.
func (z *sizes) base(mean float64, size int) float64 {
	class, own := classOf(mean), 0.0
	if size < len(z.like[class]) {
		own = max(0, z.like[class][size]-1) // less the sale itself
	}
	return (fewestLike*z.smooth(mean, size) + own) / (fewestLike + max(0, z.likeSales[class]-1))
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
	sales = sales[max(0, len(sales)-newest):]
	total, largest := 0.0, 1
	for _, s := range sales {
		total += float64(min(s.Pieces, mostSize))
		largest = max(largest, min(s.Pieces, mostSize))
	}
	mean := z.mean(total, float64(len(sales)))
	class := classOf(mean)
	like := z.like[class]
	beyond := max(mean-1, 0.01)
	q := beyond / (z.shape + beyond)
	form := make([]float64, 1, largest+1)
	chance, told := math.Pow(1-q, z.shape), 0.0
	for size := 1; size <= largest || size < len(like) || (told < 0.999 && size <= mostSize); size++ {
		told += chance
		c := chance * fewestLike
		if size < len(like) {
			c += like[size]
		}
		form = append(form, c)
		k := float64(size - 1)
		chance *= (z.shape + k) / (k + 1) * q
	}
	sum := 0.0
	for _, c := range form {
		sum += c
	}
	for i := range form {
		form[i] *= z.formWorth / sum
	}
	for _, s := range sales {
		form[min(s.Pieces, mostSize)]++
	}
	for i := range form {
		form[i] /= z.formWorth + float64(len(sales))
	}
	return form
}
