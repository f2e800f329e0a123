package note

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"stead/substitution"
	"stead/substitution/inspection"
	"stead/substitution/standard"
)

// measured is what a number says of a part: readings, facts of what is fitted, or that it is none of ours.
type measured struct {
	readings, facts []fact
	balls           bool // of the balls inside, not of the part itself
}

// reader reads the number at item i as something of one family, and gives the item after it; 0 if it cannot be meant.
type reader func(p *parser, i int) (measured, int)

// readers are what may be said in figures of a part of each family. The reader that takes most words is right.
var readers = map[substitution.Family][]reader{
	"chain":             {chainWidth, chainWear, speeds, counted("links", "links")},
	"chain-joiner":      {speeds},
	"cassette":          {speeds, teethPair},
	"freewheel":         {speeds, teethPair, singleFreewheel},
	"sprocket":          {counted("teeth", "teeth"), chainWidth},
	"chainring":         {ringTeeth, boltCircle, counted("bolts", "bolts")},
	"crankset":          {ringSet, boltCircle, counted("bolts", "bolts"), armLength, speeds},
	"rear-derailleur":   {speeds},
	"front-derailleur":  {speeds},
	"shifter":           {speeds},
	"jockey-wheel":      {counted("teeth", "teeth")},
	"disc-rotor":        {rotorSize, rotorThickness, rotorMinimum},
	"disc-pad":          {lining},
	"tyre":              {tyreSize, tyreWidth, beadSize},
	"tube":              {valveLength, beadSize},
	"rim":               {counted("holes", "holes"), beadSize},
	"hub":               {ballsInside, counted("holes", "holes"), spacing, thruAxle},
	"freehub-body":      {ballsInside},
	"axle":              {inMM("length_mm", 90, 320), inMM("diameter_mm", 8, 20)},
	"spoke":             {spokeLength, spokeGauge},
	"nipple":            {inMM("length_mm", 8, 30)},
	"seatpost":          {postDiameter, lengthIn("long", "length_mm")},
	"stem":              {barClamp, inMM("length_mm", 30, 160), lengthIn("long", "length_mm"), lengthIn("clamp", "clamp_mm"), lengthIn("quill", "quill_mm"), lengthIn("degrees", "angle_deg"), steererSize},
	"handlebar":         {barClamp, lengthIn("wide", "width_mm"), inMM("width_mm", 300, 1000), barWidth, lengthIn("clamp", "clamp_mm")},
	"headset":           {steererSize, ballsInside},
	"bottom-bracket":    {ballsInside, shellAndSpindle},
	"cartridge-bearing": {bearingNumber, bearingSizes},
	"headset-bearing":   {bearingSizes, bearingAngles},
	"loose-balls":       {ballsHere},
	"ball-cage":         {ballsHere},
	"pedal":             {pedalThread},
	"grip":              {inMM("length_mm", 50, 200)},
	"cable-inner":       {inMM("diameter_mm", 1, 2.5)},
	"cable-outer":       {inMM("diameter_mm", 3, 6)},
}

// measure reads the number at item i as something of the family.
func (p *parser) measure(family substitution.Family, i int) (measured, int) {
	var best measured
	end := 0
	for _, read := range readers[family] {
		if m, next := read(p, i); next > end && p.possible(family, m) && !p.claimed(next) {
			best, end = m, next
		}
	}
	return best, end
}

// claimed reports that a unit of another kind follows, so that the number is not what it was taken for.
func (p *parser) claimed(i int) bool {
	s := p.at(i).s
	return s != nil && (s.role == voidUnit && p.at(i).text != "min" || s.class == partOf)
}

// possible reports whether every figure lies within the bounds of its reading or dimension.
func (p *parser) possible(family substitution.Family, m measured) bool {
	for _, f := range m.readings {
		if _, ok := readingValue(family, f); !ok && !m.balls {
			return false
		}
	}
	for _, f := range m.facts {
		if _, ok := factValue(family, f); !ok && !m.balls {
			return false
		}
	}
	return true
}

