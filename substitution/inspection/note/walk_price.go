package note

import (
	"strings"
)

// ofNoPart steps over a price, a time, a torque or a pressure. A new part of which a price is told is not yet wanted.
func (w *walk) ofNoPart(i int) int {
	next := w.noneOfOurs(i)
	if _, ran := hoursRun(w.parser, i); next == i || w.hoursOfPart(i) || ran > 0 && w.figuresEnd(i) >= ran {
		return i
	}
	if u := w.cur; u != nil && u.verb != nil && u.wanted && w.seg().part && w.sep == noSep && w.join == noRole {
		u.verb.void = true // "a new cassette is forty quid"
	}
	if w.seg().said && w.sep == noSep && w.join == noRole && w.lastSaid != nil && !w.lastSaid.void {
		w.newSegment(i, true) // "stem fine twenty-five quid for the seals"
		w.cur = nil
	}
	w.say(&predicate{spans: []span{{i, next}}, void: true})
	w.seg().priced = true
	return next
}

// hoursOfPart reports hours that the part at hand has run, "fork 120 hours".
func (w *walk) hoursOfPart(i int) bool {
	m, next := w.measure(w.family, i)
	return w.family != "" && next > i && len(m.readings) == 1 && m.readings[0].name == "hours"
}

// pricedNew takes back the wish of "a new chain is twenty", and leaves the figure to the other ways.
func (w *walk) pricedNew(i int) int {
	u := w.cur
	if u != nil && u.verb != nil && u.wanted && w.items[u.verb.spans[0].first].s.is(fresh) && len(u.says) == 0 && w.seg().part && w.itemAt(i-1).s.is(copula) {
		u.verb.void = true
	}
	return i
}

// noneOfOurs steps over a price, a time, a torque or a pressure.
func (w *walk) noneOfOurs(i int) int {
	if it := w.items[i]; it.figure && looksPriced(it.text) && !w.unitAt(i+1) {
		return i + 1
	}
	for _, n := range w.decimals(i) {
		if !w.isVoidUnit(n.next) {
			continue
		}
		if t := w.itemAt(n.next).text; t == "min" && (w.startsNumber(n.next+1) || w.family == "disc-rotor" && n.broken) {
			continue
		}
		if t := w.itemAt(n.next).text; (t == "nd" || t == "st" || t == "rd" || t == "th" || t == "k" || t == "p" || t == "n") && !w.itemAt(n.next).glued {
			continue
		}
		next := n.next + 1
		for w.isVoidUnit(next) {
			next++
		}
		for _, more := range w.decimals(next) {
			if !w.itemAt(i).figure || w.itemAt(next).figure {
				if w.isVoidUnit(more.next) {
					return more.next + 1
				}
			}
		}
		return next
	}
	return i
}

// looksPriced reports a figure that ends as prices do: "24.99". No part is measured so.
func looksPriced(text string) bool {
	whole, cents, ok := strings.Cut(text, ".")
	return ok && len(whole) > 0 && len(whole) < 4 && whole != "0" && (cents == "99" || cents == "49" || len(whole) > 1 && cents == "95")
}
