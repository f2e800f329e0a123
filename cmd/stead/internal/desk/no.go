package desk

import (
	"fmt"

	"stead/pricing"
)

// reasonWords are what a quote came to nothing for.
var reasonWords = map[pricing.Because]string{pricing.ForPrice: "for its price", pricing.ForDate: "for its day", pricing.ForPart: "for want of the part they had", pricing.NoAnswer: "with no answer"}

// NoWords are the noes of the job's customer: who, to what, why, and in what words of their own.
func (v Job) NoWords() []string {
	var out []string
	for _, n := range v.Noes {
		what := "a difference in "
		if n.Whole {
			what = ""
		}
		words := fmt.Sprintf("%s said no to %s%s on %s", n.By, what, pricing.QuoteTitle(n.Version), v.DayOf(n.At))
		if n.Because != "" {
			words += ", " + reasonWords[n.Because]
		}
		if n.Words != "" {
			words += ": “" + n.Words + "”"
		}
		out = append(out, words)
	}
	return out
}
