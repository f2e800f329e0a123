package pages

import (
	"errors"
	"net/url"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
)

// shelfPage finds parts by what one knows of them, and shows what lies in which bin.
type shelfPage struct {
	Words  string
	Bin    string // the bin that is looked into; empty: none
	Found  []shelfPart
	Bins   []inventory.BinSize
	Search bool   // by words or into a bin
	Typing bool   // somebody is still typing: see inventory.Search
	Sorry  string // why what is spelt like the words was not looked for
}

// shelfPart is a part with how many there are, whose, and where.
type shelfPart struct {
	ID     int64
	Name   string
	About  string // brand and code
	Stock  inventory.Stock
	In     []inventory.Content
	Coming []string
}

// Into looks into a bin.
func (p shelfPage) Into(b inventory.BinSize) string { return "/shelf?bin=" + url.QueryEscape(b.Name) }

// CountPath counts the bin that is looked into.
func (p shelfPage) CountPath() string { return "/stocktake?bin=" + url.QueryEscape(p.Bin) }

// SheetPaper and LabelPaper lead to the sheet by which the bin is counted, and to its label.
func (p shelfPage) SheetPaper() printed {
	return printed{"Sheet to count by", "/bins/" + url.PathEscape(p.Bin) + "/sheet"}
}
func (p shelfPage) LabelPaper() printed {
	return printed{"Label", "/labels/bin/" + url.PathEscape(p.Bin)}
}

// mostFound is how many parts a search shows: more than that say that another word is wanted.
const mostFound = 50

func showShelf(v *visit) (string, any, error) {
	p := shelfPage{Words: v.asked("q"), Bin: v.asked("bin"), Typing: v.asked("typing") != ""}
	p.Search = p.Words != "" || p.Bin != ""
	if v.asked("go") != "" { // sent by the button, or by a scanner's Enter: what bears just this code is shown itself
		if s, err := desk.LoadScanned(v.ctx, v.db(), p.Words); err == nil && len(s.Found) == 1 && s.Note == "" {
			return "", nil, &elsewhere{thingPath(s.Found[0])}
		}
	}
	var err error
	if !p.Search {
		p.Bins, err = inventory.BinSizes(v.ctx, v.db())
		return "Shelf", p, err
	}
	parts, err := p.parts(v)
	if err != nil {
		return "", nil, err
	}
	p.Found, err = shelfParts(v, parts)
	return "Shelf", p, err
}

// parts are those that are looked for, or lie in the bin that is looked into.
func (p *shelfPage) parts(v *visit) ([]inventory.Part, error) {
	if p.Words == "" {
		return partsIn(v, p.Bin)
	}
	parts, err := inventory.FindParts(v.ctx, v.db(), inventory.Search{Words: p.Words, Limit: mostFound, Typing: p.Typing})
	if spelling := (*inventory.SpellingError)(nil); errors.As(err, &spelling) {
		p.Sorry, err = sentence(spelling.Error())+".", nil
	}
	return parts, err
}

// shelfParts say of parts how many there are, where, and what is on its way.
func shelfParts(v *visit, parts []inventory.Part) (rows []shelfPart, err error) {
	coming, err := desk.LoadComing(v.ctx, v.db())
	if err != nil {
		return nil, err
	}
	var ids []int64
	for _, part := range parts {
		ids = append(ids, part.ID)
	}
	stock, err := inventory.StockOf(v.ctx, v.db(), ids)
	if err != nil {
		return nil, err
	}
	contents, err := inventory.ContentsOf(v.ctx, v.db(), ids...)
	if err != nil {
		return nil, err
	}
	in := map[int64][]inventory.Content{}
	for _, c := range contents {
		in[c.PartID] = append(in[c.PartID], c)
	}
	for _, part := range parts {
		row := shelfPart{ID: part.ID, Name: part.Name, About: tidy(part.Brand + " " + part.MakerCode), Stock: stock[part.ID], In: in[part.ID]}
		for _, c := range coming[part.ID] {
			row.Coming = append(row.Coming, c.Words(v.today()))
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// partsIn are the parts of which pieces lie in a bin.
func partsIn(v *visit, bin string) (parts []inventory.Part, err error) {
	contents, err := inventory.ContentsOfBin(v.ctx, v.db(), bin)
	if err != nil {
		return nil, err
	}
	var ids []int64
	for _, c := range contents {
		ids = append(ids, c.PartID)
	}
	known, err := inventory.Parts(v.ctx, v.db(), ids)
	for _, id := range ids {
		parts = append(parts, known[id])
	}
	return parts, err
}
