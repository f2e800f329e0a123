package pricelist

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

func open(t testing.TB, data []byte) *File {
	t.Helper()
	f, err := Open("list.csv", bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, f.Close()) })
	return f
}

func lines(t testing.TB, f *File, sheet string) []Line {
	t.Helper()
	var out []Line
	for l, err := range f.Lines(sheet) {
		require.NoError(t, err)
		out = append(out, l)
	}
	return out
}

const plainList = `Code,Description,Trade,RRP
BB10,"BB CART 68X110 BSA, SQ TPR",8.50,16.99
SPR20,"SPKT 20T ""3-LUG""
second line",3.25,6.99
GRZ1,Grätze Schlauch 28/47-622,2.10,4.99
`

func TestTextForms(t *testing.T) {
	t.Parallel()
	recoded := func(s string, enc interface{ String(string) (string, error) }) []byte {
		out, err := enc.String(s)
		require.NoError(t, err)
		return []byte(out)
	}
	semicolons := strings.NewReplacer(",8.50,", ";8,50;", ",3.25,", ";3,25;", ",2.10,", ";2,10;", "16.99", "16,99", "6.99", "6,99", "4.99", "4,99").Replace(plainList)
	semicolons = strings.NewReplacer("Code,Description,Trade,RRP", "Code;Description;Trade;RRP", "BB10,", "BB10;", "SPR20,", "SPR20;", "GRZ1,", "GRZ1;").Replace(semicolons)
	tabs := "Code\tDescription\tTrade\tRRP\nBB10\tBB CART 68X110 BSA, SQ TPR\t8.50\t16.99\nSPR20\t\"SPKT 20T \"\"3-LUG\"\"\nsecond line\"\t3.25\t6.99\nGRZ1\tGrätze Schlauch 28/47-622\t2.10\t4.99\n"
	for _, c := range []struct {
		name string
		data []byte
		form string
	}{
		{"commas, UTF-8", []byte(plainList), "text, commas"},
		{"byte order mark", []byte("\ufeff" + plainList), "text, commas"},
		{"carriage returns", []byte(strings.ReplaceAll(plainList, "\n", "\r\n")), "text, commas"},
		{"semicolons and decimal commas", []byte(semicolons), "text, semicolons"},
		{"sep line", []byte("sep=;\n" + semicolons), "text, semicolons"},
		{"tabs", []byte(tabs), "text, tabs"},
		{"bars", []byte(strings.ReplaceAll(tabs, "\t", "|")), "text, bars"},
		{"Windows-1252", recoded(plainList, charmap.Windows1252.NewEncoder()), "text, commas"},
		{"UTF-16 with mark", recoded(plainList, unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder()), "text, commas, UTF-16"},
		{"UTF-16, the other way round", recoded(plainList, unicode.UTF16(unicode.BigEndian, unicode.UseBOM).NewEncoder()), "text, commas, UTF-16"},
		{"UTF-16 without mark", recoded(plainList, unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM).NewEncoder()), "text, commas, UTF-16"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			f := open(t, c.data)
			require.Equal(t, c.form, f.Form())
			got := lines(t, f, "")
			require.Len(t, got, 4)
			require.Equal(t, []string{"Code", "Description", "Trade", "RRP"}, got[0].Cells)
			require.Equal(t, "BB CART 68X110 BSA, SQ TPR", got[1].Cells[1])
			require.Contains(t, got[2].Cells[1], "3-LUG\"")
			require.Contains(t, got[2].Cells[1], "second line")
			require.Equal(t, "Grätze Schlauch 28/47-622", got[3].Cells[1])
			require.Zero(t, got[3].Mixed)
			require.False(t, got[3].Cut)
			require.Equal(t, got, lines(t, f, ""), "a list can be read again")
		})
	}
}

// An inch mark is no quotation mark.
func TestInchMarksStand(t *testing.T) {
	t.Parallel()
	got := lines(t, open(t, []byte("Code,Description,Price\nT1,Tyre 26\" x 1.95,7.00\nT2,\"Tube 26\" x 1.95, AV\",2.00\n")), "")
	require.Equal(t, []string{"T1", `Tyre 26" x 1.95`, "7.00"}, got[1].Cells)
	require.Equal(t, []string{"T2", `Tube 26" x 1.95, AV`, "2.00"}, got[2].Cells)
}

func TestMixedEncodings(t *testing.T) {
	t.Parallel()
	got := lines(t, open(t, []byte("Code,Description,Price\nA,Sattelstütze,1.00\nB,Sattelst\xfctze,1.00\n")), "")
	require.Equal(t, "Sattelstütze", got[2].Cells[1])
	require.Equal(t, 2, got[2].Mixed)
}

func TestCutFile(t *testing.T) {
	t.Parallel()
	whole := "Code,Description,Brand,Price\nA,Chain 9spd,Hullin,1.00\nB,Chain 10spd,Hullin,1.00\n"
	got := lines(t, open(t, []byte(whole+"C,Cha")), "")
	require.True(t, got[3].Cut)
	for _, l := range lines(t, open(t, []byte(strings.TrimSuffix(whole, "\n"))), "") {
		require.False(t, l.Cut, "a last line without a line end is whole if its cells are")
	}
}

