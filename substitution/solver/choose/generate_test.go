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
	g := generator{shape: sh, r: rand.New(rand.NewPCG(seed, 11)), p: &Problem{}}
	for range sh.suppliers {
		g.supplier()
	}
	for i := range sh.needs {
		g.need(i)
	}
	for e := range sh.extras {
		g.extra(e)
	}
	g.rules()
	if sh.lots {
		g.p.takeApart(rand.New(rand.NewPCG(seed, 12)))
	}
	return g.p
}

// generator draws a problem, part by part.
type generator struct {
	shape
	r     *rand.Rand
	p     *Problem
	level []float64 // by supplier: how dear
	lead  []int     // by supplier: days
	marks [][][]int // by need, option and attribute
}

func (g *generator) supplier() {
	sup := supply.Supplier{Carriage: 300 + g.r.Int64N(900)}
	if g.r.Float64() < g.paid {
		sup.PaidAt = int64(g.needs)*400 + g.r.Int64N(int64(g.needs)*2000)
	}
	if g.r.Float64() < g.minimum {
		sup.MinimumOrder = 500 + g.r.Int64N(3000)
	}
	lead := 1 + g.r.IntN(10)
	g.lead = append(g.lead, lead)
	g.level = append(g.level, 1.15-0.03*float64(lead)+0.1*g.r.Float64())
	g.p.Suppliers = append(g.p.Suppliers, sup)
}

func (g *generator) need(i int) {
	base := 500 + 3500*g.r.Float64()
	n := Need{Name: string(rune('a' + i)), Pieces: 1}
	if g.packs {
		n.Pieces = 1 + g.r.IntN(20)
	}
	g.marks = append(g.marks, nil)
	for range g.options {
		mark := make([]int, len(g.values))
		for a, count := range g.values {
			mark[a] = g.r.IntN(count)
		}
		g.marks[i] = append(g.marks[i], mark)
		n.Options = append(n.Options, g.option(i, base))
	}
	g.p.Needs = append(g.p.Needs, n)
}

// option draws one for need i, around a base price.
func (g *generator) option(i int, base float64) Option {
	supplier := g.r.IntN(g.suppliers+1) - 1
	quality := g.r.Float64()
	offer := g.offer(supplier, base*(0.6+0.6*quality+0.3*g.r.Float64()))
	index := len(g.p.Offers)
	if i > 0 && g.r.Float64() < g.shared {
		index = g.r.IntN(len(g.p.Offers))
	} else {
		g.p.Offers = append(g.p.Offers, offer)
	}
	opt := Option{Offer: index}
	switch {
	case quality < 0.15: // another function
		opt.Deviation = 3
	case quality < 0.4: // another finish
		opt.Deviation = 1
	}
	if g.extras > 0 && g.r.IntN(3) == 0 {
		opt.Brings = []Bring{{g.r.IntN(g.extras), 1 + g.r.IntN(3)}}
	}
	return opt
}

func (g *generator) offer(supplier int, price float64) supply.Offer {
	day := 0
	switch {
	case supplier == supply.Shelf:
		price *= 1.2
	case g.r.IntN(4) == 0: // to order: later and cheaper
		price, day = price*g.level[supplier]*0.9, g.lead[supplier]+10
	default:
		price, day = price*g.level[supplier], g.lead[supplier]
	}
	offer := supply.Offer{Supplier: supplier, Pack: 1, Day: day, Breaks: []supply.Break{{Packs: 1, Price: int64(price)}}}
	if g.packs {
		g.packOf(&offer, price)
	}
	return offer
}

// packOf draws the pack of an offer, its breaks and how much there is of it.
func (g *generator) packOf(offer *supply.Offer, price float64) {
	offer.Pack = []int{1, 2, 5, 10}[g.r.IntN(4)]
	if g.r.IntN(3) == 0 {
		offer.Breaks = append(offer.Breaks, supply.Break{Packs: 2 + g.r.IntN(4), Price: int64(price * 0.8)})
	}
	if g.least && g.r.IntN(4) == 0 {
		offer.Breaks[0].Packs = 2
		offer.Breaks = offer.Breaks[:1]
	}
	if g.r.IntN(5) == 0 {
		offer.Most = offer.Pack * (1 + g.r.IntN(20))
	}
}

func (g *generator) extra(e int) {
	n := Need{Name: "extra " + string(rune('a'+e))}
	for range 2 {
		opt := Option{Offer: g.r.IntN(len(g.p.Offers)), Deviation: g.r.Int64N(2)}
		if e+1 < g.extras && g.r.IntN(3) == 0 {
			opt.Brings = []Bring{{e + 1, 1}}
		}
		n.Options = append(n.Options, opt)
	}
	g.p.Extras = append(g.p.Extras, n)
}

func (g *generator) rules() {
	for i := range g.needs {
		for j := i + 1; j < g.needs; j++ {
			if j == i+1 || g.r.Float64() < g.extraLinks {
				attribute, within, costs := g.r.IntN(len(g.values)), g.r.IntN(2), g.r.IntN(4) == 0
				g.p.Rules = append(g.p.Rules, agree(i, j, g.marks, attribute, within, costs))
			}
		}
	}
	if g.wide && g.needs >= 3 {
		g.p.Rules = append(g.p.Rules, total(g.r, g.marks))
	}
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
