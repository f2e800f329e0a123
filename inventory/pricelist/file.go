package pricelist

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"path/filepath"
	"strings"

	"github.com/xuri/excelize/v2"
)

// What no honest price list exceeds. A file beyond a limit is refused before it can fill the memory.
const (
	mostBytes   = 1 << 30   // of a text file
	mostZipped  = 128 << 20 // of a workbook, as sent
	mostColumns = 1000
	mostLine    = 1 << 20 // bytes of one line
	mostSpan    = 200     // lines of text within one quoted cell
)

// Line is one line of a list as it stands there.
type Line struct {
	Number int      // as an editor or spreadsheet counts, from 1
	Cells  []string // without blanks around them
	Mixed  int      // the first column (from 1) in another encoding than the lines before; 0 for none
	Cut    bool     // the file ends in the middle of this line
	Loose  bool     // which cell is of which column cannot be told
}

// blank reports whether the line has nothing in it.
func (l Line) blank() bool {
	for _, c := range l.Cells {
		if c != "" {
			return false
		}
	}
	return true
}

// RefusedError says why a file is not read at all, and what to do.
type RefusedError struct {
	File  string // its name, without its folder
	Where string // the line or sheet, if it is one
	Says  string
}

func (e *RefusedError) Error() string {
	if e.Where != "" {
		return e.File + ", " + e.Where + ": " + e.Says
	}
	return e.File + ": " + e.Says
}

// File is an opened price list.
type File struct {
	name   string
	source io.ReaderAt
	size   int64
	text   *textForm // for a text file
	book   *workbook // for a workbook
	ends   int       // ends of lines in the first part of a text file, of headSize at most
	close  func() error
}

// OpenPath opens a file on the disk.
func OpenPath(path string) (*File, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("open the price list: %w", err)
	}
	info, err := f.Stat()
	if err != nil {
		return nil, errors.Join(fmt.Errorf("open the price list: %w", err), f.Close())
	}
	if info.IsDir() {
		return nil, errors.Join(&RefusedError{File: filepath.Base(path), Says: "it is a folder: name the file in it"}, f.Close())
	}
	file, err := Open(filepath.Base(path), f, info.Size())
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	inner := file.close
	file.close = func() error { return errors.Join(inner(), f.Close()) }
	return file, nil
}

// headSize is how much of a file is looked at to find out what it is.
const headSize = 64 << 10

// About is about how many lines a sheet of it has, going by the first part of a text; 0 where that is not known.
func (f *File) About(sheet string) int {
	if f.book == nil {
		return int(int64(f.ends) * f.size / max(1, min(f.size, headSize)))
	}
	area, err := f.book.file.GetSheetDimension(sheet)
	if err != nil {
		return 0
	}
	_, last, _ := strings.Cut(area, ":")
	_, rows, err := excelize.CellNameToCoordinates(last)
	if err != nil {
		return 0
	}
	return rows
}

// Open finds out what a file is. What cannot be read is a *[RefusedError].
func Open(name string, source io.ReaderAt, size int64) (*File, error) {
	f := &File{name: name, source: source, size: size, close: func() error { return nil }}
	head := make([]byte, min(size, headSize))
	if _, err := source.ReadAt(head, 0); err != nil && !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	f.ends = bytes.Count(head, []byte{'\n'})
	switch {
	case len(bytes.TrimSpace(head)) == 0:
		return nil, f.refuse("", "it is empty: ask the supplier to send it again")
	case bytes.HasPrefix(head, []byte("PK\x03\x04")), bytes.HasPrefix(head, []byte("PK\x05\x06")):
		book, err := f.openWorkbook()
		if err != nil {
			return nil, err
		}
		f.book = book
		f.close = book.file.Close
		return f, nil
	case bytes.HasPrefix(head, []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")):
		return nil, f.refuse("", f.oldWorkbook())
	case bytes.HasPrefix(head, []byte("%PDF")):
		return nil, f.refuse("", "it is a PDF, which has no columns: ask the supplier for the list as CSV or XLSX")
	case bytes.HasPrefix(bytes.ToLower(bytes.TrimSpace(head)), []byte("<!doctype html")), bytes.HasPrefix(bytes.ToLower(bytes.TrimSpace(head)), []byte("<html")):
		return nil, f.refuse("", "it is a web page, not a list: perhaps the download asked for a login")
	case size > mostBytes:
		return nil, f.refuse("", "it is larger than 1 GB: no price list is, ask the supplier what it is")
	}
	text, err := recogniseText(head)
	if err != nil {
		return nil, f.refuse("", err.Error())
	}
	f.text = text
	return f, nil
}

// oldWorkbook tells a workbook with a password from one of the format before 2007; both begin alike.
func (f *File) oldWorkbook() string {
	all := io.NewSectionReader(f.source, 0, min(f.size, 8<<20))
	data, err := io.ReadAll(all)
	if err == nil && bytes.Contains(data, utf16le("EncryptedPackage")) {
		return "the workbook has a password: open it, save it without one, and load that"
	}
	return "it is a workbook of the format before 2007 (.xls): open it, save it as .xlsx or CSV, and load that"
}

func utf16le(s string) []byte {
	out := make([]byte, 0, 2*len(s))
	for i := range len(s) {
		out = append(out, s[i], 0)
	}
	return out
}

func (f *File) refuse(where, says string) error {
	return &RefusedError{File: f.name, Where: where, Says: says}
}

// Close lets go of the file.
func (f *File) Close() error { return f.close() }

// WriteTo writes the file as it was sent, byte for byte.
func (f *File) WriteTo(w io.Writer) (int64, error) {
	return io.Copy(w, io.NewSectionReader(f.source, 0, f.size))
}

// Name is the file's name.
func (f *File) Name() string { return f.name }

// Sheets are the names of a workbook's sheets; a text file has one without a name.
func (f *File) Sheets() []string {
	if f.book != nil {
		return f.book.file.GetSheetList()
	}
	return []string{""}
}

// Form says in words what the file was taken for: "text, semicolons, Windows-1252".
func (f *File) Form() string {
	if f.book != nil {
		return "workbook, sheets " + strings.Join(f.Sheets(), ", ")
	}
	return f.text.String()
}

// Lines are the lines of a sheet that have something in them, from the first to the last, or to the first error. They can be
// read again.
func (f *File) Lines(sheet string) iter.Seq2[Line, error] {
	switch {
	case f.book != nil:
		return f.bookLines(sheet)
	case f.text.spaced != nil:
		return f.spacedLines()
	}
	return f.textLines()
}

// cleanCells cleans every cell and leaves off the empty ones at the end.
func cleanCells(cells []string) []string {
	for i, c := range cells {
		cells[i] = Clean(c)
	}
	for len(cells) > 0 && cells[len(cells)-1] == "" {
		cells = cells[:len(cells)-1]
	}
	return cells
}
