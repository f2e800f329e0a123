package orderplan

import "math"

// repair turns the choices that the best multipliers favour into a plan: while
// suppliers miss what they require, it makes the change of one line that costs
// least for each penny that it closes of the gap, and then those that cost less
// and leave every requirement met.
func (f *leaf) repair(v *level) {
	k := len(f.required)
	goods := v.slope
	copy(goods, v.goods)
	for i := range v.line {
		lo, hi := v.start[i], v.start[i+1]
		pick, least := v.choice[lo], f.shaded(v.choice[lo], v.best)
		for _, id := range v.choice[lo+1 : hi] {
			if x := f.shaded(id, v.best); x < least {
				pick, least = id, x
			}
		}
		v.pick[i] = pick
		f.spendOf(pick, goods, 1)
	}
	short := func() (missing float64) {
		for j := 0; j < k; j++ {
			missing += max(0, f.required[j]-goods[j])
		}
		return missing
	}
	missing := short()
	for moves := 2 * len(v.line); missing > 0; moves-- {
		line, to, least := -1, int32(0), math.Inf(1)
		for i, from := range v.pick[:len(v.line)] {
			f.spendOf(from, goods, -1)
			now := f.shaded(from, v.best)
			for _, id := range v.choice[v.start[i]:v.start[i+1]] {
				f.spendOf(id, goods, 1)
				if closed := missing - short(); closed > 0 {
					if x := (f.shaded(id, v.best) - now + 0.01) / closed; x < least {
						line, to, least = i, id, x
					}
				}
				f.spendOf(id, goods, -1)
			}
			f.spendOf(from, goods, 1)
		}
		if line < 0 || moves == 0 || f.ctx.Err() != nil {
			return
		}
		f.spendOf(v.pick[line], goods, -1)
		f.spendOf(to, goods, 1)
		v.pick[line] = to
		missing = short()
	}
	for changed := true; changed && f.ctx.Err() == nil; {
		changed = false
		for i := range v.line {
			for _, id := range v.choice[v.start[i]:v.start[i+1]] {
				from := v.pick[i]
				if f.choices[id].cost >= f.choices[from].cost {
					continue
				}
				f.spendOf(from, goods, -1)
				f.spendOf(id, goods, 1)
				if short() > 0 {
					f.spendOf(id, goods, -1)
					f.spendOf(from, goods, 1)
					continue
				}
				v.pick[i], changed = id, true
			}
		}
	}
	f.record(v)
}
