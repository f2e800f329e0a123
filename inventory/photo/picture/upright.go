package picture

import (
	"bytes"
	"image"

	"github.com/bep/imagemeta"
)

// orientation is how a camera was held, as tag 0x0112 of EXIF numbers it (CIPA DC-008): on which sides of what was seen the
// first row and the first column of the file lie. 1 is upright.
type orientation int

// orientationOf reads it; what tells none, or is damaged, counts as upright.
func orientationOf(data []byte, kind string) orientation {
	format, known := map[string]imagemeta.ImageFormat{"jpeg": imagemeta.JPEG, "png": imagemeta.PNG, "webp": imagemeta.WebP}[kind]
	if !known {
		return 1
	}
	held := orientation(1)
	_, _ = imagemeta.Decode(imagemeta.Options{R: bytes.NewReader(data), ImageFormat: format, Sources: imagemeta.EXIF,
		ShouldHandleTag: func(t imagemeta.TagInfo) bool { return t.Namespace == "IFD0" && t.Tag == "Orientation" },
		HandleTag: func(t imagemeta.TagInfo) error {
			if n, ok := t.Value.(uint16); ok && n >= 1 && n <= 8 {
				held = orientation(n)
			}
			return imagemeta.ErrStopWalking
		}}) // a camera's damaged notes are no reason to refuse its picture
	return held
}

// turn sets a picture upright.
func (o orientation) turn(m *image.RGBA) *image.RGBA {
	if o == 1 {
		return m
	}
	w, h := m.Rect.Dx(), m.Rect.Dy()
	size := image.Rect(0, 0, w, h)
	if o >= 5 { // it lies on its side
		size = image.Rect(0, 0, h, w)
	}
	out := image.NewRGBA(size)
	for y := range size.Dy() {
		for x := range size.Dx() {
			fx, fy := x, y
			switch o {
			case 2:
				fx = w - 1 - x
			case 3:
				fx, fy = w-1-x, h-1-y
			case 4:
				fy = h - 1 - y
			case 5:
				fx, fy = y, x
			case 6:
				fx, fy = y, h-1-x
			case 7:
				fx, fy = w-1-y, h-1-x
			case 8:
				fx, fy = w-1-y, x
			}
			copy(out.Pix[out.PixOffset(x, y):][:4], m.Pix[m.PixOffset(fx, fy):][:4])
		}
	}
	return out
}
