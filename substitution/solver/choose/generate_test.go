package choose

import (
	"math/rand/v2"
	"slices"

	"stead/substitution/supply"
)

// shape is how large and of what kind a generated problem is.
type shape struct {
	needs, options, suppliers int
	values                    []int   // how many values each attribute has
	extraLinks                float64 // chance of a link between needs that are not neighbours
	paid                      float64 // share of suppliers with a carriage-paid level
	shared                    float64 // chance that an option's offer is one of an earlier need
	minimum                   float64 // share of suppliers with a minimum order
	packs                     bool
	least                     bool // some offers sell several packs at least
	lots                      bool // needs may be met partly off a shelf
	wide                      bool
	extras                    int
}

// generate makes a problem in which price goes with quality and with lead time, as it does in the trade: what is here
// sooner or deviates less is dearer. Uncorrelated prices make such problems far too easy (Han, Leblet and Simon,
// Computers & Operations Research 37(1), 2010, 172-181).
//
// Neighbouring needs must agree in one attribute, or be near in it; some other pairs as well.
func generate(seed uint64, sh shape) *Problem {
	r := rand.New(rand.NewPCG(seed, 11))
	p := &Problem{}
	level, lead := make([]float64, sh.suppliers), make([]int, sh.suppliers)
	for s := range sh.suppliers {
		sup := supply.Supplier{Carriage: 300 + r.Int64N(900)}
		if r.Float64() < sh.paid {
			sup.PaidAt = int64(sh.needs)*400 + r.Int64N(int64(sh.needs)*2000)
		}
		if r.Float64() < sh.minimum {
			sup.MinimumOrder = 500 + r.Int64N(3000)
		}
		lead[s] = 1 + r.IntN(10)
		level[s] = 1.15 - 0.03*float64(lead[s]) + 0.1*r.Float64()
		p.Suppliers = append(p.Suppliers, sup)
	}
	marks := make([][][]int, sh.needs) // by need, option and attribute
	for i := range sh.needs {
		base := 500 + 3500*r.Float64()
		n := Need{Name: string(rune('a' + i)), Pieces: 1}
		if sh.packs {
			n.Pieces = 1 + r.IntN(20)
		}
		for o := range sh.options {
			mark := make([]int, len(sh.values))
			for a, count := range sh.values {
				mark[a] = r.IntN(count)
			}
			marks[i] = append(marks[i], mark)
			supplier := r.IntN(sh.suppliers+1) - 1
			quality := r.Float64()
			price, day := base*(0.6+0.6*quality+0.3*r.Float64()), 0
			switch {
			case supplier == supply.Shelf:
				price *= 1.2
			case r.IntN(4) == 0: // to order: later and cheaper
				price, day = price*level[supplier]*0.9, lead[supplier]+10
			default:
				price, day = price*level[supplier], lead[supplier]
			}
			deviation := int64(0)
			switch {
			case quality < 0.15: // another function
				deviation = 3
			case quality < 0.4: // another finish
				deviation = 1
			}
			offer := supply.Offer{Supplier: supplier, Pack: 1, Day: day, Breaks: []supply.Break{{Packs: 1, Price: int64(price)}}}
			if sh.packs {
				offer.Pack = []int{1, 2, 5, 10}[r.IntN(4)]
				if r.IntN(3) == 0 {
					offer.Breaks = append(offer.Breaks, supply.Break{Packs: 2 + r.IntN(4), Price: int64(price * 0.8)})
				}
				if sh.least && r.IntN(4) == 0 {
					offer.Breaks[0].Packs = 2
					offer.Breaks = offer.Breaks[:1]
				}
				if r.IntN(5) == 0 {
					offer.Most = offer.Pack * (1 + r.IntN(20))
				}
			}
			index := len(p.Offers)
			if i > 0 && r.Float64() < sh.shared {
				index = r.IntN(len(p.Offers))
			} else {
				p.Offers = append(p.Offers, offer)
			}
			opt := Option{Offer: index, Deviation: deviation}
			if sh.extras > 0 && r.IntN(3) == 0 {
				opt.Brings = []Bring{{r.IntN(sh.extras), 1 + r.IntN(3)}}
			}
			n.Options = append(n.Options, opt)
			_ = o
		}
		p.Needs = append(p.Needs, n)
	}
	for e := range sh.extras {
		n := Need{Name: "extra " + string(rune('a'+e))}
		for range 2 {
			opt := Option{Offer: r.IntN(len(p.Offers)), Deviation: r.Int64N(2)}
			if e+1 < sh.extras && r.IntN(3) == 0 {
				opt.Brings = []Bring{{e + 1, 1}}
			}
			n.Options = append(n.Options, opt)
		}
		p.Extras = append(p.Extras, n)
	}
	for i := range sh.needs {
		for j := i + 1; j < sh.needs; j++ {
			if j == i+1 || r.Float64() < sh.extraLinks {
				attribute, within, costs := r.IntN(len(sh.values)), r.IntN(2), r.IntN(4) == 0
				p.Rules = append(p.Rules, agree(i, j, marks, attribute, within, costs))
			}
		}
	}
	if sh.wide && sh.needs >= 3 {
		p.Rules = append(p.Rules, total(r, marks))
	}
	if sh.lots {
		p.takeApart(rand.New(rand.NewPCG(seed, 12)))
	}
	return p
}

