package note

import (
	"embed"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"stead/substitution"
)

// A note in another language is written out phrase by phrase in the words of the tables, and then read as any other: what a
// fault is, and what is no finding, is decided in one place. A table of a language has lines of a phrase of ours, a colon and
// the phrases that mean it; "~" is any of the language's endings, which its first line gives:
//
//	endings: e er es en em
//	big ring: gross~ Blatt, gross~ Kettenblatt
//	-: bitte                                  said in passing: left out
//	no word of ours: Probefahrt               its clause is not understood
//	knackered at the end: op                  only in this situation; else it means what another line says
//	inverted: und                             what stands between units and tens in one word
//	words of brakes begin: brems scheibe      for what means another thing in talk of brakes
//	verbs stand: last                         "Kette tauschen Bremse einstellen": after what they are of
//
// A word that its language's table does not have is read as no word at all, though one of ours be spelt like it: "not" is no
// "not" in German, and "due" is two in Italian.
//
//go:embed tongues/*.txt
var tongueTables embed.FS

// tongue is a language and what its phrases are in ours.
type tongue struct {
	*lexicon
	endings []string
	brakes  []string // how words of brakes begin
	wheels  []string // how words of wheels begin
	last    bool     // what is to be done stands after what it is to be done to
	says    map[*sense][]token
	where   map[*sense][]situated
	phrases []string
}

// situated is what a phrase says in one situation.
type situated struct {
	situation string
	says      []token
}

// situations are where a phrase of the tokens from i to end may stand, by the words that say so after its meaning.
var situations = map[string]func(t *tongue, ts []token, i, end int) bool{
	"at the end":         func(_ *tongue, ts []token, _, end int) bool { return markAt(ts, end) },
	"alone":              func(_ *tongue, ts []token, i, end int) bool { return markAt(ts, end) && markAt(ts, i-1) },
	"after a figure":     func(_ *tongue, ts []token, i, _ int) bool { return i > 0 && ts[i-1].figure },
	"before a figure":    func(_ *tongue, ts []token, _, end int) bool { return end < len(ts) && ts[end].figure },
	"in talk of brakes":  func(t *tongue, ts []token, _, _ int) bool { return slices.ContainsFunc(ts, t.ofBrakes) },
	"beside little wear": func(_ *tongue, ts []token, i, end int) bool { return littleWear(ts, i-1, -1) || littleWear(ts, end, 1) },
	"in talk of wheels":  func(t *tongue, ts []token, _, _ int) bool { return slices.ContainsFunc(ts, t.ofWheels) },
}

// ofBrakes reports a word of brakes, beside which "Sattel" may be a caliper.
func (t *tongue) ofBrakes(word token) bool {
	return slices.ContainsFunc(t.brakes, func(begins string) bool { return strings.HasPrefix(word.text, begins) })
}

// ofWheels reports a word of wheels, beside which "centrare" is to true.
func (t *tongue) ofWheels(word token) bool {
	return slices.ContainsFunc(t.wheels, func(begins string) bool { return strings.HasPrefix(word.text, begins) })
}

// littleWear reports that the next word from token i on is the figure of a chain that has hardly been ridden, "0,1", beside
// which "neu" says how it is and not what it needs. A chain is mostly replaced from 0.5 on: common practice, no source.
func littleWear(ts []token, i, step int) bool {
	for ; i >= 0 && i < len(ts); i += step {
		switch {
		case ts[i].figure:
			return littleWorn.MatchString(ts[i].text)
		case !ts[i].mark:
			return false
		}
	}
	return false
}

var littleWorn = regexp.MustCompile(`^0?[.,][012]`)

// markAt reports that no word stands at token i.
func markAt(ts []token, i int) bool { return i < 0 || i >= len(ts) || ts[i].mark }

// languages are the names of the tables; every.txt is what all of them have.
var languages = []string{"german", "french", "dutch", "italian", "spanish"}

// tongues are the languages, made when a note is first met that is not ours.
var tongues = sync.OnceValue(func() (out []*tongue) {
	for _, name := range languages {
		t := &tongue{lexicon: newLexicon(), endings: []string{""}, says: map[*sense][]token{}, where: map[*sense][]situated{}}
		for _, file := range []string{name, "every"} {
			text, err := tongueTables.ReadFile("tongues/" + file + ".txt")
			if err == nil {
				err = t.readTable(string(text))
			}
			if err != nil {
				panic("tongues/" + file + ".txt: " + err.Error())
			}
		}
		t.knowPlaces()
		t.respell()
		t.findNear()
		out = append(out, t)
	}
	return out
})

