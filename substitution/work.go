package substitution

// Work is what a workshop does to a part of a family, as a quote calls it, with the minutes that it usually takes. Words
// and minutes are common practice without a source; what an hour costs is the shop's.
type Work struct {
	Action  Action
	Words   string
	Minutes int
}

// WorkOn is the usual work of an action on a part of the family, or false where such a part is never so dealt with.
func WorkOn(f Family, a Action) (Work, bool) {
	if t := tableOf[f]; t != nil {
		for _, w := range t.Work {
			if w.Action == a {
				return w, true
			}
		}
	}
	return Work{}, false
}
