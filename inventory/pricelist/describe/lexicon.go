package describe

import (
	"embed"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"

	"stead/substitution"
)

// The trade's words, by what they say. A line of a table is a meaning, a colon, and the phrases that mean it:
//
//	family chainring: chainring, c/ring     the thing itself
//	code chainring: cr                      the same, but only as the first word ("CR-110-34")
//	weak cartridge-bearing: sealed bearing  the thing, if nothing better is said
//	none: rack, bell                        not one of our parts
//	not: spanner, spares kit                 the same, whatever part is named beside it
//	whole: rear wheel                        a whole of which ours are parts; before a part's name it says where that goes
//	several: kit, bundle                     several parts together, where two are named
//	colour=black: black, blk                a dimension and its value
//	position=rear in hub, axle: r           the same, in these families only
//	unit teeth: t, tooth                    after a figure
//	label bcd: bcd, pcd                     before or after a figure
//	aside: rrp, weight                      a label whose figure is not ours to read
//	number 9: nine                          a figure in words
//	hint rim-pad: v brake                   which of two things with one name it is
//	pack of: bag, pk                        before a number of pieces
//	sold metre: per metre, lfm               what a piece is of what comes off a roll
//	pieces 2: pair, pr                      a number of pieces
//	for: for, to suit                       what follows is about another part
//	with: with, c/w                         what follows comes with it
//	without: without, sans                  what follows does not come with it
//	negates: non, nicht                     the word behind it is not so
//	noise: road, mtb                        understood, and says nothing of fit
//	head: felge, velg                       a word that compounds may end in, and are then a kind of it
//
// A phrase may stand in several lines; then it means all of them. A hyphen or full stop inside a phrase may be missing
// or not; a figure glued to a word in the table must be glued in the text ("t47" is not "T 47").
//
//go:embed words/*.txt
var wordTables embed.FS

// clause is what a word opens.
type clause uint8

const (
	mainClause clause = iota
	forClause         // about the part it goes with
	withClause        // about what comes with it
)

// says is one dimension's value, in all families that have the dimension or in some only.
type says struct {
	dimension string
	value     substitution.Value
	in        []substitution.Family
}

// sense is everything that one phrase means. What is asked of every phrase stands first: there are too many senses for a
// processor to have them all at hand.
type sense struct {
	family  substitution.Family
	says    []says
	labels  labels
	unit    unit
	sold    unit // what a piece of it is, off a roll
	opens   clause
	none    bool
	not     bool // none of our parts, wherever it stands
	whole   bool // none of our parts, unless one is named beside it
	several bool
	aside   bool
	packOf  bool
	noise   bool
	negates bool // what the word behind it says
	major   bool // [sense.isMajor]
	own     bool // the shop's own word, which may give any dimension

	figure           float64 // of a number in words; 0 for none
	pieces           int
	code, weak, hint substitution.Family
}

// lexicon is a tree of phrases: from a node, a word leads to the next.
type lexicon struct {
	ids    map[string]int32
	single [256]int32 // the same of a word or mark of one byte, as half of a text's are
	firsts []int32    // by word: the node of the phrases that begin with it, or 0
	edges  [][]edge   // by node: how the phrases go on
	senses []*sense   // by node; nil where no phrase ends
	links  []bool     // by word: the small words between nouns, "de" and "di"
	heads  map[string]bool
	longer []longer // while the tables are read
	near   near
	texts  []string         // by word: how it is written; of the trade's words alone
	leads  map[byte][]int32 // by the first letter: the words that phrases begin with
	trade  bool             // the trade's, by whose numbers the words of a text are known
}

// edge leads on by a word; glued if the table has it glued to the word before.
type edge struct {
	word, node int32
	glued      bool
}

func newLexicon() *lexicon {
	return &lexicon{ids: map[string]int32{}, firsts: []int32{0}, edges: [][]edge{nil}, senses: []*sense{nil}, links: []bool{false}, heads: map[string]bool{}}
}

