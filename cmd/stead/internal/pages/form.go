package pages

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stead/inventory"
	"stead/inventory/photo/picture"
)

// Form is a form of a page, for its template. `{{with .Form "close"}}{{template "form" .}} … </form>{{end}}` begins it
// with what it carries; its fields are shown by {{template "field" (.Line "name" "Your name")}}.
type Form struct {
	Act, Row, Key, Path string
	State               int
	Sorry               string // what is wrong with the whole of it
	Files               bool   // it brings a file
	ID                  string // by which a button elsewhere on the page sends it
	typed               *typed // what was typed into this very form; nil: nothing
}

// Form begins the form of a button; row tells apart the forms of several lines.
func (s *screen) Form(act string, row ...any) *Form {
	f := &Form{Act: act, Row: fmt.Sprint(row...), Key: inventory.NewKey(), Path: cmp.Or(s.v.action, s.v.r.URL.RequestURI()), State: s.v.state}
	if t := s.v.typed; t != nil && t.act == act && t.row == f.Row {
		f.typed = t
		if t.key != "" {
			f.Key = t.key
		}
		if len(t.errors) > 0 {
			f.Sorry = errWrong.Error()
		}
	}
	return f
}

// Again reports that what was typed into the form before is shown in it.
func (f *Form) Again() bool { return f.typed != nil }

// WithFile is a form that brings a file.
func (f *Form) WithFile() *Form { f.Files = true; return f }

// Named is a form whose button stands elsewhere on the page, within the thumb's reach.
func (f *Form) Named(id string) *Form { f.ID = id; return f }

// Field is one field of a form.
type Field struct {
	Kind     string // line, text, day, number, amount, secret, choice, select, tick, step, photo, list
	Name, ID string
	Label    string
	Value    string
	How      string // what helps to fill it in
	Now      string // what stands there now, where the form was made before
	Wrong    string // what is wrong with what was typed
	Complete string // what a browser may fill in: "name", "current-password"
	Step     string // by how much a tap on + or - changes it
	Jaws     jaws   // how it is measured, where a drawing shows it
	Choices  []Choice
	Needed   bool
	Focus    bool
	Scans    bool   // a scanner may type into it
	Most     int64  // the bytes of a file that are taken
	Larger   string // what is said of one that has more
	Counts   int    // the pieces by which a scan of its line raises it
	Typed    bool   // something stands here that was typed before, or is wrong
}

// Choice is one of the answers of a field.
type Choice struct {
	Value, Label, ID string
	Chosen           bool
}

// field begins a field with what was typed into it, else with a value to start from.
func (f *Form) field(kind, name, label string, start ...any) Field {
	out := Field{Kind: kind, Name: name, Label: label, ID: strings.Trim(f.Act+"-"+f.Row+"-"+name, "-")}
	if len(start) > 0 && start[0] != nil {
		out.Value = fmt.Sprint(start[0])
	}
	if f.typed == nil {
		return out
	}
	began := out.Value
	if !slices.Contains(secrets, name) {
		out.Value = strings.ToValidUTF8(f.typed.values.Get(name), "�")
	}
	out.Wrong = f.typed.errors[name]
	out.Typed = out.Wrong != "" || out.Value != began
	if out.Wrong != "" && !f.typed.pointed {
		out.Focus, f.typed.pointed = true, true
	}
	if now := fmt.Sprint(start...); f.typed.stale && len(start) > 0 && now != out.Value && !slices.Contains(secrets, name) {
		out.Now = cmp.Or(now, "nothing")
	}
	return out
}

// Line, Text, Day, Number, Amount and Secret are fields to type into; start is what stands there to begin with.
func (f *Form) Line(name, label string, start ...any) Field {
	return f.field("line", name, label, start...)
}
func (f *Form) Text(name, label string, start ...any) Field {
	return f.field("text", name, label, start...)
}
func (f *Form) Day(name, label string, start ...any) Field {
	return f.field("day", name, label, start...)
}
func (f *Form) Number(name, label string, start ...any) Field {
	return f.field("number", name, label, start...)
}
func (f *Form) Amount(name, label string, start ...any) Field {
	return f.field("amount", name, label, start...)
}
func (f *Form) Secret(name, label string) Field { return f.field("secret", name, label) }

// Photo asks for a photo: a tablet opens its camera.
func (f *Form) Photo(name, label string) Field {
	out := f.field("photo", name, label)
	out.Most, out.Larger = picture.MostBytes, picture.ErrTooLarge.Error()
	return out
}

// List asks for the file of a price list.
func (f *Form) List(name, label string) Field {
	out := f.field("list", name, label)
	out.Most, out.Larger = mostList, largerList
	return out.With("Text or a workbook, at most 16 MB. Nothing is loaded before you have seen what it would do.")
}

// Tick is a box to tick.
func (f *Form) Tick(name, label string, ticked ...bool) Field {
	out := f.field("tick", name, label)
	if f.typed == nil && len(ticked) > 0 && ticked[0] {
		out.Value = "yes"
	}
	return out
}

// Choice is a choice of one among a few; the choices are value and label by turns.
func (f *Form) Choice(name, label, chosen string, choices ...string) Field {
	out := f.field("choice", name, label, chosen)
	for i := 0; i+1 < len(choices); i += 2 {
		out.Choices = append(out.Choices, Choice{choices[i], choices[i+1], fmt.Sprintf("%s-%d", out.ID, i/2), choices[i] == out.Value})
	}
	return out
}

// Select is a choice of one among many, folded up; the choices are value and label by turns.
func (f *Form) Select(name, label, chosen string, choices ...string) Field {
	out := f.Choice(name, label, chosen, choices...)
	out.Kind = "select"
	return out
}

// With says beside a field how it is filled in.
func (f Field) With(how string) Field { f.How = how; return f }

// Fills says what a browser may fill in.
func (f Field) Fills(what string) Field { f.Complete = what; return f }

// First is where typing begins.
func (f Field) First() Field { f.Focus = true; return f }

// Scanned is for a code: what a scanner types there stays.
func (f Field) Scanned() Field { f.Scans = true; return f }

// Counted is for a number of pieces: what is scanned of its line counts, so many pieces each time.
func (f Field) Counted(pieces int) Field { f.Counts = pieces; return f }

// Must marks a field that cannot stay empty.
func (f Field) Must() Field { f.Needed = true; return f }
