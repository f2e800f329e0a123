package paper

import (
	"fmt"
	"image"
	"io"

	"codeberg.org/go-pdf/fpdf"
	"github.com/boombuler/barcode/code128"
	"github.com/boombuler/barcode/qr"

	"stead/cmd/stead/internal/desk"
)

const (
	labelWidth, labelHeight = 70, 37 // millimetres: 24 of them are a sheet of A4, which is a common one
	labelMargin             = 4      // what an office printer leaves white
	barHeight               = 8
	codeWidth               = 60 // of bars that stand on a paper by themselves

	thinnest = 0.19 // millimetres of a bar that an office printer and a hand scanner still manage; common practice, no source
	widest   = 0.5
	dot      = 0.3 // millimetres of the smallest square of a QR code, for the same reason

	barQuiet = 10 // modules that ISO/IEC 15417 leaves white on either side of a Code 128
	dotQuiet = 4  // and ISO/IEC 18004 around a QR code
)

// Labels sets labels: 24 on a sheet of A4, else one a page.
func Labels(out io.Writer, size Size, labels []desk.Label) error {
	width, height, across, down := size.Width, size.Height, 1, 1
	switch {
	case size == A4:
		width, height, across, down = labelWidth, labelHeight, 3, 8
	case size.Roll:
		height = labelHeight
		size.Height = height
	}
	letters, err := newSetter()
	if err != nil {
		return err
	}
	small := Size{Width: width, Height: height}
	if width < 25 || height < 20 {
		return &SmallError{size, "a label"}
	}
	s := &Sheet{size: small, setter: letters, pdf: newPDF(size, "labels")}
	for i, l := range labels {
		at := i % (across * down)
		if at == 0 {
			s.pdf.AddPageFormat("P", fpdf.SizeType{Wd: size.Width, Ht: size.Height})
		}
		s.label(float64(at%across)*width, float64(at/across)*height, l)
		if s.err != nil {
			return s.err
		}
	}
	if err := s.pdf.Output(out); err != nil {
		return fmt.Errorf("write the PDF: %w", err)
	}
	return nil
}

// label sets one with its left upper corner at x and y: the QR code with the words beside it, and the bars below.
func (s *Sheet) label(x, y float64, l desk.Label) {
	inner := s.size.Width - 2*labelMargin
	x, y = x+labelMargin, y+labelMargin
	top := s.size.Height - 2*labelMargin - barHeight - 1
	side := min(top, inner/2)
	s.dots(x, y, side, l.Code)
	s.bars(x, y+top+1, inner, l.Code)
	at := y
	for i, words := range append([]string{l.Code}, l.Words...) {
		as := style{bold: i == 0}
		for _, text := range s.fold(words, inner-side-1, as) {
			if at+s.high(as) > y+top {
				return // the code names it; what has no room is on record
			}
			s.put(x+side+1, at, text, as)
			at += s.high(as)
		}
	}
}

// dots sets a QR code, its quiet border included.
func (s *Sheet) dots(x, y, side float64, text string) {
	code, err := qr.Encode(text, qr.M, qr.Auto)
	if err != nil {
		s.fail(fmt.Errorf("make a QR code of %q: %w", text, err))
		return
	}
	n := code.Bounds().Dx()
	module := side / float64(n+2*dotQuiet)
	if module < dot {
		s.fail(&SmallError{s.size, fmt.Sprintf("the QR code of %q", text)})
		return
	}
	for row := range n {
		for from := 0; from < n; {
			to := from
			for to < n && dark(code, to, row) {
				to++
			}
			if to > from {
				s.pdf.Rect(x+float64(from+dotQuiet)*module, y+float64(row+dotQuiet)*module, float64(to-from)*module, module, "F")
			}
			from = to + 1
		}
	}
}

// bars sets a Code 128 across a width.
func (s *Sheet) bars(x, y, width float64, text string) {
	code, err := code128.Encode(text)
	if err != nil {
		s.fail(fmt.Errorf("a Code 128 holds the letters of ASCII, and %q has others: name it without them", text))
		return
	}
	n := code.Bounds().Dx()
	module := min(widest, width/float64(n+2*barQuiet))
	if module < thinnest {
		s.fail(&SmallError{s.size, fmt.Sprintf("the bars of %q", text)})
		return
	}
	x += (width - float64(n)*module) / 2
	for from := 0; from < n; {
		to := from
		for to < n && dark(code, to, 0) {
			to++
		}
		if to > from {
			s.pdf.Rect(x+float64(from)*module, y, float64(to-from)*module, barHeight, "F")
		}
		from = to + 1
	}
}

// Barcode sets a code's bars on a line of their own.
func (s *Sheet) Barcode(text string) {
	s.lines = append(s.lines, line{barHeight + 2, false, func(y float64) { s.bars(s.size.margin(), y, min(codeWidth, s.size.inner()), text) }})
}

func dark(code image.Image, x, y int) bool {
	shade, _, _, _ := code.At(x, y).RGBA()
	return shade == 0
}
