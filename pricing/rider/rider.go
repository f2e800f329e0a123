// Package rider puts the bench's words into those of somebody who rides a bike and has never taken one apart: places,
// parts, differences and findings. "48T in place of 50T" is "48 teeth instead of 50"; an outer chainring is the big one.
//
// It only changes words. What is said, and every figure, is the bench's.
package rider

import (
	"regexp"
	"strings"

	"stead/substitution"
)

// Place is a place of a bike in a rider's words, and where that is for who has never heard of it; Where is empty where
// the name says it.
type Place struct{ Name, Where string }

var places = map[substitution.Place]Place{
	"chain":             {"chain", ""},
	"rear.cassette":     {"rear sprockets", "the toothed rings at the rear wheel"},
	"rear.freewheel":    {"rear sprockets", "the toothed rings at the rear wheel"},
	"rear.sprocket":     {"rear sprocket", "the toothed ring at the rear wheel"},
	"crank.outer-ring":  {"big chainring", "the larger toothed ring at the pedals"},
	"crank.middle-ring": {"middle chainring", "the toothed ring between the other two at the pedals"},
	"crank.inner-ring":  {"small chainring", "the smaller toothed ring at the pedals"},
	"crank.ring":        {"chainring", "the toothed ring at the pedals"},
	"crank":             {"cranks", "the arms that the pedals are on"},
	"bottom-bracket":    {"pedal bearing", "what the cranks turn on, inside the frame"},
	"rear.derailleur":   {"rear gear changer", "what moves the chain at the rear wheel"},
	"rear.hanger":       {"gear changer's hanger", "the piece of the frame that the gear changer hangs on"},
	"front.derailleur":  {"front gear changer", "what moves the chain at the pedals"},
	"headset":           {"steering bearing", "what the handlebar turns on, in the frame"},
	"stem":              {"handlebar stem", "what holds the handlebar"},
	"handlebar.tape":    {"handlebar tape", ""},
	"seatpost":          {"seat post", "what holds the saddle"},
	"shifter.left":      {"left gear lever", ""},
	"shifter.right":     {"right gear lever", ""},
	"front.hub":         {"front wheel bearing", "what the front wheel turns on"},
	"rear.hub":          {"rear wheel bearing", "what the rear wheel turns on"},
	"front.rotor":       {"front brake disc", ""},
	"rear.rotor":        {"rear brake disc", ""},
	"front.pads":        {"front brake pads", "what presses on the disc"},
	"rear.pads":         {"rear brake pads", "what presses on the disc"},
	"front.rim-pads":    {"front brake blocks", "what presses on the rim"},
	"rear.rim-pads":     {"rear brake blocks", "what presses on the rim"},
	"front.caliper":     {"front brake", ""},
	"rear.caliper":      {"rear brake", ""},
	"front.tyre":        {"front tyre", ""},
	"rear.tyre":         {"rear tyre", ""},
	"front.gear-cable":  {"front gear cable", ""},
	"rear.gear-cable":   {"rear gear cable", ""},
	"front.brake-cable": {"front brake cable", ""},
	"rear.brake-cable":  {"rear brake cable", ""},
}

// within is a beginning of places that are all a part of one thing for a rider.
type within struct {
	prefix string
	place  Place
}

var wholes = []within{
	{"headset.", Place{"steering bearing", "what the handlebar turns on, in the frame"}},
	{"front.hub.", Place{"front wheel bearing", "what the front wheel turns on"}},
	{"rear.hub.", Place{"rear wheel bearing", "what the rear wheel turns on"}},
	{"front.spokes", Place{"front wheel spokes", ""}},
	{"rear.spokes", Place{"rear wheel spokes", ""}},
}

// balls are places at which balls lie within something.
var balls = regexp.MustCompile(`[.-]balls?\b`)

// of is a place within one thing, in a rider's words: that thing, or its balls.
func (w within) of(p substitution.Place) Place {
	if balls.MatchString(string(p)) {
		return Place{Name: "balls of the " + w.place.Name}
	}
	return w.place
}

// Of is a place in a rider's words; one for which there are none has the bench's.
func Of(p substitution.Place) Place {
	if words, known := places[p]; known {
		return words
	}
	for _, w := range wholes {
		if strings.HasPrefix(string(p), w.prefix) {
			return w.of(p)
		}
	}
	if site, err := substitution.SiteOf(p); err == nil {
		return Place{Name: Words(site.Words)}
	}
	return Place{Name: "other parts"}
}

