package paper

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/norm"
)

// DejaVu Sans has all of Latin; its licence stands beside it.
var (
	//go:embed font/DejaVuSans.ttf
	regular []byte
	//go:embed font/DejaVuSans-Bold.ttf
	bold []byte
)

// written are the scripts that are set a letter after the other. Others want shaping, which is not done here: the font has
// Arabic letters too, but they would stand apart and in the wrong order.
var written = []*unicode.RangeTable{unicode.Latin, unicode.Greek, unicode.Cyrillic, unicode.Common, unicode.Inherited}

// stand is what stands for a letter that cannot be set.
const stand = '□'

// setter knows which letters both weights of the font have, and remembers the words in which one is missing.
type setter struct {
	regular, bold *sfnt.Font
	missing       []string
}

func newSetter() (*setter, error) {
	s, err := &setter{}, error(nil)
	if s.regular, err = sfnt.Parse(regular); err != nil {
		return s, fmt.Errorf("read the paper's font: %w", err)
	}
	if s.bold, err = sfnt.Parse(bold); err != nil {
		return s, fmt.Errorf("read the paper's font: %w", err)
	}
	return s, nil
}

// clean composes accents with their letters, so that é is one glyph, and puts a square in the stead of what the font lacks.
func (s *setter) clean(words string) string {
	words = norm.NFC.String(strings.ToValidUTF8(words, string(unicode.ReplacementChar)))
	if s.has(words) {
		return words
	}
	out := strings.Fields(words)
	for i, word := range out {
		if s.has(word) {
			continue
		}
		if !slices.Contains(s.missing, word) {
			s.missing = append(s.missing, word)
		}
		out[i] = strings.Map(func(r rune) rune {
			if s.has(string(r)) {
				return r
			}
			return stand
		}, word)
	}
	return strings.Join(out, " ")
}

// has reports whether all letters can be set.
func (s *setter) has(words string) bool {
	var buffer sfnt.Buffer
	for _, r := range words {
		if unicode.IsSpace(r) {
			continue
		}
		if !unicode.In(r, written...) || unicode.IsControl(r) || r > 0xFFFF { // the PDF numbers letters by 16 bits
			return false
		}
		for _, font := range []*sfnt.Font{s.regular, s.bold} {
			if glyph, err := font.GlyphIndex(&buffer, r); err != nil || glyph == 0 {
				return false
			}
		}
	}
	return true
}

// mostSpelt bounds how many words are spelt out at the end of a paper.
const mostSpelt = 20

// spelt tells of each word that could not be set how Unicode numbers its letters, so that nothing of it is lost; those that
// can be set stand as they are.
func (s *setter) spelt() (out []string) {
	for i, word := range s.missing {
		if i == mostSpelt {
			return append(out, fmt.Sprintf("%c stands in %d more words", stand, len(s.missing)-mostSpelt))
		}
		set, numbers := "", ""
		for _, r := range word {
			switch {
			case s.has(string(r)):
				set, numbers = set+string(r), numbers+" "+string(r)
			default:
				set, numbers = set+string(stand), numbers+fmt.Sprintf(" %U", r)
			}
		}
		out = append(out, fmt.Sprintf("%s: the font of this paper lacks letters of it; in Unicode it is%s", set, numbers))
	}
	return out
}
