package picture

import (
	"image"
	"image/color"
	"image/draw"
	"math"
)

// shrink makes a picture no longer than so many pixels on its longer side; a smaller one keeps its size. What is seen
// through lies on white. Each new pixel is the mean of the area that it covers. It is done row by row: the scalers of
// golang.org/x/image/draw keep sixteen bytes and more for every pixel of the old height.
func shrink(whole image.Image, longest int) *image.RGBA {
	from := whole.Bounds()
	w, h := from.Dx(), from.Dy()
	scale := min(1, float64(longest)/float64(max(w, h)))
	to := image.NewRGBA(image.Rect(0, 0, max(1, int(math.Round(float64(w)*scale))), max(1, int(math.Round(float64(h)*scale)))))
	across, down := spread(w, to.Rect.Dx()), spread(h, to.Rect.Dy())

	row := image.NewRGBA(image.Rect(0, 0, w, 1))
	narrow := make([]float32, 3*to.Rect.Dx()) // the row, shrunk
	sum := make([]float32, len(narrow))       // of the rows that a new one covers
	for y, parts := range down {
		draw.Draw(row, row.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
		draw.Draw(row, row.Rect, whole, image.Pt(from.Min.X, from.Min.Y+y), draw.Over)
		clear(narrow)
		for x, parts := range across {
			for _, p := range parts {
				for c := range 3 {
					narrow[3*p.into+c] += p.share * float32(row.Pix[4*x+c])
				}
			}
		}
		for _, p := range parts {
			for i, v := range narrow {
				sum[i] += p.share * v
			}
			if p.last {
				line := to.Pix[p.into*to.Stride:]
				for x := range to.Rect.Dx() {
					for c := range 3 {
						line[4*x+c] = uint8(min(255, sum[3*x+c]+0.5))
					}
					line[4*x+3] = 255
				}
				clear(sum)
			}
		}
	}
	return to
}

// part is the share of a new pixel that an old one has.
type part struct {
	into  int
	share float32
	last  bool // nothing after it has any
}

// spread tells for each of n old pixels in a line into which of m new ones it goes; m is at most n.
func spread(n, m int) [][]part {
	out := make([][]part, n)
	for i := range n { // the old pixel reaches from i·m to (i+1)·m where a new one is n wide
		for j := i * m / n; j < m && j*n < (i+1)*m; j++ {
			covers := min((i+1)*m, (j+1)*n) - max(i*m, j*n)
			out[i] = append(out[i], part{j, float32(covers) / float32(n), (j+1)*n <= (i+1)*m})
		}
	}
	return out
}
