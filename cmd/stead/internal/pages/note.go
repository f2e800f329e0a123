package pages

import (
	"context"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/pricing"
	"stead/substitution/inspection/note"
)

// notePage is what was said at the bench: the words, what was read out of them, and what is handed back.
type notePage struct {
	desk.Note
	Whose  string
	Ended  bool
	Pieces []piece // the note, its read words marked
	Asked  []asked
	Named  []placeLink // where parts are of which nothing was read
}

// asked is a question about words that were handed back, with its answers as links: to the note with the answer in it, or,
// where that would not be read either, to the place.
type asked struct {
	note.Ask
	Answers []placeLink
}

// placeLink leads to a page under the words of a place.
type placeLink struct{ Path, Words string }

// piece is a stretch of the note: read, or not.
type piece struct {
	Text string
	Read bool
}

func showNote(v *visit) (string, any, error) {
	id, err := v.number("job")
	if err != nil {
		return "", nil, err
	}
	job, err := pricing.JobByID(v.ctx, v.db(), id)
	if err != nil {
		return "", nil, err
	}
	p := notePage{Whose: job.Bike.Customer.Name + "’s " + job.Bike.Words, Note: desk.Note{Job: id}}
	p.Ended = job.State == pricing.Closed || job.State == pricing.Cancelled
	if said := strings.TrimSpace(v.r.URL.Query().Get("said")); said != "" {
		if len([]rune(said)) > mostText {
			return "", nil, &statusError{400, fmt.Sprintf("the note is longer than %d characters: say it in two", mostText)}
		}
		if p.Note, err = desk.LoadNote(v.ctx, v.db(), id, strings.ToValidUTF8(said, "")); err != nil {
			return "", nil, err
		}
		p.Pieces = marks(p.Said, p.words())
		p.Asked = p.answers()
		for _, at := range p.Reading.Named {
			p.Named = append(p.Named, placeLink{inspectPath(id, at), desk.SiteWords(at)})
		}
	}
	return "Said at the bench", p, nil
}

func (p notePage) answers() (out []asked) {
	for _, a := range p.Asks {
		one := asked{Ask: a}
		for _, say := range a.Says {
			switch {
			case say.Reads:
				one.Answers = append(one.Answers, placeLink{fmt.Sprintf("/jobs/%d/note?said=%s", p.Job, url.QueryEscape(a.Answered(p.Said, say))), say.Words})
			case say.Place != "":
				one.Answers = append(one.Answers, placeLink{inspectPath(p.Job, say.Place), say.Words})
			}
		}
		out = append(out, one)
	}
	return out
}

// words are those that something was read from.
func (p notePage) words() (out []string) {
	for _, f := range p.Findings {
		out = append(out, strings.Split(f.Words, " … ")...)
	}
	for _, f := range p.Fitted {
		out = append(out, strings.Split(f.Words, " … ")...)
	}
	return out
}

// marks parts a note into what was read and what was not.
func marks(said string, words []string) []piece {
	read := make([]bool, len(said))
	for _, w := range words {
		for at := 0; w != ""; {
			i := strings.Index(said[at:], w)
			if i < 0 {
				break
			}
			for k := at + i; k < at+i+len(w); k++ {
				read[k] = true
			}
			at += i + len(w)
		}
	}
	var out []piece
	for at := 0; at < len(said); {
		end := at + 1
		for end < len(said) && read[end] == read[at] {
			end++
		}
		out = append(out, piece{said[at:end], read[at]})
		at = end
	}
	return out
}

// Says, Place and Fact are lines of what was read.
func (p notePage) Says(f desk.NotedFinding) string { return desk.FindingSays(f.Finding) }
func (p notePage) Fact(f desk.NotedFact) string    { return desk.FittedSays(f.Fitted) }
func (p notePage) PlaceWords(f desk.NotedFinding) string {
	return desk.SiteWords(f.Place)
}
func (p notePage) FactPlace(f desk.NotedFact) string { return desk.SiteWords(f.Place) }

// readNote shows a note as it is read; nothing is kept.
func readNote(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	said := t.text("said")
	if said == "" {
		t.mark("said", "say what you found: chain’s at point nine, big ring’s hooked")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	return fmt.Sprintf("/jobs/%d/note?said=%s", id, url.QueryEscape(said)), nil
}

// keepNote keeps what is ticked of a note, with the note itself.
func keepNote(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	said := t.text("said")
	if err := t.wrong(); err != nil {
		return "", err
	}
	n, err := desk.LoadNote(v.ctx, v.db(), id, said)
	if err != nil {
		return "", err
	}
	kept := pricing.Note{Said: said, SaidAt: v.now, Unread: n.Reading.Unread}
	finding, fitted := t.all("finding"), t.all("fitted")
	for i, f := range n.Reading.Findings {
		if slices.Contains(finding, strconv.Itoa(i)) {
			kept.Findings = append(kept.Findings, f)
		}
	}
	for i, f := range n.Reading.Fitted {
		if slices.Contains(fitted, strconv.Itoa(i)) {
			kept.Fitted = append(kept.Fitted, f)
		}
	}
	if len(kept.Findings)+len(kept.Fitted) == 0 {
		return v.done(fmt.Sprintf("/jobs/%d/inspect", id), "nothing of it is kept", nil)
	}
	_, err = change(v, "kept what was said at the bench", func(ctx context.Context, tx pgx.Tx, _ string) ([]pricing.Found, error) {
		return pricing.KeepNote(ctx, tx, id, kept)
	})
	return v.done(fmt.Sprintf("/jobs/%d/inspect", id), desk.Several(len(kept.Findings)+len(kept.Fitted), "thing")+" kept of what was said", err)
}
