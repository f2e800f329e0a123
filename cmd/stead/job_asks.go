package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/pricing"
	"stead/substitution"
)

// inquiry is what a quote asks of the same parts, each question once.
type inquiry struct {
	place     substitution.Place // where the parts would sit
	parts     []pricing.UnsurePart
	questions []asking
}

// asking is one question that an answer settles, in the words of the quote.
type asking struct {
	words, of, dimension string
}

// eachPart stands in a question for the number of each part that it is asked of.
const eachPart = "PART"

// questionsOf puts each question once, with the parts for which it is asked, in the order of the quote.
func questionsOf(unsure []pricing.UnsurePart) []inquiry {
	var alone []inquiry
	for _, u := range unsure {
		for i, a := range u.Asks {
			q := asking{words: u.Measure[i], of: askedOf(u, a), dimension: a.Dimension}
			at := slices.IndexFunc(alone, func(b inquiry) bool { return b.place == u.Place && b.questions[0] == q })
			if at < 0 {
				at, alone = len(alone), append(alone, inquiry{place: u.Place, questions: []asking{q}})
			}
			alone[at].parts = append(alone[at].parts, u)
		}
	}
	var out []inquiry
	for _, one := range alone {
		at := slices.IndexFunc(out, func(b inquiry) bool {
			return b.place == one.place && slices.EqualFunc(b.parts, one.parts, func(x, y pricing.UnsurePart) bool { return x.PartID == y.PartID })
		})
		if at < 0 {
			out = append(out, one)
			continue
		}
		out[at].questions = append(out[at].questions, one.questions...)
	}
	return out
}

// askedOf names the thing of which something is asked, as the command takes it: the place of what is on the bike, the number
// of another part, or that of the part itself, which differs from one to the next.
func askedOf(u pricing.UnsurePart, a pricing.Ask) string {
	switch a.PartID {
	case 0:
		return string(a.Place)
	case u.PartID:
		return eachPart
	default:
		return strconv.FormatInt(a.PartID, 10)
	}
}

// printInquiry prints the questions, the parts that they are asked of, and the commands that answer them.
func printInquiry(cmd *cobra.Command, job int64, b inquiry) {
	names, words := make([]string, len(b.parts)), make([]string, len(b.questions))
	for i, u := range b.parts {
		if names[i] = u.Name; len(b.parts) > 1 {
			names[i] = fmt.Sprintf("%d %s", u.PartID, u.Name)
		}
	}
	for i, q := range b.questions {
		words[i] = q.words
	}
	say(cmd, "%s as %s: %s", strings.Join(names, ", "), desk.SiteWords(b.place), strings.Join(words, "; "))
	for _, q := range b.questions {
		if q.of == eachPart && len(b.parts) == 1 {
			q.of = strconv.FormatInt(b.parts[0].PartID, 10)
		}
		say(cmd, "  `stead job answer %d %s %s=…`", job, q.of, q.dimension)
	}
}