// readingValue is a reading in its own form, if the family has it and it can be meant.
func readingValue(family substitution.Family, f fact) (substitution.Value, bool) {
	for _, d := range inspection.ReadingsOf(family) {
		if d.Name == f.name {
			v, err := d.Check(f.value)
			return v, err == nil
		}
	}
	return substitution.Value{}, false
}

// factValue is the same for a dimension.
func factValue(family substitution.Family, f fact) (substitution.Value, bool) {
	t, err := substitution.TableOf(family)
	if err != nil {
		return substitution.Value{}, false
	}
	d, ok := t.Dimension(f.name)
	if !ok {
		return substitution.Value{}, false
	}
	v, err := d.Check(f.value)
	return v, err == nil
}

func num(name string, v float64) []fact { return []fact{{name, substitution.Num(v)}} }
func count(name string, v float64) fact { return fact{name, substitution.Count(int(v))} }

// unit reports whether a unit stands at item i.
func (p *parser) unit(i int, names ...string) bool {
	s := p.at(i).s
	return s != nil && slices.Contains(names, s.unit)
}

// maybeUnit steps over a unit, if it stands there. A hyphen before it belongs to it.
func (p *parser) maybeUnit(i int, names ...string) int {
	if j := p.skipJoint(i); p.unit(j, names...) {
		return j + 1
	}
	return i
}

// otherUnit reports that a unit follows which is none of these.
func (p *parser) otherUnit(i int, names ...string) bool {
	s := p.at(p.skipJoint(i)).s
	return s != nil && s.unit != "" && !slices.Contains(names, s.unit)
}

// counted reads a whole number with its unit: "116 links".
func counted(name, unit string) reader {
	return func(p *parser, i int) (measured, int) {
		for _, w := range p.wholes(i) {
			if next := p.maybeUnit(w.next, unit); next > w.next {
				return measured{facts: []fact{count(name, w.v)}}, next
			}
		}
		return measured{}, 0
	}
}

// inMM reads a length that cannot be another for its size and unit.
func inMM(name string, low, high float64) reader {
	return func(p *parser, i int) (measured, int) {
		for _, w := range p.decimals(i) {
			if next := p.maybeUnit(w.next, "mm"); next > w.next && w.v >= low && w.v <= high {
				return measured{facts: num(name, w.v)}, next
			}
		}
		return measured{}, 0
	}
}

// lengthIn reads a figure that a word after it names: "31.8 clamp", "420 wide".
func lengthIn(unit, name string) reader {
	return func(p *parser, i int) (measured, int) {
		for _, w := range p.decimals(i) {
			if next := p.maybeUnit(w.next, unit); next > w.next {
				return measured{facts: num(name, w.v)}, next
			}
		}
		return measured{}, 0
	}
}

func chainWear(p *parser, i int) (measured, int) {
	for _, w := range p.decimals(i) {
		next := p.maybeUnit(w.next, "percent")
		if (w.broken || next > w.next) && w.v <= mostWear && !p.otherUnit(w.next, "percent") && !p.unit(w.next, "inch") {
			return measured{readings: num("wear_percent", w.v)}, next
		}
	}
	return measured{}, 0
}

// mostWear is the most that a chain is worn and still on a bike: beyond it the figure was not of wear.
const mostWear = 3

func speeds(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		if next := p.maybeUnit(w.next, "speeds"); next > w.next {
			return measured{facts: []fact{{"speeds", substitution.List(int(w.v))}}}, next
		}
	}
	return measured{}, 0
}

func chainWidth(p *parser, i int) (measured, int) {
	n, d, next, ok := p.fraction(i)
	if !ok {
		return measured{}, 0
	}
	width, err := standard.ParseChainWidth(fmt.Sprintf("%d/%d", n, d))
	if err != nil {
		return measured{}, 0
	}
	return measured{facts: []fact{{"chain_width", substitution.Text(width.Name)}}}, p.maybeUnit(next, "inch")
}

// between steps over what stands between the two figures of a size: "x", "by", "to", a hyphen, a slash.
func (p *parser) between(i int, words ...string) int {
	if t := p.at(i).text; slices.Contains(words, t) {
		return i + 1
	}
	return i
}

