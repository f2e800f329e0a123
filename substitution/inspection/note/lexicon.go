package note

import (
	"embed"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"stead/substitution"
	"stead/substitution/inspection"
)

// The words, one table a family and a few for what is said of any part. A line is a meaning, a colon, and the phrases that
// mean it, longest first when the note is read:
//
//	place crank.outer-ring: big ring          one place of the bike
//	place *.tyre: tyre                        a place at either end; the note says which
//	places *.tyre two: tyres                  a plural; every bike has two of them
//	set *.pads *.rim-pads record: pads        a plural word for one place; the record decides which
//	no place: brake lever                     a thing without a place of its own
//	action replace: shot                      what is to be done, said after the part
//	verb replace: renew                       the same, said before or after it
//	noun clean: service, cleaning             the same, after "needs"
//	done replace: replaced                    done already, unless "needs" or "to be" stands before it
//	reading feel=rough: gritty                a reading, of the families that have it
//	fact colour=black: black                  a dimension of what is fitted
//	mod front: front, fr                      an end, side or level
//	void: worn, squeals                       understood, and neither reading nor action
//	hedge: might                              and the other ways of not saying that it is so
//	number 20: twenty                         a figure in words
//	unit mm: mil                              after a figure
//	like tyre: tire                           another spelling of one word
//	filler: the, is
//
// {a|b} in a phrase stands for either; {a|} for a or nothing.
//
//go:embed words/*.txt
var tables embed.FS

// sense is what a phrase means. A phrase may mean several things; where it stands decides.
type sense struct {
	head    *head
	noPlace bool
	action  inspection.Action
	form    form // of the action's word
	reading string
	value   substitution.Value
	facts   []fact
	mod     mod
	role    role
	number  float64
	class   numberClass
	unit    string
	label   string
	bend    bool
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
	otherBike   //
	stock       //
	voidUnit    // pounds, minutes, newton metres: a figure before it is none of ours
	fine        // fine where a reading might be meant
	inQuestion  // a word that asks when it begins a clause
	nothingWith // nothing wrong with
	justWant    // wants, where nobody is said to want
)

var roles = map[string]role{
	"filler": filler, "want": want, "to be": toBe, "new": fresh, "not": not, "no": no, "slight": slight, "marked": marked, "play": play,
	"quant": quant, "each side": eachSide, "all": every, "wheel": wheel, "one": onePronoun, "it": it, "other side": otherSide, "same": same,
	"correction": correction, "scratch": scratch, "and": and, "or": or, "but": but, "at": at, "void": void, "copula": copula,
	"bound": bound, "teeth": teeth, "hedge": hedge, "question": question, "condition": condition, "plan": plan, "history": history,
	"speech": speech, "other bike": otherBike, "stock": stock, "void unit": voidUnit, "asks": inQuestion, "nothing wrong": nothingWith,
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
	oh                   // oh, nought, zero
	point                // point
	partOf               // half, quarter, eighth: the number is how many make a whole
)

// lexicon finds the longest phrase that begins at a token.
type lexicon struct {
	base   *lexicon         // the trade's, under a shop's own
	next   []map[string]int // a tree of phrases: from a node, a word leads on
	senses []*sense         // by node; nil where no phrase ends
	like   map[string]string
	near   map[string]string // a word with one letter lost, by what is left; "" where two words are left alike
	words  map[string]bool
}

func newLexicon() *lexicon {
	return &lexicon{next: []map[string]int{{}}, senses: []*sense{nil}, like: map[string]string{}, near: map[string]string{}, words: map[string]bool{}}
}

// trade is the trade's own lexicon, made when it is first needed.
var trade = sync.OnceValue(func() *lexicon {
	l := newLexicon()
	files, err := tables.ReadDir("words")
	if err != nil {
		panic(err)
	}
	for _, f := range files {
		text, err := tables.ReadFile("words/" + f.Name())
		if err != nil {
			panic(err)
		}
		if err := l.readTable(string(text)); err != nil {
			panic("words/" + f.Name() + ": " + err.Error())
		}
	}
	l.findNear()
	return l
})

func (l *lexicon) readTable(text string) error {
	for i, line := range strings.Split(text, "\n") {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		meaning, phrases, ok := strings.Cut(line, ": ")
		if !ok {
			return fmt.Errorf("line %d has no colon: %q", i+1, line)
		}
		for phrase := range strings.SplitSeq(phrases, ", ") {
			for _, one := range expand(strings.TrimSpace(phrase)) {
				if err := l.add(one, meaning); err != nil {
					return fmt.Errorf("line %d: %q: %w", i+1, one, err)
				}
			}
		}
	}
	return nil
}