// says are the bench's words and the rider's, in the order in which they are looked for.
var says = []struct {
	bench *regexp.Regexp
	rider string
}{
	{regexp.MustCompile(`: (try|look at|open it|check)\b.*$`), ""}, // what it tells the mechanic to do
	{regexp.MustCompile(`\b(\d+)T in place of (\d+)T\b`), "$1 teeth instead of $2"},
	{regexp.MustCompile(`\b(\d+)(?:-(\d+))T\b`), "$1 to $2 teeth"},
	{regexp.MustCompile(`\b(\d+)T\b`), "$1 teeth"},
	{regexp.MustCompile(`\b([\d.]+) m a turn\b`), "$1 m for one turn of the pedals"},
	{regexp.MustCompile(`\bin place of\b`), "instead of"},
	{regexp.MustCompile(`\b(\d+)-speed (chains?|cassettes?|bikes?)\b`), "$2 for $1 gears at the rear"},
	{regexp.MustCompile(`\b(\d+)-speed\b`), "for $1 gears at the rear"},
	{regexp.MustCompile(`\bsilver polished alloy\b`), "polished silver aluminium"},
	{regexp.MustCompile(`\b(\w+) anodised alloy\b`), "$1 aluminium"},
	{regexp.MustCompile(`\b(\w+) polished alloy\b`), "polished $1 aluminium"},
	{regexp.MustCompile(`\b(\w+) raw steel\b`), "plain $1 steel"},
	{regexp.MustCompile(`\b(\w+) painted (steel|alloy)\b`), "$1 painted $2"},
	{regexp.MustCompile(`\balloy\b`), "aluminium"},
	{regexp.MustCompile(`\banodised\b`), "coloured"},
	{regexp.MustCompile(`\bouter chainring\b`), "big chainring"},
	{regexp.MustCompile(`\binner chainring\b`), "small chainring"},
	{regexp.MustCompile(`\bcassettes?\b`), "rear sprockets"},
	{regexp.MustCompile(`\bbottom bracket\b`), "pedal bearing"},
	{regexp.MustCompile(`\bheadset\b`), "steering bearing"},
	{regexp.MustCompile(`\brear derailleur\b`), "rear gear changer"},
	{regexp.MustCompile(`\bfront derailleur\b`), "front gear changer"},
	{regexp.MustCompile(`\brotor\b`), "brake disc"},
	{regexp.MustCompile(`\b(derailleur )?hanger\b`), "the piece that the gear changer hangs on"},
	{regexp.MustCompile(`\bfreehub\b`), "the wheel's ratchet"},
	{regexp.MustCompile(`\bits races are marked\b`), "the tracks that its balls run on are marked"},
	{regexp.MustCompile(`\braces and cones\b`), "tracks of the balls"},
	{regexp.MustCompile(`\bscrap at\b`), "to be changed at"},
	{regexp.MustCompile(`\bas it is marked\b`), "as is marked on it"},
	{regexp.MustCompile(`\bgo at\b`), "are changed at"},
	{regexp.MustCompile(`\bskips? under load\b`), "jumps when you pedal hard"},
	{regexp.MustCompile(`\bdoes not jumps\b`), "does not jump"},
	{regexp.MustCompile(`\bskipping under load\b`), "jumping when you pedal hard"},
	{regexp.MustCompile(`\bplay\b`), "looseness"},
}

// Words puts what the bench says into a rider's words.
func Words(text string) string {
	for _, s := range says {
		text = s.bench.ReplaceAllString(text, s.rider)
	}
	return text
}

// bench is what a finding goes on to tell the mechanic to do.
var bench = regexp.MustCompile(`(?::|;| and|,) (?:where the axle has a preload ring )?(?:try|measure|look at|read|record|draw|set the) [^;]*(?:; where more break[^;]*)?`)

// Found puts why something is worn into a rider's words, without what the mechanic is to do about it.
func Found(text string) string { return Words(bench.ReplaceAllString(text, "")) }

// Swatch is the colour of a finish for a picture beside its name; known is false where its words name none.
func Swatch(finish string) (colour string, known bool) {
	for _, c := range swatches {
		if strings.Contains(" "+finish+" ", " "+c.word+" ") {
			return c.word, true
		}
	}
	return "", false
}

// swatches are the words for colours that finishes have, and are named so in the style sheet.
var swatches = []struct{ word string }{{"black"}, {"silver"}, {"grey"}, {"gold"}, {"red"}, {"blue"}, {"green"}, {"white"}, {"brown"}, {"orange"}, {"purple"}, {"yellow"}, {"pink"}, {"copper"}, {"clear"}}

// options are what an option is called when it is the best at something.
var options = map[string]string{"soonest": "Ready sooner", "cheapest": "Costs least", "closest": "As it was", "balanced": "A good middle", "shelf": "With what we have here", "no parts": "No parts needed"}

// Option is an option by its names: what it is the first the best at.
func Option(names []string) string {
	if len(names) > 0 && options[names[0]] != "" {
		return options[names[0]]
	}
	return "One way to do it"
}
