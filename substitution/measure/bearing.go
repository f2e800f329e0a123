package measure

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"stead/substitution/standard"
)

// Bearing is what was measured on a cartridge bearing. At least one reading must be there.
type Bearing struct {
	Bore  *Reading      `json:"bore,omitempty"`
	Outer *Reading      `json:"outer,omitempty"`
	Width *Reading      `json:"width,omitempty"`
	Seal  standard.Seal `json:"seal,omitempty"` // as it looks; absent if nobody looked

	InnerDeg float64 `json:"inner_angle_deg,omitempty"` // of chamfered rings, as in a headset; zero: not read
	OuterDeg float64 `json:"outer_angle_deg,omitempty"`
}

// smallBoreMM is the bore below which a caliper's inside jaws read noticeably low, because their flats span a chord. The
// extra is common practice, without a published source.
const (
	smallBoreMM    = 10.0
	smallBoreExtra = 0.15
	wornWithinMM   = 0.4 // a ring this far off a size is taken for that size, worn or misread
)

// dimension is one of the three sizes of a bearing: the reading and how a nominal size bounds it.
type dimension struct {
	name    string
	reading *Reading
	nominal func(standard.BearingSize) []float64 // the width may be open or closed
	under   func(standard.BearingSize) float64   // how far under nominal a new bearing may be
}

func (b Bearing) dimensions() []dimension {
	width := func(s standard.BearingSize) []float64 {
		switch {
		case b.Seal.Closed():
			return []float64{s.ClosedMM}
		case b.Seal == standard.SealOpen || s.OpenMM == s.ClosedMM:
			return []float64{s.OpenMM}
		}
		return []float64{s.OpenMM, s.ClosedMM}
	}
	tolerance := func(pick func(bore, outer, width standard.Band) standard.Band) func(standard.BearingSize) float64 {
		return func(s standard.BearingSize) float64 {
			bore, outer, width, _, ok := standard.BearingTolerance(s.BoreMM, s.OuterMM)
			if !ok {
				return 0
			}
			return -float64(pick(bore, outer, width).LowMicron) / 1000
		}
	}
	return []dimension{
		{"bore", b.Bore, func(s standard.BearingSize) []float64 { return []float64{s.BoreMM} }, tolerance(func(b, _, _ standard.Band) standard.Band { return b })},
		{"outer", b.Outer, func(s standard.BearingSize) []float64 { return []float64{s.OuterMM} }, tolerance(func(_, o, _ standard.Band) standard.Band { return o })},
		{"width", b.Width, width, tolerance(func(_, _, w standard.Band) standard.Band { return w })},
	}
}

// fits reports whether a size allows the reading: from nominal less the ISO 492 tolerance to nominal, give or take the tool.
func (d dimension) fits(s standard.BearingSize) bool {
	for _, nominal := range d.nominal(s) {
		if d.reading == nil || d.reading.allows(nominal-d.under(s), nominal) {
			return true
		}
	}
	return false
}

// off is how far the reading lies from the nearest nominal: positive when it is larger.
func (d dimension) off(s standard.BearingSize) float64 {
	best := math.Inf(1)
	for _, nominal := range d.nominal(s) {
		if delta := d.reading.MM - nominal; math.Abs(delta) < math.Abs(best) {
			best = delta
		}
	}
	return best
}

// Identify names the bearing.
func (b Bearing) Identify() (Result, error) {
	if err := b.validate(); err != nil {
		return Result{}, err
	}
	r := Result{Part: "cartridge bearing", ReadsBadly: tooFine(b.Bore, b.Outer, b.Width)}
	for _, s := range standard.BearingSizes() {
		if b.outside(s) == 0 {
			r.Matches = append(r.Matches, Match{Name: s.Name, Detail: b.detail(s), Reference: s.Reference})
		}
	}
	r.Matches = firmFirst(r.Matches)
	if b.chamfered() || len(r.Matches) == 0 && (len(b.headsetSizes()) > 0 || b.couldBeHeadset() && !b.nearly()) {
		return b.headset(), nil
	}
	r.NearMisses = append(b.headsetMisses(), b.nearMisses()...)
	r.Verdict = b.verdict(r.Matches)
	b.advise(&r)
	return r, nil
}

