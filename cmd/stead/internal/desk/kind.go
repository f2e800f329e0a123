package desk

import (
	"cmp"
	"slices"

	"stead/inventory/leadtime"
	"stead/substitution"
)

// Kind is a family of parts with what its parts are called.
type Kind struct {
	Family substitution.Family
	Words  string
}

// Kinds are all families, by what their parts are called.
func Kinds() (out []Kind) {
	for _, f := range substitution.Families() {
		out = append(out, Kind{f, KindWords(f)})
	}
	slices.SortFunc(out, func(a, b Kind) int { return cmp.Compare(a.Words, b.Words) })
	return out
}

// KindWords are what the parts of a family are called: "rim brake pads".
func KindWords(f substitution.Family) string {
	table, err := substitution.TableOf(f)
	if err != nil {
		return string(f)
	}
	return table.Plural
}

// SignalWords say what a supplier says of its stock.
func SignalWords(s leadtime.Signal) string {
	switch s {
	case leadtime.InStock:
		return "in stock"
	case leadtime.Low:
		return "few left"
	case leadtime.ToOrder:
		return "to order"
	}
	return "not said"
}