// next follows a word from a node; 0 if no phrase goes on so.
func (l *lexicon) next(node, word int32, glued bool) int32 {
	if node == 0 {
		return l.firsts[word]
	}
	for _, e := range l.edges[node] {
		if e.word == word && e.glued == glued {
			return e.node
		}
	}
	return 0
}

// grow makes the way on that next did not find.
func (l *lexicon) grow(node, word int32, glued bool) int32 {
	fresh := int32(len(l.senses))
	l.senses = append(l.senses, nil)
	l.edges = append(l.edges, nil)
	if node == 0 {
		l.firsts[word] = fresh
	} else {
		l.edges[node] = append(l.edges[node], edge{word, fresh, glued})
	}
	return fresh
}

// base is the trade's lexicon, read when it is first asked.
var base = sync.OnceValue(mustReadTables)

func mustReadTables() *lexicon {
	l := newLexicon()
	l.trade = true
	files, err := wordTables.ReadDir("words")
	if err != nil {
		panic(err)
	}
	for _, f := range files {
		text, err := wordTables.ReadFile("words/" + f.Name())
		if err != nil {
			panic(err)
		}
		for i, line := range strings.Split(string(text), "\n") {
			if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
				continue
			}
			meaning, phrases, ok := strings.Cut(line, ": ")
			if !ok {
				panic(fmt.Sprintf("words/%s:%d: no colon: %q", f.Name(), i+1, line))
			}
			for phrase := range strings.SplitSeq(phrases, ", ") {
				for _, spelling := range spellings(phrase) {
					if err := l.add(spelling, meaning); err != nil {
						panic(fmt.Sprintf("words/%s:%d: %v", f.Name(), i+1, err))
					}
				}
			}
		}
	}
	for head := range l.heads {
		if l.alone(l.ids[head]) == nil {
			panic(fmt.Sprintf("words: the head %q means nothing by itself", head))
		}
	}
	l.inherit()
	l.labelValves()
	l.near = newNear(l)
	l.spell()
	l.markMajor()
	return l
}

// labelValves makes each word for a kind of valve a label of its length: "valve Schrader 48".
func (l *lexicon) labelValves() {
	for _, s := range l.senses {
		if s != nil && slices.ContainsFunc(s.says, func(says says) bool { return says.dimension == "valve" }) {
			s.labels |= valveLabel
		}
	}
}

// spell notes how words are written, and those that begin phrases.
func (l *lexicon) spell() {
	l.texts, l.leads = make([]string, len(l.firsts)), map[byte][]int32{}
	for text, id := range l.ids {
		if l.texts[id] = text; l.firsts[id] != 0 && len(l.edges[l.firsts[id]]) > 0 && isPlainWord(text) {
			l.leads[text[0]] = append(l.leads[text[0]], id)
		}
	}
	for _, ids := range l.leads {
		slices.Sort(ids)
	}
}

// add gives a phrase one more meaning.
func (l *lexicon) add(phrase, meaning string) error {
	var s scratch
	s.lex(phrase)
	if len(s.tokens) == 0 {
		return fmt.Errorf("%q has no word in it", phrase)
	}
	node := int32(0)
	for i := range s.tokens {
		t := &s.tokens[i]
		if t.kind == mark && (t.mark == '-' || t.mark == '.') && i > 0 {
			continue
		}
		id := l.word(string(s.lower(t)))
		if l.links[id] && i > 0 && i+1 < len(s.tokens) {
			continue
		}
		glued := i > 0 && t.glued && t.kind != mark && s.tokens[i-1].kind != mark
		next := l.next(node, id, glued)
		if next == 0 {
			next = l.grow(node, id, glued)
		}
		node = next
	}
	if meaning == "head" {
		l.heads[string(s.norm)] = true
		return nil
	}
	if l.senses[node] == nil {
		l.senses[node] = &sense{}
	}
	if len(s.tokens) > 1 {
		l.longer = append(l.longer, longer{phrase, node})
	}
	return l.senses[node].learn(meaning)
}