func teethPair(p *parser, i int) (measured, int) {
	for _, low := range p.wholes(i) {
		for _, high := range p.wholes(p.between(low.next, "to", "-", "/", "x", "by")) {
			if low.v >= 9 && low.v <= 28 && high.v >= 12 && high.v <= 52 && high.v-low.v >= 4 && !p.otherUnit(high.next, "teeth") {
				next := p.maybeUnit(high.next, "teeth")
				return measured{facts: []fact{count("teeth_min", low.v), count("teeth_max", high.v)}}, next
			}
		}
	}
	return measured{}, 0
}

func singleFreewheel(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		if next := p.maybeUnit(w.next, "teeth"); next > w.next {
			return measured{facts: []fact{count("teeth_min", w.v), count("teeth_max", w.v)}}, next
		}
	}
	return measured{}, 0
}

func ringTeeth(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		if w.v >= 18 && w.v <= 64 && !p.otherUnit(w.next, "teeth") {
			return measured{facts: []fact{count("teeth", w.v)}}, p.maybeUnit(w.next, "teeth")
		}
	}
	return measured{}, 0
}

// ringSet reads "fifty thirty-four", "50/34" and "48 38 28".
func ringSet(p *parser, i int) (measured, int) {
	ring := func(n, below float64) bool { return n >= 20 && n <= 60 && n < below }
	for _, a := range p.wholes(i) {
		for _, b := range p.wholes(p.between(a.next, "/", "-", "to")) {
			if !ring(a.v, 61) || !ring(b.v, a.v) {
				continue
			}
			for _, c := range p.wholes(p.between(b.next, "/", "-")) {
				if ring(c.v, b.v) && !p.otherUnit(c.next, "teeth") {
					return measured{facts: []fact{count("teeth_outer", a.v), count("teeth_middle", b.v), count("teeth_inner", c.v)}}, p.maybeUnit(c.next, "teeth")
				}
			}
			if !p.otherUnit(b.next, "teeth") {
				return measured{facts: []fact{count("teeth_outer", a.v), count("teeth_inner", b.v)}}, p.maybeUnit(b.next, "teeth")
			}
		}
	}
	return measured{}, 0
}

// boltCircle reads "110 BCD", "BCD 110" and "one-ten five-bolt": a circle that the number of bolts follows.
func boltCircle(p *parser, i int) (measured, int) {
	label := i
	if s := p.at(i).s; s != nil && s.label == "bcd" {
		label++
	}
	for _, w := range p.decimals(label) {
		if label > i {
			return measured{facts: num("bcd_mm", w.v)}, p.maybeUnit(w.next, "mm")
		}
		if next := p.maybeUnit(w.next, "bcd"); next > w.next {
			return measured{facts: num("bcd_mm", w.v)}, next
		}
		after := p.maybeUnit(w.next, "mm")
		if m, next := counted("bolts", "bolts")(p, p.skipJoint(after)); next > 0 && w.v >= 50 {
			return measured{facts: append(num("bcd_mm", w.v), m.facts...)}, next
		}
	}
	return measured{}, 0
}

func armLength(p *parser, i int) (measured, int) {
	for _, w := range p.decimals(i) {
		if w.v >= 150 && w.v <= 190 && !p.otherUnit(w.next, "mm", "s") {
			return measured{facts: num("arm_mm", w.v)}, p.maybeUnit(p.maybeUnit(w.next, "mm"), "s")
		}
	}
	return measured{}, 0
}

func rotorSize(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		if r, err := standard.ParseRotor(strconv.Itoa(int(w.v))); err == nil {
			return measured{facts: []fact{count("rotor_mm", float64(r.MM))}}, p.maybeUnit(w.next, "mm")
		}
	}
	return measured{}, 0
}

func rotorThickness(p *parser, i int) (measured, int) {
	for _, w := range p.decimals(i) {
		next := p.maybeUnit(w.next, "mm", "left")
		if (w.broken || next > w.next) && w.v > 0.5 && w.v < 4 && !p.otherUnit(w.next, "mm", "left") {
			return measured{readings: num("thickness_mm", w.v)}, next
		}
	}
	return measured{}, 0
}

