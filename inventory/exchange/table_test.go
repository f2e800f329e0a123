package exchange

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "stead/testdata/drawn" // the same values in every run
)

// What the Open Worldwide Application Security Project names as the beginnings of formulas (CSV Injection): = + - @, a
// tab and a line's end.
func TestCells(t *testing.T) {
	for text, cell := range map[string]string{
		"=1+1": "'=1+1", "+44 1632 960001": "'+44 1632 960001", "-fine-": "'-fine-", "@home": "'@home", "\tx": "'\tx", "\nx": "'\nx", "＝1": "'＝1",
		"'=1": "''=1", "''=1": "'''=1", "'t Hoen": "'t Hoen", "'": "'", "-5": "-5", "+12.50": "+12.50", "-5-5": "'-5-5", "'-5": "''-5", "": "", "a=b": "a=b", "a\r\nb\rc": "a\nb\nc",
	} {
		require.Equal(t, cell, Cell(text), "%q", text)
		require.Equal(t, strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text), Text(Cell(text)), "%q", text)
	}
}

var some = Table{File: "some.csv", Columns: []string{"a", "b", "c"}, Must: []string{"a"}}

// Whatever is written is read again.
func TestTablesAreReadAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.OneOf(rapid.String(), rapid.StringMatching(`['=+@\t\n\-,;"0-9a-z.]*`))
		var rows [][]string
		for range rapid.IntRange(0, 6).Draw(t, "rows") {
			rows = append(rows, []string{without(cell.Draw(t, "a")), without(cell.Draw(t, "b")), without(cell.Draw(t, "c"))})
		}
		var out bytes.Buffer
		require.NoError(t, some.Write(&out, rows))
		again, err := some.Read(bytes.NewReader(out.Bytes()))
		require.NoError(t, err, out.String())
		require.Len(t, again, len(rows))
		for i, row := range rows {
			for j, want := range row {
				require.Equal(t, want, again[i].Text(some.Columns[j]))
			}
		}
	})
}

// without is a text as a database can hold it, with ends of lines as a table has them.
func without(text string) string {
	text = strings.ToValidUTF8(strings.ReplaceAll(text, "\x00", ""), "")
	return strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
}

func TestBadTables(t *testing.T) {
	for _, c := range []struct{ name, text, wrong string }{
		{"empty", "", "some.csv: is empty"},
		{"other columns", "a,z\n1,2\n", `some.csv, line 1: there is no column "z" here: the columns are a, b, c`},
		{"a column twice", "a,b,a\n", "some.csv, line 1: the column a is there twice"},
		{"a column missing", "b,c\n1,2\n", "some.csv, line 1: the column a is missing"},
		{"a field too many", "a,b\n1,2\n1,2,3\n", "some.csv, line 3: has 3 fields, and the heading names 2"},
		{"an open quotation", "a,b\n\"1,2\n", "some.csv, line 2: cannot be read as CSV"},
		{"not UTF-8", "a\nZo\xeb\n", "some.csv: is not in UTF-8"},
		{"zero byte", "a\n\x00\n", "some.csv: holds a zero byte"},
		{"a workbook", "PK\x03\x04\x00\x00", "holds a zero byte"},
	} {
		_, err := some.Read(strings.NewReader(c.text))
		require.ErrorContains(t, err, c.wrong, c.name)
	}
	rows, err := some.Read(strings.NewReader("\ufeffB;A\r\n\"x;y\";'=1\r\n"))
	require.NoError(t, err, "as a spreadsheet of the continent saves it")
	require.Equal(t, []string{"=1", "x;y", ""}, []string{rows[0].Text("a"), rows[0].Text("b"), rows[0].Text("c")})
	for field, read := range map[string]func(*Row){
		"a": func(r *Row) { r.ID("a") }, "b": func(r *Row) { r.Amount("b") }, "c": func(r *Row) { r.Moment("c") },
	} {
		rows, err := some.Read(strings.NewReader("a,b,c\n0,1e5,yesterday\n"))
		require.NoError(t, err)
		read(rows[0])
		require.ErrorContains(t, rows[0].Wrong(), "some.csv, line 2, "+field+": is a")
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("a,b,c\n1,'=2,\"x\ny\"\n"))
	f.Add([]byte("\ufeffa;b\r\n1;2\r\n"))
	f.Add([]byte("a\n\"\n"))
	f.Fuzz(func(t *testing.T, content []byte) {
		rows, err := some.Read(bytes.NewReader(content))
		if err != nil {
			require.IsType(t, &WrongError{}, err)
			return
		}
		var cells [][]string
		for _, r := range rows {
			cells = append(cells, []string{r.Text("a"), r.Text("b"), r.Text("c")})
			r.Amount("a")
			r.Moment("b")
			r.Maybe("c")
			r.Day("a")
		}
		var out bytes.Buffer
		require.NoError(t, some.Write(&out, cells))
		again, err := some.Read(&out)
		require.NoError(t, err)
		require.Len(t, again, len(rows))
		for i, r := range again {
			for j, c := range some.Columns {
				require.Equal(t, Cell(cells[i][j]), Cell(r.Text(c)))
			}
		}
	})
}
