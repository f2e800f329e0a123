package substitution

// Looks tells parts apart by what rules read of them. Of a large catalogue hundreds of parts may fit a place and be the same
// to most rules: a rule need be asked once for each kind only.
type Looks struct {
	parts []*Part
	known map[string]Kinds // by dimension
}

// Kinds are parts sorted so that those of one kind cannot be told apart by what was asked of them.
type Kinds struct {
	Of    []int // by part: its kind; kinds are counted from zero in the order of the parts
	First []int // by kind: the first part of it
}

// LooksOf are the looks of some parts, which must not change from then on.
func LooksOf(parts []*Part) *Looks { return &Looks{parts, map[string]Kinds{}} }

// Kinds sorts the parts by some dimensions, known or not; an empty one stands for all that is known of a part.
func (l *Looks) Kinds(dimensions ...string) Kinds {
	all := kindsBy(len(l.parts), func(int) bool { return true })
	for _, name := range dimensions {
		one, before := l.known[name]
		if !before {
			one = kindsBy(len(l.parts), func(i int) look { return lookOf(l.parts[i], name) })
			l.known[name] = one
		}
		all = all.And(one)
	}
	return all
}

// Very sorts one part, itself and not its like, from all others.
func (l *Looks) Very(part *Part) Kinds {
	return kindsBy(len(l.parts), func(i int) bool { return l.parts[i] == part })
}

// And sorts the same parts by both.
func (k Kinds) And(other Kinds) Kinds {
	switch {
	case len(other.First) <= 1:
		return k
	case len(k.First) <= 1:
		return other
	}
	return kindsBy(len(k.Of), func(i int) [2]int { return [2]int{k.Of[i], other.Of[i]} })
}

func kindsBy[K comparable](parts int, look func(part int) K) Kinds {
	kinds, known := Kinds{Of: make([]int, parts)}, map[K]int{}
	for i := range parts {
		key := look(i)
		kind, before := known[key]
		if !before {
			kind = len(kinds.First)
			known[key] = kind
			kinds.First = append(kinds.First, i)
		}
		kinds.Of[i] = kind
	}
	return kinds
}

// look is a value that can be compared; the zero look is no value. Equal values look the same, a count like the same
// measure.
type look struct {
	form   Form
	number float64
	text   string
}

func lookOf(p *Part, dimension string) look {
	if dimension == "" {
		return look{text: p.Spec.String()}
	}
	v, known := p.Get(dimension)
	switch {
	case !known:
		return look{}
	case v.form == Int:
		return look{form: Number, number: v.number}
	case v.form == Ints:
		return look{form: Ints, text: v.String()}
	}
	return look{v.form, v.number, v.word}
}
