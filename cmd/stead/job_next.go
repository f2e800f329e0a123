package main

import (
	"fmt"

	"stead/cmd/stead/internal/desk"
	"stead/pricing"
)

// nextStep is the command for what a job asks for next; nothing once the bike has gone home.
func nextStep(v desk.Job) string {
	switch v.Next {
	case desk.Inspect:
		return fmt.Sprintf("next: say what was found, `stead job inspect %d PLACE READING=VALUE`", v.ID)
	case desk.Decide:
		return fmt.Sprintf("next: answer what the findings ask, `stead job inspect %d PLACE …`", v.ID)
	case desk.MakeQuote:
		return fmt.Sprintf("next: price and date it, `stead job quote %d`", v.ID)
	case desk.GiveUp, desk.Ask:
		return afterQuote(*v.Quote)
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
func afterQuote(q pricing.Quote) string {
	if desk.AfterQuote(q) == desk.GiveUp {
		return fmt.Sprintf("next: give something up, `stead job limit %d --help`, and quote again", q.JobID)
	}
	accept := ""
	for _, o := range q.Options {
		if len(o.Deviations) > 0 {
			accept = " --accept all"
		}
	}
	return fmt.Sprintf("next: ask %s, then `stead job approve %d --version %d --option OPTION --by NAME%s`", q.Customer, q.JobID, q.Version, accept)
}
