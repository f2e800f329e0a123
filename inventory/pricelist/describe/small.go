package describe

import "stead/substitution"

// threadOfLockring is a thread of a fixed sprocket's lockring that begins at an item, and the item after it. There are
// two, of 24 turns to the inch and left hand both, so that their diameter names them.
func (s *scratch) threadOfLockring(i int) (thread string, end int, ok bool) {
	it := &s.items[i]
	if it.kind != figure || it.unit&(none|inch) == 0 {
		return "", 0, false
	}
	switch it.value {
	case 1.29:
		thread = "1.29x24 left"
	case 1.32:
		thread = "1.32x24 left"
	default:
		return "", 0, false
	}
	end = i + 1
	if end+1 < len(s.items) && s.items[end].kind == joint && s.items[end].joint == 'x' && s.items[end+1].kind == figure {
		end += 2
		if s.items[end-1].value != 24 {
			return "", 0, false
		}
	}
	return thread, end, true
}

func (s *scratch) hasLockringThread() bool {
	for i := range s.items {
		if _, _, ok := s.threadOfLockring(i); ok {
			return true
		}
	}
	return false
}

// readLockringThread reads "1.29x24 LH", "left hand 1.29 inch by 24 tpi". One that is said to be right-handed is another.
func readLockringThread(r *reading) {
	for i := range r.items {
		if it := &r.items[i]; it.kind == phrase && r.saysValue(i, "side", "right") {
			return
		}
	}
	for i := range r.items {
		if thread, end, ok := r.threadOfLockring(i); ok {
			r.give("fixing", substitution.Text(thread), plain, i, end)
		}
	}
}

// saysValue reports whether an item gives the dimension that word.
func (s *scratch) saysValue(i int, dim, word string) bool {
	sense := s.items[i].sense
	if sense == nil {
		return false
	}
	for _, says := range sense.says {
		if says.dimension == dim && says.value.Word() == word {
			return true
		}
	}
	return false
}

// passOthersSize passes over the size of what a bolt is for: a bolt "for a 22.2 mm quill" is not 22.2 mm long.
func passOthersSize(r *reading) {
	for i := range r.items {
		if it := &r.items[i]; r.isFigure(i) && it.clause == forClause && it.decimals > 0 && it.unit&mm != 0 {
			it.used = true
		}
	}
}

// doubtSmallest passes over numbers of teeth in a list: a lockring "for 11, 12, 13T" is of no one size.
func doubtSmallest(r *reading) {
	for i := 2; i < len(r.items); i++ {
		if r.isFigure(i) && r.isJoint(i-1, ",+") && r.items[i-2].kind == figure && r.items[i].unit&(teeth|none) != 0 && r.items[i-2].unit&(teeth|none) != 0 {
			r.items[i-2].used, r.items[i].used = true, true
		}
	}
}

// readSpacerWidth reads a figure without a unit where it has decimals, as widths are written: "1.0", "1.85".
func readSpacerWidth(r *reading) {
	for i := range r.items {
		it := &r.items[i]
		if r.isFigure(i) && it.unit == none && it.decimals > 0 && it.value >= 0.4 && it.value <= 6 {
			r.give("width_mm", substitution.Num(it.value), bare, i, i+1)
		}
	}
}

// doubtSteerer takes back a steerer where two are named, "1 / 1 1/8", and passes over both in "25.4/28.6", which may also
// be the bore and the outside of one.
func doubtSteerer(r *reading) {
	one, eighth := -1, -1
	for i := range r.items {
		if !r.isFigure(i) || r.items[i].unit&(none|mm) == 0 {
			continue
		}
		switch r.items[i].value {
		case 25.4:
			one = i
		case 28.6:
			eighth = i
		}
	}
	if one >= 0 && eighth >= 0 {
		r.claim(one, one+1)
		r.claim(eighth, eighth+1)
	}
	for _, f := range r.findings {
		if before := f.from - 2; f.dim == "steerer_mm" && before >= 0 && r.items[before].kind == figure && r.items[before].value == 1 && !r.items[before].used {
			r.give("steerer_mm", substitution.Num(25.4), plain, before, before+1)
			return
		}
	}
}

// dropCarbon takes back a material that is the steerer's: an expander is for carbon, not of it.
func dropCarbon(r *reading) {
	for i := range r.items {
		if r.saysValue(i, "material", "carbon") {
			r.drop("material", i, i+1)
		}
	}
}
