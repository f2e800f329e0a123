package describe

import (
	"bytes"
	"encoding/json"
	"strconv"
	"unicode/utf8"

	"stead/substitution"
)

// MarshalJSON writes the reading on one line: {"text":…,"family":…|null,"spec":{…},"unread":[…]}.
func (r Reading) MarshalJSON() ([]byte, error) { return r.AppendJSON(nil) }

// AppendJSON adds the reading to b, as MarshalJSON writes it. Encoding by reflection would take longer than the reading
// itself.
func (r Reading) AppendJSON(b []byte) ([]byte, error) {
	b = appendText(append(b, `{"text":`...), r.Text)
	b = append(b, `,"family":`...)
	if r.Family == "" {
		b = append(b, "null"...)
	} else {
		b = appendText(b, string(r.Family))
	}
	b = append(b, `,"spec":{`...)
	for i, name := range r.Spec.Names() {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(appendText(b, name), ':')
		var err error
		if b, err = appendValue(b, r.Spec[name].Value); err != nil {
			return nil, err
		}
	}
	b = append(b, `},"unread":[`...)
	for i, word := range r.Unread {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendText(b, word)
	}
	return append(b, "]}"...), nil
}

func appendValue(b []byte, v substitution.Value) ([]byte, error) {
	switch v.Form() {
	case substitution.Word:
		return appendText(b, v.Word()), nil
	case substitution.Ints:
		b = append(b, '[')
		for i, n := range v.Ints() {
			if i > 0 {
				b = append(b, ',')
			}
			b = strconv.AppendInt(b, int64(n), 10)
		}
		return append(b, ']'), nil
	}
	text, err := v.MarshalJSON()
	return append(b, text...), err
}

// appendText adds a JSON string. Most texts need nothing but the quotation marks.
func appendText(b []byte, s string) []byte {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c == '"' || c == '\\' || c >= utf8.RuneSelf {
			return appendEscaped(b, s)
		}
	}
	b = append(b, '"')
	b = append(b, s...)
	return append(b, '"')
}

// appendEscaped leaves what is unusual to the standard library, but for the signs that it escapes for web pages only.
func appendEscaped(b []byte, s string) []byte {
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(s); err != nil {
		panic(err) // a string always encodes
	}
	return append(b, bytes.TrimSuffix(out.Bytes(), []byte{'\n'})...)
}
