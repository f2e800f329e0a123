package paper

import (
	"fmt"
	"io"

	"codeberg.org/go-pdf/fpdf"
)

const (
	family   = "paper"
	perPoint = 25.4 / 72 // millimetres
	leading  = 1.35      // of a line's height to its letters'
	narrow   = 38        // millimetres; less is no line that one can read

	longest = 5000 // millimetres, just under what PDF allows a page (14 400 points, ISO 32000-1, annex C)
)

// Sheet is where a paper is set, block after block. The first thing that goes wrong is kept, and told by Write.
type Sheet struct {
	size   Size
	pdf    *fpdf.Fpdf
	setter *setter
	lines  []line
	err    error
}

// line is what no page break parts.
type line struct {
	height float64
	joined bool // it stays with the next one
	draw   func(y float64)
}

// Write sets papers, each on pages of its own.
func Write(out io.Writer, size Size, title string, papers ...func(*Sheet)) error {
	letters, err := newSetter()
	if err != nil {
		return err
	}
	s := &Sheet{size: size, setter: letters, pdf: newPDF(size, title)}
	if size.inner() < narrow {
		return &SmallError{size, "a line of text"}
	}
	for _, paper := range papers {
		s.lines, s.setter.missing = nil, nil
		paper(s)
		if spelt := s.setter.spelt(); len(spelt) > 0 {
			s.Gap()
			s.Points(spelt)
		}
		if s.err != nil {
			return s.err
		}
		if err := s.paginate(); err != nil {
			return err
		}
	}
	if err := s.pdf.Output(out); err != nil {
		return fmt.Errorf("write the PDF: %w", err)
	}
	return nil
}

// newPDF begins a file whose pages are given their sizes one by one.
func newPDF(size Size, title string) *fpdf.Fpdf {
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: size.Width, Ht: max(size.Height, 10)}})
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCellMargin(0)
	pdf.AddUTF8FontFromBytes(family, "", regular)
	pdf.AddUTF8FontFromBytes(family, "B", bold)
	pdf.SetTitle(title, true)
	pdf.SetLineWidth(0.2)
	return pdf
}

func (s *Sheet) fail(err error) {
	if s.err == nil {
		s.err = err
	}
}

// paginate puts the lines on pages; where there are several each is numbered at its foot.
func (s *Sheet) paginate() error {
	height, foot := s.size.Height, s.size.points()*perPoint*leading
	if s.size.Roll {
		height = 2*s.size.margin() + foot
		for _, l := range s.lines {
			height += l.height
		}
		height = min(height, longest)
	}
	room := height - 2*s.size.margin() - foot
	var pages [][]line
	used := 0.0
	for i := 0; i < len(s.lines); {
		n, block := 1, s.lines[i].height
		for s.lines[i+n-1].joined && i+n < len(s.lines) {
			block, n = block+s.lines[i+n].height, n+1
		}
		if block > room+0.01 {
			return &SmallError{s.size, "what stays together on it"}
		}
		if len(pages) == 0 || used+block > room+0.01 {
			pages, used = append(pages, nil), 0
		}
		last := len(pages) - 1
		pages[last], used, i = append(pages[last], s.lines[i:i+n]...), used+block, i+n
	}
	for i, lines := range pages {
		s.pdf.AddPageFormat("P", fpdf.SizeType{Wd: s.size.Width, Ht: height})
		y := s.size.margin()
		for _, l := range lines {
			l.draw(y)
			y += l.height
		}
		if len(pages) > 1 {
			s.put(s.size.margin(), height-s.size.margin()-foot, fmt.Sprintf("%d / %d", i+1, len(pages)), style{})
		}
	}
	return nil
}
