package note

import "slices"

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
}

// hear puts what was meant in the place of such words. The note keeps its own letters.
func hear(ts []token) {
	for i := range ts {
		for _, h := range heard {
			if ts[i].text != h.word {
				continue
			}
			if i > 0 && slices.Contains(h.before, ts[i-1].text) || i+1 < len(ts) && slices.Contains(h.after, ts[i+1].text) {
				ts[i].text = h.meant
			}
		}
	}
}
