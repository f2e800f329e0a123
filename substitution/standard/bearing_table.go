package standard

import "fmt"

var (
	refISO15     = Reference{"ISO 15 boundary dimensions, as three bearing makers' catalogues print them alike", Catalogue}
	refOneOf     = Reference{"ISO 15 boundary dimensions, one bearing maker's catalogue", Catalogue}
	refMiniature = Reference{"a miniature-bearing catalogue: 6700 open is 10 x 15 x 3, closed 10 x 15 x 4", Catalogue}
	refInch      = Reference{"inch (R) series, a bearing maker's catalogue", Catalogue}
)

// series10 are the ISO dimension series from bore 10 mm: outer diameter and width for bore codes 00 to 10. In these
// series the open, shielded and sealed bearing have one width.
var series10 = []struct {
	prefix string
	sizes  [11][2]float64
}{
	{"67", [11][2]float64{{15, 3}, {18, 4}, {21, 4}, {23, 4}, {27, 4}, {32, 4}, {37, 4}, {44, 5}, {50, 6}, {55, 6}, {62, 6}}},
	{"68", [11][2]float64{{19, 5}, {21, 5}, {24, 5}, {26, 5}, {32, 7}, {37, 7}, {42, 7}, {47, 7}, {52, 7}, {58, 7}, {65, 7}}},
	{"69", [11][2]float64{{22, 6}, {24, 6}, {28, 7}, {30, 7}, {37, 9}, {42, 9}, {47, 9}, {55, 10}, {62, 12}, {68, 12}, {72, 12}}},
	{"60", [11][2]float64{{26, 8}, {28, 8}, {32, 9}, {35, 10}, {42, 12}, {47, 12}, {55, 13}, {62, 14}, {68, 15}, {75, 16}, {80, 16}}},
	{"62", [11][2]float64{{30, 9}, {32, 10}, {35, 11}, {40, 12}, {47, 14}, {52, 15}, {62, 16}, {72, 17}, {80, 18}, {85, 19}, {90, 20}}},
	{"63", [11][2]float64{{35, 11}, {37, 12}, {42, 13}, {47, 14}, {52, 15}, {62, 17}, {72, 19}, {80, 21}, {90, 23}, {100, 25}, {110, 27}}},
}

// series3 are bores 3 to 9 mm: outer diameter, width open, width closed. Small bearings are often wider closed than
// open, so the seal is part of the size.
var series3 = []struct {
	prefix string
	sizes  [7][3]float64
}{
	{"67", [7][3]float64{{6, 2, 2.5}, {7, 2, 2.5}, {8, 2, 2.5}, {10, 2.5, 3}, {11, 2.5, 3}, {12, 2.5, 3.5}, {14, 3, 4.5}}},
	{"68", [7][3]float64{{7, 2, 3}, {9, 2.5, 4}, {11, 3, 5}, {13, 3.5, 5}, {14, 3.5, 5}, {16, 4, 5}, {17, 4, 5}}},
	{"69", [7][3]float64{{8, 3, 4}, {11, 4, 4}, {13, 4, 4}, {15, 5, 5}, {17, 5, 5}, {19, 6, 6}, {20, 6, 6}}},
	{"60", [7][3]float64{{9, 3, 5}, {12, 4, 4}, {14, 5, 5}, {17, 6, 6}, {19, 6, 6}, {22, 7, 7}, {24, 7, 7}}},
	{"62", [7][3]float64{{10, 4, 4}, {13, 5, 5}, {16, 5, 5}, {19, 6, 6}, {22, 7, 7}, {24, 8, 8}, {26, 8, 8}}},
	{"63", [7][3]float64{{13, 5, 5}, {16, 5, 5}, {19, 6, 6}, {22, 7, 7}, {26, 9, 9}, {28, 9, 9}, {30, 10, 10}}},
}

// boreOfCode is the bore in millimetres that a two-digit ISO bore code stands for: 00 to 03 are 10, 12, 15 and 17,
// from 04 on it is five times the code.
func boreOfCode(code int) (float64, error) {
	switch {
	case code < 0 || code > 96:
		return 0, fmt.Errorf("bore code %02d does not exist: codes run from 00 to 96", code)
	case code < 4:
		return []float64{10, 12, 15, 17}[code], nil
	}
	return float64(5 * code), nil
}

