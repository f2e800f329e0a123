package picture

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// quarters is a picture with another colour in each quarter: red, green, blue and white from the upper left, clockwise.
func quarters(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.SetRGBA(x, y, quarter(x < w/2, y < h/2))
		}
	}
	return m
}

func quarter(left, upper bool) color.RGBA {
	switch {
	case left && upper:
		return color.RGBA{255, 0, 0, 255}
	case upper:
		return color.RGBA{0, 255, 0, 255}
	case left:
		return color.RGBA{255, 255, 255, 255}
	}
	return color.RGBA{0, 0, 255, 255}
}

func asJPEG(t testing.TB, m image.Image) []byte {
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, m, nil))
	return out.Bytes()
}

func asPNG(t testing.TB, m image.Image) []byte {
	var out bytes.Buffer
	require.NoError(t, png.Encode(&out, m))
	return out.Bytes()
}

// held are a camera's notes in EXIF: how it was held, and where it was.
func held(order binary.AppendByteOrder, n uint16) []byte {
	tiff := []byte("II*\x00\x08\x00\x00\x00")
	if order == binary.AppendByteOrder(binary.BigEndian) {
		tiff = []byte("MM\x00*\x00\x00\x00\x08")
	}
	entry := func(tag, kind uint16, count, value uint32) {
		tiff = order.AppendUint16(order.AppendUint16(tiff, tag), kind)
		tiff = order.AppendUint32(tiff, count)
		if kind == 3 { // a short stands at the beginning of its four bytes
			tiff = order.AppendUint16(order.AppendUint16(tiff, uint16(value)), 0)
		} else {
			tiff = order.AppendUint32(tiff, value)
		}
	}
	tiff = order.AppendUint16(tiff, 2)
	entry(0x0112, 3, 1, uint32(n)) // Orientation
	entry(0x8825, 4, 1, 38)        // the place is told at byte 38
	tiff = order.AppendUint32(tiff, 0)
	tiff = order.AppendUint16(tiff, 1)
	entry(0x0001, 2, 2, binary.LittleEndian.Uint32([]byte("N\x00\x00\x00"))) // GPSLatitudeRef
	return order.AppendUint32(tiff, 0)
}

// noted is a JPEG with a camera's notes after its first two bytes.
func noted(photo, tiff []byte) []byte {
	exif := append([]byte("Exif\x00\x00"), tiff...)
	head := binary.BigEndian.AppendUint16([]byte{0xFF, 0xE1}, uint16(len(exif)+2))
	return bytes.Join([][]byte{photo[:2], head, exif, photo[2:]}, nil)
}

// sides are where the first row and the first column of the file lie in what was seen: CIPA DC-008 (EXIF 2.3), 4.6.4, the
// table of tag Orientation.
var sides = map[orientation][2]string{1: {"top", "left"}, 2: {"top", "right"}, 3: {"bottom", "right"}, 4: {"bottom", "left"},
	5: {"left", "top"}, 6: {"right", "top"}, 7: {"right", "bottom"}, 8: {"left", "bottom"}}

// stored is what a camera that is held so writes of what is seen.
func stored(seen *image.RGBA, o orientation) *image.RGBA {
	w, h := seen.Rect.Dx(), seen.Rect.Dy()
	rows, columns := h, w
	if side := sides[o][0]; side == "left" || side == "right" {
		rows, columns = w, h
	}
	out := image.NewRGBA(image.Rect(0, 0, columns, rows))
	for row := range rows {
		for column := range columns {
			var x, y int
			for i, side := range sides[o] {
				n := []int{row, column}[i]
				switch side {
				case "top":
					y = n
				case "bottom":
					y = h - 1 - n
				case "left":
					x = n
				case "right":
					x = w - 1 - n
				}
			}
			out.SetRGBA(column, row, seen.RGBAAt(x, y))
		}
	}
	return out
}

