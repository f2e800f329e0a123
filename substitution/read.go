package substitution

import (
	"bytes"
	"encoding/json"
	"strconv"
	"unicode/utf8"
)

// ReadPart is a part as a catalogue keeps it: its values as a JSON object by dimension, beside it where they came from and
// remarks. It is checked as Part.Check does. A search reads thousands of parts, so what is written plainly, as nearly all is,
// is read without encoding/json, which takes several times as long.
func ReadPart(family Family, name string, values []byte, from map[string]Origin, notes map[string]string) (Part, error) {
	spec, plain := readPlain(values, from, notes)
	if !plain {
		var read map[string]Value
		if err := json.Unmarshal(values, &read); err != nil {
			return Part{}, err
		}
		spec = MakeSpec(read, from, notes)
	}
	p := Part{Family: family, Name: name, Spec: spec}
	if err := p.settle(); err != nil {
		return Part{}, err
	}
	return p, nil
}

// readPlain reads an object of plain values, or reports that it is not quite plain: there are escapes in it, or mistakes.
func readPlain(data []byte, from map[string]Origin, notes map[string]string) (Spec, bool) {
	spec := make(Spec, bytes.Count(data, []byte{':'}))
	rest, ok := after(data, '{')
	if end, empty := after(rest, '}'); empty {
		return spec, ok && len(end) == 0
	}
	for ok {
		var name string
		var v Value
		if name, rest, ok = plainText(rest); !ok {
			break
		}
		if rest, ok = after(rest, ':'); !ok {
			break
		}
		if v, rest, ok = plainValue(rest); !ok {
			break
		}
		spec[name] = factOf(v, from[name], notes[name])
		if end, last := after(rest, '}'); last {
			return spec, len(end) == 0
		}
		rest, ok = after(rest, ',')
	}
	return nil, false
}

// after is what follows a sign and the blanks around it.
func after(data []byte, sign byte) ([]byte, bool) {
	data = bytes.TrimLeft(data, " \t\r\n")
	if len(data) == 0 || data[0] != sign {
		return data, false
	}
	return bytes.TrimLeft(data[1:], " \t\r\n"), true
}

// plainText reads a string without escapes.
func plainText(data []byte) (text string, rest []byte, ok bool) {
	if len(data) == 0 || data[0] != '"' {
		return "", data, false
	}
	end := bytes.IndexByte(data[1:], '"') + 1
	if end == 0 {
		return "", data, false
	}
	inside := data[1:end]
	for _, c := range inside {
		if c < ' ' || c == '\\' {
			return "", data, false
		}
	}
	return string(inside), data[end+1:], utf8.Valid(inside)
}

func plainValue(data []byte) (v Value, rest []byte, ok bool) {
	if text, rest, ok := plainText(data); ok {
		return Text(text), rest, true
	}
	if rest, ok := bytes.CutPrefix(data, []byte("true")); ok {
		return Yes(true), rest, true
	}
	if rest, ok := bytes.CutPrefix(data, []byte("false")); ok {
		return Yes(false), rest, true
	}
	if rest, ok := after(data, '['); ok {
		return plainList(rest)
	}
	x, rest, ok := plainNumber(data)
	return Num(x), rest, ok
}

func plainList(data []byte) (v Value, rest []byte, ok bool) {
	var list []int
	for {
		x, rest, ok := plainNumber(data)
		n := int(x)
		if !ok || float64(n) != x || n < -1e6 || n > 1e6 {
			return Value{}, rest, false
		}
		list = append(list, n)
		if end, last := after(rest, ']'); last {
			return List(list...), end, true
		}
		if data, ok = after(rest, ','); !ok {
			return Value{}, data, false
		}
	}
}

func plainNumber(data []byte) (x float64, rest []byte, ok bool) {
	end := 0
	if len(data) > 0 && data[0] == '+' {
		return 0, data, false
	}
	for end < len(data) && (data[end] >= '0' && data[end] <= '9' || bytes.IndexByte([]byte("+-.eE"), data[end]) >= 0) {
		end++
	}
	x, err := strconv.ParseFloat(string(data[:end]), 64)
	return x, data[end:], err == nil && end > 0
}
