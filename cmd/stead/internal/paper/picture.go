package paper

import (
	"bytes"
	"fmt"

	"codeberg.org/go-pdf/fpdf"

	"stead/cmd/stead/internal/desk"
)

const (
	pictureWide, pictureHigh = 75, 80 // millimetres: two stand beside each other on a sheet of A4
)

// Photos sets photos with their words below: beside each other where the page is wide enough, else one below the other.
func (s *Sheet) Photos(photos []desk.ShownPhoto) {
	across := max(1, int((s.size.inner()+between)/(pictureWide+between)))
	for len(photos) > 0 {
		n := min(across, len(photos))
		s.photos(photos[:n])
		photos = photos[n:]
	}
}

// photos sets some beside each other, which no page break parts.
func (s *Sheet) photos(row []desk.ShownPhoto) {
	width := min(pictureWide, s.size.inner())
	type set struct {
		photo      desk.ShownPhoto
		name       string
		wide, high float64
		words      []string
	}
	var all []set
	high, deep := 0.0, 0
	for _, p := range row {
		one := set{photo: p, name: fmt.Sprintf("photo %d", p.ID), wide: width, high: width * float64(p.Height) / float64(p.Width)}
		if most := min(pictureHigh, s.most()); one.high > most {
			one.wide, one.high = one.wide*most/one.high, most
		}
		if p.Title != "" {
			one.words = s.fold(p.Title, width, style{})
		}
		s.pdf.RegisterImageOptionsReader(one.name, fpdf.ImageOptions{ImageType: "JPG"}, bytes.NewReader(p.JPEG))
		all = append(all, one)
		high, deep = max(high, one.high), max(deep, len(one.words))
	}
	s.lines = append(s.lines, line{high + 1, deep > 0, func(y float64) {
		for i, one := range all {
			x := s.size.margin() + float64(i)*(width+between)
			s.pdf.ImageOptions(one.name, x, y+high-one.high, one.wide, one.high, false, fpdf.ImageOptions{ImageType: "JPG"}, 0, "")
		}
	}})
	for n := range deep {
		s.lines = append(s.lines, line{s.high(style{}), n+1 < deep, func(y float64) {
			for i, one := range all {
				if n < len(one.words) {
					s.put(s.size.margin()+float64(i)*(width+between), y, one.words[n], style{})
				}
			}
		}})
	}
	s.Gap()
}

// most is how high a block can be that stands on one page with a few lines of words.
func (s *Sheet) most() float64 {
	if s.size.Roll {
		return pictureHigh
	}
	return s.size.Height - 2*s.size.margin() - 6*s.high(style{})
}
