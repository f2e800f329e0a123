package desk

import (
	"slices"
	"strings"

	"stead/pricing"
)

// Said is what is said of an option, or once of all of them.
type Said struct {
	Lines      []QuoteLine
	Delays     []string // why the day is later than it would be at other times
	Deviations []pricing.Deviation
	Minimums   []string
	Vouched    []string // who answers for what
	Checks     []string // worth a look when fitting
	Cautions   []string
}

// Empty reports whether there is nothing to say.
func (s Said) Empty() bool {
	return len(s.Lines)+len(s.Delays)+len(s.Deviations)+len(s.Minimums)+len(s.Vouched)+len(s.Checks)+len(s.Cautions) == 0
}

// Notes are what there is to say below the lines: why the day is late, what is different, who answers for what, what to check.
func (s Said) Notes() []string { return s.notes(deviationWords) }

func (s Said) notes(different func(pricing.Deviation) string) []string {
	out := slices.Clone(s.Delays)
	for _, d := range s.Deviations {
		out = append(out, different(d))
	}
	out = append(append(out, s.Minimums...), s.Vouched...)
	if checks := together(s.Checks); len(checks) > 0 {
		out = append(out, "check when fitting: "+strings.Join(checks, "; "))
	}
	for _, caution := range s.Cautions {
		out = append(out, "caution: "+caution)
	}
	return out
}

// ChecksWords are what is worth a look when fitting, each once.
func (s Said) ChecksWords() []string { return together(s.Checks) }

// asOld is how a check ends that says no more than that something is to be as it was.
const asOld = ", as on the old part"

// together are checks with those in one that say the same of one part: "chain width 5/64, length 116 links, as on the
// old part".
func together(checks []string) (out []string) {
	var alike []string // words that they share at their beginning, of the last of out
	for i, check := range checks {
		if slices.Contains(checks[:i], check) {
			continue // two rules that hold for one reason
		}
		words, old := strings.CutSuffix(check, asOld)
		fields := strings.Fields(words)
		if old && len(out) > 0 && strings.HasSuffix(out[len(out)-1], asOld) {
			last := strings.TrimSuffix(out[len(out)-1], asOld)
			share := begin(strings.Fields(last), fields)
			if alike != nil {
				share = begin(alike, fields)
			}
			if share > 0 && (alike == nil || share == len(alike)) {
				alike = fields[:share]
				out[len(out)-1] = last + ", " + strings.Join(fields[share:], " ") + asOld
				continue
			}
		}
		out, alike = append(out, check), nil
	}
	return out
}

// oneCaution puts cautions that say the same of several parts into one.
func oneCaution(cautions []string) (out []string) {
	const is = " is a safety part: "
	var parts []string
	var first int
	var rest string
	for _, c := range cautions {
		part, why, safety := strings.Cut(c, is)
		if !safety || rest != "" && why != rest {
			out = append(out, c)
			continue
		}
		if rest == "" {
			first, rest = len(out), why
			out = append(out, c)
		}
		parts = append(parts, part)
	}
	if n := len(parts); n > 1 {
		out[first] = strings.Join(parts[:n-1], "; ") + " and " + parts[n-1] + " are safety parts: " + rest
	}
	return out
}

// begin is with how many of the same words two texts begin.
func begin(a, b []string) (n int) {
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}

// said is all that is said of an option.
func (c Choice) said() Said {
	s := Said{Lines: c.Lines, Delays: delayWords(c.Delays), Deviations: c.Deviations, Minimums: c.Minimums, Checks: c.Checks, Cautions: c.Cautions}
	for _, v := range c.Option.Vouched {
		s.Vouched = append(s.Vouched, VouchedWords(v))
	}
	return s
}

// sayOnce takes what every one of several options has out of what is said of each, and gives it to be said once.
func sayOnce(choices []Choice) (shared Said) {
	each := make([]*Said, len(choices))
	for i := range choices {
		c := &choices[i]
		c.Apart = c.said()
		each[i] = &c.Apart
	}
	defer func() {
		for _, s := range append(each, &shared) {
			s.Cautions = oneCaution(s.Cautions)
		}
	}()
	if len(choices) < 2 {
		return shared
	}
	self := func(words string) string { return words }
	shared.Lines = takeCommon(each, func(s *Said) *[]QuoteLine { return &s.Lines }, QuoteLine.words)
	shared.Delays = takeCommon(each, func(s *Said) *[]string { return &s.Delays }, self)
	shared.Deviations = takeCommon(each, func(s *Said) *[]pricing.Deviation { return &s.Deviations }, func(d pricing.Deviation) string { return d.Name() + ": " + d.Words })
	shared.Minimums = takeCommon(each, func(s *Said) *[]string { return &s.Minimums }, self)
	shared.Vouched = takeCommon(each, func(s *Said) *[]string { return &s.Vouched }, self)
	shared.Checks = takeCommon(each, func(s *Said) *[]string { return &s.Checks }, self)
	shared.Cautions = takeCommon(each, func(s *Said) *[]string { return &s.Cautions }, self)
	return shared
}

// takeCommon takes what all have out of each one's list; two that read alike are the same.
func takeCommon[T any](each []*Said, list func(*Said) *[]T, reads func(T) string) (common []T) {
	has := map[string]int{}
	for _, s := range each {
		mine := map[string]bool{}
		for _, v := range *list(s) {
			if words := reads(v); !mine[words] {
				mine[words] = true
				has[words]++
			}
		}
	}
	told := map[string]bool{}
	for _, s := range each {
		var rest []T
		for _, v := range *list(s) {
			switch words := reads(v); {
			case has[words] < len(each):
				rest = append(rest, v)
			case !told[words]:
				told[words] = true
				common = append(common, v)
			}
		}
		*list(s) = rest
	}
	return common
}

// words are the line as one reads it.
func (l QuoteLine) words() string {
	words := []string{string(l.Place), l.For, l.Name}
	for _, f := range l.From {
		words = append(words, f.Words, f.Amount.String())
	}
	return strings.Join(words, "\n")
}
