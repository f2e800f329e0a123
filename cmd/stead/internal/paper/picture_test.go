package paper_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/paper"
)

// shaded is a photo of nothing.
func shaded(t *testing.T, id int64, title string, w, h int) desk.ShownPhoto {
	m := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.SetGray(x, y, color.Gray{uint8(x * 255 / w)})
		}
	}
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, m, nil))
	return desk.ShownPhoto{ID: id, Title: title, Width: w, Height: h, JPEG: out.Bytes()}
}

// The photos of a quote are on it with their words, each whole on its page, on a sheet and on a roll.
func TestQuoteWithPhotos(t *testing.T) {
	q := quoted()
	q.Photos = []desk.ShownPhoto{shaded(t, 1, "As it came", 1600, 1200), shaded(t, 2, "Chain: worn teeth, and a link that is stiff when it is bent by hand", 900, 1600), shaded(t, 3, "", 400, 300)}
	requireRead(t, paper.Quote(shop, q), "What we found", "As it came", "Chain: worn teeth, and a link")
	witness(t, "pdfimages", "poppler-utils")
	for name, size := range map[string]paper.Size{"A4": paper.A4, "roll": roll, "small": {Width: 105, Height: 148}} {
		file := set(t, size, paper.Quote(shop, q))
		list := run(t, "pdfimages", "-list", file)
		require.Equal(t, 3, strings.Count(list, " jpeg "), "%s: %s", name, list)
		if shots := os.Getenv("STEAD_SHOTS"); shots != "" {
			run(t, "pdftoppm", "-r", "60", "-png", file, shots+"/quote-"+name)
		}
	}
}