func TestUpright(t *testing.T) {
	seen := quarters(48, 32)
	for o := orientation(1); o <= 8; o++ {
		for name, order := range map[string]binary.AppendByteOrder{"little end first": binary.LittleEndian, "big end first": binary.BigEndian} {
			t.Run(fmt.Sprint(o, " ", name), func(t *testing.T) {
				p, err := Read(bytes.NewReader(noted(asJPEG(t, stored(seen, o)), held(order, uint16(o)))))
				require.NoError(t, err)
				require.Equal(t, []int{48, 32}, []int{p.Width, p.Height})
				for _, data := range [][]byte{p.JPEG, p.Small} {
					got, err := jpeg.Decode(bytes.NewReader(data))
					require.NoError(t, err)
					for _, left := range []bool{true, false} {
						for _, upper := range []bool{true, false} {
							at := image.Pt(map[bool]int{true: 8, false: 40}[left], map[bool]int{true: 8, false: 24}[upper])
							requireNear(t, quarter(left, upper), got.At(at.X, at.Y), 12)
						}
					}
				}
			})
		}
	}
	for name, tiff := range map[string][]byte{"no number": held(binary.LittleEndian, 9), "cut short": held(binary.LittleEndian, 6)[:15], "nothing": nil} {
		p, err := Read(bytes.NewReader(noted(asJPEG(t, seen), tiff)))
		require.NoError(t, err, name)
		require.Equal(t, 48, p.Width, name)
	}
}

func requireNear(t *testing.T, want, got color.Color, by float64) {
	t.Helper()
	a, b := color.RGBAModel.Convert(want).(color.RGBA), color.RGBAModel.Convert(got).(color.RGBA)
	require.InDeltaSlice(t, []float64{float64(a.R), float64(a.G), float64(a.B)}, []float64{float64(b.R), float64(b.G), float64(b.B)}, by)
}

func TestSizes(t *testing.T) {
	for name, c := range map[string]struct{ w, h, width, height int }{
		"small stays":        {300, 200, 300, 200},
		"wide":               {2000, 1500, 1600, 1200},
		"high":               {1500, 3000, 800, 1600},
		"a pixel too long":   {1601, 1601, 1600, 1600},
		"a line":             {5000, 1, 1600, 1},
		"the longest of all": {65535, 2, 1600, 1},
	} {
		t.Run(name, func(t *testing.T) {
			p, err := Read(bytes.NewReader(asPNG(t, image.NewGray(image.Rect(0, 0, c.w, c.h)))))
			require.NoError(t, err)
			require.Equal(t, []int{c.width, c.height}, []int{p.Width, p.Height})
			large, err := jpeg.DecodeConfig(bytes.NewReader(p.JPEG))
			require.NoError(t, err)
			require.Equal(t, []int{c.width, c.height}, []int{large.Width, large.Height})
			small, err := jpeg.DecodeConfig(bytes.NewReader(p.Small))
			require.NoError(t, err)
			require.LessOrEqual(t, max(small.Width, small.Height), longestSmall)
		})
	}
}

// A new pixel is the mean of the area that it covers: stripes a pixel wide become their mean, and no pattern of their own.
func TestShrinkIsTheMean(t *testing.T) {
	stripes := image.NewGray(image.Rect(0, 0, 3000, 100))
	for i := range stripes.Pix {
		stripes.Pix[i] = uint8(i % 2 * 255)
	}
	got := shrink(stripes, 1000)
	for x := range 1000 {
		require.InDelta(t, 127.5, got.RGBAAt(x, 10).R, 43, x) // one or two of three are white
	}
	require.Equal(t, uint8(128), shrink(stripes, 1500).RGBAAt(700, 20).R)
	through := image.NewNRGBA(image.Rect(0, 0, 10, 10))
	require.Equal(t, color.RGBA{255, 255, 255, 255}, shrink(through, 5).RGBAAt(2, 2), "what is seen through lies on white")
}

