package paper_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/boombuler/barcode"
	"github.com/boombuler/barcode/code128"
	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/paper"
)

// The labels of a page, printed at 300 dots to the inch, read by zbar: each is there as bars and as QR code.
func TestLabelsReadBack(t *testing.T) {
	witness(t, "pdftoppm", "poppler-utils")
	witness(t, "zbarimg", "zbar-tools")
	labels := []desk.Label{{Code: "bin D2"}, {Code: "part 71", Words: []string{"ring 50T silver, 110 mm 5-bolt outer", "R110-50", "bin A1"}},
		{Code: "bike 2", Words: []string{"自転車"}}, {Code: "job 101"}, {Code: "bike 1", Words: []string{"Ines Falkner-Kovács", "blue touring bike", "frame FT 4471 K"}}}
	for name, size := range map[string]paper.Size{"A4": paper.A4, "roll": roll, "one": {Width: 62, Height: 29}} {
		t.Run(name, func(t *testing.T) {
			var pdf bytes.Buffer
			require.NoError(t, paper.Labels(&pdf, size, labels))
			folder := t.TempDir()
			require.NoError(t, os.WriteFile(filepath.Join(folder, "labels.pdf"), pdf.Bytes(), 0o600))
			run(t, "pdftoppm", "-r", "300", "-mono", filepath.Join(folder, "labels.pdf"), filepath.Join(folder, "page"))
			pages, err := filepath.Glob(filepath.Join(folder, "page*"))
			require.NoError(t, err)
			said := run(t, "zbarimg", append([]string{"--quiet"}, pages...)...)
			for _, l := range labels {
				require.Contains(t, said, "CODE-128:"+l.Code+"\n")
				require.Contains(t, said, "QR-Code:"+l.Code+"\n")
			}
			require.Equal(t, 2*len(labels), strings.Count(said, "\n"), said)
		})
	}
}

// The check character is the weighted sum modulo 103. "AIM1234" with 87 is the worked example of ISO/IEC 15417, as
// remembered; reckoned by hand it is Start B 104 + A 33·1 + I 41·2 + M 45·3 + Code C 99·4 + 12·5 + 34·6 = 1014 = 9·103 + 87.
func TestCheckCharacterOfCode128(t *testing.T) {
	code, err := code128.Encode("AIM1234")
	require.NoError(t, err)
	require.Equal(t, barcode.TypeCode128, code.Metadata().CodeKind)
	require.Equal(t, 87, code.CheckSum())
}

func TestLabelsThatCannotBeSet(t *testing.T) {
	for i, c := range []struct {
		size paper.Size
		code string
		says string
	}{
		{paper.Size{Width: 20, Height: 10}, "bin D2", "too small for a label"},
		{paper.Size{Width: 30, Height: 30}, "bin " + strings.Repeat("long ", 8), "too small for"},
		{paper.A4, "bin Größe", "letters of ASCII"},
	} {
		err := paper.Labels(&bytes.Buffer{}, c.size, []desk.Label{{Code: c.code}})
		require.ErrorContains(t, err, c.says, fmt.Sprint(i))
	}
}
