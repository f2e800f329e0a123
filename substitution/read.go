package substitution

import (
	"fmt"

	"github.com/valyala/fastjson"
)

// ReadPart is a part as a catalogue keeps it: its values as a JSON object by dimension, beside it where they came from
// and remarks. It is opened as Part.Recorded does. A search reads thousands of parts, and encoding/json would take most
// of its time.
func ReadPart(family Family, name string, values []byte, from map[string]Origin, notes map[string]string) (Part, error) {
	parser := parsers.Get()
	defer parsers.Put(parser)
	read, err := parser.ParseBytes(values)
	if err != nil {
		return Part{}, fmt.Errorf("its dimensions: %w", err)
	}
	object, err := read.Object()
	if err != nil {
		return Part{}, fmt.Errorf("its dimensions: %w", err)
	}
	spec := make(Spec, object.Len())
	object.Visit(func(key []byte, value *fastjson.Value) {
		dimension := string(key)
		v, wrong := ReadValue(value)
		if wrong != nil && err == nil {
			err = fmt.Errorf("%s: %w", dimension, wrong)
		}
		spec[dimension] = factOf(v, from[dimension], notes[dimension])
	})
	if err != nil {
		return Part{}, err
	}
	return Part{Family: family, Name: name, Spec: spec}.Recorded()
}
