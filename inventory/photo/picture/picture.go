package picture

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	_ "image/gif" // pictures of these kinds can be read
	"image/jpeg"
	_ "image/png"
	"io"
	"sync"

	_ "golang.org/x/image/webp"
)

const (
	// MostBytes bounds the file of a photo, MostPixels what it unfolds to: a camera of 48 megapixels is taken, and what is
	// decoded stays within some hundred megabytes. No camera's picture is longer than mostLong, which is all that JPEG can.
	MostBytes  = 20 << 20
	MostPixels = 50_000_000
	mostLong   = 65_535

	// Longest is the longer side of a kept picture in pixels, longestSmall that of the small one beside it.
	Longest      = 1600
	longestSmall = 320

	quality      = 80 // of the JPEG: teeth and cracks stay sharp, and a picture of 1600 pixels is some 300 kB
	qualitySmall = 70
)

// Picture is a picture as it is kept.
type Picture struct {
	JPEG          []byte
	Width, Height int    // pixels
	Small         []byte // the same in small, a JPEG too
}

// reading is held by whoever decodes a picture.
var reading sync.Mutex

// ErrTooLarge says that a photo's file has more than MostBytes.
var ErrTooLarge = fmt.Errorf("the photo is larger than %d MB: set the camera to a smaller size and take it again", MostBytes>>20)

// Read reads a photo and makes a [Picture] of it. An error is a sentence for whoever took the photo.
func Read(r io.Reader) (Picture, error) {
	data, err := io.ReadAll(io.LimitReader(r, MostBytes+1))
	switch {
	case err != nil:
		return Picture{}, fmt.Errorf("the photo cannot be read: %w", err)
	case len(data) == 0:
		return Picture{}, errors.New("the photo is an empty file: take it again")
	case len(data) > MostBytes:
		return Picture{}, ErrTooLarge
	}
	reading.Lock()
	defer reading.Unlock()
	config, kind, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return Picture{}, noPicture(data)
	}
	if pixels := int64(config.Width) * int64(config.Height); pixels > MostPixels || max(config.Width, config.Height) > mostLong {
		return Picture{}, fmt.Errorf("the photo is of %d × %d pixels, and at most %d megapixels can be taken: set the camera to a smaller size and take it again",
			config.Width, config.Height, MostPixels/1_000_000)
	}
	whole, _, err := image.Decode(bytes.NewReader(data))
	if err != nil || whole.Bounds().Empty() {
		return Picture{}, errBroken
	}
	upright := orientationOf(data, kind)
	var p Picture
	large := upright.turn(shrink(whole, Longest))
	p.Width, p.Height = large.Bounds().Dx(), large.Bounds().Dy()
	if p.JPEG, err = written(large, quality); err != nil {
		return Picture{}, err
	}
	p.Small, err = written(shrink(large, longestSmall), qualitySmall)
	return p, err
}

var errBroken = errors.New("the photo is broken: its file is damaged or ends too early; take it again")

// noPicture says of a file that is none of the pictures that can be read what it is, where that helps.
func noPicture(data []byte) error {
	switch {
	case isHEIF(data):
		return errors.New("the photo is a HEIC or AVIF file, which not every screen can show: set the camera of the tablet to JPEG (it may call that “most compatible”) and take it again")
	case bytes.HasPrefix(data, []byte("\xff\xd8\xff")), bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")), bytes.HasPrefix(data, []byte("GIF8")),
		bytes.HasPrefix(data, []byte("RIFF")) && len(data) >= 12 && string(data[8:12]) == "WEBP":
		return errBroken
	}
	return errors.New("this is no photo that can be read: it is a JPEG, PNG, WebP or GIF file")
}

// isHEIF reports whether a file is of the ISO base media kind that holds HEIC and AVIF pictures: a box "ftyp" comes first
// (ISO/IEC 23008-12).
func isHEIF(data []byte) bool {
	if len(data) < 12 || string(data[4:8]) != "ftyp" {
		return false
	}
	switch string(data[8:12]) {
	case "heic", "heix", "heim", "heis", "hevc", "hevx", "mif1", "msf1", "avif", "avis":
		return true
	}
	return false
}

func written(m image.Image, quality int) ([]byte, error) {
	var out bytes.Buffer
	if err := jpeg.Encode(&out, m, &jpeg.Options{Quality: quality}); err != nil {
		return nil, fmt.Errorf("write the photo: %w", err)
	}
	return out.Bytes(), nil
}
