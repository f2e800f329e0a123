package note

import (
	"math"
	"slices"
	"strconv"

	"stead/substitution"
	"stead/substitution/inspection"
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
	"chain":             {chainWidth, chainWear, chainByRule, speeds, counted("links", "links"), gluedLinks},
	"chain-joiner":      {speeds},
	"cassette":          {speeds, teethPair},
	"freewheel":         {speeds, teethPair, singleFreewheel},
	"sprocket":          {counted("teeth", "teeth"), teethBare, chainWidth},
	"chainring":         {ringTeeth, boltCircle, circleOn, counted("bolts", "bolts")},
	"crankset":          {ringSet, boltCircle, circleOn, counted("bolts", "bolts"), armLength, speeds},
	"crank-arm":         {armLength},
	"rear-derailleur":   {speeds},
	"front-derailleur":  {speeds},
	"shifter":           {speeds},
	"jockey-wheel":      {counted("teeth", "teeth"), teethBare},
	"disc-rotor":        {rotorSize, rotorThickness, rotorMinimum},
	"disc-pad":          {lining},
	"tyre":              {tyreSize, tyreByDigits, tyreSpoken, tyreWidth, beadSize},
	"tube":              {valveLength, tubeSize, beadSize, beadBare},
	"rim":               {counted("holes", "holes"), beadSize, beadBare, rimWall},
	"rim-tape":          {beadSize, beadBare},
	"thru-axle":         {diameterThenLength},
	"fork":              {hoursRun, steererNamed, steererBefore},
	"shock":             {hoursRun},
	"fork-seal":         {hoursRun},
	"service-kit":       {hoursRun},
	"suspension-oil":    {oilWeight},
	"seat-clamp":        {spokenSize("diameter_mm", 22, 45)},
	"hub":               {ballsInside, counted("holes", "holes"), spacing, thruAxle, widthOver},
	"freehub-body":      {ballsInside},
	"axle":              {inMM("length_mm", 90, 320), inMM("diameter_mm", 8, 20)},
	"spoke":             {spokeLength, spokeGauge},
	"nipple":            {inMM("length_mm", 8, 30)},
	"seatpost":          {postDiameter, lengthIn("long", "length_mm")},
	"stem":              {stemLength, clampNamed, steererNamed, steererBefore, quillSize, stemSize, stemClamp, inMM("length_mm", 30, 160), lengthIn("long", "length_mm"), lengthIn("clamp", "clamp_mm"), lengthIn("quill", "quill_mm"), lengthIn("degrees", "angle_deg"), steererSize},
	"handlebar":         {clampNamed, barSize, barClamp, lengthIn("wide", "width_mm"), inMM("width_mm", 300, 1000), barWidth, lengthIn("clamp", "clamp_mm")},
	"headset":           {steererNamed, steererSize, ballsInside},
	"bottom-bracket":    {ballsInside, shellAndSpindle, shellBare, spindleBare},
	"cartridge-bearing": {bearingNumber, bearingSizes},
	"headset-bearing":   {bearingSizes, bearingAngles},
	"loose-balls":       {ballsHere},
	"ball-cage":         {ballsHere, ballsInCage},
	"pedal":             {pedalThread},
	"grip":              {inMM("length_mm", 50, 200)},
	"cable-inner":       {inMM("diameter_mm", 1, 2.5), diameterByLength},
	"cable-outer":       {inMM("diameter_mm", 3, 6), diameterByLength},
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
	if m, next := p.isNamed(family, i); next > end && !p.claimed(next) {
		best, end = m, next
	}
	return best, end
}

// claimed reports that a unit of another kind follows, so that the number is not what it was taken for.
func (p *parser) claimed(i int) bool {
	s := p.at(i).s
	if p.at(i).text == "by" && p.startsNumber(i+1) {
		return true // "half by an eighth" is a size
	}
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
			next := p.maybeUnit(w.next, "mm")
			if name == "length_mm" && next == w.next {
				next = p.maybeUnit(w.next, "long") // "a hundred and thirty mil long"
			}
			if next > w.next && w.v >= low && w.v <= high {
				return measured{facts: num(name, w.v)}, next
			}
		}
		return measured{}, 0
	}
}

// spokenSize reads a size with a fraction or its unit, "thirty-four nine" among them.
func spokenSize(name string, low, high float64) reader {
	return func(p *parser, i int) (measured, int) {
		for _, w := range p.sizes(i) {
			if next := p.maybeUnit(w.next, "mm"); (w.broken || next > w.next) && w.v >= low && w.v <= high {
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

// between steps over what stands between the two figures of a size: "x", "by", "to", a hyphen, a slash.
func (p *parser) between(i int, words ...string) int {
	if t := p.at(i).text; slices.Contains(words, t) {
		return i + 1
	}
	return i
}

// isEnd reports that a mark follows, or nothing.
func (p *parser) isEnd(i int) bool { return p.at(i).sep > joint }

func figure(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// exact drops what binary fractions add to a 64th of an inch.
func exact(mm float64) float64 { return math.Round(mm*1e6) / 1e6 }
