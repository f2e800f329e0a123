package pages

import (
	"fmt"
	"strings"

	"github.com/boombuler/barcode/qr"
)

// quiet is the white border that ISO/IEC 18004 asks for around a code, in modules.
const quiet = 4

// Code is a QR code as rows of dark modules, its quiet border included.
type Code [][]bool

// QR makes the code of a text, such as an address.
func QR(text string) (Code, error) {
	code, err := qr.Encode(text, qr.M, qr.Auto)
	if err != nil {
		return nil, fmt.Errorf("make a code of %q: %w", text, err)
	}
	size := code.Bounds().Dx()
	rows := make(Code, size+2*quiet)
	for y := range rows {
		rows[y] = make([]bool, size+2*quiet)
	}
	for y := range size {
		for x := range size {
			shade, _, _, _ := code.At(x, y).RGBA()
			rows[y+quiet][x+quiet] = shade == 0
		}
	}
	return rows, nil
}

// Terminal draws the code in half blocks, light on dark, as a terminal's ground mostly is.
func (c Code) Terminal() string {
	var out strings.Builder
	for y := 0; y < len(c); y += 2 {
		for x := range c[y] {
			lower := y+1 < len(c) && c[y+1][x]
			switch {
			case c[y][x] && lower:
				out.WriteRune(' ')
			case c[y][x]:
				out.WriteRune('▄')
			case lower:
				out.WriteRune('▀')
			default:
				out.WriteRune('█')
			}
		}
		out.WriteRune('\n')
	}
	return out.String()
}

// Size is how many modules a side has.
func (c Code) Size() int { return len(c) }

// Path draws the dark modules as the path of an SVG of that size.
func (c Code) Path() string {
	var out strings.Builder
	for y, row := range c {
		for x := 0; x < len(row); x++ {
			from := x
			for x < len(row) && row[x] {
				x++
			}
			if x > from {
				fmt.Fprintf(&out, "M%d %dh%dv1h-%dz", from, y, x-from, x-from)
			}
		}
	}
	return out.String()
}
