package substitution

// Fill is what makes good a difference between a part and what it goes into or round: a shim, a sleeve.
type Fill struct {
	Wider       bool    // the part may be the wider of the two, as a clamp is; else the thinner, as a post is
	Least, Most float64 // the differences that such pieces are known to be made for
	From        float64 // from this difference on one may be made
	Ask         string  // what to see to then
	Brings      Bring
}

// bridge judges two sizes that differ; ok is false where no such piece bridges them.
func (f *Fill) bridge(mine, theirs float64) (answer Answer, ok bool) {
	off := theirs - mine
	if f.Wider {
		off = -off
	}
	switch {
	case off <= rounding || off > f.Most+rounding || off < f.Least-rounding && (f.From == 0 || off < f.From-rounding):
		return Breaks, false
	case off < f.Least-rounding:
		return CantTell, true
	}
	return Holds, true
}