func (b Bearing) validate() error {
	given := 0
	for _, d := range b.dimensions() {
		if d.reading != nil {
			given++
		}
		if d.reading != nil && d.reading.MM > 130 {
			if s, ok := standard.BearingByName(mm(d.reading.MM)); ok {
				return fmt.Errorf("%s is a bearing's number and no %s: it is %s mm; give what the caliper reads", s.Name, d.name, s.Envelope())
			}
		}
		if err := check(d.name, d.reading, 1, 130); err != nil {
			return err
		}
	}
	for _, angle := range []float64{b.InnerDeg, b.OuterDeg} {
		if angle != 0 && !(angle >= 20 && angle <= 60) {
			return fmt.Errorf("an angle of %s° is no bearing's: 36 and 45 are common", mm(angle))
		}
	}
	if given == 0 {
		return fmt.Errorf("nothing was measured: give the bore, the outer and the width")
	}
	if b.Bore != nil && b.Outer != nil && b.Bore.MM >= b.Outer.MM {
		text := fmt.Sprintf("a bore of %s mm cannot be in an outer of %s mm", mm(b.Bore.MM), mm(b.Outer.MM))
		if inches := b.Outer.MM * standard.Inch; inches > b.Bore.MM && b.Outer.MM < 4 {
			return fmt.Errorf("%s; was the outer read in inches? %s in is %s mm", text, mm(b.Outer.MM), mm(inches))
		}
		return fmt.Errorf("%s; were the two turned round?", text)
	}
	if b.Bore != nil && b.Outer != nil && b.Width != nil && b.Width.MM >= 2*(b.Outer.MM-b.Bore.MM) {
		return fmt.Errorf("a width of %s mm on rings only %s mm deep is no radial bearing; is it a stack of two?", mm(b.Width.MM), mm((b.Outer.MM-b.Bore.MM)/2))
	}
	return nil
}

// outside counts the readings that a size does not allow.
func (b Bearing) outside(s standard.BearingSize) int {
	n := 0
	for _, d := range b.dimensions() {
		if !d.fits(s) {
			n++
		}
	}
	return n
}

func (b Bearing) detail(s standard.BearingSize) string {
	text := s.Envelope() + " mm"
	if d := b.dimensions()[2]; s.OpenMM != s.ClosedMM && d.reading != nil && d.fits(s) {
		state, width := "open", s.OpenMM
		if math.Abs(d.reading.MM-s.ClosedMM) < math.Abs(d.reading.MM-s.OpenMM) {
			state, width = "closed", s.ClosedMM
		}
		text = mm(s.BoreMM) + " × " + mm(s.OuterMM) + " × " + mm(width) + " mm, " + state
	}
	if s.Kind == standard.DoubleRow {
		text += ", double row"
	}
	if !s.ISO {
		text += ", no ISO name"
	}
	return text
}

// nearMisses are the sizes that agree in two readings and differ by up to 3 mm in the third: the ones that get ordered by
// mistake. Nearest first.
func (b Bearing) nearMisses() []NearMiss {
	type candidate struct {
		miss NearMiss
		off  float64
	}
	var found []candidate
	for _, s := range standard.BearingSizes() {
		if b.Bore == nil || b.Outer == nil || b.Width == nil || b.outside(s) != 1 {
			continue
		}
		for _, d := range b.dimensions() {
			if off := d.off(s); !d.fits(s) && math.Abs(off) <= 3 && math.Abs(off) > wornWithinMM {
				found = append(found, candidate{NearMiss{s.Name, b.detail(s), d.differs(s), s.Reference}, math.Abs(off)})
			}
		}
	}
	sort.SliceStable(found, func(i, j int) bool {
		if a, b := found[i].miss.Confidence.Firm(), found[j].miss.Confidence.Firm(); a != b {
			return a
		}
		return found[i].off < found[j].off
	})
	var misses []NearMiss
	for i := 0; i < len(found) && i < 5; i++ {
		misses = append(misses, found[i].miss)
	}
	return misses
}

// differs says which size keeps a near miss out.
func (d dimension) differs(s standard.BearingSize) string {
	nominals := make([]string, 0, 2)
	for _, n := range d.nominal(s) {
		nominals = append(nominals, mm(n))
	}
	return fmt.Sprintf("its %s is %s mm, yours reads %s: does not fit in its place", d.name, or(nominals), mm(d.reading.MM))
}

func overUnder(off float64) string {
	if off > 0 {
		return "over"
	}
	return "under"
}

// wear explains a ring that is a little off: which way it is off says whether that is wear, dirt or the jaws.
func (d dimension) wear(off float64) string {
	switch {
	case d.name == "bore" && off < 0 && d.reading.MM < smallBoreMM && off >= -smallBoreExtra-d.reading.ErrorMM:
		return ", as inside jaws do in a small bore: try a drill shank of the right size"
	case d.name == "bore" && off > 0:
		return ": worn by turning on its axle, or not made to ISO 492"
	case d.name == "outer" && off < 0:
		return ": worn by turning in its seat, or not made to ISO 492"
	case d.name == "width" && off > 0:
		return ": measured over the seals, or with dirt on the face"
	case d.name == "width":
		return ": measured on the seal, which sits below the rings"
	}
	return ": dirt or a burr on the ring; clean it and measure again"
}

func (b Bearing) verdict(matches []Match) string {
	partial := b.Bore == nil || b.Outer == nil || b.Width == nil
	switch {
	case sole(matches) && !partial:
		text := fmt.Sprintf("This is %s: %s.", withArticle(matches[0].Name), matches[0].Detail)
		if s, _ := standard.BearingByName(matches[0].Name); !s.ISO {
			text = fmt.Sprintf("No ISO size has these dimensions, but %s is made (%s).%s", matches[0].Name, s.Note, b.nearestISO())
		}
		return text
	case sole(matches):
		return fmt.Sprintf("Of the sizes in the table only %s (%s) has these readings; measure the rest before ordering.", matches[0].Name, matches[0].Detail)
	case anyFirm(matches):
		return fmt.Sprintf("It could be %s.", choice(matches))
	case len(matches) > 0:
		return fmt.Sprintf("No ISO size has these dimensions. The bicycle trade knows them as %s; that is from memory, so order by the measured sizes and compare the number on the seal.%s",
			or(matchNames(matches)), b.nearestISO())
	}
	return b.noMatch()
}