// rotorMinimum reads "stamp one point five" and "1.5 minimum".
func rotorMinimum(p *parser, i int) (measured, int) {
	label := p.label(i, "minimum")
	for _, w := range p.decimals(label) {
		next := p.maybeUnit(w.next, "mm")
		behind := p.label(next, "minimum")
		if label == i && (behind == next || p.startsNumber(behind)) {
			continue
		}
		if label > i {
			behind = next
		}
		if w.v > 0.5 && w.v < 4 && (w.broken || next > w.next) {
			return measured{readings: num("marked_minimum_mm", w.v)}, behind
		}
	}
	return measured{}, 0
}

// label steps over words that name the figure beside them.
func (p *parser) label(i int, name string) int {
	for j := i; j < i+5; j++ {
		s := p.at(j).s
		switch {
		case s != nil && s.label == name:
			i = j + 1
		case s != nil && (s.role == copula || s.role == at || s.role == filler), p.at(j).sep == joint:
			if j == i {
				continue
			}
		default:
			if i < j && p.startsNumber(j) && i > 0 && p.at(i-1).s != nil && p.at(i-1).s.label == name {
				return j
			}
			return i
		}
	}
	return i
}

func lining(p *parser, i int) (measured, int) {
	for _, w := range p.decimals(i) {
		next := p.maybeUnit(p.maybeUnit(w.next, "mm"), "left")
		before := p.at(i - 1).s
		said := before != nil && (before.text() == "at" || before.label == "lining")
		if (w.broken || next > w.next || said) && w.v <= 8 && !p.otherUnit(w.next, "mm", "left") {
			return measured{readings: num("lining_mm", w.v)}, next
		}
	}
	return measured{}, 0
}

func (s *sense) text() string {
	if s.role == at {
		return "at"
	}
	return ""
}

// tyreSize reads "700x28", "28-622", "26 by one point seven five".
func tyreSize(p *parser, i int) (measured, int) {
	for _, a := range p.decimals(i) {
		j := a.next
		if t := p.at(j).text; t == "c" && p.at(j).glued {
			j++
		}
		sign := p.at(j).text
		if sign != "x" && sign != "by" && sign != "-" && sign != "/" && sign != "×" {
			continue
		}
		for _, b := range p.decimals(j + 1) {
			mark := "x"
			if sign == "-" || sign == "/" {
				mark = "-"
			}
			t, err := standard.ParseTyre(figure(a.v) + mark + figure(b.v))
			if err != nil {
				continue
			}
			return measured{facts: []fact{count("bead_mm", float64(t.BeadMM)), count("width_mm", float64(t.WidthMM))}}, p.maybeUnit(b.next, "c", "mm")
		}
	}
	return measured{}, 0
}

func figure(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// tyreWidth reads "thirty-twos", "28c", "28 mm", and a bare figure only right after "is" or "a".
func tyreWidth(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		next := p.maybeUnit(w.next, "c", "mm", "s")
		said := w.plural || next > w.next
		if b := p.at(i - 1); b.s != nil && (b.text == "a" || b.s.role == copula) {
			said = true
		}
		if said && w.v >= 18 && w.v <= 75 && !p.otherUnit(w.next, "c", "mm", "s") && p.between(w.next, "x", "by", "-", "/") == w.next {
			return measured{facts: []fact{count("width_mm", w.v)}}, next
		}
	}
	return measured{}, 0
}

// beadSize reads "700c", "650b", "29 inch".
func beadSize(p *parser, i int) (measured, int) {
	for _, w := range p.decimals(i) {
		text, next := figure(w.v), w.next
		switch t := p.at(next); {
		case (t.text == "c" || t.text == "b") && w.v >= 600:
			text += t.text
		case p.unit(next, "inch"):
			text += " inch"
		default:
			continue
		}
		if bead, err := standard.ParseBead(text); err == nil {
			return measured{facts: []fact{count("bead_mm", float64(bead.MM))}}, next + 1
		}
	}
	return measured{}, 0
}