// otherSizes are the narrow, wide, literal-bore and double-row sizes that the two series tables do not hold.
var otherSizes = []BearingSize{
	metric("60/22", 22, 44, 12, refOneOf), metric("60/28", 28, 52, 12, refOneOf), metric("60/32", 32, 58, 13, refOneOf),
	metric("62/22", 22, 50, 14, refOneOf),
	metric("628/4", 4, 9, 3.5, refOneOf), metric("638/4", 4, 9, 4, refOneOf),
	metric("628/5", 5, 11, 4, refOneOf), metric("638/5", 5, 11, 5, refOneOf),
	metric("628/8", 8, 16, 5, refOneOf), metric("638/8", 8, 16, 6, refOneOf),

	metric("16001", 12, 28, 7, refOneOf), metric("16002", 15, 32, 8, refOneOf), metric("16003", 17, 35, 8, refOneOf),
	metric("16004", 20, 42, 8, refOneOf), metric("16005", 25, 47, 8, refOneOf), metric("16006", 30, 55, 9, refOneOf),
	metric("16100", 10, 28, 8, refOneOf), metric("16101", 12, 30, 8, refOneOf),

	metric("63000", 10, 26, 12, refOneOf), metric("63001", 12, 28, 12, refOneOf), metric("63002", 15, 32, 13, refOneOf),
	metric("63003", 17, 35, 14, refOneOf), metric("63004", 20, 42, 16, refOneOf), metric("63005", 25, 47, 16, refOneOf),
	metric("62200", 10, 30, 14, refOneOf), metric("62201", 12, 32, 14, refOneOf), metric("62202", 15, 35, 14, refOneOf),
	metric("62203", 17, 40, 16, refOneOf), metric("62300", 10, 35, 17, refOneOf),

	wide68("63800", 10, 19, 7), wide68("63801", 12, 21, 7), wide68("63802", 15, 24, 7), wide68("63803", 17, 26, 7),
	wide68("63804", 20, 32, 10), wide68("63805", 25, 37, 10), wide68("63806", 30, 42, 10),

	doubleRow("3800", 10, 19, 7), doubleRow("3801", 12, 21, 7), doubleRow("3802", 15, 24, 7), doubleRow("3803", 17, 26, 7),
	doubleRow("3804", 20, 32, 10), doubleRow("3805", 25, 37, 10), doubleRow("3806", 30, 42, 10), doubleRow("3807", 35, 47, 10),
	doubleRow("3808", 40, 52, 10), doubleRow("3809", 45, 58, 10), doubleRow("3810", 50, 65, 12),

	{Name: "MR85", Kind: DeepGroove, BoreMM: 5, OuterMM: 8, OpenMM: 2.5, ClosedMM: 2.5, Reference: refMR},
	{Name: "MR95", Kind: DeepGroove, BoreMM: 5, OuterMM: 9, OpenMM: 3, ClosedMM: 3, Reference: refMR},
	{Name: "MR63", Kind: DeepGroove, BoreMM: 3, OuterMM: 6, OpenMM: 2.5, ClosedMM: 2.5, Reference: refMR},
}

var refMR = Reference{"MR + outer + bore, as an open parts library lists it", Practice}

// inchSizes are the R series, in inches as the catalogues print them: bore, outer, width open, width closed.
var inchSizes = []struct {
	name                      string
	bore, outer, open, closed float64
	ref                       Reference
	note                      string
}{
	{"R2", 1. / 8, 3. / 8, 5. / 32, 5. / 32, refInch, ""},
	{"R3", 3. / 16, 1. / 2, 5. / 32, 0.196, fromMemory("closed width of R3"), "the closed width is from memory"},
	{"R4", 1. / 4, 5. / 8, 0.196, 0.196, refInch, ""},
	{"R4A", 1. / 4, 3. / 4, 7. / 32, 9. / 32, fromMemory("closed width of R4A"), "the closed width is from memory"},
	{"R6", 3. / 8, 7. / 8, 7. / 32, 9. / 32, refInchClosed, ""},
	{"R8", 1. / 2, 1 + 1./8, 1. / 4, 5. / 16, refInchClosed, ""},
	{"R10", 5. / 8, 1 + 3./8, 9. / 32, 11. / 32, refInchClosed, ""},
	{"R12", 3. / 4, 1 + 5./8, 5. / 16, 7. / 16, refInchClosed, ""},
}

