package paper

import (
	"strconv"

	"stead/inventory"
)

// Count is a sheet for a stocktake of one bin, with a line to write each count on. How many there should be stands nowhere.
func Count(sheet inventory.Sheet) func(*Sheet) {
	return func(s *Sheet) {
		s.Title("Bin " + sheet.Bin)
		var rows [][]string
		for _, l := range sheet.Lines {
			rows = append(rows, []string{strconv.FormatInt(l.PartID, 10), l.Code, l.Name, "______"})
		}
		s.Table([]string{"PART", "CODE", "NAME", ">COUNTED"}, rows)
	}
}
