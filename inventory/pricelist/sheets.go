package pricelist

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"

	"stead/substitution"
)

// LeftSheet is a sheet of a workbook that is not read, and why.
type LeftSheet struct {
	Sheet string `json:"sheet"`
	Why   string `json:"why"`
}

// Sheets are the mappings of all sheets that are read, the mapping's own first.
func (m Mapping) Sheets() []Mapping {
	out := make([]Mapping, 0, 1+len(m.Others))
	for _, s := range append([]Mapping{m}, m.Others...) {
		s.Others, s.Left, s.Day, s.Currency = nil, nil, m.Day, m.Currency
		out = append(out, s)
	}
	return out
}

// Each does something to the mapping and to those of its other sheets.
func (m *Mapping) Each(do func(*Mapping)) {
	do(m)
	for i := range m.Others {
		do(&m.Others[i])
	}
}

// Assign gives the mapping its columns. On the other sheets a field goes with the heading that it has on this one; a column
// that was found there for itself stays where this sheet has no such heading.
func (m *Mapping) Assign(columns map[Field]int) {
	m.Columns = columns
	for i := range m.Others {
		other := &m.Others[i]
		for _, f := range Fields {
			column, given := columns[f]
			at := find(other.Headings, m.heading(column))
			switch {
			case !given:
				delete(other.Columns, f)
			case at > 0:
				maps.DeleteFunc(other.Columns, func(_ Field, c int) bool { return c == at })
				other.Columns[f] = at
			}
		}
	}
}

// In is the mapping for a supplier who sells in a currency: a sheet with prices in another is left, unless all are. A price
// in another is not taken.
func (m Mapping) In(currency string) Mapping {
	m.Currency = currency
	var own []Mapping
	left := m.Left
	for _, s := range m.Sheets() {
		if says := s.otherCurrency(); says != "" {
			left = append(left, LeftSheet{s.Sheet, says})
		} else {
			own = append(own, s)
		}
	}
	if len(own) == 0 || len(m.Others) == 0 {
		return m
	}
	main := own[0]
	main.Others, main.Left = own[1:], left
	return main
}

// noLists are the names of sheets that hold no offers of today, in plain letters.
var noLists = regexp.MustCompile(`(^| )(previous|prev|former|superseded|history|last years?|vorjahr|vorherige?r?|bisherige?r?|alte?r?|precedente?s?|anciens?|anciennes?|vorige|oude?|vecchi[oa]?|scors[oi]|anterior(es)?|antigu[oa]s?|discontinued|deleted|obsolete|eol|end of line|archiv\w*|old|auslauf\w*|ausgelaufen|arretes?|fin de serie|supprimes?|vervallen|fuori produzione|fuori catalogo|obsolet[io]|descatalogad[oa]s?|obsoletos|` +
	`order form|orders?|bestellformular|bestellschein|bon de commande|bestelformulier|modulo ordine|hoja de pedido|pedidos?|invoices?|rechnung|facture|factuur|fattura|factura)( |$)`)

// notAList says why a sheet is not read as a part of the list; empty for one that is.
func (p Proposal) notAList() string {
	paper, says := p.OtherPaper()
	switch err := p.CheckComplete(); {
	case p.Header == 0:
		return "no line of it looks like headings"
	case err != nil:
		return err.Error()
	case noLists.MatchString(plain(p.Sheet)):
		return "its name says that it holds no offers of today"
	case paper == Confirmation:
		return says
	}
	return ""
}

// joinSheets makes one mapping of what the sheets of a workbook propose: that with the most columns goes first. Where none
// is a list, the likeliest is proposed with what is amiss.
func joinSheets(proposals []Proposal, left []LeftSheet) Proposal {
	var lists []Proposal
	newest := newestYear(proposals)
	for _, p := range proposals {
		why := p.notAList()
		if year := yearOf(p.Sheet); why == "" && year > 0 && year < newest {
			why = fmt.Sprintf("its name is of %d, and there is a sheet of %d", year, newest)
		}
		if why != "" {
			left = append(left, LeftSheet{p.Sheet, why})
			continue
		}
		lists = append(lists, p)
	}
	if len(lists) == 0 {
		best := fullest(proposals)
		best.Left = slices.DeleteFunc(left, func(l LeftSheet) bool { return l.Sheet == best.Sheet })
		best.doubt(fmt.Sprintf("the workbook has %d sheets; %q looks most like the list", len(best.Left)+1, best.Sheet))
		return best
	}
	best := fullest(lists)
	best.Left = left
	for _, p := range lists {
		if p.Sheet == best.Sheet {
			continue
		}
		best.Others = append(best.Others, p.Mapping)
		for _, says := range p.Doubts {
			best.doubt(fmt.Sprintf("sheet %s: %s", p.Sheet, says))
		}
	}
	if len(best.Others) == 0 {
		best.doubt(fmt.Sprintf("the workbook has %d sheets; %q looks most like the list", len(left)+1, best.Sheet))
	}
	return best
}

