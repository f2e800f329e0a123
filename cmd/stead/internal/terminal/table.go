// Package terminal sets tables and running text on a terminal of 80 columns.
package terminal

import (
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
	"golang.org/x/term"

	"stead/cmd/stead/internal/linebreak"
)

// Width is the width that everything keeps to.
const Width = 80

// Table writes rows under a heading, the widest text columns folded so that the table keeps to Width. Columns whose
// heading begins with ">" are set to the right; a heading without any words is left out.
func Table(w io.Writer, heading []string, rows [][]string) {
	t := table.NewWriter()
	style := table.StyleLight
	style.Options = table.OptionsNoBordersAndSeparators
	style.Options.SeparateHeader = false
	style.Box.PaddingLeft, style.Box.PaddingRight = "", "  "
	style.Format.Header = text.FormatDefault
	t.SetStyle(style)
	rows = visibleRows(rows)
	widths := fold(heading, rows)
	configs := make([]table.ColumnConfig, len(heading))
	head := make(table.Row, len(heading))
	for i, h := range heading {
		configs[i] = table.ColumnConfig{Number: i + 1, WidthMax: widths[i], WidthMaxEnforcer: foldTo}
		if name, right := strings.CutPrefix(h, ">"); right {
			h = name
			configs[i].Align, configs[i].AlignHeader = text.AlignRight, text.AlignRight
		}
		head[i] = h
	}
	t.SetColumnConfigs(configs)
	if strings.Trim(strings.Join(heading, ""), ">") != "" {
		t.AppendHeader(head)
	}
	for _, r := range rows {
		row := make(table.Row, len(r))
		for i := range r {
			row[i] = r[i]
		}
		t.AppendRow(row)
	}
	for line := range strings.Lines(t.Render()) {
		fmt.Fprintln(w, strings.TrimRight(line, " \n"))
	}
}

func visibleRows(rows [][]string) [][]string {
	out := make([][]string, len(rows))
	for i, row := range rows {
		out[i] = make([]string, len(row))
		for j, cell := range row {
			out[i][j] = Visible(cell)
		}
	}
	return out
}

// fold gives each column its natural width, then takes from the widest until the line fits.
func fold(heading []string, rows [][]string) []int {
	widths := make([]int, len(heading))
	total := 0
	for i, h := range heading {
		widths[i] = text.StringWidthWithoutEscSequences(strings.TrimPrefix(h, ">"))
		for _, r := range rows {
			widths[i] = max(widths[i], text.LongestLineLen(r[i]))
		}
		total += widths[i] + 2
	}
	for total > Width {
		widest := 0
		for i := range widths {
			if widths[i] > widths[widest] {
				widest = i
			}
		}
		if widths[widest] <= 8 {
			break
		}
		widths[widest]--
		total--
	}
	return widths
}

// Columns is how wide the terminal is that a writer writes to, or Width where it writes to none or to one too narrow for any
// text.
func Columns(to io.Writer) int {
	if v, is := to.(*visible); is {
		to = v.to
	}
	if f, is := to.(*os.File); is {
		if columns, _, err := term.GetSize(int(f.Fd())); err == nil && columns >= narrowest {
			return columns
		}
	}
	return Width
}

const narrowest = 20

// Wrap folds running text to Width, each line after the indent.
func Wrap(indent, s string) string { return WrapTo(Width, indent, s) }

// WrapTo folds running text to so many columns, each line after the indent.
func WrapTo(width int, indent, s string) string {
	folded := strings.Split(foldTo(Visible(s), width-len(indent)), "\n")
	for i, l := range folded {
		folded[i] = indent + l
	}
	return strings.Join(folded, "\n")
}

// foldTo breaks the paragraphs of a text into lines of a width, where lines may end; what is wider than a line is
// broken where it must be.
func foldTo(s string, width int) string {
	if text.LongestLineLen(s) <= width {
		return s
	}
	if first, rest, more := strings.Cut(s, "\n\n"); more {
		return foldTo(first, width) + "\n\n" + foldTo(rest, width)
	}
	var out []string
	now := ""
	for _, word := range linebreak.Words(s) {
		switch longer := strings.TrimPrefix(now+" "+word, " "); {
		case text.StringWidthWithoutEscSequences(longer) <= width:
			now = longer
		case text.StringWidthWithoutEscSequences(word) <= width:
			out, now = append(out, now), word
		default:
			broken := strings.Split(text.WrapSoft(longer, width), "\n")
			for i := range broken {
				broken[i] = strings.TrimRight(broken[i], " ")
			}
			out, now = append(out, broken[:len(broken)-1]...), broken[len(broken)-1]
		}
	}
	return strings.Join(append(out, now), "\n")
}

// Rule is a heading drawn across the terminal.
func Rule(title string) string {
	line := "── " + title + " "
	return line + strings.Repeat("─", max(0, Width-text.StringWidthWithoutEscSequences(line)))
}
