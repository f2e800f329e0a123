package shelf

import (
	"time"

	"stead/inventory/calendar"
	"stead/inventory/reorder"
)

// Figures are what an advice is made of, for whoever asks why.
type Figures struct {
	Weeks    []WeekSold           `json:"weeks"`     // of the last twelve months and this one, the oldest first, since the books began
	Parts    int                  `json:"parts"`     // of the shop that have sold, from which the rest of the forecast comes
	LeadMost int                  `json:"lead_most"` // working days within which it comes nine times in ten; 0 where nobody offers it
	Whose    reorder.SeasonSource `json:"season_is"` // whose season is reckoned with
}

// WeekSold is what was asked for of a part in a week; of the last one, so far.
type WeekSold struct {
	Monday calendar.Day `json:"monday"`
	Sales  int          `json:"sales"`
	Pieces int          `json:"pieces"`
	Season float64      `json:"season"` // what is asked for in such a week over a usual one
}

// figures of a part.
func (s *Advice) figures(k *Keeping) *Figures {
	insight := s.weighed.Insight(k.item)
	f := &Figures{Parts: insight.Parts, Whose: insight.Season, Weeks: s.weeksSold(k)}
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

// weeksSold are those whose Monday is in the last twelve months or in this one.
func (s *Advice) weeksSold(k *Keeping) (weeks []WeekSold) {
	now := s.today().Time()
	first := reorder.WorkingDay(time.Date(now.Year(), now.Month()-12, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, 6)) // its first Monday is in the week of its 7th
	sold := s.booked.Sales(k.PartID)
	for monday := max(first, s.booked.Start) / 5 * 5; monday <= reorder.WorkingDay(now); monday += 5 {
		w := WeekSold{Monday: calendar.Day(reorder.DaysSince1970(monday)), Season: s.weighed.SeasonOn(k.item, monday+2)}
		for _, sale := range sold {
			if sale.Day >= monday && sale.Day < monday+5 && sale.Share == 0 {
				w.Sales++
				w.Pieces += sale.Pieces
			}
		}
		weeks = append(weeks, w)
	}
	return weeks
}