func valveLength(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		j := p.maybeUnit(w.next, "mm")
		t := p.at(j)
		if (t.text == "valve" || t.text == "valves") && w.v >= 25 {
			return measured{facts: num("valve_mm", w.v)}, j + 1
		}
		if t.s != nil && len(t.s.facts) > 0 && t.s.facts[0].name == "valve" && w.v >= 25 && j > w.next {
			return measured{facts: num("valve_mm", w.v)}, j
		}
	}
	return measured{}, 0
}

func spacing(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		if next := p.maybeUnit(w.next, "spacing"); next > w.next {
			return measured{facts: num("oln_mm", w.v)}, next
		}
		next := p.maybeUnit(w.next, "mm")
		for _, known := range standard.AxleWidths() {
			if next > w.next && known.OLNMM == w.v {
				return measured{facts: num("oln_mm", w.v)}, next
			}
		}
	}
	return measured{}, 0
}

func thruAxle(p *parser, i int) (measured, int) {
	for _, d := range p.wholes(i) {
		j := p.between(d.next, "x", "by", "×")
		if j == d.next {
			continue
		}
		for _, w := range p.wholes(j) {
			text := fmt.Sprintf("%dx%d", int(d.v), int(w.v))
			if _, err := standard.ParseThruAxle(text); err == nil {
				return measured{facts: []fact{{"axle", substitution.Text(text)}}}, p.maybeUnit(w.next, "mm")
			}
		}
	}
	return measured{}, 0
}

func spokeLength(p *parser, i int) (measured, int) {
	for _, w := range p.decimals(i) {
		if w.v >= 150 && w.v <= 320 && !p.otherUnit(w.next, "mm", "long") {
			return measured{facts: num("length_mm", w.v)}, p.maybeUnit(w.next, "mm", "long")
		}
	}
	return measured{}, 0
}

func spokeGauge(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		if next := p.maybeUnit(w.next, "gauge"); next > w.next {
			if s, err := standard.ParseSpoke(strconv.Itoa(int(w.v)) + "g"); err == nil {
				return measured{facts: num("gauge_mm", s.ElbowMM)}, next
			}
		}
	}
	return measured{}, 0
}

// postDiameter reads "27.2" and, as it is said, "twenty-seven two".
func postDiameter(p *parser, i int) (measured, int) {
	try := func(v float64, next int) (measured, int) {
		if d, err := standard.ParseSeatpost(figure(v)); err == nil && !p.otherUnit(next, "mm") {
			return measured{facts: num("diameter_mm", d.MM)}, p.maybeUnit(next, "mm")
		}
		return measured{}, 0
	}
	for _, w := range p.decimals(i) {
		if p.class(w.next) == ones && !w.broken && !p.at(i).figure {
			if m, next := try(w.v+p.at(w.next).s.number/10, w.next+1); next > 0 {
				return m, next
			}
		}
		if w.broken || p.unit(p.skipJoint(w.next), "mm") {
			if m, next := try(w.v, w.next); next > 0 {
				return m, next
			}
		}
	}
	return measured{}, 0
}

// barClamp reads "31.8" and "thirty-one eight".
func barClamp(p *parser, i int) (measured, int) {
	for _, w := range p.decimals(i) {
		v, next := w.v, w.next
		if p.class(next) == ones && !w.broken && !p.at(i).figure && w.v > 20 {
			v, next = v+p.at(next).s.number/10, next+1
		} else if !w.broken {
			continue
		}
		if d, err := standard.ParseHandlebarClamp(figure(v)); err == nil && !p.otherUnit(next, "mm", "clamp") {
			return measured{facts: num("clamp_mm", d.MM)}, p.maybeUnit(p.maybeUnit(next, "mm"), "clamp")
		}
	}
	return measured{}, 0
}

