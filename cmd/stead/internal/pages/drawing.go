package pages

import (
	"stead/cmd/stead/internal/desk"
	"stead/pricing"
	"stead/substitution"
)

// The bike as a drawing, seen from the drive side, in two halves that stand side by side or one above the other. Each place
// is a link from the part to a mark beside it; a list of the same places stands beside the drawing.

// drawing is a bike with the marks of its places.
type drawing struct {
	Lines  string // which lines are drawn: "drop" or "flat", by the handlebar on record
	Halves []half
}

// half is what one picture shows.
type half struct {
	Title, ID, ViewBox, Clip string
	Places                   []drawnPlace
}

// drawnPlace is a place on the drawing.
type drawnPlace struct {
	desk.PlaceMark
	Path    string
	Current bool
	spot
}

// spot is where a place is drawn, in units of the view box: the part, its mark, and the middle of its words. Of several
// places the first that the bike has on record is meant, else the first.
type spot struct {
	places         []substitution.Place
	PX, PY, MX, MY float64
	TX, TY         float64
}

var spots = []spot{
	{[]substitution.Place{"seatpost"}, 351.4, 105.4, 455, 72, 455, 114},
	{[]substitution.Place{"frame"}, 390.4, 237.2, 468, 232, 468, 274},
	{[]substitution.Place{"rear.brake-cable", "rear.hose"}, 488, 138, 535, 62, 443.6, 35},
	{[]substitution.Place{"rear.rim-pads", "rear.pads", "rear.caliper", "rear.rotor"}, 305, 262, 250, 150, 250, 123},
	{[]substitution.Place{"rear.tyre"}, 112, 258.2, 96, 178, 96, 151},
	{[]substitution.Place{"rear.rim"}, 53.1, 399.1, 98, 398, 98, 371},
	{[]substitution.Place{"rear.spokes-right"}, 148.1, 325.2, 168, 272, 168, 245},
	{[]substitution.Place{"rear.cassette", "rear.freewheel", "rear.sprocket"}, 231.8, 372.2, 254, 318, 254, 291},
	{[]substitution.Place{"rear.hub"}, 222, 399.1, 168, 352, 168, 325},
	{[]substitution.Place{"rear.gear-cable"}, 196.7, 425.5, 128, 474, 128, 516},
	{[]substitution.Place{"rear.derailleur", "rear.hub.indicator"}, 240.7, 459.6, 206, 532, 206, 574},
	{[]substitution.Place{"chain"}, 318, 479, 278, 536, 278, 578},
	{[]substitution.Place{"front.derailleur"}, 438.8, 375.3, 352, 338, 352, 311},
	{[]substitution.Place{"bottom-bracket"}, 449.8, 437.6, 470, 348, 457.4, 321},
	{[]substitution.Place{"crank.inner-ring"}, 412.5, 431, 330, 430, 330, 472},
	{[]substitution.Place{"crank.outer-ring", "crank.ring"}, 435.4, 491.3, 432, 546, 432, 588},
	{[]substitution.Place{"crank"}, 493.5, 460.8, 530, 412, 519.5, 385},
	{[]substitution.Place{"pedals"}, 532.3, 481.5, 512, 550, 512, 592},
	{[]substitution.Place{"front.gear-cable"}, 543, 348, 540, 268, 443.6, 241},
	{[]substitution.Place{"headset"}, 666, 128.1, 605, 72, 614.3, 45},
	{[]substitution.Place{"stem"}, 688, 106.9, 690, 42, 690, 15},
	{[]substitution.Place{"handlebar"}, 736.4, 104.2, 775, 36, 775, 9},
	{[]substitution.Place{"shifter.right", "shifter.hub"}, 776, 89.9, 862, 66, 862, 39},
	{[]substitution.Place{"handlebar.tape", "handlebar.grips"}, 730.9, 173.5, 820, 190, 820, 232},
	{[]substitution.Place{"front.brake-cable", "front.hose"}, 778, 150, 880, 138, 876.7, 111},
	{[]substitution.Place{"front.rim-pads", "front.pads", "front.caliper", "front.rotor"}, 713, 243, 612, 222, 676.4, 195},
	{[]substitution.Place{"fork"}, 722.6, 313.2, 668, 306, 668, 348},
	{[]substitution.Place{"front.hub"}, 774.8, 399.1, 775, 478, 775, 520},
	{[]substitution.Place{"front.spokes-right"}, 841.9, 319, 830, 320, 830, 293},
	{[]substitution.Place{"front.rim"}, 943.6, 399.1, 900, 410, 900, 383},
	{[]substitution.Place{"front.tyre"}, 877.3, 252.7, 930, 228, 925.0, 201},
}

const halfway = 560 // where the drawing is cut in two, from its left

// draw draws a job's bike; at is the place that is open, and path leads to a place.
func draw(job desk.Job, at substitution.Place, path func(substitution.Place) string) drawing {
	d := drawing{Lines: "drop", Halves: []half{
		{Title: "Rear half", ID: "rear", ViewBox: "0 0 560 600", Clip: "M-20 -40h580v700h-580z"},
		{Title: "Front half", ID: "front", ViewBox: "560 0 440 600", Clip: "M560 -40h460v700h-460z"},
	}}
	if shape, known := job.Bike.Build["handlebar"].Get("shape"); known && shape.Word() != "drop" {
		d.Lines = "flat"
	}
	for _, s := range spots {
		place := s.of(job.Job)
		drawn := drawnPlace{PlaceMark: job.PlaceAt(place), Path: path(place), Current: place == at, spot: s}
		h := &d.Halves[0]
		if s.MX > halfway {
			h = &d.Halves[1]
		}
		h.Places = append(h.Places, drawn)
	}
	return d
}

// of is the place that the spot stands for on a bike: one that was looked at, else one on record, else the usual one.
func (s spot) of(job pricing.Job) substitution.Place {
	for _, p := range s.places {
		for _, f := range job.Findings {
			if f.Place == p {
				return p
			}
		}
	}
	for _, p := range s.places {
		if _, recorded := job.Bike.Build[p]; recorded {
			return p
		}
	}
	return s.places[0]
}

// IX and IY are the corner of the mark's picture, which is 26 wide.
func (d drawnPlace) IX() float64 { return d.MX - 13 }
func (d drawnPlace) IY() float64 { return d.MY - 13 }