// linkWords stand between the nouns of a French, Italian or Dutch name, or do not: "tige de selle", "tige selle".
// Inside a phrase they are passed over, in the tables and in the text.
var linkWords = []string{"de", "du", "des", "di", "del", "della", "delle", "dei", "van"}

// id is a word's number in the lexicon; 0 if it is not there.
func (l *lexicon) id(text []byte) int32 {
	if len(text) == 1 {
		return l.single[text[0]]
	}
	return l.ids[string(text)]
}

// word is a word's number in the lexicon; a new one gets the next.
func (l *lexicon) word(text string) int32 {
	id, ok := l.ids[text]
	if !ok {
		id = int32(len(l.ids) + 1)
		l.ids[text] = id
		if len(text) == 1 {
			l.single[text[0]] = id
		}
		l.firsts = append(l.firsts, 0)
		l.links = append(l.links, slices.Contains(linkWords, text))
	}
	return id
}

// umlauts are written with an e where the keyboard has none.
var umlauts = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue")

// spellings are a phrase's: the table's own, and that without umlauts, which is "ae" for "ä" beside the plain letter.
func spellings(phrase string) []string {
	if other := umlauts.Replace(phrase); other != phrase {
		return []string{phrase, other}
	}
	return []string{phrase}
}

// learn adds a meaning, written as in the tables.
func (s *sense) learn(meaning string) error {
	if s.learnRole(meaning) {
		return nil
	}
	verb, rest, _ := strings.Cut(meaning, " ")
	switch {
	case strings.Contains(verb, "="):
		return s.learnValue(meaning)
	case verb == "family" || verb == "code" || verb == "weak" || verb == "hint":
		f := substitution.Family(rest)
		if grammars()[f] == nil && !isKind(f) {
			return fmt.Errorf("there is no part family %q", rest)
		}
		*map[string]*substitution.Family{"family": &s.family, "code": &s.code, "weak": &s.weak, "hint": &s.hint}[verb] = f
	case verb == "unit":
		u, ok := unitNames[rest]
		if !ok {
			return fmt.Errorf("there is no unit %q", rest)
		}
		s.unit |= u
	case verb == "sold":
		if s.sold = unitNames[rest]; s.sold&sold == 0 {
			return fmt.Errorf("nothing is sold by the %q", rest)
		}
	case verb == "label":
		s.labels |= labelOf(rest)
	case verb == "number" || verb == "pieces":
		n, err := strconv.ParseFloat(rest, 64)
		if err != nil || n <= 0 {
			return fmt.Errorf("%q is no number", rest)
		}
		if verb == "pieces" {
			s.pieces = int(n)
		} else {
			s.figure = n
		}
	default:
		return fmt.Errorf("%q is no meaning: write DIMENSION=VALUE, family NAME, or ignore", meaning)
	}
	return nil
}

// learnRole adds what a word does in a line, and reports whether the meaning is one of these.
func (s *sense) learnRole(meaning string) bool {
	switch meaning {
	case "none":
		s.none = true
	case "not":
		s.not = true
	case "whole":
		s.none, s.whole = true, true
	case "several":
		s.several = true
	case "noise":
		s.noise = true
	case "aside":
		s.aside = true
	case "for":
		s.opens = forClause
	case "with":
		s.opens = withClause
	case "without":
		s.opens, s.negates = withClause, true
	case "negates":
		s.negates = true
	case "pack of":
		s.packOf = true
	default:
		return false
	}
	return true
}

// learnValue reads "colour=black" or "position=rear in hub, axle".
func (s *sense) learnValue(meaning string) error {
	assignment, in, limited := strings.Cut(meaning, " in ")
	name, text, _ := strings.Cut(assignment, "=")
	v, err := valueOf(name, text)
	if err != nil {
		return err
	}
	says := says{dimension: name, value: v}
	if limited {
		for f := range strings.SplitSeq(in, "+") {
			if grammars()[substitution.Family(f)] == nil {
				return fmt.Errorf("there is no part family %q", f)
			}
			says.in = append(says.in, substitution.Family(f))
		}
	}
	s.says = append(s.says, says)
	return nil
}