// steererSize reads "an inch and an eighth", "one and an eighth", `1 1/8"` and "28.6".
func steererSize(p *parser, i int) (measured, int) {
	known := func(mm float64, next int) (measured, int) {
		for _, s := range standard.Steerers() {
			if s.SteererMM > mm-0.1 && s.SteererMM < mm+0.1 {
				return measured{facts: num("steerer_mm", s.SteererMM)}, next
			}
		}
		return measured{}, 0
	}
	start := p.skipA(i)
	if p.unit(start, "inch") {
		if j := start + 1; p.at(j).text == "and" || p.at(j).sep == joint {
			for p.at(j).sep == joint || p.at(j).text == "and" {
				j++
			}
			k := p.skipA(j)
			k = p.skipJoint(k)
			if n, d, next, ok := p.fraction(k); ok {
				return known(standard.Inch*(1+float64(n)/float64(d)), next)
			}
		}
	}
	for _, w := range p.decimals(i) {
		next := p.maybeUnit(w.next, "inch")
		switch {
		case w.v < 2 && w.v > 1 && w.broken || w.v == 1 && next > w.next:
			if m, end := known(standard.Inch*w.v, next); end > 0 {
				return m, end
			}
		case w.broken && w.v > 22:
			if m, end := known(w.v, p.maybeUnit(w.next, "mm")); end > 0 {
				return m, end
			}
		}
	}
	return measured{}, 0
}

// shellAndSpindle reads "68 by 113".
func shellAndSpindle(p *parser, i int) (measured, int) {
	for _, a := range p.wholes(i) {
		j := p.between(p.maybeUnit(a.next, "mm"), "x", "by", "×", "/", "-")
		if j == a.next {
			continue
		}
		for _, b := range p.decimals(j) {
			if a.v >= 66 && a.v <= 100 && b.v >= 100 && b.v <= 190 {
				return measured{facts: append(num("shell_mm", a.v), num("spindle_mm", b.v)...)}, p.maybeUnit(b.next, "mm")
			}
		}
	}
	return measured{}, 0
}

// bearingNumber reads "6902", "sixty-nine oh two", with its seal.
func bearingNumber(p *parser, i int) (measured, int) {
	texts, nexts := p.digits(i)
	for k := len(texts) - 1; k >= 0; k-- {
		if len(texts[k]) < 3 {
			break
		}
		b, err := standard.ParseBearing(texts[k])
		if err != nil || b.Name != texts[k] {
			continue
		}
		next := nexts[k]
		m := measured{facts: []fact{{"designation", substitution.Text(texts[k])}}}
		m.facts = append(m.facts, num("bore_mm", b.BoreMM)...)
		m.facts = append(m.facts, num("outer_mm", b.OuterMM)...)
		seal, after := p.seal(next)
		if seal != "" {
			next = after
			m.facts = append(m.facts, fact{"seal", substitution.Text(seal)})
			if full, err := standard.ParseBearing(texts[k] + "-" + strings.ToUpper(seal)); err == nil {
				b = full
			}
		}
		if width, known := b.WidthMM(); known {
			m.facts = append(m.facts, num("width_mm", width)...)
		}
		return m, p.maybeUnit(next, "s")
	}
	return measured{}, 0
}

// seal reads the mark after a bearing's number.
func (p *parser) seal(i int) (seal string, next int) {
	j := p.skipJoint(i)
	t := p.at(j)
	switch {
	case t.figure && t.text == "2" && p.at(j+1).text == "rs", (t.text == "two" || t.text == "double") && p.at(j+1).text == "rs":
		return "2rs", j + 2
	case t.text == "llu" || t.text == "ddu":
		return "2rs", j + 1
	case t.text == "zz":
		return "zz", j + 1
	case t.figure && t.text == "2" && p.at(j+1).text == "z":
		return "zz", j + 2
	}
	return "", i
}

