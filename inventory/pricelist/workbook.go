package pricelist

import (
	"archive/zip"
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"iter"
	"strings"

	"github.com/xuri/excelize/v2"
)

// workbook is an opened XLSX file.
type workbook struct{ file *excelize.File }

const (
	mostUnzipped = 1 << 30   // of all parts together
	mostInMemory = 16 << 20  // of one part; larger ones go through a temporary file
	mostEntries  = 10_000    // files in the archive
	mostCell     = 256 << 10 // a spreadsheet's cell holds 32,767 letters, each at most eight bytes of XML
	mostTag      = 64 << 10
	mostDeep     = 64
)

// openWorkbook looks into the archive before the workbook library does, and refuses what would fill the memory.
func (f *File) openWorkbook() (*workbook, error) {
	if f.size > mostZipped {
		return nil, f.refuse("", "the workbook is larger than 128 MB: ask for the list as CSV, or without its pictures")
	}
	archive, err := zip.NewReader(f.source, f.size)
	if err != nil {
		return nil, f.refuse("", "the workbook is damaged or only half downloaded: fetch it again")
	}
	if err := f.guard(archive); err != nil {
		return nil, err
	}
	book, err := excelize.OpenReader(io.NewSectionReader(f.source, 0, f.size), excelize.Options{
		RawCellValue: true, UnzipSizeLimit: mostUnzipped, UnzipXMLSizeLimit: mostInMemory,
	})
	switch {
	case errors.Is(err, excelize.ErrWorkbookPassword):
		return nil, f.refuse("", "the workbook has a password: open it, save it without one, and load that")
	case err != nil:
		return nil, f.refuse("", "the workbook is damaged and cannot be read: open it, save it again as .xlsx, and load that")
	}
	if len(book.GetSheetList()) == 0 {
		return nil, errors.Join(f.refuse("", "the workbook has no sheet with cells"), book.Close())
	}
	return &workbook{book}, nil
}

// guard checks sizes and shapes: a zip bomb, a million columns, a cell of 100 MB, XML nested without end.
func (f *File) guard(archive *zip.Reader) error {
	if len(archive.File) > mostEntries {
		return f.refuse("", "the workbook has more than 10,000 parts: that is no price list")
	}
	var total uint64
	for _, part := range archive.File {
		total += part.UncompressedSize64
		if part.UncompressedSize64 > mostUnzipped || total > mostUnzipped {
			return f.refuse("", "the workbook unpacks to more than 1 GB: that is no price list")
		}
	}
	sheets := 0
	for _, part := range archive.File {
		name := strings.ToLower(strings.ReplaceAll(part.Name, "\\", "/"))
		if !strings.HasSuffix(name, ".xml") && !strings.HasSuffix(name, ".rels") {
			continue
		}
		if strings.HasPrefix(name, "xl/worksheets/") {
			sheets++
		}
		if err := f.guardPart(part); err != nil {
			return err
		}
	}
	if sheets == 0 {
		return f.refuse("", "it is a packed file without a sheet in it: a price list is a CSV or XLSX file")
	}
	return nil
}

// guardPart runs over a part's XML without building anything of it.
func (f *File) guardPart(part *zip.File) error {
	stream, err := part.Open()
	if err != nil {
		return f.refuse(part.Name, "this part of the workbook is damaged: fetch the file again")
	}
	defer stream.Close()
	says, err := shapeOf(bufio.NewReaderSize(stream, 256<<10))
	if err != nil {
		return f.refuse(part.Name, "this part of the workbook is damaged: fetch the file again")
	}
	if says != "" {
		return f.refuse(part.Name, says)
	}
	return nil
}