// find is the longest phrase that begins at token i, and the token after it.
func (l *lexicon) find(s *scratch, i int) (*sense, int) {
	if l == nil {
		return nil, i
	}
	var found *sense
	end := i
	node, own := int32(0), !l.trade
	for j := i; j < len(s.tokens); j++ {
		t := &s.tokens[j]
		if t.kind == mark && (t.mark == '-' || t.mark == '.') && j > i {
			continue
		}
		id := t.id
		if own {
			id = l.id(s.lower(t))
		}
		if id == 0 {
			break
		}
		if j > i && l.links[id] && l.goesOnAfter(s, node, j, own) {
			continue
		}
		next := int32(0)
		if t.glued && j > i {
			next = l.next(node, id, true)
		}
		if next == 0 {
			next = l.next(node, id, false)
		}
		if next == 0 {
			break
		}
		node = next
		if l.senses[node] != nil {
			found, end = l.senses[node], j+1
		}
	}
	return found, end
}

// goesOnAfter reports whether a phrase goes on behind a small word between nouns, which the tables leave out.
func (l *lexicon) goesOnAfter(s *scratch, node int32, link int, own bool) bool {
	if link+1 >= len(s.tokens) {
		return false
	}
	t := &s.tokens[link+1]
	id := t.id
	if own {
		id = l.id(s.lower(t))
	}
	return id != 0 && (l.next(node, id, false) != 0 || l.links[id] && l.goesOnAfter(s, node, link+1, own))
}

// Words are a shop's own words for one supplier: a word or phrase of that supplier's and what it means. A meaning is a
// dimension and its value ("pad_shape=B05", "colour=black"), "family NAME" (the thing itself), "none" (what is called
// so is none of our parts) or "ignore" (a brand, a name: nothing to do with fit). They come before the trade's own
// meaning.
type Words map[string]string

// compile checks the words and makes a lexicon of them.
func (w Words) compile() (*lexicon, error) {
	if len(w) == 0 {
		return nil, nil
	}
	l := newLexicon()
	for _, phrase := range slices.Sorted(maps.Keys(w)) {
		if err := w.check(phrase); err != nil {
			return nil, err
		}
		meaning := strings.TrimSpace(w[phrase])
		if meaning == "ignore" {
			meaning = "noise"
		}
		if err := l.add(phrase, meaning); err != nil {
			return nil, fmt.Errorf("the meaning of %q: %w", phrase, err)
		}
		if err := checkMeaning(meaning); err != nil {
			return nil, fmt.Errorf("the meaning of %q: %w", phrase, err)
		}
	}
	for _, s := range l.senses {
		if s != nil {
			s.own, s.not = true, s.none
		}
	}
	l.markMajor()
	return l, nil
}

// markMajor notes of every sense what each description asks of it.
func (l *lexicon) markMajor() {
	for _, s := range l.senses {
		if s != nil {
			s.major = s.isMajor()
		}
	}
}

func (w Words) check(phrase string) error {
	switch meaning := strings.TrimSpace(w[phrase]); {
	case len(phrase) > 80:
		return fmt.Errorf("the word %.40q… is too long: give the word or phrase that needs a meaning, at most 80 letters", phrase)
	case meaning == "ignore" || meaning == "none" || strings.HasPrefix(meaning, "family ") || strings.Contains(meaning, "="):
		return nil
	default:
		return fmt.Errorf("the meaning of %q is %q, which is none: write DIMENSION=VALUE (colour=black), family NAME (family chain), none (no part of ours), or ignore", phrase, meaning)
	}
}

// checkMeaning says what is wrong with a dimension's value that no family's table takes.
func checkMeaning(meaning string) error {
	name, text, ok := strings.Cut(meaning, "=")
	if !ok {
		return nil
	}
	text, _, _ = strings.Cut(text, " in ")
	v, err := valueOf(name, text)
	if err != nil {
		return err
	}
	for _, g := range grammars() {
		if d, has := g.dimensions[name]; has {
			if _, err = d.Check(v); err == nil {
				return nil
			}
		}
	}
	return err
}