// refusal is the sentence with which a file is refused, on opening it or on reading its lines.
func refusal(t testing.TB, name string, data []byte) string {
	t.Helper()
	f, err := Open(name, bytes.NewReader(data), int64(len(data)))
	if err == nil {
		defer f.Close()
		for _, sheet := range f.Sheets() {
			for _, e := range f.Lines(sheet) {
				err = errors.Join(err, e)
			}
		}
	}
	require.Error(t, err)
	var refused *RefusedError
	require.ErrorAs(t, err, &refused)
	require.Equal(t, name, refused.File)
	return err.Error()
}

func TestRefused(t *testing.T) {
	t.Parallel()
	sheet := func(inner string) []byte {
		return zipped(t, map[string]string{"[Content_Types].xml": contentTypes, "_rels/.rels": rels, "xl/workbook.xml": workbookXML,
			"xl/_rels/workbook.xml.rels": workbookRels, "xl/worksheets/sheet1.xml": `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>` + inner + `</sheetData></worksheet>`})
	}
	good := book(t, map[string][][]any{"Sheet1": {{"Code", "Description", "Price"}, {"A", "Chain", 1.5}}})
	for _, c := range []struct {
		name, says string
		data       []byte
	}{
		{"empty", "it is empty", nil},
		{"blank", "it is empty", []byte(" \n\n")},
		{"prose", "it has no columns", []byte("Dear customer\nplease find our prices below\n")},
		{"a picture", "it is not text", []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00")},
		{"a PDF", "it is a PDF", []byte("%PDF-1.7 ...")},
		{"a login page", "it is a web page", []byte("<!DOCTYPE html><title>Login</title>")},
		{"an old workbook", "before 2007", append([]byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), make([]byte, 600)...)},
		{"a workbook with a password", "has a password", append([]byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), utf16le("EncryptedPackage")...)},
		{"half a workbook", "damaged or only half", good[:len(good)/2]},
		{"a broken workbook", "damaged", append(append([]byte{}, good[:200]...), bytes.Repeat([]byte{7}, len(good)-200)...)},
		{"another archive", "without a sheet", zipped(t, map[string]string{"readme.xml": "<a/>"})},
		{"a quotation mark never closed", "longer than 1 MB", []byte("Code,Description,Price\nA,\"Chain," + strings.Repeat("1.00,", 400_000))},
		{"a quotation mark closed much later", "not closed for 200 lines", []byte("Code,Description,Price\nA,\"Chain,1.00\n" + strings.Repeat("B,Chain,1.00\n", 300))},
		{"a first cell that never ends", "the line after line 1: the line is longer than 1 MB", []byte("Code,Description,Price\n\"" + strings.Repeat("A", 2_000_000) + "\",chain,1.00\n")},
		{"a million columns", "longer than 1 MB", []byte("Code,Description,Price\n" + strings.Repeat("1,", 1_000_000))},
		{"too many columns", "more than 1000 columns", []byte("Code,Description,Price\n" + strings.Repeat("1,", 2_000) + "\n")},
		{"a cell of 4 MB", "longer than a spreadsheet's cell", sheet(`<row r="1"><c t="inlineStr"><is><t>` + strings.Repeat("A", 4<<20) + `</t></is></c></row>`)},
		{"a million cells in a row", "more than 1000 columns", sheet(`<row r="1">` + strings.Repeat(`<c><v>1</v></c>`, 1_000_000) + `</row>`)},
		{"XML without end of nesting", "nested deeper", sheet(strings.Repeat("<a>", 100_000) + strings.Repeat("</a>", 100_000))},
		{"types of its own", "declares types", zipped(t, map[string]string{"xl/worksheets/sheet1.xml": `<!DOCTYPE x [<!ENTITY a "aaaa">]><x>&a;</x>`})},
		{"an endless mark", "64 kB", sheet(`<row r="1"><c ` + strings.Repeat("a", 1<<20) + `="1"/></row>`)},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			require.Contains(t, refusal(t, "prices.xlsx", c.data), c.says)
		})
	}
}

// A zip bomb is refused by what it says of itself, before anything is unpacked, and one that lies when it unpacks to more.
func TestZipBomb(t *testing.T) {
	t.Parallel()
	require.Contains(t, refusal(t, "prices.xlsx", bomb(t, 2<<30)), "unpacks to more than 1 GB")
	require.Contains(t, refusal(t, "prices.xlsx", bomb(t, 10)), "damaged")
}

// bomb is an archive of 8 MB of blanks whose entry says that it is so large.
func bomb(t testing.TB, says uint64) []byte {
	var packed, b bytes.Buffer
	deflate, err := flate.NewWriter(&packed, flate.BestSpeed)
	require.NoError(t, err)
	_, err = deflate.Write(bytes.Repeat([]byte(" <a/>"), 8<<20/5))
	require.NoError(t, err)
	require.NoError(t, deflate.Close())
	z := zip.NewWriter(&b)
	w, err := z.CreateRaw(&zip.FileHeader{Name: "xl/worksheets/sheet1.xml", Method: zip.Deflate, CompressedSize64: uint64(packed.Len()), UncompressedSize64: says})
	require.NoError(t, err)
	_, err = w.Write(packed.Bytes())
	require.NoError(t, err)
	require.NoError(t, z.Close())
	return b.Bytes()
}