// bearingSizes reads bore by outside by width.
func bearingSizes(p *parser, i int) (measured, int) {
	for _, a := range p.decimals(i) {
		j := p.between(a.next, "x", "by", "×")
		if j == a.next {
			continue
		}
		for _, b := range p.decimals(j) {
			k := p.between(b.next, "x", "by", "×")
			if k == b.next {
				continue
			}
			for _, c := range p.decimals(k) {
				if a.v < b.v && c.v < b.v {
					return measured{facts: append(append(num("bore_mm", a.v), num("outer_mm", b.v)...), num("width_mm", c.v)...)}, p.maybeUnit(c.next, "mm")
				}
			}
		}
	}
	return measured{}, 0
}

// ballsInside reads the balls of what they run in: "nine quarter-inch a side".
func ballsInside(p *parser, i int) (measured, int) {
	m, next := ballsHere(p, i)
	if next == 0 || len(m.readings) == 0 || len(m.facts) == 0 || m.readings[0].value.Float() < 3 {
		return measured{}, 0
	}
	m.balls = true
	return m, next
}

// ballsHere reads a count, a size, or both: "twenty-five 5/32", "quarter-inch", `1/4", 9`.
func ballsHere(p *parser, i int) (measured, int) {
	counted := func(n float64) []fact { return []fact{count("balls", n)} }
	for _, w := range p.wholes(i) {
		if w.v < 1 || w.v > 60 {
			continue
		}
		if mm, next, ok := p.ballSize(p.between(w.next, "x", "×", "of")); ok {
			return measured{readings: counted(w.v), facts: num("ball_mm", mm)}, next
		}
	}
	if mm, next, ok := p.ballSize(i); ok {
		return measured{facts: num("ball_mm", mm)}, next
	}
	if ws := p.wholes(i); len(ws) > 0 && ws[0].v >= 3 && ws[0].v <= 60 && !p.otherUnit(ws[0].next) && p.class(ws[0].next) == noNumber {
		return measured{readings: counted(ws[0].v)}, ws[0].next
	}
	return measured{}, 0
}

// ballSize reads a ball's size as a fraction of an inch or in millimetres.
func (p *parser) ballSize(i int) (mm float64, next int, ok bool) {
	i = p.skipJoint(i)
	if n, d, next, ok := p.fraction(i); ok {
		ball, err := standard.ParseBall(fmt.Sprintf("%d/%d", n, d))
		if err != nil {
			return 0, 0, false
		}
		return exact(ball.MM), p.maybeUnit(next, "inch"), true
	}
	for _, w := range p.decimals(i) {
		if next := p.maybeUnit(w.next, "mm"); next > w.next {
			if ball, err := standard.ParseBall(figure(w.v) + " mm"); err == nil {
				return ball.MM, next, true
			}
		}
	}
	return 0, 0, false
}

// bearingAngles reads the chamfers of a headset bearing, inside by outside: "36 by 45".
func bearingAngles(p *parser, i int) (measured, int) {
	for _, a := range p.wholes(i) {
		j := p.between(a.next, "x", "by", "×", "/")
		if j == a.next {
			continue
		}
		for _, b := range p.wholes(j) {
			if a.v >= 30 && a.v <= 60 && b.v >= 30 && b.v <= 60 {
				return measured{facts: append(num("inner_angle_deg", a.v), num("outer_angle_deg", b.v)...)}, p.maybeUnit(b.next, "degrees")
			}
		}
	}
	return measured{}, 0
}

// barWidth reads "44 cm" and "width 440".
func barWidth(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		if next := p.maybeUnit(w.next, "cm"); next > w.next && w.v >= 30 && w.v <= 100 {
			return measured{facts: num("width_mm", w.v*10)}, next
		}
		if p.at(i-1).text == "width" && w.v >= 300 {
			return measured{facts: num("width_mm", w.v)}, w.next
		}
	}
	return measured{}, 0
}

// exact drops what binary fractions add to a 64th of an inch.
func exact(mm float64) float64 { return math.Round(mm*1e6) / 1e6 }

func pedalThread(p *parser, i int) (measured, int) {
	n, d, next, ok := p.fraction(i)
	if !ok {
		return measured{}, 0
	}
	thread := fmt.Sprintf("%d/%dx20", n, d)
	return measured{facts: []fact{{"thread", substitution.Text(thread)}}}, p.maybeUnit(next, "inch")
}
