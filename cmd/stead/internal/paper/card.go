package paper

import "stead/cmd/stead/internal/desk"

// Card is a job on a sheet for the bench, with a box to tick for each thing to do.
func Card(c desk.Card) func(*Sheet) {
	return func(s *Sheet) {
		s.Title(c.Title())
		s.Barcode(c.Label())
		s.Points(c.Head())
		for _, l := range c.Places {
			s.Head(l.Title())
			for _, words := range l.ToDo() {
				s.Tick(words)
			}
			s.Points(l.Found())
		}
		s.Gap()
		s.Points(c.Notes())
	}
}
