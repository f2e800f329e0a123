package pages

import (
	"cmp"
	"fmt"

	"stead/cmd/stead/internal/desk"
)

// step is where a job's next step is done: a link, or where Act is given a button of the job's own page.
type step struct {
	Words, Path, Act string
	Do               string // the words of the button, where the step is to wait
}

// Button are the words to tap.
func (s step) Button() string { return cmp.Or(s.Do, s.Words) }

// stepOf is the page's counterpart of the command that follows "next:".
func stepOf(job int64, next desk.Step) step {
	if next == desk.NoStep {
		return step{}
	}
	words := next.String()
	s := step{Words: sentence(words), Path: fmt.Sprintf("/jobs/%d", job)}
	switch next {
	case desk.Inspect, desk.Decide:
		s.Path += "/inspect"
	case desk.MakeQuote:
		s.Act = "quote"
	case desk.Answer:
		s.Path += "/asks"
	case desk.GiveUp, desk.Turned:
		s.Path += "/options"
	case desk.Ask:
		s.Path += "/send"
	case desk.Amend:
		s.Path += "/amend"
	case desk.OrderParts:
		s.Path = "/orders/plan"
	case desk.Await:
		s.Path, s.Do = "/orders", "See what is on its way"
	case desk.Fit:
		s.Act = "use"
	case desk.HandBack:
		s.Act = "close"
	}
	return s
}
