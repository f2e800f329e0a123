package pages

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"stead/inventory"
	"stead/substitution"
)

// hand is whose correction a form makes: who is signed in, why, and how many corrections of the thing they have seen.
func (v *visit) hand(t *typed) inventory.Hand {
	h := inventory.Hand{By: v.person.Name, Why: t.line("why"), At: v.now}
	if seen, err := strconv.Atoi(t.values.Get("seen")); err == nil {
		h.Seen = &seen
	}
	return h
}

// sites are the choices of a place, with nothing as the first.
func sites(nothing string) []string {
	out := []string{"", nothing}
	for _, s := range substitution.Sites() {
		out = append(out, string(s.Place), s.Words)
	}
	return out
}

// site is a place that was chosen; none where nothing was.
func (t *typed) site(field string) substitution.Place {
	text := t.line(field)
	if text == "" {
		return ""
	}
	s, err := substitution.SiteOf(substitution.Place(text))
	t.take(field, err)
	return s.Place
}

// dimensionField asks for a dimension, with the figure that stands there.
func dimensionField(f *Form, d substitution.Dimension, value string) Field {
	return dimensionNamed(f, "d-"+d.Name, d, value)
}

// dimensionNamed is the same under a name of the form's own.
func dimensionNamed(f *Form, name string, d substitution.Dimension, value string) Field {
	field := f.Line(name, sentence(d.Plain()), value)
	switch {
	case d.Form == substitution.Word && len(d.Words) > 1:
		field = f.Select(name, sentence(d.Plain()), value, append([]string{"", "not known"}, twice(d.Words)...)...)
	case d.Form == substitution.Flag:
		field = f.Select(name, sentence(d.Plain()), value, "", "not known", "yes", "yes", "no", "no")
	}
	if field.Kind == "select" && !slices.ContainsFunc(field.Choices, func(c Choice) bool { return c.Chosen }) {
		field.Choices = append(field.Choices, Choice{Value: field.Value, Label: field.Value, Chosen: true}) // another spelling of one of them
	}
	field = field.With(d.Measure)
	if strings.HasSuffix(d.Name, "_mm") || strings.Contains(d.Measure, "caliper") {
		field.Jaws = jawsFor(d.Measure, false)
	}
	return field
}

// spec reads the dimensions of a family that were filled in. What stands there as it was before keeps its origin; what does
// not is as one has measured it.
func (t *typed) spec(table *substitution.Table, was substitution.Spec, origin substitution.Origin) substitution.Spec {
	spec := substitution.Spec{}
	for _, name := range table.DimensionNames() {
		d, _ := table.Dimension(name)
		text := t.line("d-" + name)
		if text == "" {
			continue
		}
		value, err := d.Parse(text)
		if err != nil {
			t.takeOf("d-"+name, d, err)
			continue
		}
		fact := substitution.Fact{Value: value, Origin: origin}
		if before, known := was[name]; known && before.Value.Equal(value) {
			fact = before
		}
		spec[name] = fact
	}
	return spec
}

// takeOf notes what is wrong with what was typed of a dimension.
func (t *typed) takeOf(field string, d substitution.Dimension, err error) {
	t.mark(field, wrongOf(d, err))
}

// wrongOf says what is wrong with a text for a dimension. Its reader names it as it is written in a command, "bead_mm=410";
// whoever stands at a page has never seen that.
func wrongOf(d substitution.Dimension, err error) string {
	words := strings.ReplaceAll(err.Error(), d.Name+"=", "")
	if rest, named := strings.CutPrefix(words, d.Name); named {
		return d.Plain() + rest
	}
	return words
}

// jobPath is a page of a job.
func jobPath(job int64, page string) string { return fmt.Sprintf("/jobs/%d%s", job, page) }
