package note

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"stead/substitution"
	"stead/substitution/inspection"
)

// sense is what a phrase means. A phrase may mean several things; where it stands decides.
type sense struct {
	head     *head
	noPlace  bool
	action   inspection.Action
	form     form // of the action's word
	reading  string
	value    substitution.Value
	facts    []fact
	mod      mod
	role     role
	number   float64
	class    numberClass
	unit     string
	label    string
	measures []measure // what a figure beside it is of
	bend     bool
	mark     separator // said aloud: "full stop"
}

// fact is a dimension's value as the words give it.
type fact struct {
	name  string
	value substitution.Value
}

// head is a word for a part: the places it may mean.
type head struct {
	places []substitution.Place
	many   bool // a plural
	set    bool // a plural word that names one place: pads
	two    bool // every bike has one at either end
	record bool // only the record says which place is meant
	house  bool // bearings sit in it
	cage   bool // a derailleur's cage: bent, it is damaged
	family substitution.Family
}

// form is how an action's word is used.
type form uint8

const (
	after form = 1 << iota // "shot": after the part
	verb                   // "replace": before or after it
	noun                   // "service": after "needs"
	done                   // "replaced": done already, unless something is yet to be
)

// role is what a word does in a sentence.
type role uint8

const (
	noRole role = iota
	filler
	want        // needs, wants
	toBe        // to be, be, get
	fresh       // new
	not         // not, isn't
	no          // "no": not any, or a correction
	slight      // degrees of play
	marked      //
	play        // the play itself
	quant       // both, each
	eachSide    // a side
	every       // all
	wheel       // the wheel as a whole
	onePronoun  // one, ones
	it          // it, they
	otherSide   // the other side
	same        // the same
	correction  // sorry, I mean
	scratch     // scratch that
	wayRound    // the other way round
	and         // and
	or          // or, nor
	but         // but
	at          // on, at, in, of
	void        // a state that is neither reading nor action
	copula      // is, are
	bound       // under, over, about: no figure
	teeth       // the teeth of a sprocket
	hedge       //
	question    //
	condition   //
	plan        //
	history     //
	speech      //
	person      // who did something or is something: what follows may be the mechanic's own again
	finding     // I found: what follows is the mechanic's own
	handling    // put the gauge on it: what is done while looking, up to the next mark
	otherBike   //
	stock       //
	voidUnit    // pounds, minutes, newton metres: a figure before it is none of ours
	fine        // fine where a reading might be meant
	inQuestion  // a word that asks when it begins a clause
	nothingWith // nothing wrong with
	forgets     // forget the
	apart       // except, all but: what is said of the rest is not said of what follows
	bikeKind    // the tourer, a brake job: at the head of a note it names the bike that it is of
)

var roles = map[string]role{
	"filler": filler, "want": want, "to be": toBe, "new": fresh, "not": not, "no": no, "slight": slight, "marked": marked, "play": play,
	"quant": quant, "each side": eachSide, "all": every, "wheel": wheel, "one": onePronoun, "it": it, "other side": otherSide, "same": same,
	"correction": correction, "scratch": scratch, "way round": wayRound, "and": and, "or": or, "but": but, "at": at, "void": void, "copula": copula,
	"bound": bound, "teeth": teeth, "hedge": hedge, "question": question, "condition": condition, "plan": plan, "history": history,
	"speech": speech, "person": person, "finding": finding, "handling": handling, "other bike": otherBike, "stock": stock, "void unit": voidUnit, "asks": inQuestion, "nothing wrong": nothingWith, "forget": forgets, "apart": apart, "bike": bikeKind,
}

// mod is where on the bike: an end, a side, a level, as sets of bits, so that "front and rear" is both.
type mod uint16

const (
	front mod = 1 << iota
	rear
	left
	right
	upper
	lower
	inner
	middle
	outer
	letterR // rear or right: the part decides
	letterF // front
	letterL // left

	ends   = front | rear
	sides  = left | right
	levels = upper | lower | inner | middle | outer
)

