package desk

import (
	"fmt"
	"strings"

	"stead/substitution"
)

// AnswerWords are the answer of a verdict, with what is not known of how the part will work, and as what it was asked.
func AnswerWords(v substitution.Verdict) string {
	answer := map[substitution.Answer]string{substitution.Holds: "fits", substitution.Breaks: "does not fit", substitution.CantTell: "can't tell",
		substitution.NoRule: "no rule decides, so nothing is known"}[v.Fits]
	if untold := untoldWords(v); v.Fits == substitution.Holds && untold != "" {
		answer += "; " + untold
	}
	if v.At != "" && v.Fits != substitution.Holds {
		if site, err := substitution.SiteOf(v.At); err == nil {
			answer += " (as " + site.Words + ")"
		}
	}
	return answer
}

// untoldWords say what is not known of how a part will work that goes on, empty where all is.
func untoldWords(v substitution.Verdict) string {
	var words []string
	for _, f := range v.Untold() {
		words = append(words, f.Words)
	}
	if len(words) == 0 {
		return ""
	}
	return "how it will work can't be told: " + strings.Join(words, "; ")
}

// BesideWords is what the choice needs beside it, empty where it needs nothing.
func BesideWords(v substitution.Verdict) string {
	var words []string
	for _, b := range v.Brings() {
		words = append(words, b.String())
	}
	if len(words) == 0 {
		return ""
	}
	return "needs beside it: " + strings.Join(words, ", ")
}

// DifferentWords say what a part that goes on makes different, and what it needs beside it: "nothing" where it is as before.
func DifferentWords(v substitution.Verdict) string {
	var words []string
	for _, d := range v.Deviations() {
		words = append(words, d.Words)
	}
	if len(words) == 0 {
		words = []string{"nothing"}
	}
	if untold := untoldWords(v); untold != "" {
		words = append(words, untold)
	}
	if v.Fits == substitution.NoRule {
		words = append(words, "no rule was asked")
	}
	if beside := BesideWords(v); beside != "" {
		words = append(words, beside)
	}
	return strings.Join(words, "; ")
}

// MissingWords say what to measure of a part before anybody can tell.
func MissingWords(v substitution.Verdict) string {
	var words []string
	for _, m := range v.Missing() {
		words = append(words, fmt.Sprintf("%s of %s (%s)", m.Dimension, m.Place, m.Measure))
	}
	return strings.Join(words, "; ")
}