// goRoot is where Go's own pictures are: an outside corpus.
func goRoot(t *testing.T) string {
	out, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(t, err)
	return filepath.Join(strings.TrimSpace(string(out)), "src", "image")
}

// Go's own pictures: what Go's tests call broken is refused, all else is taken with the size that it has.
func TestGosPictures(t *testing.T) {
	broken := map[string]bool{"invalid-crc32.png": true, "invalid-noend.png": true, "invalid-trunc.png": true, "invalid-zlib.png": true}
	seen := 0
	for _, folder := range []string{"testdata", "png/testdata"} {
		files, err := filepath.Glob(filepath.Join(goRoot(t), folder, "*.*"))
		require.NoError(t, err)
		for _, file := range files {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			if info, err := os.Stat(file); err != nil || info.IsDir() {
				continue
			}
			seen++
			p, err := Read(bytes.NewReader(data))
			if broken[filepath.Base(file)] {
				require.ErrorIs(t, err, errBroken, file)
				continue
			}
			require.NoError(t, err, file)
			config, _, err := image.DecodeConfig(bytes.NewReader(data))
			require.NoError(t, err)
			require.Equal(t, []int{config.Width, config.Height}, []int{p.Width, p.Height}, file)
		}
	}
	require.Greater(t, seen, 40)
}

// webps are the WebP pictures of golang.org/x/image's own tests.
func webps(t *testing.T) []string {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "golang.org/x/image").Output()
	require.NoError(t, err)
	files, err := filepath.Glob(filepath.Join(strings.TrimSpace(string(out)), "testdata", "*.webp"))
	require.NoError(t, err)
	require.Greater(t, len(files), 5)
	return files
}

func TestWebP(t *testing.T) {
	for _, file := range webps(t) {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		config, _, err := image.DecodeConfig(bytes.NewReader(data))
		require.NoError(t, err)
		p, err := Read(bytes.NewReader(data))
		require.NoError(t, err, file)
		require.Equal(t, []int{config.Width, config.Height}, []int{p.Width, p.Height}, file)
		_, err = Read(bytes.NewReader(data[:len(data)/2]))
		require.ErrorIs(t, err, errBroken, file)
	}
}

// vast is a PNG whose head says how large it is; the rest is not there.
func vast(w, h uint32) []byte {
	head := binary.BigEndian.AppendUint32([]byte("IHDR"), w)
	head = append(binary.BigEndian.AppendUint32(head, h), 8, 2, 0, 0, 0)
	out := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"), head...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(head))
}

// bomb is a whole PNG of one grey, 10 000 × 10 000: a hundred megapixels in a few kilobytes.
func bomb(t testing.TB) []byte {
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	row := make([]byte, 1+10_000/8)
	for range 10_000 {
		_, err := z.Write(row)
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	chunk := func(kind string, data []byte) []byte {
		body := append([]byte(kind), data...)
		out := append(binary.BigEndian.AppendUint32(nil, uint32(len(data))), body...)
		return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(body))
	}
	head := append(binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, 10_000), 10_000), 1, 0, 0, 0, 0)
	return bytes.Join([][]byte{[]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", head), chunk("IDAT", packed.Bytes()), chunk("IEND", nil)}, nil)
}

func TestRefused(t *testing.T) {
	photo := asJPEG(t, quarters(400, 300))
	hundred := bomb(t)
	require.Less(t, len(hundred), 100_000)
	_, err := png.DecodeConfig(bytes.NewReader(hundred))
	require.NoError(t, err, "it is a picture")
	box := func(brand string) []byte { return []byte("\x00\x00\x00\x18ftyp" + brand + "\x00\x00\x00\x00mif1heic") }
	for name, c := range map[string]struct {
		data []byte
		says string
	}{
		"nothing":             {nil, "empty file"},
		"too many bytes":      {append(bytes.Clone(photo), make([]byte, MostBytes)...), "larger than 20 MB"},
		"100 megapixels":      {hundred, "10000 × 10000 pixels, and at most 50 megapixels"},
		"vast":                {vast(1<<31-1, 1<<31-1), "broken"},
		"very long":           {vast(100_000, 2), "100000 × 2"},
		"cut short":           {photo[:len(photo)/2], "broken"},
		"only its head":       {photo[:20], "broken"},
		"the wrong head":      {append([]byte("\x89PNG\r\n\x1a\n"), photo...), "broken"},
		"a text":              {[]byte("chain at point nine"), "no photo"},
		"a page":              {[]byte("<!doctype html><script>alert(1)</script>"), "no photo"},
		"a drawing":           {[]byte(`<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>`), "no photo"},
		"a paper":             {[]byte("%PDF-1.7\n"), "no photo"},
		"HEIC":                {box("heic"), "HEIC"},
		"HEIC by its family":  {box("mif1"), "most compatible"},
		"AVIF":                {box("avif"), "AVIF"},
		"a film":              {box("isom"), "no photo"},
		"a WebP without more": {[]byte("RIFF\x10\x00\x00\x00WEBPVP8 "), "broken"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Read(bytes.NewReader(c.data))
			require.ErrorContains(t, err, c.says)
			require.NotContains(t, err.Error(), "\n")
		})
	}
}

