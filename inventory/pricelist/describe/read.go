package describe

import (
	"fmt"
	"slices"
	"sync"

	"stead/substitution"
)

// Reading is what a description says.
type Reading struct {
	Text   string
	Family substitution.Family // empty when the description does not name one of the families
	Spec   substitution.Spec   // every dimension from the supplier's text
	Per    Per                 // what a piece is of what comes off a roll; empty where it does not say
	Roll   float64             // the metres on a roll whose length is no dimension of the part; 0 where it does not say
	Other  string              // the words that say it is none of our parts: "chain tool"; empty when it does not say
	Unread []string            // the words that nobody understood, or that contradict each other
	Wrong  error               // what the description says of the part contradicts itself: nothing of it is taken but its finish
	Failed error               // the reader itself broke on the description: a fault of the program, and nothing is known of it
}

// Reader reads descriptions with the trade's words and a shop's own for one supplier. It may be used by many at once.
type Reader struct {
	own     *lexicon
	scratch sync.Pool
}

// NewReader makes a reader that knows the shop's words for one supplier, beside the trade's. A word without a clear
// meaning is an error that names it.
func NewReader(words Words) (*Reader, error) {
	own, err := words.compile()
	if err != nil {
		return nil, err
	}
	return &Reader{own: own}, nil
}

var plainReader Reader

// Read reads one description with the trade's words.
func Read(text string) Reading { return plainReader.Read(text) }

// Read reads one description. It never breaks: should the reader fail on a description, the whole of it is unread, so
// that one line of a list is held back and not the list.
func (r *Reader) Read(text string) Reading { return r.readAs(text, nil) }

func (r *Reader) readAs(text string, by *said) (out Reading) {
	defer func() {
		if fault := recover(); fault != nil {
			out = Reading{Text: text, Spec: substitution.Spec{}, Unread: []string{text}, Failed: fmt.Errorf("the reader failed on %q: %v", text, fault)}
		}
	}()
	s, _ := r.scratch.Get().(*scratch)
	if s == nil {
		s = &scratch{}
	}
	s.taken = spelledAs{}
	out = r.read(s, text, by)
	if out.Family == "" && out.Other == "" && by == nil {
		out = r.readCut(s, out)
	}
	r.scratch.Put(s) // one that the reader broke off with is not used again
	return out
}

func (r *Reader) read(s *scratch, text string, by *said) Reading {
	short := text
	if len(short) > longest {
		short = short[:longest]
	}
	s.lex(short)
	r.scan(s)
	s.findings, s.unread = s.findings[:0], s.unread[:0]
	reading := reading{scratch: s, text: short, family: s.decide()}
	out := Reading{Text: text, Other: reading.otherWords()}
	switch {
	case by == nil:
	case by.none:
		reading.family, out.Other = "", short
	case by.family != "":
		reading.family, out.Other = by.family, ""
	}
	reading.leaveAside()
	reading.leaveAdapters()
	out.Family = reading.family
	if g := grammars()[reading.family]; g != nil {
		reading.grammar = g
		if g.of != "" {
			out.Family, reading.family = g.of, g.of
		}
		reading.read()
		out.Per, out.Roll = reading.per, reading.roll
		out.Spec = reading.settle()
		if (by == nil || by.family == "") && reading.doubtful(out.Spec) {
			out.Family, reading.family, out.Spec = "", "", nil
		}
	}
	if out.Spec == nil {
		out.Spec = substitution.Spec{}
	}
	if by != nil {
		by.apply(&out)
	}
	out.leaveWrong()
	if out.Unread = reading.unreadWords(reading.family != ""); out.Wrong != nil {
		out.Unread = []string{short} // which of the two is wrong the text does not say
	}
	if len(short) < len(text) {
		out.Unread = append(out.Unread, "… (more than 2000 letters)")
	}
	return out
}

// leaveWrong takes back what contradicts itself: a chain for nine speeds is not an eighth of an inch wide.
func (r *Reading) leaveWrong() {
	g := grammars()[r.Family]
	if g == nil || len(g.table.Agrees) == 0 {
		return
	}
	deciding := 0
	for name := range r.Spec {
		if !isFinish(name) && name != "pack" {
			deciding++
		}
	}
	if deciding < 2 {
		return // nothing to contradict
	}
	if r.Wrong = g.table.Contradiction(r.Spec); r.Wrong == nil {
		return
	}
	for name := range r.Spec {
		if !isFinish(name) && name != "pack" {
			delete(r.Spec, name)
		}
	}
}

// reading is one description being read.
type reading struct {
	*scratch
	text    string
	family  substitution.Family
	grammar *grammar
	per     Per
	roll    float64
	anyRing bool // a bearing's mark may or may not say a flange
}

