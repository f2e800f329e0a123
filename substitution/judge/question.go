package judge

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/valyala/fastjson"

	"stead/substitution"
)

// Kind is what a question asks, as it is written.
type Kind string

// The kinds of question.
const (
	Pair    Kind = "pair"    // do a and b go together
	Instead Kind = "instead" // may b stand in for a
	AtPlace Kind = "place"   // does b go at a place of the bike
)

// Question is one question of fit.
type Question struct {
	ID    string // as JSON: a text in quotes or a number; empty where none is given
	Kind  Kind
	A, B  *substitution.Part
	Place substitution.Place
	Bike  substitution.Build
}

// parsers keep their memory from one question to the next.
var parsers fastjson.ParserPool

// Read reads a question, or says in one sentence what of it cannot be meant and what was expected. What is read of it
// until then, its name above all, is returned in any case.
func Read(line []byte) (Question, error) {
	var q Question
	parser := parsers.Get()
	defer parsers.Put(parser)
	text, err := parser.ParseBytes(line)
	if err != nil {
		return q, fmt.Errorf("it is no JSON: %s", firstClause(err))
	}
	if text.Type() != fastjson.TypeObject {
		return q, errors.New(`a question is an object, such as {"id": "1", "kind": "pair", "a": {…}, "b": {…}}`)
	}
	if q.ID, err = readName(text.Get("id")); err != nil {
		return q, err
	}
	q.Kind = Kind(text.GetStringBytes("kind"))
	if !slices.Contains([]Kind{Pair, Instead, AtPlace}, q.Kind) {
		return q, fmt.Errorf("kind is one of pair, instead, place, not %s", written(text.Get("kind")))
	}
	if q.A, err = readPart("a", text.Get("a"), q.Kind != AtPlace); err != nil {
		return q, err
	}
	if q.B, err = readPart("b", text.Get("b"), true); err != nil {
		return q, err
	}
	if q.Bike, err = readBike(text.Get("bike")); err != nil {
		return q, err
	}
	return q, q.readPlace(text.Get("place"))
}

// readName is the question's name as JSON, so that the answer bears the very same.
func readName(id *fastjson.Value) (string, error) {
	if absent(id) {
		return "", nil
	}
	if id.Type() == fastjson.TypeString {
		name, err := json.Marshal(string(id.GetStringBytes()))
		return string(name), err
	}
	if name := id.MarshalTo(nil); id.Type() == fastjson.TypeNumber && json.Valid(name) {
		return string(name), nil
	}
	return "", errors.New("id is a text or a number")
}

func (q *Question) readPlace(place *fastjson.Value) error {
	if absent(place) {
		if q.Kind == AtPlace {
			return errors.New("place is missing: say where on the bike b goes, such as rear.cassette")
		}
		return nil
	}
	q.Place = substitution.Place(place.GetStringBytes())
	site, err := substitution.SiteOf(q.Place)
	if err != nil {
		return fmt.Errorf("place: %w", err)
	}
	if q.Kind != Pair && q.B.Family != site.Family {
		return fmt.Errorf("b: the %s takes a %s, not a %s", site.Words, site.Family, q.B.Family)
	}
	return nil
}

func readBike(bike *fastjson.Value) (substitution.Build, error) {
	build := substitution.Build{}
	if absent(bike) {
		return build, nil
	}
	fields, err := bike.Object()
	if err != nil {
		return nil, errors.New(`bike is an object of parts by place, such as {"rear.rim": {"family": "rim", "spec": {"bead_mm": 622}}}`)
	}
	fields.Visit(func(key []byte, value *fastjson.Value) {
		place := substitution.Place(key)
		part, wrong := readFitted(place, value)
		if _, twice := build[place]; twice && wrong == nil {
			wrong = fmt.Errorf("bike: %s is named twice", place)
		}
		if wrong != nil && err == nil {
			err = wrong
		}
		build[place] = part
	})
	return build, err
}

// readFitted reads what is fitted at a place; null and an empty object are a part of which nothing is known.
func readFitted(place substitution.Place, value *fastjson.Value) (*substitution.Part, error) {
	site, err := substitution.SiteOf(place)
	if err != nil {
		return nil, fmt.Errorf("bike: %w", err)
	}
	if absent(value) || value.Type() == fastjson.TypeObject && value.GetObject().Len() == 0 {
		return nil, nil
	}
	part, err := readPart("bike: "+string(place), value, true)
	if err != nil {
		return nil, err
	}
	if part.Family != site.Family {
		return nil, fmt.Errorf("bike: the %s takes a %s, not a %s", site.Words, site.Family, part.Family)
	}
	return part, nil
}

// readPart reads a family and a spec whose values are as a person types them, or already of their form.
func readPart(field string, value *fastjson.Value, needed bool) (*substitution.Part, error) {
	if absent(value) {
		if needed {
			return nil, fmt.Errorf(`%s is missing: it is a part, such as {"family": "chain", "spec": {"speeds": "9"}}`, field)
		}
		return nil, nil
	}
	if value.Type() != fastjson.TypeObject {
		return nil, fmt.Errorf(`%s is a part, such as {"family": "chain", "spec": {"speeds": "9"}}, not %s`, field, written(value))
	}
	table, err := substitution.TableOf(substitution.Family(value.GetStringBytes("family")))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", field, err)
	}
	part := substitution.Part{Family: table.Family, Spec: substitution.Spec{}}
	if spec := value.Get("spec"); !absent(spec) {
		dimensions, notOne := spec.Object()
		if notOne != nil {
			return nil, fmt.Errorf("%s: spec is an object of values by dimension, not %s", field, written(spec))
		}
		err = readSpec(table, part.Spec, dimensions)
	}
	if err == nil {
		err = part.CheckOwn()
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", field, err)
	}
	return &part, nil
}

func readSpec(table *substitution.Table, spec substitution.Spec, dimensions *fastjson.Object) error {
	wrong := map[string]error{}
	dimensions.Visit(func(key []byte, value *fastjson.Value) {
		name := string(key)
		if value.Type() == fastjson.TypeNull {
			return // not known
		}
		v, err := substitution.ReadValue(value)
		if err != nil {
			err = fmt.Errorf("%s: %w", name, err)
		} else {
			err = table.Put(spec, name, v, substitution.Assumed)
		}
		if err != nil {
			wrong[name] = err
		}
	})
	if len(wrong) == 0 {
		return nil
	}
	return wrong[slices.Min(slices.Collect(maps.Keys(wrong)))]
}

func absent(v *fastjson.Value) bool { return v == nil || v.Type() == fastjson.TypeNull }

// written is a piece of JSON as it stands, cut short.
func written(v *fastjson.Value) string {
	if v == nil {
		return "nothing"
	}
	text := []rune(v.String())
	if len(text) > 40 {
		return string(text[:40]) + "…"
	}
	return string(text)
}

// firstClause is a fault of the JSON without the text that the reader quotes behind it.
func firstClause(err error) string {
	words, _, _ := strings.Cut(err.Error(), "; unparsed tail")
	return strings.Join(strings.Fields(words), " ")
}
