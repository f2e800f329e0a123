package substitution

import (
	"fmt"
	"slices"
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
	for suffix, unit := range units {
		if rest, ok := strings.CutSuffix(d.Name, suffix); ok {
			return rest, unit
		}
	}
	return d.Name, ""
}

var units = map[string]string{"_mm": " mm", "_deg": "°", "_in": " in", "_ml": " ml", "_g": " g"}

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

// Parse reads a value as a person types it: "110", "silver", "8,9,10", "yes".
func (d Dimension) Parse(text string) (Value, error) {
	text = strings.TrimSpace(text)
	var v Value
	switch d.Form {
	case Number, Int:
		x, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return Value{}, fmt.Errorf("%s is %s, not %q: write the figure alone, such as %s=%s", d.Name, d.Form, text, d.Name, d.example())
		}
		v = Num(x)
	case Word:
		v = Text(text)
	case Flag:
		switch strings.ToLower(text) {
		case "yes", "true":
			v = Yes(true)
		case "no", "false":
			v = Yes(false)
		default:
			return Value{}, fmt.Errorf("%s is yes or no, not %q", d.Name, text)
		}
	case Ints:
		var ns []int
		for _, field := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == '/' || r == ' ' }) {
			n, err := strconv.Atoi(field)
			if err != nil {
				return Value{}, fmt.Errorf("%s is %s, not %q: write them apart by commas, such as %s=8,9", d.Name, d.Form, text, d.Name)
			}
			ns = append(ns, n)
		}
		v = List(ns...)
	}
	return d.Check(v)
}

// Check returns the value in the dimension's own form, or says what is wrong with it.
func (d Dimension) Check(v Value) (Value, error) {
	if d.Form == Int && v.form == Number {
		if v.number != float64(int(v.number)) {
			return Value{}, fmt.Errorf("%s is %s, not %s", d.Name, d.Form, v)
		}
		v.form = Int
	}
	if d.Form == Number && v.form == Int {
		v.form = Number
	}
	if v.form != d.Form {
		return Value{}, fmt.Errorf("%s is %s, not %q", d.Name, d.Form, v)
	}
	switch d.Form {
	case Number, Int:
		if !(v.number >= d.Low && v.number <= d.High) {
			return Value{}, fmt.Errorf("%s of %s cannot be meant: it lies between %v and %v", d.Name, v, d.Low, d.High)
		}
	case Word:
		if v.word == "" || len(v.word) > 60 {
			return Value{}, fmt.Errorf("%s is one word, not %q", d.Name, v.word)
		}
		if len(d.Words) > 0 && !slices.Contains(d.Words, v.word) {
			return Value{}, fmt.Errorf("%s is one of %s, not %q", d.Name, strings.Join(d.Words, ", "), v.word)
		}
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

func (d Dimension) example() string {
	return strconv.FormatFloat(float64(int((d.Low+d.High)/2)), 'f', -1, 64)
}
