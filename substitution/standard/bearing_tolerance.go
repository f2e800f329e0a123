package standard

// Band is a lower and an upper limit in micrometres.
type Band struct {
	LowMicron  int `json:"low_micron"`
	HighMicron int `json:"high_micron"`
}

// refISO492 is where the tolerances come from.
var refISO492 = Reference{"ISO 492 Normal class, as a bearing maker's catalogue prints it", Catalogue}

// BearingTolerance is how far a new bearing of the Normal class (P0) may lie from its nominal bore, outer and width:
// never above, and below by this much. Bores 2.5 to 50 mm and outers 6 to 80 mm are in the table; outside it ok is false.
func BearingTolerance(boreMM, outerMM float64) (bore, outer, width Band, ref Reference, ok bool) {
	boreLow, boreOK := stepLow([]step{{2.5, 0}, {10, -8}, {18, -8}, {30, -10}, {50, -12}}, boreMM)
	outerLow, outerOK := stepLow([]step{{6, 0}, {18, -8}, {30, -9}, {50, -11}, {80, -13}}, outerMM)
	return Band{boreLow, 0}, Band{outerLow, 0}, Band{-120, 0}, refISO492, boreOK && outerOK
}

// step is one row of a table "over the last limit, up to and including this one".
type step struct {
	upTo float64
	low  int
}

// stepLow finds the row of a size. The first row only sets where the table begins, and that size belongs to the second.
func stepLow(rows []step, size float64) (int, bool) {
	if size < rows[0].upTo {
		return 0, false
	}
	for _, r := range rows[1:] {
		if size <= r.upTo {
			return r.low, true
		}
	}
	return 0, false
}
