package describe

import (
	"slices"
	"strconv"
	"strings"

	"stead/substitution"
)

// trim writes a figure without needless zeros.
func trim(v float64) string { return strconv.FormatFloat(tidy(v), 'f', -1, 64) }

// settle compares all findings and keeps what stands. Two plain readings of one dimension that differ leave it out, and
// so does a value that the family's table says cannot be meant.
func (r *reading) settle() substitution.Spec {
	spec := make(substitution.Spec, min(len(r.findings), 8))
	for i := range r.findings {
		f := &r.findings[i]
		for j := range r.findings {
			g := &r.findings[j]
			if i == j || g.dim != f.dim || g.value.Equal(f.value) {
				continue
			}
			if r.family == "chain" && f.dim == "speeds" && holdsAll(f.value.Ints(), g.value.Ints()) {
				continue // "8-speed, for 5-8 speed": the wider names what it is for
			}
			if f.strength <= g.strength {
				f.bad = true
			}
		}
	}
	for i := range r.findings {
		f := &r.findings[i]
		if f.bad {
			continue
		}
		if _, again := spec[f.dim]; again {
			continue
		}
		if !f.checked && !r.check(f) {
			continue
		}
		spec[f.dim] = substitution.Fact{Value: f.value, Origin: substitution.FromSupplier}
	}
	r.settleBearing(spec)
	for _, pair := range r.grammar.ordered {
		r.settleOrder(spec, pair)
	}
	for i := range r.findings {
		f := &r.findings[i]
		if _, kept := spec[f.dim]; f.bad || !kept {
			for k := f.from; k < f.to; k++ {
				r.items[k].used = false
			}
			r.doubt(f)
		}
	}
	return spec
}

// holdsAll reports whether the first list has all of the second.
func holdsAll(all, some []int) bool {
	return !slices.ContainsFunc(some, func(n int) bool { return !slices.Contains(all, n) })
}

// check gives the finding the spelling of the family's table, and reports whether the table takes it.
func (r *reading) check(f *finding) bool {
	d, ok := r.grammar.dimensions[f.dim]
	if !ok {
		return false
	}
	v, err := d.Check(f.value)
	if f.bad = err != nil; f.bad {
		return false
	}
	f.value = v
	return true
}

// settleOrder leaves out two dimensions of which the first should not exceed the second but does.
func (r *reading) settleOrder(spec substitution.Spec, pair [2]string) {
	low, okLow := spec[pair[0]]
	high, okHigh := spec[pair[1]]
	if okLow && okHigh && low.Value.Float() > high.Value.Float() {
		delete(spec, pair[0])
		delete(spec, pair[1])
	}
}

// settleBearing leaves a bearing's designation and sizes out together when they contradict each other: which of them is
// wrong cannot be told from the text.
func (r *reading) settleBearing(spec substitution.Spec) {
	if r.family != "cartridge-bearing" {
		return
	}
	if r.anyRing { // its sizes alone would read as a plain bearing's
		delete(spec, "width_mm")
	}
	for i := range r.findings {
		f := &r.findings[i]
		if !f.bad {
			continue
		}
		switch f.dim {
		case "bore_mm", "outer_mm", "width_mm", "designation":
			for _, dim := range []string{"bore_mm", "outer_mm", "width_mm", "designation"} {
				delete(spec, dim)
			}
			return
		}
	}
}

// doubt notes the words of a finding that did not stand.
func (r *reading) doubt(f *finding) {
	for k := f.from; k < f.to; k++ {
		r.unread = append(r.unread, r.wholeWord(k))
	}
}

// unreadWords are the words that nobody understood, in the order of the text; figures too, when the family is known.
func (r *reading) unreadWords(figures bool) []string {
	for i := range r.items {
		it := &r.items[i]
		if it.used || it.kind == figure && it.unit&^none == tpi || !(it.kind == unknown || it.kind == figure && (figures || r.inWord(i))) {
			continue
		}
		r.unread = append(r.unread, r.wholeWord(i))
	}
	if len(r.unread) == 0 {
		return nil
	}
	slices.SortFunc(r.unread, func(a, b [2]int) int { return a[0] - b[0] })
	words := make([]string, 0, len(r.unread))
	start, end := r.unread[0][0], r.unread[0][1]
	for _, span := range r.unread[1:] {
		if span[0] <= end || span[0] == end+1 && strings.IndexByte("-/.xX", r.text[end]) >= 0 {
			end = max(end, span[1])
			continue
		}
		words = append(words, r.text[start:end])
		start, end = span[0], span[1]
	}
	return append(words, r.text[start:end])
}

// wholeWord is an item with what is written onto it: "RS-7" and not the 7 alone, "110PCD" and not the 110.
func (r *reading) wholeWord(i int) [2]int {
	start, end := r.span(&r.items[i])
	if r.items[i].kind != figure {
		return [2]int{start, end}
	}
	loose := func(j int) bool { return j >= 0 && j < len(r.items) && r.items[j].kind == phrase && !r.items[j].used }
	switch {
	case loose(i-1) && r.glued(i):
		start, _ = r.span(&r.items[i-1])
	case r.isJoint(i-1, "-/") && loose(i-2) && r.glued(i) && r.glued(i-1):
		start, _ = r.span(&r.items[i-2])
	}
	if loose(i+1) && r.glued(i+1) {
		_, end = r.span(&r.items[i+1])
	}
	return [2]int{start, end}
}

// inWord reports whether a figure is part of an unknown word, as in "RS-7" or "XZ4471".
func (s *scratch) inWord(i int) bool {
	for j := i - 1; j >= 0 && j >= i-2 && s.glued(j+1); j-- {
		if s.items[j].kind == unknown {
			return true
		}
	}
	return false
}