var mods = map[string]mod{"front": front, "rear": rear, "left": left, "right": right, "upper": upper, "lower": lower,
	"inner": inner, "middle": middle, "outer": outer, "r": letterR, "l": letterL, "f": letterF}

type numberClass uint8

const (
	noNumber numberClass = iota
	ones                 // one to nine
	teens                // ten to nineteen
	tens                 // twenty to ninety
	hundred              //
	thousand             //
	oh                   // oh, nought, zero
	point                // point
	partOf               // half, quarter, eighth: the number is how many make a whole
)

func (s *sense) mean(meaning, kind, rest string) (err error) {
	if role, ok := roles[meaning]; ok {
		if s.role != noRole && s.role != role {
			return fmt.Errorf("two roles: %s", meaning)
		}
		s.role = role
		return nil
	}
	switch kind {
	case "place", "places", "set":
		s.head, err = newHead(kind, strings.Fields(rest))
	case "no":
		s.noPlace = true
	case "action", "verb", "noun", "done":
		s.form |= map[string]form{"action": after, "verb": verb, "noun": noun, "done": done}[kind]
		had := s.action
		if s.action, err = inspection.ParseAction(rest); had != "" && had != s.action {
			return fmt.Errorf("both %s and %s", had, rest)
		}
	case "reading":
		name, value, _ := strings.Cut(rest, "=")
		s.reading = name
		s.value = substitution.Text(value)
		if value == "true" || value == "false" {
			s.value = substitution.Yes(value == "true")
		}
	case "mark":
		s.mark = map[string]separator{"comma": comma, "stop": stop, "colon": colon, "question": asking}[rest]
	case "bend":
		s.bend = true
	case "fact":
		name, value, _ := strings.Cut(rest, "=")
		v := substitution.Text(value)
		if value == "true" {
			v = substitution.Yes(true)
		}
		s.facts = append(s.facts, fact{name, v})
	case "mod":
		s.mod |= mods[rest]
	case "number":
		if strings.HasSuffix(rest, " speeds") { // "single speed": a fact, and no figure by itself
			s.facts = append(s.facts, fact{"speeds", substitution.List(1)})
			break
		}
		s.number, err = strconv.ParseFloat(rest, 64)
		s.class = classOf(s.number)
	case "part":
		s.number, err = strconv.ParseFloat(rest, 64)
		s.class = partOf
	case "unit":
		s.unit = rest
	case "label":
		s.label = rest
	case "measure":
		s.measures, err = measuresIn(rest)
	case "point":
		s.class = point
	default:
		return fmt.Errorf("%q is no meaning", meaning)
	}
	return err
}

func classOf(n float64) numberClass {
	switch {
	case n == 0:
		return oh
	case n < 10:
		return ones
	case n < 20:
		return teens
	case n < 100:
		return tens
	case n < 1000:
		return hundred
	}
	return thousand
}

// newHead reads the places that a word may mean; "*" is either end.
func newHead(kind string, fields []string) (*head, error) {
	h := &head{many: kind == "places", set: kind == "set"}
	for _, f := range fields {
		switch f {
		case "two":
			h.two = true
		case "record":
			h.record = true
		case "cage":
			h.cage = true
		default:
			for _, end := range []string{"front", "rear"} {
				h.places = append(h.places, substitution.Place(strings.Replace(f, "*", end, 1)))
			}
		}
	}
	slices.Sort(h.places)
	h.places = slices.Compact(h.places)
	for _, p := range h.places {
		site, err := substitution.SiteOf(p)
		if err != nil {
			return nil, err
		}
		if h.family == "" {
			h.family = site.Family
		}
		h.house = h.house || isHouse(p)
	}
	return h, nil
}

// houses are the places that have other places inside.
var houses = sync.OnceValue(func() map[substitution.Place]bool {
	out := map[substitution.Place]bool{}
	for _, s := range substitution.Sites() {
		for i, c := range s.Place {
			if c == '.' {
				out[s.Place[:i]] = true
			}
		}
	}
	return out
})

func isHouse(p substitution.Place) bool { return houses()[p] }