func zipped(t testing.TB, parts map[string]string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, text := range parts {
		w, err := z.Create(name)
		require.NoError(t, err)
		_, err = w.Write([]byte(text))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

const (
	contentTypes = `<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>`
	rels         = `<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`
	workbookXML  = `<?xml version="1.0"?><workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="Sheet1" sheetId="1" r:id="rId1"/></sheets></workbook>`
	workbookRels = `<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`
)

// book makes a workbook.
func book(t testing.TB, sheets map[string][][]any) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	for name, rows := range sheets {
		if name != "Sheet1" {
			_, err := f.NewSheet(name)
			require.NoError(t, err)
		}
		for i, row := range rows {
			require.NoError(t, f.SetSheetRow(name, fmt.Sprintf("A%d", i+1), &row))
		}
	}
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	return b.Bytes()
}

func TestWorkbook(t *testing.T) {
	t.Parallel()
	data := book(t, map[string][][]any{
		"Sheet1": {{"Terms of trade"}},
		"Prices": {{"North Quay Cycle Supply"}, {}, {"Code", "Description", "EAN", "Trade"},
			{"007", "CHAIN 9SPD", 6291041500213, 12.5}, {"008", "CASS 9SPD", "6291041500213", "19.95"}, {"009", "TYRE", 6.2910415e12, 1}},
	})
	f := open(t, data)
	require.Equal(t, []string{"Sheet1", "Prices"}, f.Sheets())
	got := lines(t, f, "Prices")
	require.Equal(t, []string{"007", "CHAIN 9SPD", "6291041500213", "12.5"}, got[2].Cells, "figures stay as they are kept")
	require.Equal(t, 4, got[2].Number)
	require.Equal(t, got, lines(t, f, "Prices"), "a sheet can be read again")
	for _, err := range f.Lines("Stock") {
		require.ErrorContains(t, err, `there is no sheet "Stock": it has Sheet1, Prices`)
	}
}

// A formula gives the value that was stored with it, and a link out of the workbook is not followed.
func TestFormulas(t *testing.T) {
	t.Parallel()
	f := excelize.NewFile()
	defer f.Close()
	require.NoError(t, f.SetSheetRow("Sheet1", "A1", &[]any{"Code", "Description", "Price"}))
	require.NoError(t, f.SetSheetRow("Sheet1", "A2", &[]any{"A", "Chain", 1}))
	require.NoError(t, f.SetCellFormula("Sheet1", "C2", `[1]Sheet1!$A$1*2`))
	require.NoError(t, f.SetCellHyperLink("Sheet1", "B2", "file:///etc/hostname", "External"))
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	got := lines(t, open(t, b.Bytes()), "Sheet1")
	require.Len(t, got, 2)
	require.LessOrEqual(t, len(got[1].Cells), 3)
}

func TestOpenPath(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	path := filepath.Join(dir, "prices.csv")
	require.NoError(t, os.WriteFile(path, []byte(plainList), 0o600))
	f, err := OpenPath(path)
	require.NoError(t, err)
	require.Len(t, lines(t, f, ""), 4)
	require.NoError(t, f.Close())

	_, err = OpenPath(dir)
	require.ErrorContains(t, err, "it is a folder")
	_, err = OpenPath(filepath.Join(dir, "none.csv"))
	require.ErrorIs(t, err, os.ErrNotExist)
}

func FuzzText(f *testing.F) {
	f.Add([]byte(plainList))
	f.Add([]byte("\xff\xfeC\x00;\x00D\x00\n\x00"))
	f.Add([]byte("a;b\r\"c;d"))
	f.Add([]byte("sep=|\na|b|c\n1|2|3"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if bytes.HasPrefix(data, []byte("PK")) {
			t.Skip()
		}
		readAll(data)
	})
}

func FuzzWorkbook(f *testing.F) {
	f.Add(book(f, map[string][][]any{"Sheet1": {{"Code", "Description", "Price"}, {"A", "Chain", 1.5}, {"B", "=1+1", -2}}}))
	f.Fuzz(func(t *testing.T, data []byte) {
		if !bytes.HasPrefix(data, []byte("PK")) {
			t.Skip()
		}
		readAll(data)
	})
}

// readAll reads whatever comes: proposes columns and reads every row.
func readAll(data []byte) {
	file, err := Open("fuzz", bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return
	}
	defer file.Close()
	p, err := ProposeFile(file)
	if err != nil {
		return
	}
	if p.CheckComplete() != nil {
		p.Columns = map[Field]int{Code: 1, Name: 2, Price: 3}
	}
	for row, err := range Rows(file, p.Mapping) {
		if err != nil {
			return
		}
		_ = row.Good()
	}
}
