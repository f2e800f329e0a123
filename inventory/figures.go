package inventory

import (
	"time"

	"stead/inventory/calendar"
	"stead/inventory/reorder"
)

// Figures are what an advice is made of, for whoever asks why.
type Figures struct {
	Months   []MonthSold          `json:"months"`    // the last twelve and this one, the oldest first
	Parts    int                  `json:"parts"`     // of the shop that have sold, from which the rest of the forecast comes
	LeadMost int                  `json:"lead_most"` // working days within which it comes nine times in ten; 0 where nobody offers it
	Whose    reorder.SeasonSource `json:"season_is"` // whose season is reckoned with
}

// MonthSold is what was asked for of a part in a month.
type MonthSold struct {
	First  calendar.Day `json:"first"` // day of it
	Sales  int          `json:"sales"`
	Pieces int          `json:"pieces"`
	Season float64      `json:"season"` // what is asked for in such a month over a usual one
}

// figures of a part.
func (s *ShelfAdvice) figures(k *Keeping) *Figures {
	insight := s.weighed.Insight(k.item)
	f := &Figures{Parts: insight.Parts, Whose: insight.Season}
	season, _ := s.weighed.Season(k.item)
	now := s.today().Time()
	for back := 12; back >= 0; back-- {
		first := time.Date(now.Year(), now.Month()-time.Month(back), 1, 0, 0, 0, 0, time.UTC)
		m := MonthSold{First: calendar.DayOf(first), Season: season[first.Month()-1]}
		next := calendar.DayOf(first.AddDate(0, 1, 0))
		for _, sale := range s.booked.Sales(k.PartID) {
			if day := calendar.Day(reorder.DaysSince1970(sale.Day)); day >= m.First && day < next && sale.Share == 0 {
				m.Sales++
				m.Pieces += sale.Pieces
			}
		}
		f.Months = append(f.Months, m)
	}
	if k.sourced {
		within := 0.0
		for day, chance := range s.weighed.Item(k.item).Lead.OnDay {
			if within += chance; within >= 0.9 {
				f.LeadMost = day
				break
			}
		}
	}
	return f
}