// strength says how plainly a dimension was said; a bare figure gives way to anything plainer.
type strength uint8

const (
	bare strength = iota + 1
	plain
)

// finding is one dimension as read from some items.
type finding struct {
	dim      string
	value    substitution.Value
	strength strength
	from, to int  // items
	checked  bool // the family's table takes the value, which is in its spelling
	bad      bool
}

// give notes a dimension read from items [from, to) and marks them as used.
func (r *reading) give(dim string, v substitution.Value, how strength, from, to int) {
	r.findings = append(r.findings, finding{dim: dim, value: v, strength: how, from: from, to: to})
	r.claim(from, to)
}

func (r *reading) claim(from, to int) {
	for i := from; i < to; i++ {
		r.items[i].used = true
	}
}

// has reports whether a dimension was found already.
func (r *reading) has(dim string) bool {
	for i := range r.findings {
		if r.findings[i].dim == dim {
			return true
		}
	}
	return false
}

// read takes the family's steps: what words say, designations, pieces, forms, labels, units, and bare figures last.
func (r *reading) read() {
	r.readWords()
	if r.grammar.purpose != "" {
		r.give("purpose", substitution.Text(r.grammar.purpose), plain, 0, 0)
	}
	for _, also := range r.grammar.also {
		also(r)
	}
	r.readPieces()
	r.readOffRoll()
	for _, form := range r.grammar.compiled {
		r.readForm(form)
	}
	r.readLabels()
	r.readUnits()
	r.readMultiplied()
	r.readBare()
}

// readWords takes the dimensions that words give. A finish or a size of something else ("for …", "with …") is not the
// part's.
func (r *reading) readWords() {
	for i := range r.items {
		it := &r.items[i]
		if it.sense == nil || it.kind != phrase || it.used && it.clause == withClause || i == 0 && it.sense.code == r.family || r.isNegated(i) || r.mayBeInterasse(i) || r.isAlternative(i) {
			continue
		}
		for k := range it.sense.says {
			if says := &it.sense.says[k]; says.speaksOf(r.family) && (!isFinish(says.dimension) || it.clause == mainClause && !r.isOfBox(i) && !r.isRoll(i)) {
				r.readWord(says, it.sense.own, i)
			}
		}
	}
}

// mayBeInterasse reports whether "int." before a bolt circle may be cut from the Italian word for one, and not from "interna".
func (r *reading) mayBeInterasse(i int) bool {
	if r.family != "chainring" || r.letters(i) > 3 || !slices.ContainsFunc(r.items[i].sense.says, func(s says) bool { return s.dimension == "position" }) {
		return false
	}
	if i++; r.isJoint(i, ".") {
		i++
	}
	return i < len(r.items) && r.items[i].isWhole(56, 151) && r.items[i].unit == none
}

// isAlternative reports whether "or" is the English word between two things, and not the French gold: that ends what it
// stands in, or stands behind a material and before no other finish: "alu or 5 pcs".
func (r *reading) isAlternative(i int) bool {
	if !r.isWord(i, "or") || i+1 >= len(r.items) || r.isJoint(i+1, ",;:()|-.") {
		return false
	}
	before, behind := r.items[i-1], r.items[i+1]
	return before.kind != phrase || !before.sense.isFinished() || behind.kind == phrase && behind.sense.isFinished()
}

// isNegated reports whether the word before says that what item i says is not so: "nicht konifiziert", "ohne Gewinde".
func (r *reading) isNegated(i int) bool {
	for i--; i >= 0 && r.isJoint(i, "-") && r.glued(i+1); i-- {
	}
	return i >= 0 && r.items[i].kind == phrase && r.items[i].sense.negates
}

// readWord takes the dimension that item i, a word of the trade or of the shop's own, gives.
func (r *reading) readWord(says *says, own bool, i int) {
	value := says.value
	d, ok := r.grammar.dimensions[says.dimension]
	switch {
	case !ok && !own, ok && !own && !d.byWords:
		return
	case ok:
		var err error
		if value, err = d.Check(says.value); err != nil {
			return // "front" is no position of a chainring
		}
	}
	r.give(says.dimension, value, plain, i, i+1)
	r.findings[len(r.findings)-1].checked = ok
}

var (
	boxLabel   = labelOf("box")   // what a thing is packed in; its colour stands before it
	boxedLabel = labelOf("boxed") // behind it, in French and Italian
)

