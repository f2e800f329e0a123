package paper_test

import (
	"testing"

	"stead/cmd/stead/internal/paper"
	"stead/inventory"
)

func TestCount(t *testing.T) {
	requireRead(t, paper.Count(inventory.Sheet{Bin: "D2", Lines: []inventory.SheetLine{{PartID: 71, Code: "KES-B14", Name: "balls 1/4 in"}}}),
		"Bin D2", "71", "KES-B14", "balls 1/4 in", "______")
}