// takeApart gives needs further options that are like one of theirs but for a first lot off a shelf: the need's own, or one
// that several needs compete for.
func (p *Problem) takeApart(r *rand.Rand) {
	shelf := func() int {
		pack := 1
		if r.IntN(4) == 0 {
			pack = 2 + r.IntN(3)
		}
		p.Offers = append(p.Offers, supply.Offer{Supplier: supply.Shelf, Pack: pack, Day: r.IntN(4), Breaks: []supply.Break{{Packs: 1, Price: 200 + r.Int64N(2500)}}, Most: pack * r.IntN(8)})
		return len(p.Offers) - 1
	}
	common := shelf()
	for i := range p.Needs {
		n := &p.Needs[i]
		if n.Pieces < 2 {
			n.Pieces = 2 + r.IntN(4)
		}
		for o := range len(n.Options) {
			from := common
			switch r.IntN(6) {
			case 0:
				continue
			case 1:
				from = shelf()
			case 2:
				if k := n.Options[r.IntN(len(n.Options))].Offer; p.Offers[k].Supplier == supply.Shelf {
					from = k
				}
			}
			apart := n.Options[o]
			if apart.First != nil || apart.Offer == from {
				continue
			}
			apart.First = &Lot{from, 1 + r.IntN(n.Pieces-1)}
			n.Options = append(n.Options, apart)
			for _, rule := range p.Rules {
				if k := slices.Index(rule.Needs, i); k >= 0 {
					rule.Marks[k] = append(rule.Marks[k], rule.Marks[k][o])
				}
			}
		}
		if r.IntN(2) == 0 { // the shelf may have it all as well
			n.Options = append(n.Options, Option{Offer: common})
			for _, rule := range p.Rules {
				if k := slices.Index(rule.Needs, i); k >= 0 {
					rule.Marks[k] = append(rule.Marks[k], rule.Marks[k][0])
				}
			}
		}
	}
}

// agree asks that two needs' options have an attribute in common, or nearly; or it lets them differ as a deviation.
func agree(i, j int, marks [][][]int, attribute, within int, costs bool) Rule {
	rule := Rule{Needs: []int{i, j}, Judge: func(m []int) Ruling {
		if gap := m[0] - m[1]; gap > within || -gap > within {
			return Ruling{Stops: !costs, Deviation: 1}
		}
		return Ruling{}
	}}
	for _, need := range rule.Needs {
		var seen []int
		for _, mark := range marks[need] {
			seen = append(seen, mark[attribute])
		}
		rule.Marks = append(rule.Marks, seen)
	}
	return rule
}

// total bounds a sum of attributes over three needs.
func total(r *rand.Rand, marks [][][]int) Rule {
	attribute, most := r.IntN(len(marks[0][0])), 2+r.IntN(4)
	rule := Rule{Needs: []int{0, 1, 2}, Judge: func(m []int) Ruling {
		return Ruling{Stops: m[0]+m[1]+m[2] > most, Deviation: int64(m[0] & m[1] & 1)}
	}}
	for _, need := range rule.Needs {
		var seen []int
		for _, mark := range marks[need] {
			seen = append(seen, mark[attribute])
		}
		rule.Marks = append(rule.Marks, seen)
	}
	return rule
}