// nearestISO names the ISO size that would be ordered by mistake.
func (b Bearing) nearestISO() string {
	for _, n := range b.nearMisses() {
		if s, ok := standard.BearingByName(n.Name); ok && s.ISO {
			return fmt.Sprintf(" The nearest ISO size, %s, does not fit: %s.", n.Name, strings.TrimSuffix(n.Differs, ": does not fit in its place"))
		}
	}
	return ""
}

// nearest is the size whose readings are least off, and by how much the worst of them is.
func (b Bearing) nearest() (best standard.BearingSize, bestOff float64) {
	bestOff = math.Inf(1)
	for _, s := range standard.BearingSizes() {
		worst := 0.0
		for _, d := range b.dimensions() {
			if d.reading != nil {
				worst = math.Max(worst, math.Abs(d.off(s)))
			}
		}
		if worst < bestOff {
			best, bestOff = s, worst
		}
	}
	return best, bestOff
}

// nearly reports whether the readings are those of a worn or misread plain size.
func (b Bearing) nearly() bool {
	_, off := b.nearest()
	return off <= wornWithinMM
}

func (b Bearing) noMatch() string {
	best, _ := b.nearest()
	if !b.nearly() {
		return fmt.Sprintf("No size in the table has these dimensions: the bearing is made to no standard here, or was misread.%s Measure again, and order by the number on the seal or by measured sizes.", b.nearestISO())
	}
	var reasons []string
	for _, d := range b.dimensions() {
		if !d.fits(best) {
			off := d.off(best)
			reasons = append(reasons, fmt.Sprintf("the %s reads %s mm %s%s", d.name, mm2(math.Abs(off)), overUnder(off), d.wear(off)))
		}
	}
	return fmt.Sprintf("No new bearing reads so. The nearest is %s (%s mm): %s.", best.Name, best.Envelope(), strings.Join(reasons, "; "))
}

func (b Bearing) advise(r *Result) {
	if b.Bore != nil && b.Bore.MM < smallBoreMM {
		r.ReadsBadly = append(r.ReadsBadly, "Inside jaws have flats and read low in a bore under 10 mm: trust outer and width first (common practice, no published source).")
	}
	if b.Width != nil {
		r.ReadsBadly = append(r.ReadsBadly, "Measure the width across the rings, not across the seals.")
	}
	if missing := b.missing(); len(missing) > 0 {
		r.Next = append(r.Next, Step{"Measure the " + strings.Join(missing, " and the "), "caliper", "three sizes name an ISO bearing, fewer leave a choice"})
	}
	if b.Seal == standard.SealUnsaid && hasTwoWidths(r.Matches) {
		r.Next = append(r.Next, Step{"Look whether it is open, shielded or sealed", "eye", "under 10 mm bore and in inch sizes the closed bearing is wider: the seal is part of the size"})
	}
	if rows := kinds(r.Matches); rows > 1 {
		r.Next = append(r.Next, Step{"Count the rows of balls", "eye, one seal lifted", "single and double row share these outside sizes and carry load differently"})
	}
	if has(r.Matches, "29427") || has(r.Matches, "6806") {
		r.Next = append(r.Next, Step{"Read the marking on spindle and bearing", "eye", "spindles of 28.99, 29 and 30 mm exist, and the first two differ by less than a caliper shows"})
	}
	if has(r.Matches, "6805") || has(r.Matches, "24377") || has(r.Matches, "25376") {
		r.Cautions = append(r.Cautions, "A 24 mm spindle in a 25 mm bore needs the sleeve between them: without it there is 1 mm of play in the crank.")
	}
	if len(r.Matches) > 0 {
		r.Next = append(r.Next, Step{"Read the marks after the number on the old bearing", "eye", "no caliper shows the clearance class (C3), the precision or a full complement of balls (MAX)"})
	}
}

func (b Bearing) missing() []string {
	var names []string
	for _, d := range b.dimensions() {
		if d.reading == nil {
			names = append(names, d.name)
		}
	}
	return names
}

func has(matches []Match, name string) bool {
	for _, m := range matches {
		if m.Name == name {
			return true
		}
	}
	return false
}

func hasTwoWidths(matches []Match) bool {
	for _, m := range matches {
		if s, ok := standard.BearingByName(m.Name); ok && s.OpenMM != s.ClosedMM {
			return true
		}
	}
	return false
}

func kinds(matches []Match) int {
	seen := map[standard.BearingKind]bool{}
	for _, m := range matches {
		if s, ok := standard.BearingByName(m.Name); ok {
			seen[s.Kind] = true
		}
	}
	return len(seen)
}
