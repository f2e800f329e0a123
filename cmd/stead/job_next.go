package main

import (
	"fmt"

	"stead/cmd/stead/internal/desk"
)

// nextStep is the command for what a job asks for next; nothing once the bike has gone home.
func nextStep(v desk.Job) string {
	switch v.Next {
	case desk.Inspect:
		return fmt.Sprintf("next: say what was found, `stead job inspect %d PLACE READING=VALUE`", v.ID)
	case desk.Decide:
		return fmt.Sprintf("next: answer what the findings ask, `stead job inspect %d PLACE …` (`stead place show PLACE` names its readings)", v.ID)
	case desk.MakeQuote:
		return fmt.Sprintf("next: price and date it, `stead job quote %d`", v.ID)
	case desk.Turned:
		return fmt.Sprintf("next: offer something else, `stead job limit %d --help`, and quote again, or give it up, `stead job cancel %d --why WHY`", v.ID, v.ID)
	case desk.Answer, desk.GiveUp, desk.Ask:
		if v.Amendment != nil {
			return afterQuote(*v.Amendment)
		}
		return afterQuote(*v.Quote)
	case desk.Amend:
		return fmt.Sprintf("next: quote what is new, `stead job amend %d`", v.ID)
	case desk.OrderParts:
		return "next: order what it waits for, `stead order plan`, then `stead order place`"
	case desk.Await:
		return "next: its parts are on the way; `stead order late` tells if one will not come in time"
	case desk.Fit:
		return fmt.Sprintf("next: fit what is held, `stead job use %d`", v.ID)
	case desk.HandBack:
		return fmt.Sprintf("next: hand the bike back, `stead job close %d`", v.ID)
	}
	return ""
}

// afterQuote says what to do with a quote.
func afterQuote(q desk.Quote) string {
	if q.Next() == desk.Answer {
		return fmt.Sprintf("next: say what is not known, `stead job answer %d %s`: it quotes anew", q.JobID, answerTo(q))
	}
	if q.Next() == desk.GiveUp {
		if q.Amends > 0 {
			return fmt.Sprintf("next: do without it, `stead job leave-out %d PLACE`, or correct what was found, and amend again", q.JobID)
		}
		return fmt.Sprintf("next: give something up, `stead job limit %d --help`, and quote again", q.JobID)
	}
	accept := ""
	if q.AsksToAccept() {
		accept = " --accept all"
	}
	if q.Amends > 0 {
		return fmt.Sprintf("next: ask %s, then `stead job approve %d --version %d --option OPTION --by NAME%s`, or `stead job decline %d --version %d --by NAME`",
			q.Customer, q.JobID, q.Version, accept, q.JobID, q.Version)
	}
	return fmt.Sprintf("next: ask %s, then `stead job approve %d --version %d --option OPTION --by NAME%s`", q.Customer, q.JobID, q.Version, accept)
}

// answerTo is the answer that would make the first part fit that might: what is not known of the bike, or else of the part.
func answerTo(q desk.Quote) string {
	first := q.Unsure[0].Asks[0]
	words := string(first.Place)
	if first.PartID != 0 {
		words = fmt.Sprint(first.PartID)
	}
	for _, a := range q.Unsure[0].Asks {
		if a.Place == first.Place && a.PartID == first.PartID {
			words += " " + a.Dimension + "=…"
		}
	}
	return words
}
