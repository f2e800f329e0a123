package paper

import (
	"strconv"

	"stead/cmd/stead/internal/desk"
)

// GoodsIn is what a parcel should hold, to tick while it is unpacked: what came of each line, whose it is, and what is to be
// measured of it.
func GoodsIn(v desk.GoodsIn) func(*Sheet) {
	return func(s *Sheet) {
		s.Title(v.Title())
		s.Say(v.Head())
		s.Gap()
		var rows [][]string
		var whose []string
		for _, l := range v.Due() {
			rows = append(rows, []string{l.Code, l.Part, l.Bin, strconv.Itoa(l.Pieces), blank, blank, blank})
			whose = append(whose, l.For...)
		}
		s.Table([]string{"CODE", "PART", "BIN", ">TO COME", ">RIGHT", ">WRONG", ">DAMAGED"}, rows)
		if len(whose) > 0 {
			s.Head("Whose it is")
			for _, words := range whose {
				s.Tick(words)
			}
		}
		for _, m := range v.Measure {
			s.Head(desk.MeasureWords(m))
			for _, words := range desk.MeasureLines(m) {
				s.Tick(words)
			}
		}
		s.Gap()
		s.Points([]string{"delivery note " + blank + blank, "day " + blank + " by " + blank})
	}
}

// blank is a line to write on.
const blank = "______"
