package note_test

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution"
	"stead/substitution/inspection"
	"stead/substitution/inspection/note"
)

// wrong prints every note that is read otherwise than it should be. What the held-out set says is read only after it
// was scored.
var wrong = flag.Bool("wrong", false, "print the notes that are read wrongly")

// example is a note with its truth.
type example struct {
	class  string
	record substitution.Build
	text   string
	claims []string // "chain wear_percent=0.9", "chain replace", "+ crank arm_mm=170"
	handed bool     // something is handed back
}

// examples reads a file of notes; see the head of the file for its form.
func examples(t testing.TB, name string) []example {
	data, err := os.ReadFile("../../../testdata/notes/" + name)
	require.NoError(t, err)
	var out []example
	var e *example
	for n, line := range strings.Split(string(data), "\n") {
		switch {
		case line == "" || line[0] == '#':
		case line[0] == '[':
			class, record, ok := strings.Cut(line[1:], "]")
			require.True(t, ok, "%s:%d", name, n+1)
			out = append(out, example{class: class, record: substitution.Build{}})
			e = &out[len(out)-1]
			for _, place := range strings.Fields(record) {
				require.NoError(t, e.put(place), "%s:%d", name, n+1)
			}
		case line[0] == '>':
			e.text = strings.ReplaceAll(strings.TrimSpace(line[1:]), `\n`, "\n")
		case line == "-":
			e.handed = true
		default:
			claims, err := truth(line)
			require.NoError(t, err, "%s:%d", name, n+1)
			e.claims = append(e.claims, claims...)
		}
	}
	return out
}

// put puts a place on record, with its facts where it has them: `chain` or `chain(speeds=6,links=114)`.
func (e *example) put(text string) error {
	place, facts, _ := strings.Cut(strings.TrimSuffix(text, ")"), "(")
	site, err := substitution.SiteOf(substitution.Place(place))
	if err != nil {
		return err
	}
	table, err := substitution.TableOf(site.Family)
	if err != nil {
		return err
	}
	spec := substitution.Spec{}
	for f := range strings.SplitSeq(facts, ",") {
		name, value, ok := strings.Cut(f, "=")
		if !ok {
			continue
		}
		d, known := table.Dimension(name)
		if !known {
			return fmt.Errorf("%s has no %s", site.Family, name)
		}
		v, err := d.Parse(value)
		if err != nil {
			return err
		}
		spec[name] = substitution.Fact{Value: v, Origin: substitution.Measured}
	}
	e.record[substitution.Place(place)] = nil
	if len(spec) > 0 {
		e.record[substitution.Place(place)] = &substitution.Part{Family: site.Family, Spec: spec}
	}
	return nil
}

