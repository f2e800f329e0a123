package note

import (
	"regexp"
	"slices"
	"strings"

	"stead/substitution"
)

// skin is what is only on a part, or what it is covered with: it may be cracked or torn where the part is sound.
var skin = regexp.MustCompile(`(?i)\b(?:paint|paintwork|lacquer|varnish|enamel|label|sticker|decal|transfer|coating|film|wrap|stitching|seam|cover|covering|upholstery)s?\b`)

// skinDeep hands back the damage of a part beside which its paint or a label was named and not understood: "frame has cracked
// paint", "lacquer chipped and cracked on the fork".
func (r Reading) skinDeep(text string) Reading {
	for _, named := range slices.Clone(r.Unread) {
		if !skin.MatchString(named) {
			continue
		}
		for i, f := range slices.Backward(r.Findings) {
			if f.isDamaged() && besideEachOther(text, named, f.Words) {
				r.Findings = slices.Delete(slices.Clone(r.Findings), i, i+1)
				r.Unread = append(r.Unread, strings.Split(f.Words, gap)...)
			}
		}
	}
	return r
}

// isDamaged reports a finding that is of a crack or other damage alone.
func (f Finding) isDamaged() bool {
	for name, v := range f.Readings {
		if name != "cracked" && name != "damaged" || !v.Equal(substitution.Yes(true)) {
			return false
		}
	}
	return f.Action == "" && len(f.Readings) > 0
}

// besideEachOther reports that nothing or an "and" stands between two stretches of a note, whichever is first.
func besideEachOther(text, a, words string) bool {
	for _, b := range strings.Split(words, gap) {
		for _, pair := range [][2]string{{a, b}, {b, a}} {
			between := `(?:\s+(?:and\s+|(?:in|on|along|at|through)\s+(?:the|its)\s+)?)`
			if regexp.MustCompile(regexp.QuoteMeta(pair[0]) + between + regexp.QuoteMeta(pair[1])).MatchString(text) {
				return true
			}
		}
	}
	return false
}
