package paper_test

import (
	"testing"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/paper"
	"stead/inventory"
	"stead/substitution"
)

// parcel is an order of two lines of which one is for a job in which it stands in for another part.
func parcel() desk.GoodsIn {
	v := desk.GoodsIn{Codes: map[int64]string{7: "HL-4711", 8: "HL-12"}, Homes: map[int64]string{71: "D2"},
		Awaits: []inventory.Awaited{{LineID: 7, PartID: 71, Part: "ring 50T silver", Pieces: 2, Jobs: []inventory.Holder{{JobID: 101, Pieces: 1}}}, {LineID: 8, PartID: 72, Part: "cork tape", Pieces: 12}},
		Measure: []inventory.ToMeasure{{JobID: 101, Place: "crank.outer-ring", PartID: 71, Part: "ring 50T silver",
			Dimensions: []inventory.DimensionToCheck{{Means: "bolt circle", Value: "110 mm", Measure: "caliper, hole to hole"}, {Means: "teeth", Value: "50"}}}}}
	v.Clock = desk.At(now)
	v.Order.Order = inventory.Order{ID: 501, PlacedAt: now, State: "placed"}
	v.Supplier = inventory.Supplier{Name: "Harbour Lane Cycle Trade"}
	v.Parts = map[int64]inventory.Part{71: {ID: 71, Part: substitution.Part{Name: "ring 50T silver"}}, 72: {ID: 72}}
	return v
}

func TestGoodsIn(t *testing.T) {
	v := parcel()
	says := []string{v.Title(), v.Head(), "HL-4711", "ring 50T silver", "D2", "HL-12", "cork tape", "12", "1 of ring 50T silver for job 101", desk.MeasureWords(v.Measure[0]),
		"bolt circle: 110 mm (caliper, hole to hole)", "teeth: 50", "delivery note"}
	requireRead(t, paper.GoodsIn(v), says...)
}
