package describe

import "math"

// unit is what a figure counts or measures, as a set: the trade uses one letter for different things ("L" is links of a
// chain, litres of oil, holes in German), and a family's grammar says which units its dimensions take.
type unit uint32

const (
	mm unit = 1 << iota
	cm
	metre
	inch
	degree
	millilitre
	litre
	gram
	kilo
	teeth
	speeds
	links
	holes
	bolts
	tpi
	balls
	lugs
	gaugeUnit
	letterC // "28C", "19C"
	pieces
	volt
	watt
	kilogram // of a load, which is kept in kilograms
	foot
	pound // of a load
	hour
	none // no unit
)

// counts are the units of what is counted: there are no 31.8 bolts. Speeds are not among them, for "9,10 speed" is a list.
const counts = teeth | links | holes | bolts | balls | lugs | pieces

var unitNames = map[string]unit{
	"mm": mm, "cm": cm, "metre": metre, "inch": inch, "degree": degree, "ml": millilitre, "litre": litre, "gram": gram, "kilo": kilo,
	"teeth": teeth, "speeds": speeds, "links": links, "holes": holes, "bolts": bolts, "tpi": tpi, "balls": balls, "lugs": lugs,
	"gauge": gaugeUnit, "c": letterC, "pieces": pieces, "volt": volt, "watt": watt, "kilogram": kilogram, "foot": foot, "pound": pound, "hour": hour,
}

// in converts a figure to the base that a dimension is kept in: millimetres, millilitres, grams, or a plain count.
func (u unit) in(value float64) float64 {
	switch u & -u {
	case cm:
		return tidy(value * 10)
	case metre, kilo, litre:
		return tidy(value * 1000)
	case inch:
		return value * 25.4
	case foot:
		return tidy(value * 304.8)
	case pound: // down to a tenth: no load is made more than it is marked with
		return tidy(math.Floor(value*4.5359237) / 10)
	}
	return value
}

// labels are the words that say which dimension a figure is, as a set.
type labels uint64

var labelNames []string

// labelOf is a label's bit; a new name gets a new bit. Only the tables make labels, at start-up.
func labelOf(name string) labels {
	for i, n := range labelNames {
		if n == name {
			return 1 << i
		}
	}
	labelNames = append(labelNames, name)
	if len(labelNames) > 64 {
		panic("describe: more than 64 labels")
	}
	return 1 << (len(labelNames) - 1)
}
