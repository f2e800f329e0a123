package note

import "slices"

// endWords are the words after which dictation expects no part, but a mechanic names one.
var endWords = []string{"front", "rear", "back"}

// heard are words that dictation takes for others, each meant only beside one of these words.
var heard = []struct {
	word, meant   string
	before, after []string // the words that stand before it, or after it
}{
	{word: "won", meant: "one", after: []string{"point"}},
	{word: "know", meant: "no", after: []string{"play", "cracks", "damage", "wear"}},
	{word: "where", meant: "wear", after: []string{"bars", "bar", "line", "lines", "mark", "marks", "limit", "indicator", "indicators"}},
	{word: "ate", meant: "eight", before: []string{"point"}},
	{word: "too", meant: "two", before: []string{"point"}},
	{word: "afraid", meant: "frayed", before: []string{"cable", "cables", "inner", "wire"}},
	{word: "three", meant: "free", after: []string{"hub"}},
	{word: "mac", meant: "mech", before: endWords},
	{word: "hob", meant: "hub", before: endWords},
	{word: "tired", meant: "tyre", before: endWords},
	{word: "pats", meant: "pads", before: []string{"brake", "disc", "front", "rear", "back"}},
	{word: "table", meant: "cable", before: []string{"brake", "gear", "shift"}},
	{word: "racket", meant: "bracket", before: []string{"bottom"}},
}

// hear puts what was meant in the place of such words. The note keeps its own letters.
func hear(ts []token) {
	for i := range ts {
		for _, h := range heard {
			if ts[i].text != h.word {
				continue
			}
			if k := beforeIs(ts, i); k >= 0 && slices.Contains(h.before, ts[k].text) || i+1 < len(ts) && slices.Contains(h.after, ts[i+1].text) {
				ts[i].text = h.meant
			}
		}
	}
}

// beforeIs is the word before token i, past an "is": "cable is afraid"; -1 if none is.
func beforeIs(ts []token, i int) int {
	k := i - 1
	if k > 0 && (ts[k].text == "is" || ts[k].text == "'s") {
		k--
	}
	return k
}
