package paper_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/paper"
	"stead/inventory"
)

var (
	now  = time.Date(2026, 12, 2, 9, 0, 0, 0, time.UTC)
	shop = inventory.Shop{Name: "Tannery Yard", Address: "4 Tannery Yard\nŁódź-Straße"}
	roll = paper.Size{Width: 80, Roll: true}
)

func money(text string) decimal.Decimal { return decimal.RequireFromString(text) }

// witness is a program from outside that reads what was set; where it is missing only CI fails.
func witness(t *testing.T, program, from string) {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		if os.Getenv("STEAD_CI") != "" {
			t.Fatalf("%s of Debian's %s is missing", program, from)
		}
		t.Skipf("%s of Debian's %s is missing, so nobody reads the paper back", program, from)
	}
}

// set writes a paper into a file.
func set(t *testing.T, size paper.Size, papers ...func(*paper.Sheet)) string {
	t.Helper()
	var pdf bytes.Buffer
	require.NoError(t, paper.Write(&pdf, size, "a paper", papers...))
	file := filepath.Join(t.TempDir(), "paper.pdf")
	require.NoError(t, os.WriteFile(file, pdf.Bytes(), 0o600))
	return file
}

func run(t *testing.T, program string, args ...string) string {
	t.Helper()
	out, err := exec.CommandContext(t.Context(), program, args...).Output()
	require.NoError(t, err, "%s %v", program, args)
	return string(out)
}

func folded(text string) string { return strings.Join(strings.Fields(text), " ") }

// read is what pdftotext reads on a paper, in the order in which it was set.
func read(t *testing.T, size paper.Size, papers ...func(*paper.Sheet)) string {
	t.Helper()
	witness(t, "pdftotext", "poppler-utils")
	return folded(run(t, "pdftotext", "-raw", set(t, size, papers...), "-"))
}

// requireRead checks that a paper says all that is asked, on a sheet and on a roll.
func requireRead(t *testing.T, one func(*paper.Sheet), says ...string) {
	t.Helper()
	for _, size := range []paper.Size{paper.A4, roll} {
		text := read(t, size, one)
		for _, words := range says {
			require.Contains(t, text, folded(words), size)
		}
	}
}

func TestReadSize(t *testing.T) {
	for text, want := range map[string]paper.Size{
		"a4": paper.A4, "A4": paper.A4, "80mm": roll, "70x37mm": {Width: 70, Height: 37},
	} {
		got, err := paper.ReadSize(text)
		require.NoError(t, err, text)
		require.Equal(t, want, got, text)
	}
	for _, text := range []string{"", "letter", "80", "80 cm", "-5mm", "70x37", "1e3mm", "99999x1mm"} {
		_, err := paper.ReadSize(text)
		require.ErrorContains(t, err, "a page is a4", text)
	}
}

func saying(words string) func(*paper.Sheet) { return func(s *paper.Sheet) { s.Say(words) } }

// All of Latin in Unicode's blocks Latin-1, Extended-A, Extended-B and Extended Additional, but for six letters of
// medieval manuscripts at the end of the last, can be set, and is read back.
func TestAllOfLatinIsSet(t *testing.T) {
	var all strings.Builder
	for _, block := range [][2]rune{{0x21, 0x7E}, {0xA1, 0xAC}, {0xAE, 0x24F}, {0x1E00, 0x1EF9}} {
		for r := block[0]; r <= block[1]; r++ {
			all.WriteRune(r)
		}
	}
	text := strings.ReplaceAll(read(t, paper.A4, saying(all.String())), " ", "")
	require.Equal(t, strings.Map(composed, all.String()), strings.Map(composed, text))
	require.Equal(t, "Café £ € – “ ½", read(t, paper.A4, saying("Cafe\u0301 £ € – “ ½")), "an accent is set with its letter")
}

// composed drops what Unicode itself writes in another way: pdftotext may tell ligatures and letters apart.
func composed(r rune) rune {
	if (r >= 0x1C4 && r <= 0x1CC) || (r >= 0x1F1 && r <= 0x1F3) || (r >= 0x132 && r <= 0x133) || r == 0x149 || r == 0x1E9A {
		return -1
	}
	return r
}

