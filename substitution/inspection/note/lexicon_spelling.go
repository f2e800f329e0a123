package note

import "strings"

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
	if l.words[word] {
		return word
	}
	if meant := l.short[consonants(word)]; meant != "" && meant[0] == word[0] && !strings.ContainsAny(word, vowels) {
		return meant
	}
	if len(word) < leastMistyped {
		return l.slipped(word)
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

// slipped is a shorter word in which two letters changed places, or a double letter was written once, where only the
// name of a part can be meant: such words are seldom other words.
func (l *lexicon) slipped(word string) string {
	if len(word) < leastSlipped {
		return word
	}
	meant := ""
	for i := 0; i+1 < len(word); i++ {
		for _, other := range []string{word[:i] + word[i+1:i+2] + word[i:i+1] + word[i+2:], word[:i+1] + word[i:]} {
			if other == word || !l.named[other] {
				continue
			}
			if meant != "" && meant != other {
				return word
			}
			meant = other
		}
	}
	if meant != "" {
		return meant
	}
	return word
}

// leastSlipped is the shortest word that slipped mends.
const leastSlipped = 5

// leastMistyped is the shortest word in which a slip of the keys is mended: shorter ones are too like each other.
const leastMistyped = 7

// vowels are what a word is written without on a telephone: "crckd", "mdgrd".
const vowels = "aeiou'"

// leastShort is the shortest word that is taken for one without its vowels.
const leastShort = 3

// consonants are a word without its vowels, a double letter once; nothing where too few are left.
func consonants(word string) string {
	var out []byte
	for i := range len(word) {
		c := word[i]
		if c < 'a' || c > 'z' || strings.IndexByte(vowels, c) >= 0 {
			if c < 'a' && c != '\'' || c > 'z' {
				return ""
			}
			continue
		}
		if len(out) == 0 || out[len(out)-1] != c {
			out = append(out, c)
		}
	}
	if len(out) < leastShort {
		return ""
	}
	return string(out)
}

// findShort keeps the words that can be told without their vowels: those of which only one begins so. Other languages keep none: what
// is no English word so, "dnt", may be one of five others'.
func (l *lexicon) findShort() {
	for word := range l.words {
		left := consonants(word)
		if left == "" || left[0] != word[0] || left == word {
			continue
		}
		if had, ok := l.short[left]; ok && had != word {
			l.short[left] = ""
			continue
		}
		l.short[left] = word
	}
}

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