// What stands behind or beside the picture in its file is not kept.
func TestNothingButThePictureIsKept(t *testing.T) {
	photo := asJPEG(t, quarters(40, 30))
	page := []byte("<script>alert(1)</script>")
	comment := append(binary.BigEndian.AppendUint16([]byte{0xFF, 0xFE}, uint16(len(page)+2)), page...)
	for name, data := range map[string][]byte{
		"behind": append(bytes.Clone(photo), page...),
		"inside": bytes.Join([][]byte{photo[:2], comment, photo[2:]}, nil),
		"both":   append(append([]byte("GIF89a"), asGIF(t)[6:]...), page...),
	} {
		p, err := Read(bytes.NewReader(data))
		require.NoError(t, err, name)
		require.NotContains(t, string(p.JPEG), "script", name)
		require.NotContains(t, string(p.Small), "script", name)
		require.True(t, bytes.HasPrefix(p.JPEG, []byte{0xFF, 0xD8}) && bytes.HasSuffix(p.JPEG, []byte{0xFF, 0xD9}), name)
	}
}

func asGIF(t testing.TB) []byte {
	var out bytes.Buffer
	require.NoError(t, gif.Encode(&out, quarters(40, 30), nil))
	return out.Bytes()
}

// exiftool of Debian, which knows every kind of note that cameras leave, finds none in what is kept; of the photo it finds
// where it was taken.
func TestNoNotesAreKept(t *testing.T) {
	if _, err := exec.LookPath("exiftool"); err != nil {
		if os.Getenv("STEAD_CI") != "" {
			t.Fatal("exiftool of Debian's libimage-exiftool-perl is missing")
		}
		t.Skip("exiftool of Debian's libimage-exiftool-perl is missing, so nobody looks for what a camera noted")
	}
	folder := t.TempDir()
	var files []string
	lossy := slices.IndexFunc(webps(t), func(file string) bool { return strings.HasSuffix(file, "blue-purple-pink.lossy.webp") })
	web, err := os.ReadFile(webps(t)[lossy])
	require.NoError(t, err)
	for kind, data := range map[string][]byte{"jpg": asJPEG(t, quarters(400, 300)), "png": asPNG(t, quarters(400, 300)), "gif": asGIF(t), "webp": web} {
		file := filepath.Join(folder, "taken."+kind)
		require.NoError(t, os.WriteFile(file, data, 0o600))
		tags := []string{"-q", "-overwrite_original", "-XMP-dc:Creator=somebody", "-XMP-exif:GPSLatitude=51.5"}
		if kind != "webp" {
			tags = append(tags, "-Comment=at home")
		}
		upright, _, err := image.DecodeConfig(bytes.NewReader(data))
		require.NoError(t, err)
		if kind != "gif" {
			tags = append(tags, "-Orientation#=6", "-GPSLatitude=51.5", "-GPSLatitudeRef=N", "-EXIF:Make=a camera", "-EXIF:SerialNumber=471", "-EXIF:DateTimeOriginal=2026:12:02 09:00:00")
		}
		if kind == "jpg" {
			tags = append(tags, "-IPTC:Keywords=home")
		}
		out, err := exec.Command("exiftool", append(tags, file)...).CombinedOutput()
		require.NoError(t, err, "%s", out)
		taken, err := os.ReadFile(file)
		require.NoError(t, err)
		p, err := Read(bytes.NewReader(taken))
		require.NoError(t, err)
		if kind != "gif" {
			require.Equal(t, []int{upright.Height, upright.Width}, []int{p.Width, p.Height}, "%s: it is turned by what exiftool wrote", kind)
		}
		kept, small := filepath.Join(folder, "kept-"+kind+".jpg"), filepath.Join(folder, "small-"+kind+".jpg")
		require.NoError(t, os.WriteFile(kept, p.JPEG, 0o600))
		require.NoError(t, os.WriteFile(small, p.Small, 0o600))
		files = append(files, file, kept, small)
	}
	args := []string{"-json", "-G1", "-a", "-u", "-ee3"}
	out, err := exec.Command("exiftool", append(args, files...)...).Output()
	require.NoError(t, err)
	var told []map[string]any
	require.NoError(t, json.Unmarshal(out, &told))
	require.Len(t, told, len(files))
	for _, one := range told {
		var notes []string
		for tag := range one {
			switch group, _, _ := strings.Cut(tag, ":"); group {
			case "SourceFile", "ExifTool", "System", "File", "Composite":
				if tag == "File:Comment" || strings.Contains(tag, "GPS") {
					notes = append(notes, tag)
				}
			default:
				notes = append(notes, tag)
			}
		}
		if name := filepath.Base(fmt.Sprint(one["SourceFile"])); strings.HasPrefix(name, "taken") {
			require.Contains(t, strings.Join(notes, " "), "GPS", name)
		} else {
			require.Empty(t, notes, name)
		}
	}
}