// expand writes out {a|b}.
func expand(phrase string) []string {
	open := strings.IndexByte(phrase, '{')
	if open < 0 {
		return []string{strings.Join(strings.Fields(phrase), " ")}
	}
	length := strings.IndexByte(phrase[open:], '}')
	var out []string
	for choice := range strings.SplitSeq(phrase[open+1:open+length], "|") {
		out = append(out, expand(phrase[:open]+choice+phrase[open+length+1:])...)
	}
	return out
}

// add gives a phrase one more meaning.
func (l *lexicon) add(phrase, meaning string) error {
	kind, rest, _ := strings.Cut(meaning, " ")
	if kind == "like" {
		l.like[phrase] = rest
		return nil
	}
	node := l.grow(phrase)
	if node == 0 {
		return fmt.Errorf("%q holds no word", phrase)
	}
	if l.senses[node] == nil {
		l.senses[node] = &sense{}
	}
	return l.senses[node].mean(meaning, kind, rest)
}

// grow makes the way to a phrase and gives its end.
func (l *lexicon) grow(phrase string) int {
	words := tokens(phrase)
	if phrase[0] == '\'' {
		words = []token{{text: phrase}} // what is left of "it's"
	}
	node := 0
	for _, t := range words {
		if t.text == "-" {
			continue
		}
		to, ok := l.next[node][t.text]
		if !ok {
			to = len(l.next)
			l.next, l.senses = append(l.next, map[string]int{}), append(l.senses, nil)
			l.next[node][t.text] = to
		}
		l.words[t.text] = true
		node = to
	}
	return node
}

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
	}
	return hundred
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

// phrase is what a phrase of the tables means.
func (l *lexicon) phrase(text string) *sense {
	s, _ := l.find(tokens(text), 0)
	return s
}

// find is the longest phrase at token i, and the token after it. A shop's own comes before the trade's.
func (l *lexicon) find(ts []token, i int) (*sense, int) {
	s, end := l.longest(ts, i)
	if l.base != nil {
		if known, to := l.base.find(ts, i); s == nil || to > end {
			return known, to
		}
	}
	return s, end
}

func (l *lexicon) longest(ts []token, i int) (*sense, int) {
	var best *sense
	end := i + 1
	node := 0
	for j := i; j < len(ts) && j < i+12; j++ {
		t := ts[j]
		if t.mark && t.text == "-" && j > i && t.glued && j+1 < len(ts) && ts[j+1].glued {
			continue
		}
		to, ok := l.next[node][l.spelt(t.text)]
		if !ok {
			to, ok = l.next[node][t.text]
		}
		if !ok {
			break
		}
		node = to
		if s := l.senses[node]; s != nil {
			best, end = s, j+1
		}
	}
	return best, end
}

// spelt is a word in the spelling of the tables. A long word with one letter lost, doubled or two changed about is
// taken for the one word of the tables that it can be.
func (l *lexicon) spelt(word string) string {
	if l.base != nil {
		if l.words[word] {
			return word
		}
		return l.base.spelt(word)
	}
	if other, ok := l.like[word]; ok {
		return other
	}
	if len(word) < leastMistyped || l.words[word] {
		return word
	}
	if meant := l.near[word]; meant != "" {
		return meant
	}
	found := ""
	for i := range word {
		lost := word[:i] + word[i+1:]
		meant := l.near[lost]
		if l.words[lost] && len(lost) >= leastMistyped {
			meant = lost
		} else if meant != "" && !swapped(word, meant) {
			meant = ""
		}
		if meant != "" && found != "" && meant != found {
			return word
		}
		if meant != "" {
			found = meant
		}
	}
	if found != "" {
		return found
	}
	return word
}

// leastMistyped is the shortest word in which a slip of the keys is mended: shorter ones are too like each other.
const leastMistyped = 7

func (l *lexicon) findNear() {
	for word := range l.words {
		if len(word) < leastMistyped {
			continue
		}
		for i := range word {
			lost := word[:i] + word[i+1:]
			if had, ok := l.near[lost]; ok && had != word || l.words[lost] {
				l.near[lost] = ""
				continue
			}
			l.near[lost] = word
		}
	}
}

// swapped reports whether two neighbouring letters have changed places.
func swapped(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	for i := 0; i+1 < len(a); i++ {
		if a[i] != b[i] {
			return a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
		}
	}
	return false
}