// shapeOf says what is monstrous about a stream of XML, or nothing.
func shapeOf(r *bufio.Reader) (says string, err error) {
	row, cells, depth := 0, 0, 0
	for {
		text, err := skip(r, '<', mostCell)
		switch {
		case errors.Is(err, io.EOF):
			return "", nil
		case err != nil:
			return "", err
		case text < 0:
			return fmt.Sprintf("a cell near row %d is longer than a spreadsheet's cell can be: that is no price list", row), nil
		}
		tag, first, err := readTag(r)
		if err != nil {
			return "", err
		}
		switch {
		case tag == nil:
			return fmt.Sprintf("there is a mark of more than 64 kB near row %d: that is no price list", row), nil
		case first == '!' && (bytes.HasPrefix(tag, []byte("DOCTYPE")) || bytes.HasPrefix(tag, []byte("ENTITY"))):
			return "it declares types of its own, which no price list does", nil
		case first == '/':
			depth--
		case first != '?' && first != '!' && tag[len(tag)-1] != '/':
			depth++
		}
		if depth > mostDeep {
			return "its XML is nested deeper than a workbook's: that is no price list", nil
		}
		switch element(first, tag) {
		case "row":
			row, cells = row+1, 0
		case "c":
			if cells++; cells > mostColumns {
				return fmt.Sprintf("row %d has more than %d columns: that is no price list", row, mostColumns), nil
			}
		}
	}
}

// skip reads up to and with the mark; -1 says that it did not come within most bytes.
func skip(r *bufio.Reader, mark byte, most int) (int, error) {
	n := 0
	for {
		chunk, err := r.ReadSlice(mark)
		n += len(chunk)
		switch {
		case err == nil:
			return n, nil
		case !errors.Is(err, bufio.ErrBufferFull):
			return n, err
		case n > most:
			return -1, nil
		}
	}
}

// readTag reads the rest of a tag. It is nil when the tag does not end within its limit.
func readTag(r *bufio.Reader) (tag []byte, first byte, err error) {
	chunk, err := r.ReadSlice('>')
	switch {
	case errors.Is(err, bufio.ErrBufferFull), err == nil && len(chunk) > mostTag:
		return nil, 0, nil
	case errors.Is(err, io.EOF):
		return nil, 0, io.ErrUnexpectedEOF
	case err != nil:
		return nil, 0, err
	}
	tag = chunk[:len(chunk)-1]
	if len(tag) == 0 {
		return []byte{' '}, ' ', nil
	}
	if tag[0] == '/' || tag[0] == '?' || tag[0] == '!' {
		rest := tag[1:]
		if len(rest) == 0 {
			rest = []byte{' '}
		}
		return rest, tag[0], nil
	}
	return tag, tag[0], nil
}

// element is the name of an opening tag without its prefix.
func element(first byte, tag []byte) string {
	if first == '/' || first == '?' || first == '!' {
		return ""
	}
	name := tag
	for i, c := range tag {
		if c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '/' {
			name = tag[:i]
			break
		}
	}
	for i, c := range name {
		if c == ':' {
			name = name[i+1:]
			break
		}
	}
	switch string(name) {
	case "row":
		return "row"
	case "c":
		return "c"
	}
	return ""
}

// bookLines reads a sheet row by row. Formulas give the values that were stored with them; nothing is calculated and no
// link is followed.
func (f *File) bookLines(sheet string) iter.Seq2[Line, error] {
	return func(yield func(Line, error) bool) {
		if err := f.sheetNamed(sheet); err != nil {
			yield(Line{}, err)
			return
		}
		rows, err := f.book.file.Rows(sheet)
		if err != nil {
			yield(Line{}, f.refuse("sheet "+sheet, "the sheet cannot be read: open the workbook, save it again as .xlsx, and load that"))
			return
		}
		defer rows.Close()
		for number := 1; rows.Next(); number++ {
			cells, err := rows.Columns()
			if err != nil {
				yield(Line{}, f.refuse(fmt.Sprintf("sheet %s, row %d", sheet, number), "the row cannot be read: open the workbook, save it again as .xlsx, and load that"))
				return
			}
			if len(cells) > mostColumns {
				yield(Line{}, f.refuse(fmt.Sprintf("sheet %s, row %d", sheet, number), fmt.Sprintf("it has more than %d columns: that is no price list", mostColumns)))
				return
			}
			line := Line{Number: number, Cells: cleanCells(cells)}
			if !line.blank() && !yield(line, nil) {
				return
			}
		}
		if err := rows.Error(); err != nil {
			yield(Line{}, f.refuse("sheet "+sheet, "the sheet ends too soon: the workbook is damaged, fetch it again"))
		}
	}
}