// truth reads a line of truth into one claim each.
func truth(line string) ([]string, error) {
	fields := strings.Fields(line)
	sign := ""
	if fields[0] == "+" {
		sign, fields = "+ ", fields[1:]
	}
	site, err := substitution.SiteOf(substitution.Place(fields[0]))
	if err != nil {
		return nil, err
	}
	var out []string
	for _, f := range fields[1:] {
		name, value, pair := strings.Cut(f, "=")
		switch {
		case !pair:
			if _, err := inspection.ParseAction(f); err != nil {
				return nil, err
			}
			out = append(out, fields[0]+" "+f)
			continue
		case sign == "":
			v, err := inspection.Parse(site.Family, name, strings.ReplaceAll(value, "_", " "))
			if err != nil {
				return nil, err
			}
			out = append(out, fields[0]+" "+name+"="+v.String())
		default:
			table, err := substitution.TableOf(site.Family)
			if err != nil {
				return nil, err
			}
			d, ok := table.Dimension(name)
			if !ok {
				return nil, fmt.Errorf("%s has no %s", site.Family, name)
			}
			v, err := d.Parse(value)
			if err != nil {
				return nil, err
			}
			out = append(out, sign+fields[0]+" "+name+"="+v.String())
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%q claims nothing", line)
	}
	return out, nil
}

// claimsOf are a reading's claims in the form of the truth.
func claimsOf(r note.Reading) []string {
	var out []string
	for _, f := range r.Findings {
		if f.Action != "" {
			out = append(out, string(f.Place)+" "+string(f.Action))
		}
		for _, name := range slices.Sorted(maps.Keys(f.Readings)) {
			out = append(out, string(f.Place)+" "+name+"="+f.Readings[name].String())
		}
	}
	for _, f := range r.Fitted {
		for _, name := range slices.Sorted(maps.Keys(f.Spec)) {
			out = append(out, "+ "+string(f.Place)+" "+name+"="+f.Spec[name].String())
		}
	}
	return out
}

// score counts what a set of notes came to.
type score struct{ notes, right, wrong, missed, silent int }

func (s score) precision() float64 { return ratio(s.right, s.right+s.wrong) }
func (s score) recall() float64    { return ratio(s.right, s.right+s.missed) }

func ratio(a, b int) float64 {
	if b == 0 {
		return 1
	}
	return float64(a) / float64(b)
}

func (s *score) add(o score) {
	s.notes += o.notes
	s.right += o.right
	s.wrong += o.wrong
	s.missed += o.missed
	s.silent += o.silent
}

func scoreOf(e example, r note.Reading) (s score, extra, missed []string) {
	got := claimsOf(r)
	s.notes = 1
	for _, c := range got {
		if slices.Contains(e.claims, c) {
			s.right++
		} else {
			s.wrong++
			extra = append(extra, c)
		}
	}
	for _, c := range e.claims {
		if !slices.Contains(got, c) {
			s.missed++
			missed = append(missed, c)
		}
	}
	if (s.missed > 0 || e.handed) && len(r.Unread) == 0 {
		s.silent++
	}
	return s, extra, missed
}

// The bar: a wrong finding costs a wrong part, an unread word one look.
const (
	leastPrecision = 0.998
	leastRecall    = 0.95
)

// sets are the files of notes, in the order in which they were written.
var sets = []string{"worked", "tuning", "second", "held-out", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth", "thirteenth", "fourteenth", "fifteenth", "sixteenth", "seventeenth", "eighteenth", "nineteenth", "twentieth", "twenty-first", "twenty-second", "twenty-third", "twenty-fourth", "twenty-fifth", "twenty-sixth", "twenty-seventh", "twenty-eighth", "twenty-ninth", "thirtieth", "thirty-first", "thirty-second", "thirty-third", "thirty-fourth", "thirty-fifth"}

func TestTruth(t *testing.T) {
	for _, set := range sets {
		t.Run(set, func(t *testing.T) {
			var all score
			classes := map[string]*score{}
			for _, e := range examples(t, set+".txt") {
				r := note.Read(e.text, e.record)
				s, extra, missed := scoreOf(e, r)
				if classes[e.class] == nil {
					classes[e.class] = &score{}
				}
				classes[e.class].add(s)
				all.add(s)
				if *wrong && s.wrong+s.missed+s.silent > 0 {
					t.Logf("[%s] %s\n   wrong %q\n   missed %q\n   unread %q", e.class, e.text, extra, missed, r.Unread)
				}
			}
			for _, class := range slices.Sorted(maps.Keys(classes)) {
				s := classes[class]
				t.Logf("%-12s %3d notes, %3d claims: precision %.3f (%d wrong), recall %.3f (%d missed)", class, s.notes, s.right+s.missed, s.precision(), s.wrong, s.recall(), s.missed)
			}
			t.Logf("all %d notes, %d claims: precision %.4f (%d wrong), recall %.4f (%d missed), %d silent", all.notes, all.right+all.missed, all.precision(), all.wrong, all.recall(), all.missed, all.silent)
			require.GreaterOrEqual(t, all.precision(), leastPrecision)
			require.GreaterOrEqual(t, all.recall(), leastRecall)
			require.Zero(t, all.silent, "something was missed without a word of it handed back")
		})
	}
}