// isOfBox reports whether the word is the colour of what the thing is packed in: "brown box", "scatola bianca". Before
// a number the box only holds so many: "silver box 500".
func (r *reading) isOfBox(i int) bool {
	if i > 0 && r.items[i-1].kind == phrase && r.items[i-1].sense.labels&boxedLabel != 0 {
		return true
	}
	if i+1 >= len(r.items) || r.items[i+1].kind != phrase || r.items[i+1].sense.labels&boxLabel == 0 {
		return false
	}
	j := r.behindPackWord(i + 1)
	return j >= len(r.items) || r.items[j].kind != figure
}

// isRoll reports whether a finish is a word for a pack as well, with so many metres or pieces behind it, or for a pair
// with a stop behind it or a colour before it: "rot. 30 m" is an Italian roll, and may be a German red; "cp." is a
// pair, and "CP" is chromed, but not "neri cp": what is black is not chromed. Pieces are of a roll where it is cut short with
// its stop: "Alu rot 4 Stk" is red.
func (r *reading) isRoll(i int) bool {
	if r.items[i].sense.pieces > 0 {
		return r.isPair(i)
	}
	if !r.items[i].sense.packOf {
		return false
	}
	j := r.behindPackWord(i)
	if j >= len(r.items) || r.items[j].kind != figure {
		return false
	}
	return r.items[j].unit&metre != 0 || r.items[j].unit&pieces != 0 && r.stopped(r.items[i].last-1)
}

// isPair reports whether "cp", a finish or a pair, is the pair: a full stop stands right behind it or a colour before it.
func (r *reading) isPair(i int) bool {
	return r.stopped(r.items[i].last-1) || i > 0 && r.items[i-1].kind == phrase && r.items[i-1].sense.isColour()
}

// isFinished reports whether a word says a finish.
func (s *sense) isFinished() bool {
	return slices.ContainsFunc(s.says, func(says says) bool { return isFinish(says.dimension) })
}

// isColour reports whether a word says a colour.
func (s *sense) isColour() bool {
	return slices.ContainsFunc(s.says, func(says says) bool { return says.dimension == "colour" })
}

func (s *says) speaksOf(f substitution.Family) bool {
	if s.in == nil {
		return true
	}
	for _, in := range s.in {
		if in == f {
			return true
		}
	}
	return false
}

func isFinish(dim string) bool { return dim == "colour" || dim == "material" || dim == "treatment" }

// leaveAside passes over prices, catalogue numbers, weights: figures with a label that is not ours, or a currency sign.
func (r *reading) leaveAside() {
	for i := range r.items {
		it := &r.items[i]
		switch {
		case it.kind == joint && it.joint == '$':
			if j := r.figureNear(i, +1); j >= 0 {
				r.claim(i, j+1)
			} else if j := r.figureNear(i, -1); j >= 0 {
				r.claim(j, i+1)
			}
		case it.kind == phrase && it.sense.aside && !r.labelsSlot(it.sense):
			if j := r.figureNear(i, +1); j >= 0 {
				r.claim(i, j+1)
			} else if j := r.figureNear(i, -1); j >= 0 && !r.isWord(i, "en") {
				r.claim(j, i+1) // "EN 14766" is a standard, but in "620 mm en alu" nothing is
			}
		}
	}
}

// leaveAdapters passes over what is said of an adapter, a shim or a sleeve that comes with the part: "6-bolt with centre-lock
// adapter" has six bolts.
func (r *reading) leaveAdapters() {
	for i := range r.items {
		it := &r.items[i]
		if it.kind != phrase || it.clause != withClause || !slices.Contains(adapters, it.sense.family) {
			continue
		}
		from := i
		for from > 0 && r.items[from-1].clause == withClause && !r.items[from-1].opens(withClause) {
			from--
		}
		r.claim(from, i+1)
	}
}

var adapters = []substitution.Family{someAdapter, someShim, "?post-sleeve", "?valve-reducer"}

// labelsSlot reports whether a word that labels nothing of ours in most families names a dimension of this one.
func (r *reading) labelsSlot(s *sense) bool {
	g := grammars()[r.family]
	return g != nil && s.labels != 0 && slices.ContainsFunc(g.slots, func(slot slot) bool { return slot.has&s.labels != 0 })
}

// figureNear is the figure beside item i, forwards or backwards, over a colon, an equals sign or a currency sign; -1 if
// none.
func (r *reading) figureNear(i, step int) int {
	for j, steps := i+step, 0; j >= 0 && j < len(r.items) && steps < 4; j, steps = j+step, steps+1 {
		it := &r.items[j]
		switch {
		case it.kind == figure:
			return j
		case it.kind == joint && (it.joint == ':' || it.joint == '=' || it.joint == '$' || it.joint == '.' || it.joint == '#'):
		case it.kind == phrase && it.sense.aside && step > 0:
		default:
			return -1
		}
	}
	return -1
}
