package substitution

import (
	"fmt"
	"strconv"
	"strings"
)

// Dimension is one thing to know of a part that decides fit, finish or feel.
// Its name carries its unit: bcd_mm, inner_angle_deg.
type Dimension struct {
	Name    string
	Form    Form
	Words   []string // the words it may take; none listed: any
	Low     float64  // the least and the most that can be meant; outside is a slip of the pen
	High    float64
	Means   string // in a mechanic's words
	Measure string // how to find it out, and with what

	of Family // whose it is; empty for what every family has
}

// Plain is the dimension's name in words: "bcd_mm" is "BCD", "teeth_max" is "largest sprocket".
func (d Dimension) Plain() string {
	if d.Means != "" {
		return d.Means
	}
	name, _ := d.unit()
	return strings.ReplaceAll(name, "_", " ")
}

// unit splits the unit off the name, as it is written after a figure.
func (d Dimension) unit() (name, unit string) {
	if i := strings.LastIndexByte(d.Name, '_'); i > 0 {
		if unit, known := units[d.Name[i:]]; known {
			return d.Name[:i], unit
		}
	}
	return d.Name, ""
}

var units = map[string]string{"_mm": " mm", "_deg": "°", "_in": " in", "_ml": " ml", "_g": " g", "_bar": " bar", "_kg": " kg", "_nm": " N·m", "_percent": " %"}

// Words of a figure with its unit: 110 mm, 34 teeth, 8/9-speed.
func (d Dimension) Show(v Value) string {
	if v.form == 0 {
		return "not known"
	}
	_, unit := d.unit()
	switch {
	case d.Name == "speeds" && v.String() == "1":
		return "single-speed"
	case d.Name == "speeds":
		return v.String() + "-speed"
	case strings.HasPrefix(d.Name, "teeth"):
		return v.String() + "T"
	case v.form == Number && v.number != float64(int(v.number)):
		return strconv.FormatFloat(v.number, 'f', -1, 64) + unit
	}
	return v.String() + unit
}

// Parse reads a value as a person types it: "110", "27,2 mm", "1 1/8", "silver", "6-8", "12 x 142", "yes". Spelling is free,
// meaning is not: the error names the dimension and what was expected.
func (d Dimension) Parse(text string) (Value, error) {
	text = strings.TrimSpace(text)
	var v Value
	var err error
	switch d.Form {
	case Number, Int:
		var x float64
		x, err = d.figure(text)
		v = Num(x)
	case Word:
		v = Text(text)
	case Flag:
		v, err = d.flag(text)
	case Ints:
		v, err = d.list(text)
	}
	if err != nil {
		return Value{}, err
	}
	return d.Check(v)
}

// Check returns the value in the dimension's own form and spelling, or says what is wrong with it. A text is read as a
// person typed it.
func (d Dimension) Check(v Value) (Value, error) {
	switch {
	case v.form == Word && d.Form != Word:
		return d.Parse(v.word)
	case v.form == Number && d.Form == Word:
		v = Text(v.String())
	case v.form == Number && d.Form == Ints && v.number == float64(int(v.number)):
		v = List(int(v.number))
	}
	v = d.form(v)
	if v.form != d.Form {
		return Value{}, fmt.Errorf("%s is %s, not %s", d.Name, d.Form, v)
	}
	return d.within(v)
}

// form gives a number the form of the dimension: JSON does not tell a count from a measure.
func (d Dimension) form(v Value) Value {
	switch {
	case d.Form == Int && v.form == Number && v.number == float64(int(v.number)):
		v.form = Int
	case d.Form == Number && v.form == Int:
		v.form = Number
	}
	return v
}

// within holds a value of the right form to the bounds and words of the dimension.
func (d Dimension) within(v Value) (Value, error) {
	switch d.Form {
	case Number, Int:
		if !(v.number >= d.Low && v.number <= d.High) {
			return Value{}, fmt.Errorf("%s of %s cannot be meant: it lies between %v and %v", d.Name, v, d.Low, d.High)
		}
	case Word:
		word, err := d.spell(v.word)
		return Text(word), err
	case Ints:
		if len(v.ints) == 0 {
			return Value{}, fmt.Errorf("%s is an empty list: leave it out if it is not known", d.Name)
		}
		for _, n := range v.ints {
			if float64(n) < d.Low || float64(n) > d.High {
				return Value{}, fmt.Errorf("%s of %d cannot be meant: it lies between %v and %v", d.Name, n, d.Low, d.High)
			}
		}
	}
	return v, nil
}

// Recorded is a value as an older record holds it: in the dimension's form and spelling where it can be read so, and
// otherwise as it stands. It is false for a value of another form, of which nothing can be made.
func (d Dimension) Recorded(v Value) (Value, bool) {
	if checked, err := d.Check(v); err == nil {
		return checked, true
	}
	v = d.form(v)
	return v, v.form == d.Form && (v.form != Ints || len(v.ints) > 0)
}

func (d Dimension) example() string {
	return strconv.FormatFloat(float64(int((d.Low+d.High)/2)), 'f', -1, 64)
}