func (t *tongue) readTable(text string) error {
	for i, line := range strings.Split(text, "\n") {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		meaning, phrases, ok := strings.Cut(line, ": ")
		if !ok {
			return fmt.Errorf("line %d has no colon: %q", i+1, line)
		}
		if err := t.readLine(meaning, phrases); err != nil {
			return fmt.Errorf("line %d: %w", i+1, err)
		}
	}
	return nil
}

func (t *tongue) readLine(meaning, phrases string) error {
	switch meaning {
	case "endings":
		t.endings = append(t.endings, strings.Fields(phrases)...)
		return nil
	case "words of brakes begin":
		t.brakes = strings.Fields(phrases)
		return nil
	case "words of wheels begin":
		t.wheels = strings.Fields(phrases)
		return nil
	case "verbs stand":
		t.last = phrases == "last"
		return nil
	case "inverted":
		return t.invert(phrases)
	}
	for phrase := range strings.SplitSeq(phrases, ", ") {
		for _, one := range expand(strings.TrimSpace(phrase)) {
			says := meaning
			if meaning == "as it is" {
				says = one
			}
			for _, ended := range t.inflect(one) {
				if err := t.mean(ended, says); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// inflect writes out "~" with each of the endings.
func (t *tongue) inflect(phrase string) []string {
	stem, rest, ok := strings.Cut(phrase, "~")
	if !ok {
		return []string{phrase}
	}
	var out []string
	for _, ending := range t.endings {
		for _, tail := range t.inflect(rest) {
			out = append(out, stem+ending+tail)
		}
	}
	return out
}

// mean gives a phrase its meaning.
func (t *tongue) mean(phrase, meaning string) error {
	situation := ""
	for words := range situations {
		if m, ok := strings.CutSuffix(meaning, " "+words); ok {
			meaning, situation = m, words
		}
	}
	says := tokens(meaning)
	switch meaning {
	case "-":
		says = nil
	case "no word of ours":
		says = []token{{text: strangeWord}}
	}
	node := t.growTokens(foreignTokens(phrase))
	if node == 0 {
		return fmt.Errorf("%q holds no word", phrase)
	}
	if t.senses[node] == nil {
		t.senses[node] = &sense{}
	}
	s := t.senses[node]
	if situation != "" {
		t.where[s] = append(t.where[s], situated{situation, says})
	} else if had, ok := t.says[s]; ok && textOf(had) != textOf(says) {
		return fmt.Errorf("%q means both %q and %q", phrase, textOf(had), textOf(says))
	} else {
		t.says[s] = says
	}
	t.phrases = append(t.phrases, phrase)
	return nil
}

// knowPlaces has our own names of places read in every language: the answer to "rim or disc?" puts one into the note.
func (t *tongue) knowPlaces() {
	for _, site := range substitution.Sites() {
		name := nameOf(site.Place)
		if node := t.growTokens(tokens(name)); t.senses[node] == nil {
			t.senses[node] = &sense{}
			t.says[t.senses[node]] = tokens(name)
		}
	}
}

// respell has phrases also as they are written without their accents, where that means nothing else: "Belage" and "Belaege",
// but "Mantel" is one tyre and "Mäntel" are several.
func (t *tongue) respell() {
	for _, phrase := range t.phrases {
		meant := t.senses[t.growTokens(foreignTokens(phrase))]
		for _, other := range []string{folded(phrase), bare(phrase)} {
			if node := t.growTokens(foreignTokens(other)); t.senses[node] == nil {
				t.senses[node] = meant
			}
		}
	}
}

// invert makes the numbers that are said units first, in one word: "siebenundzwanzig".
func (t *tongue) invert(joint string) error {
	units, tens := map[string]string{}, map[string]string{}
	for word, node := range t.next[0] {
		said := textOf(t.says[t.senses[node]])
		switch s := trade().phrase(said); {
		case s == nil || said == "" || strings.Contains(said, " "):
		case s.class == ones:
			units[word] = said
		case s.number >= 20 && s.number < 100:
			tens[word] = said
		}
	}
	for unit, ours := range units {
		for ten, tensOurs := range tens {
			if err := t.mean(unit+joint+ten, tensOurs+" "+ours); err != nil {
				return err
			}
		}
	}
	return nil
}

func textOf(ts []token) string {
	var words []string
	for _, t := range ts {
		words = append(words, t.text)
	}
	return strings.Join(words, " ")
}

// foreignTokens cuts a text as tokens does, but a word also at its apostrophes: "l'axe".
func foreignTokens(text string) []token {
	var out []token
	for _, t := range tokens(text) {
		if t.mark || t.figure {
			out = append(out, t)
			continue
		}
		from := t.start
		for i, r := range text[t.start:t.end] + "'" {
			if r != '\'' && r != '’' {
				continue
			}
			if to := t.start + i; to > from {
				part := token{start: from, end: to, glued: t.glued || from > t.start}
				part.text = strings.ToLower(text[from:to])
				out = append(out, part)
			}
			from = t.start + i + len(string(r))
		}
	}
	return out
}

var umlauts = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss", "œ", "oe")

var plainLetters = strings.NewReplacer("á", "a", "à", "a", "â", "a", "ä", "a", "ã", "a", "é", "e", "è", "e", "ê", "e", "ë", "e",
	"í", "i", "ì", "i", "î", "i", "ï", "i", "ó", "o", "ò", "o", "ô", "o", "ö", "o", "ú", "u", "ù", "u", "û", "u", "ü", "u",
	"ñ", "n", "ç", "c", "ß", "ss", "œ", "oe")

// folded is a word without accents, its umlauts written as two letters.
func folded(word string) string { return plainLetters.Replace(umlauts.Replace(word)) }

// bare is a word without accents, its umlauts as those write them who lack them: "Belage".
func bare(word string) string { return plainLetters.Replace(word) }

// strangeWord stands for a word that is not known: no table has it.
const strangeWord = "¿"

// render writes tokens out in the words of the tables. What is written keeps the place of the phrase that it is written for.
// strange is how many words are not known. A shop's own words stay as they are.
func (t *tongue) render(text string, own *lexicon) (out []token, strange int) {
	ts := foreignTokens(text)
	for i := range ts {
		if !t.words[ts[i].text] {
			ts[i].text = folded(ts[i].text)
		}
	}
	for i := 0; i < len(ts); {
		if own.base != nil {
			if s, end := own.longest(ts, i); s != nil {
				out = append(out, ts[i:end]...)
				i = end
				continue
			}
		}
		s, end := t.longest(ts, i)
		switch {
		case s != nil:
			for k, word := range t.saysHere(s, ts, i, end) {
				word.start, word.end = ts[i].start, ts[end-1].end
				if k == 0 {
					word.glued = ts[i].glued
				}
				out = append(out, word)
			}
		case ts[i].figure || ts[i].mark:
			out = append(out, ts[i])
		default:
			word := ts[i]
			word.text = strangeWord
			out = append(out, word)
			strange++
		}
		i = end
	}
	return out, strange
}

// saysHere is what the phrase of the tokens from i to end says where it stands.
func (t *tongue) saysHere(s *sense, ts []token, i, end int) []token {
	for _, w := range t.where[s] {
		if situations[w.situation](t, ts, i, end) {
			return w.says
		}
	}
	if says, ok := t.says[s]; ok {
		return says
	}
	return []token{{text: strangeWord}}
}

// strangeIn is how many words of tokens are in no phrase of the tables; a letter by itself, "2 x", is no word.
func (l *lexicon) strangeIn(ts []token) (strange int) {
	for i := 0; i < len(ts); {
		s, end := l.find(ts, i)
		if s == nil && !ts[i].mark && !ts[i].figure && len(ts[i].text) > 1 {
			strange++
		}
		i = end
	}
	return strange
}

// wordsOf cuts a note into words of the tables.
func (l *lexicon) wordsOf(text string) []token {
	ts, _ := l.heardIn(text)
	return ts
}

// heardIn cuts a note into words of the tables, in whichever language most of its words are known; ours, which is none of
// the tongues, where that is open.
func (l *lexicon) heardIn(text string) ([]token, *tongue) {
	ours := tokens(text)
	hear(ours)
	least := l.strangeIn(ours)
	if least == 0 {
		return ours, nil
	}
	best, in := ours, (*tongue)(nil)
	for _, t := range tongues() {
		if written, strange := t.render(text, l); strange < least {
			best, in, least = written, t, strange
		}
	}
	return best, in
}
