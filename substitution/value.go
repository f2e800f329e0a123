package substitution

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/valyala/fastjson"
)

// Form is the shape of a dimension's value.
type Form int

const (
	Number Form = iota + 1 // a measure; the unit stands in the dimension's name
	Int                    // a count, such as teeth
	Word                   // one word, from a list where the dimension gives one
	Flag                   // yes or no
	Ints                   // a list of counts, such as the speeds a chain serves
)

func (f Form) String() string {
	switch f {
	case Number:
		return "a number"
	case Int:
		return "a whole number"
	case Word:
		return "a word"
	case Flag:
		return "true or false"
	case Ints:
		return "a list of whole numbers"
	}
	panic("substitution: no such form: " + strconv.Itoa(int(f)))
}

// Value is the value of one dimension. The zero Value is no value at all; a Spec never holds one.
type Value struct {
	form   Form
	number float64
	word   string
	ints   []int
}

// Num is a measure in the unit that the dimension's name carries.
func Num(x float64) Value { return Value{form: Number, number: x} }

// Count is a whole number, such as teeth or bolts.
func Count(n int) Value { return Value{form: Int, number: float64(n)} }

// Text is one word of a dimension.
func Text(s string) Value { return Value{form: Word, word: s} }

// Yes is a flag's value.
func Yes(b bool) Value {
	v := Value{form: Flag}
	if b {
		v.number = 1
	}
	return v
}

// List is a list of counts, kept sorted and without repeats.
func List(ns ...int) Value {
	ns = slices.Clone(ns)
	slices.Sort(ns)
	return Value{form: Ints, ints: slices.Compact(ns)}
}

// Form tells which shape the value has.
func (v Value) Form() Form { return v.form }

// Float is a Number's or an Int's value; zero for the other forms.
func (v Value) Float() float64 { return v.number }

// Word is a Word's text; empty for the other forms.
func (v Value) Word() string { return v.word }

// Ints is a list's members, ascending. The caller must not change them.
func (v Value) Ints() []int { return v.ints }

// Equal reports whether two values are the same. A whole Number equals the same Int: JSON does not tell them apart.
func (v Value) Equal(w Value) bool {
	numeric := func(f Form) bool { return f == Number || f == Int }
	if numeric(v.form) && numeric(w.form) {
		return v.number == w.number
	}
	return v.form == w.form && v.number == w.number && v.word == w.word && slices.Equal(v.ints, w.ints)
}

func (v Value) String() string {
	switch v.form {
	case Number, Int:
		return strconv.FormatFloat(v.number, 'f', -1, 64)
	case Flag:
		if v.number == 1 {
			return "yes"
		}
		return "no"
	case Ints:
		words := make([]string, len(v.ints))
		for i, n := range v.ints {
			words[i] = strconv.Itoa(n)
		}
		return strings.Join(words, "/")
	}
	return v.word
}

// MarshalJSON writes the plain JSON value: a number, a string, a boolean or a list.
func (v Value) MarshalJSON() ([]byte, error) {
	switch v.form {
	case Number, Int:
		return []byte(v.String()), nil
	case Word:
		return json.Marshal(v.word)
	case Flag:
		return json.Marshal(v.number == 1)
	case Ints:
		return json.Marshal(v.ints)
	}
	return nil, fmt.Errorf("a dimension without a value cannot be written: leave it out")
}

// UnmarshalJSON reads a plain JSON value. A JSON number becomes a Number; Spec.Check turns it into an Int where the
// vocabulary says so.
func (v *Value) UnmarshalJSON(data []byte) error {
	parser := parsers.Get()
	defer parsers.Put(parser)
	read, err := parser.ParseBytes(data)
	if err == nil {
		*v, err = ReadValue(read)
	}
	return err
}

// parsers keep their memory from one text to the next.
var parsers fastjson.ParserPool

// ReadValue is a plain JSON value as a dimension's: a number, a text, true or false, or a list of whole numbers.
func ReadValue(v *fastjson.Value) (Value, error) {
	switch v.Type() {
	case fastjson.TypeNumber:
		return Num(v.GetFloat64()), nil
	case fastjson.TypeString:
		return Text(string(v.GetStringBytes())), nil
	case fastjson.TypeTrue, fastjson.TypeFalse:
		return Yes(v.GetBool()), nil
	case fastjson.TypeArray:
		items := v.GetArray()
		ns := make([]int, len(items))
		for i, item := range items {
			x, err := item.Float64()
			if err != nil || x != math.Trunc(x) || math.Abs(x) > 1e6 {
				return Value{}, fmt.Errorf("a list holds whole numbers only, not %s", item)
			}
			ns[i] = int(x)
		}
		return List(ns...), nil
	}
	return Value{}, fmt.Errorf("a dimension is a number, a word, true or false, or a list of whole numbers, not %s", v)
}