func FuzzRead(f *testing.F) {
	photo := asJPEG(f, quarters(40, 30))
	f.Add(photo)
	f.Add(noted(photo, held(binary.BigEndian, 6)))
	f.Add(asPNG(f, quarters(9, 7)))
	f.Add(asGIF(f))
	f.Add(vast(1<<16, 1<<16))
	f.Add([]byte("RIFF\x10\x00\x00\x00WEBPVP8X\x0a\x00\x00\x00"))
	f.Add([]byte("\x00\x00\x00\x18ftypheic"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if c, _, err := image.DecodeConfig(bytes.NewReader(data)); err == nil && c.Width*c.Height > 1_000_000 {
			t.Skip("it is about what is read, not how long that takes")
		}
		p, err := Read(bytes.NewReader(data))
		if err != nil {
			require.Empty(t, p)
			return
		}
		for _, written := range [][]byte{p.JPEG, p.Small} {
			c, err := jpeg.DecodeConfig(bytes.NewReader(written))
			require.NoError(t, err)
			require.LessOrEqual(t, max(c.Width, c.Height), Longest)
		}
	})
}

// BenchmarkRead is a photo of a tablet, 12 megapixels.
func BenchmarkRead(b *testing.B) {
	m := image.NewYCbCr(image.Rect(0, 0, 4000, 3000), image.YCbCrSubsampleRatio420)
	for i := range m.Y {
		m.Y[i] = uint8(i*7 + i/4000*13)
	}
	photo := asJPEG(b, m)
	b.ReportAllocs()
	for b.Loop() {
		_, err := Read(bytes.NewReader(photo))
		require.NoError(b, err)
	}
}