// What the font lacks is seen as a square, and spelt out at the end of the paper, so that nothing of a name is lost.
func TestLettersThatCannotBeSet(t *testing.T) {
	for name, c := range map[string]struct{ words, set, spelt string }{
		"of another script": {"for 自転車 Ito", "for □□□ Ito", "□□□: the font of this paper lacks letters of it; in Unicode it is U+81EA U+8EE2 U+8ECA"},
		"to be joined":      {"دراجة", "□□□□□", "U+062F U+0631 U+0627 U+062C U+0629"},
		"a picture":         {"bell🔔ed", "bell□ed", "in Unicode it is b e l l U+1F514 e d"},
		"a control":         {"a\x1bb", "a□b", "a U+001B b"},
		"private":           {"\uE000", "□", "U+E000"},
		"no letters at all": {"a\xffb", "a\uFFFDb", ""},
	} {
		t.Run(name, func(t *testing.T) {
			text := read(t, paper.A4, saying(c.words))
			require.Contains(t, text, c.set)
			require.Contains(t, text, c.spelt)
		})
	}
	require.NotContains(t, read(t, paper.A4, saying("自"), saying("plain")), "plain □", "each paper spells its own")
	many := strings.Fields(strings.Repeat("自 ", 5) + "一 二 三 四 五 六 七 八 九 十 百 千 万 上 下 中 大 小 月 日 年")
	require.Contains(t, read(t, paper.A4, saying(strings.Join(many, " "))), "□ stands in 2 more words")
}

// A name may come with a line's end in it, from a list or by a paste; on paper it is a space.
func TestLineEndInAName(t *testing.T) {
	text := read(t, paper.A4, func(s *paper.Sheet) {
		s.Title("Ines\nFalkner\r\n\tof\u2028Leith")
		s.Table([]string{"", ">"}, [][]string{{"chain\n9-speed", "£1\n0"}})
	})
	require.Contains(t, text, "Ines Falkner of Leith")
	require.Contains(t, text, "chain 9-speed £1 0")
}

func TestPagesTooSmall(t *testing.T) {
	table := func(s *paper.Sheet) {
		s.Table([]string{"", ">"}, [][]string{{"chain", strings.Repeat("9", 60)}})
	}
	for name, c := range map[string]struct {
		size  paper.Size
		paper func(*paper.Sheet)
	}{
		"no width at all": {paper.Size{}, saying("a")},
		"too narrow":      {paper.Size{Width: 40, Roll: true}, saying("a")},
		"too low":         {paper.Size{Width: 100, Height: 12}, saying("a")},
		"low for a head":  {paper.Size{Width: 100, Height: 20}, func(s *paper.Sheet) { s.Head(strings.Repeat("long ", 100)) }},
	} {
		t.Run(name, func(t *testing.T) {
			err := paper.Write(&bytes.Buffer{}, c.size, "a paper", c.paper)
			require.ErrorAs(t, err, new(*paper.SmallError))
			require.ErrorContains(t, err, "too small")
		})
	}
	require.Contains(t, strings.ReplaceAll(read(t, roll, table), " ", ""), strings.Repeat("9", 60), "a figure wider than a roll is broken, not cut off")
}

// A long paper is on several pages of a sheet, each line once, and on one of a roll.
func TestPages(t *testing.T) {
	var want []string
	long := func(s *paper.Sheet) {
		for range 3 {
			for _, words := range want {
				s.Say(words)
			}
		}
	}
	for r := 'a'; r <= 'z'; r++ {
		want = append(want, strings.Repeat(string(r), 3))
	}
	sheet := read(t, paper.A4, long)
	require.Contains(t, sheet, "1 / 2")
	require.Contains(t, sheet, "2 / 2")
	require.Equal(t, 3, strings.Count(sheet, "mmm"))
	require.Equal(t, folded(strings.Repeat(strings.Join(want, " ")+" ", 3)), read(t, roll, long))
}

// On a roll a price stands on the last line of its words where there is room, else under them, and never over them.
func TestAPriceOnTheRoll(t *testing.T) {
	witness(t, "pdftotext", "poppler-utils")
	for name, c := range map[string]struct {
		words string
		lines int
		last  string
	}{
		"short":           {"chain 9-speed", 1, "chain 9-speed"},
		"of two lines":    {"chain 9-speed, 116 links, grey, with a joining link of the same maker", 2, "of the same maker"},
		"as wide as it":   {"chain 9-speed, 116 links, grey, and its link", 2, ""},
		"of nothing else": {"", 1, ""},
	} {
		t.Run(name, func(t *testing.T) {
			text := strings.TrimSpace(run(t, "pdftotext", "-layout", set(t, roll, func(s *paper.Sheet) {
				s.Table([]string{"", ">", ">", ">"}, [][]string{{c.words, "1234", "£1,234.56", "£11,234.56"}})
			}), "-"))
			lines := strings.Split(text, "\n")
			require.Len(t, lines, c.lines, text)
			require.Regexp(t, `^\s*`+regexp.QuoteMeta(c.last)+`\s*1234\s+£1,234.56\s+£11,234.56$`, lines[len(lines)-1])
			require.Equal(t, folded(c.words+" 1234 £1,234.56 £11,234.56"), folded(text))
		})
	}
}

func requireNot(t *testing.T, text string, never ...string) {
	t.Helper()
	for _, words := range never {
		require.NotContains(t, text, words)
	}
}
