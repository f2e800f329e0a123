package note

import (
	"regexp"
	"slices"
	"strings"

	"stead/substitution/inspection"
)

// onlyWhere is a stretch that was handed back and names nothing but an end or a side: "front not", "just the rear".
var onlyWhere = regexp.MustCompile(`(?i)^(?:(?:but|and|not|no|just|only|the|one|that|is|are|needed|though)[\s,]+)*(?:front|rear|back|left|right)(?:[\s,]+(?:one|side|only|not|no|is|isn't|needed|please|though))*$`)

// narrowed hands back what was to be bought for several places, or for a pair, where right after it an end or a side is named
// that was not understood, "replace both tyres, just the rear": it may take one of them back, and a part too many is a part
// bought for nothing.
func (r Reading) narrowed(text string) Reading {
	for _, where := range slices.Clone(r.Unread) {
		at := strings.Index(text, where)
		if !onlyWhere.MatchString(where) || strings.Count(text, where) != 1 {
			continue
		}
		last := lastBefore(r.Findings, text, at)
		same := func(f Finding) bool { return f.Words == last.Words }
		if last.Action != inspection.Replace || !isOfSeveral(r.Findings, last) {
			continue
		}
		r.Findings = slices.DeleteFunc(slices.Clone(r.Findings), same)
		r.Unread = append(r.Unread, strings.Split(last.Words, gap)...)
	}
	return r
}

// inOrder puts what was handed back in the order of the note.
func (r Reading) inOrder(text string) Reading {
	slices.SortStableFunc(r.Unread, func(a, b string) int { return strings.Index(text, a) - strings.Index(text, b) })
	return r
}

// gap joins the words of a finding that stand apart in the note.
const gap = " … "

// lastBefore is the finding whose words end nearest before a place in the note, in the same sentence; none is empty.
func lastBefore(findings []Finding, text string, at int) (last Finding) {
	nearest := -1
	for _, f := range findings {
		pieces := strings.Split(f.Words, gap)
		final := pieces[len(pieces)-1]
		if i := strings.LastIndex(text[:at], final); i >= 0 && i+len(final) > nearest && !strings.ContainsAny(text[i+len(final):at], ".;\n") {
			last, nearest = f, i+len(final)
		}
	}
	return last
}

// isOfSeveral reports that the words of a finding are of another too, or of a pair.
func isOfSeveral(findings []Finding, f Finding) bool {
	several := slices.ContainsFunc(findings, func(o Finding) bool { return o.Words == f.Words && o.Place != f.Place })
	return several || f.Place == "pedals"
}
