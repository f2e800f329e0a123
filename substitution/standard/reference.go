package standard

import "fmt"

// Confidence says how well a figure is known, weakest first, so that the weaker of two is the smaller.
type Confidence int

const (
	// Memory marks a figure that nobody has looked up: show it, but rest no verdict on it.
	Memory Confidence = iota
	// Practice is what workshops and trade pages do; no standard or maker was read.
	Practice
	// Handbook is a technical reference or handbook page.
	Handbook
	// Catalogue is a maker's catalogue or chart.
	Catalogue
	// Published is the text or a reproduced table of a published standard or regulation.
	Published
)

var confidenceWords = [...]string{"from memory", "common practice", "handbook", "maker's catalogue", "published standard"}

// String gives the words a mechanic reads. It panics on a value that is no Confidence.
func (c Confidence) String() string {
	if c < Memory || c > Published {
		panic(fmt.Sprintf("standard: impossible confidence %d", int(c)))
	}
	return confidenceWords[c]
}

// Firm reports whether a verdict may rest on the figure: anything but memory.
func (c Confidence) Firm() bool { return c > Memory }

// MarshalText writes the confidence as its words.
func (c Confidence) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads the words back; an unknown word is an error.
func (c *Confidence) UnmarshalText(text []byte) error {
	for i, word := range confidenceWords {
		if word == string(text) {
			*c = Confidence(i)
			return nil
		}
	}
	return fmt.Errorf("%q is not a confidence: use one of %q", text, confidenceWords)
}

// Reference is where a figure comes from and how sure it is. Every row of every table carries one.
type Reference struct {
	Source     string     `json:"source"`
	Confidence Confidence `json:"confidence"`
}

// String reads "source (how sure)".
func (r Reference) String() string { return r.Source + " (" + r.Confidence.String() + ")" }

// fromMemory is the reference of a row that nobody has confirmed.
func fromMemory(what string) Reference {
	return Reference{Source: what + ", not confirmed: measure", Confidence: Memory}
}