// newestYear is the latest year that a sheet which is a list has in its name; 0 where none has.
func newestYear(proposals []Proposal) (year int) {
	for _, p := range proposals {
		if p.notAList() == "" {
			year = max(year, yearOf(p.Sheet))
		}
	}
	return year
}

var yearInName = regexp.MustCompile(`(?:^|\D)(20\d\d)(?:\D|$)`)

// yearOf is the one year in a sheet's name; 0 where it has none, or several: "2026-2027".
func yearOf(name string) int {
	found := yearInName.FindAllStringSubmatch(name, -1)
	if len(found) != 1 {
		return 0
	}
	year, _ := strconv.Atoi(found[0][1])
	return year
}

// fullest is the proposal with the most columns, the first of several.
func fullest(proposals []Proposal) Proposal {
	best := proposals[0]
	for _, p := range proposals[1:] {
		if len(p.Columns) > len(best.Columns) {
			best = p
		}
	}
	return best
}

// checkOthers finds the other sheets of the list in a file. Those that were confirmed must have their headings; a new one is
// read where the list had several and its headings are those of one of them.
func (m Mapping) checkOthers(f *File, main Mapping) (Mapping, error) {
	main.Others, main.Left = nil, nil
	for _, sheet := range f.Sheets() {
		if sheet == main.Sheet {
			continue
		}
		if i := slices.IndexFunc(m.Others, func(o Mapping) bool { return o.Sheet == sheet }); i >= 0 {
			other, err := m.Others[i].checkSheet(f, sheet)
			if err != nil {
				return Mapping{}, fmt.Errorf("sheet %s: %w", sheet, err)
			}
			main.Others = append(main.Others, other)
			continue
		}
		other, why := m.newSheet(f, sheet)
		if why != "" {
			main.Left = append(main.Left, LeftSheet{sheet, why})
			continue
		}
		main.Others = append(main.Others, other)
	}
	return main, nil
}

// hiddenSheet is why a sheet that is not shown is not read: it may have what the supplier pays itself.
const hiddenSheet = "it is hidden in the workbook, and so not meant to be read"

// isHidden reports whether a workbook does not show a sheet.
func (f *File) isHidden(sheet string) bool {
	if f.book == nil {
		return false
	}
	visible, err := f.book.file.GetSheetVisible(sheet)
	return err == nil && !visible
}

// newSheet is the mapping of a sheet that nobody has confirmed, or why it is not read.
func (m Mapping) newSheet(f *File, sheet string) (Mapping, string) {
	if i := slices.IndexFunc(m.Left, func(l LeftSheet) bool { return l.Sheet == sheet }); i >= 0 {
		return Mapping{}, m.Left[i].Why
	}
	if f.isHidden(sheet) {
		return Mapping{}, hiddenSheet
	}
	if noLists.MatchString(plain(sheet)) {
		return Mapping{}, "its name says that it holds no offers of today"
	}
	if len(m.Others) > 0 {
		for _, known := range m.Sheets() {
			if other, err := known.checkSheet(f, sheet); err == nil && other.Header > 0 {
				return other, ""
			}
		}
	}
	return Mapping{}, "nobody has said which column of it is what: map the columns again"
}

// sheetNamed is a file's sheet, or an error that names those there are.
func (f *File) sheetNamed(sheet string) error {
	if !slices.Contains(f.Sheets(), sheet) {
		return f.refuse("", fmt.Sprintf("there is no sheet %q: it has %s", sheet, substitution.Among(sheet, f.Sheets())))
	}
	return nil
}