var refInchClosed = Reference{"inch (R) series, a bearing maker's catalogue; closed width from a design handbook page", Handbook}

// bicycleSizes have no ISO name. The trade names them by bore, outer and width in one run of digits.
var bicycleSizes = []BearingSize{
	bicycle("15267", 15, 26, 7), bicycle("15268", 15, 26, 8), bicycle("17287", 17, 28, 7), bicycle("18307", 18, 30, 7),
	bicycle("24377", 24, 37, 7), bicycle("29427", 29, 42, 7),
	{Name: "25376", Kind: DeepGroove, BoreMM: 25, OuterMM: 37, OpenMM: 6, ClosedMM: 6,
		Note:      "thin version of 6805 found in one maker's bottom-bracket cups",
		Reference: Reference{"a workshop forum's measurement", Practice}},
}

func metric(name string, bore, outer, width float64, ref Reference) BearingSize {
	return BearingSize{Name: name, Kind: DeepGroove, BoreMM: bore, OuterMM: outer, OpenMM: width, ClosedMM: width, ISO: true, Reference: ref}
}

func wide68(name string, bore, outer, width float64) BearingSize {
	s := metric(name, bore, outer, width, fromMemory("the name "+name+" for this envelope"))
	s.Note = "wide single row; 3" + name[2:] + " has the same envelope but two rows of balls"
	return s
}

func doubleRow(name string, bore, outer, width float64) BearingSize {
	s := metric(name, bore, outer, width, refOneOf)
	s.Kind, s.Note = DoubleRow, "double row: 6"+name+" has the same envelope but one row of balls"
	return s
}

func bicycle(name string, bore, outer, width float64) BearingSize {
	return BearingSize{Name: name, Kind: DeepGroove, BoreMM: bore, OuterMM: outer, OpenMM: width, ClosedMM: width,
		Note: "a bicycle size without an ISO name", Reference: fromMemory("bicycle trade size")}
}

var bearingSizes, bearingIndex = buildBearings()

func buildBearings() ([]BearingSize, map[string]int) {
	var sizes []BearingSize
	for _, series := range series10 {
		for code, size := range series.sizes {
			bore, _ := boreOfCode(code)
			row := metric(fmt.Sprintf("%s%02d", series.prefix, code), bore, size[0], size[1], refISO15)
			if row.Name == "6700" {
				row.ClosedMM, row.Reference = 4, refMiniature // the one size of these series whose closed bearing is wider
			}
			if alias, ok := longSeries[series.prefix]; ok {
				row.Aliases = []string{fmt.Sprintf("%s%02d", alias, code)}
			}
			sizes = append(sizes, row)
		}
	}
	for _, series := range series3 {
		for i, size := range series.sizes {
			bore := i + 3
			row := metric(fmt.Sprintf("%s%d", series.prefix, bore), float64(bore), size[0], size[1], refISO15)
			row.ClosedMM = size[2]
			if alias, ok := longSeries[series.prefix]; ok {
				row.Aliases = []string{fmt.Sprintf("%s/%d", alias, bore)}
			}
			if series.prefix == "68" && bore >= 7 {
				row.Note = "catalogues disagree on the closed width: 5 mm is usual, one prints the open width; measure it"
			}
			sizes = append(sizes, row)
		}
	}
	sizes = append(sizes, otherSizes...)
	for _, r := range inchSizes {
		sizes = append(sizes, BearingSize{Name: r.name, Kind: DeepGroove, BoreMM: r.bore * Inch, OuterMM: r.outer * Inch,
			OpenMM: r.open * Inch, ClosedMM: r.closed * Inch, ISO: true, Note: r.note, Reference: r.ref})
	}
	sizes = append(sizes, bicycleSizes...)

	index := make(map[string]int)
	for i, s := range sizes {
		index[s.Name] = i
		for _, alias := range s.Aliases {
			index[alias] = i
		}
	}
	return sizes, index
}

// longSeries are the five-figure names of the thin series: 61902 is 6902, 618/8 is 688.
var longSeries = map[string]string{"67": "617", "68": "618", "69": "619"}
