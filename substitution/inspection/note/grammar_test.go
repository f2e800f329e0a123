package note_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/substitution/inspection/note"
)

// thing is a part as it is named, with the places that the name means.
type thing struct {
	name  string
	place string // without its end, for what a bike has at either end
	said  []saying
}

// saying is what can be said of a part, in words and as a claim; worse is what it is when it is denied.
type saying struct{ words, claim, denied string }

var (
	cracks  = saying{"cracked", "damaged=yes", "damaged=no"}
	cut     = saying{"cut", "damaged=yes", "damaged=no"}
	torn    = saying{"torn", "damaged=yes", "damaged=no"}
	bent    = saying{"snapped", "damaged=yes", "damaged=no"}
	rough   = saying{"rough", "feel=rough", ""}
	gritty  = saying{"gritty", "feel=rough", ""}
	smooth  = saying{"smooth", "feel=smooth", ""}
	hooked  = saying{"hooked", "hooked_teeth=yes", "hooked_teeth=no"}
	frayed  = saying{"frayed", "frayed=yes", "frayed=no"}
	stiff   = saying{"stiff", "stiff=yes", "stiff=no"}
	shot    = saying{"shot", "replace", ""}
	worn    = saying{"worn out", "replace", ""}
	fineIs  = saying{"fine", "keep", ""}
	okIs    = saying{"OK", "keep", ""}
	wornTo  = saying{"worn to the line", "worn_to_mark=yes", "worn_to_mark=no"}
	singles = []thing{
		{"headset", "headset", []saying{rough, gritty, smooth, shot, fineIs}},
		{"bottom bracket", "bottom-bracket", []saying{rough, smooth, worn, okIs}},
		{"stem", "stem", []saying{cracks, fineIs}},
		{"saddle", "saddle", []saying{torn, shot, okIs}},
		{"seatpost", "seatpost", []saying{cracks, fineIs}},
		{"bar tape", "handlebar.tape", []saying{torn, shot, okIs}},
		{"cassette", "rear.cassette", []saying{hooked, worn, fineIs}},
		{"big ring", "crank.outer-ring", []saying{hooked, shot, fineIs}},
		{"left shifter", "shifter.left", []saying{bent, shot, okIs}},
		{"rear mech", "rear.derailleur", []saying{bent, shot, fineIs}},
		{"freehub", "rear.freehub", []saying{rough, smooth, okIs}},
		{"basket", "front.basket", []saying{cracks, okIs}},
		{"bell", "handlebar.bell", []saying{bent, shot}},
		{"kickstand", "frame.stand", []saying{bent, fineIs}},
		{"bottle cage", "frame.bottle-cage", []saying{cracks, fineIs}},
		{"chain", "chain", []saying{stiff, shot, fineIs}},
	}
	pairs = []thing{
		{"tyre", "*.tyre", []saying{cut, shot, fineIs}},
		{"hub", "*.hub", []saying{rough, smooth, okIs}},
		{"rim", "*.rim", []saying{cracks, wornTo, fineIs}},
		{"brake cable", "*.brake-cable", []saying{frayed, stiff, okIs}},
		{"gear cable", "*.gear-cable", []saying{frayed, stiff, fineIs}},
		{"mudguard", "*.mudguard", []saying{cracks, shot, fineIs}},
	}
)

// drawn is a stretch of a note with what it says.
type drawn struct {
	text   string
	claims []string
}

// deck deals parts, none of them twice in a note.
type deck struct {
	r       *rand.Rand
	singles []thing
	pairs   []thing
}

func newDeck(seed uint64) *deck {
	d := &deck{r: rand.New(rand.NewPCG(seed, 16)), singles: slices.Clone(singles), pairs: slices.Clone(pairs)}
	d.r.Shuffle(len(d.singles), func(i, j int) { d.singles[i], d.singles[j] = d.singles[j], d.singles[i] })
	d.r.Shuffle(len(d.pairs), func(i, j int) { d.pairs[i], d.pairs[j] = d.pairs[j], d.pairs[i] })
	return d
}

// one is a part with what is said of it: alone on the bike, or at a named end.
func (d *deck) one() (thing, saying) {
	if d.r.IntN(3) == 0 && len(d.pairs) > 1 {
		t := d.pair()
		end := []string{"front", "rear"}[d.r.IntN(2)]
		t.name, t.place = end+" "+t.name, strings.Replace(t.place, "*", end, 1)
		return t, t.said[d.r.IntN(len(t.said))]
	}
	t := d.singles[0]
	d.singles = d.singles[1:]
	return t, t.said[d.r.IntN(len(t.said))]
}

// named deals one of these parts, or the last of them again where all are dealt.
func (d *deck) named(names ...string) thing {
	is := func(t thing) bool { return slices.Contains(names, t.name) }
	if i := slices.IndexFunc(d.singles, is); i >= 0 {
		t := d.singles[i]
		d.singles = slices.Delete(d.singles, i, i+1)
		return t
	}
	if i := slices.IndexFunc(d.pairs, is); i >= 0 {
		t := d.pairs[i]
		d.pairs = slices.Delete(d.pairs, i, i+1)
		t.name, t.place = "rear "+t.name, strings.Replace(t.place, "*", "rear", 1)
		return t
	}
	return thing{name: "frame bolt", place: "frame.bolt"}
}

// reading is a part with something read of it.
func (d *deck) reading() (thing, saying) {
	for {
		if t, s := d.one(); strings.Contains(s.claim, "=") {
			return t, s
		}
	}
}

// flag is a part with a reading that can be denied.
func (d *deck) flag() (thing, saying) {
	for {
		t, s := d.one()
		for _, s = range t.said {
			if s.denied != "" {
				return t, s
			}
		}
	}
}

func (d *deck) pair() thing {
	t := d.pairs[0]
	d.pairs = d.pairs[1:]
	return t
}

// two are different things said of a part.
func (d *deck) two(t thing) (saying, saying) {
	i := d.r.IntN(len(t.said))
	j := (i + 1 + d.r.IntN(len(t.said)-1)) % len(t.said)
	return t.said[i], t.said[j]
}

func (t thing) front(s saying) string {
	return strings.Replace(t.place, "*", "front", 1) + " " + s.claim
}
func (t thing) rear(s saying) string { return strings.Replace(t.place, "*", "rear", 1) + " " + s.claim }
func (t thing) is(s saying) string   { return t.place + " " + s.claim }
func (t thing) to(action string) string {
	return t.place + " " + action
}

// pick takes one of several wordings.
func (d *deck) pick(words ...string) string { return words[d.r.IntN(len(words))] }

// constructs are the ways in which a sentence is built, with what each says. What holds nothing has no claims.
var constructs = map[string]func(*deck) drawn{
	"plain": func(d *deck) drawn {
		a, x := d.one()
		return drawn{fmt.Sprintf(d.pick("%s %s", "%s's %s", "the %s is %s", "%s: %s", "%s - %s", "The %s, that's %s", "as for the %s, it's %s", "the %s, well, it's %s", "%s is definitely %s", "the %s, it is %s"), a.name, x.words), []string{a.is(x)}}
	},
	"adjective before": func(d *deck) drawn {
		a, x := d.flag()
		return drawn{fmt.Sprintf(d.pick("%s %s", "a %s %s", "there's a %s %s", "got a %s %s", "found a %s %s"), x.words, a.name), []string{a.is(x)}}
	},
	"adjectives before": func(d *deck) drawn {
		a, x := d.flag()
		b, y := d.flag()
		return drawn{fmt.Sprintf(d.pick("%s %s, %s %s", "%s %s and %s %s", "a %s %s and a %s %s"), x.words, a.name, y.words, b.name), []string{a.is(x), b.is(y)}}
	},
	"wanted": func(d *deck) drawn {
		a, _ := d.one()
		return drawn{fmt.Sprintf(d.pick("needs a new %s", "new %s", "new %s needed", "replace the %s", "fit a new %s", "%s needs replacing", "%s to be replaced", "%s wants replacing", "%s wants changing",
			"%s needs replaced", "%s needs a replacement", "%s must be replaced", "the %s has to be replaced", "the %s needs to be changed", "change the %s", "swap the %s out", "swap out the %s", "%s due for replacement",
			"%s needs swapping", "the %s is to be changed", "it needs a new %s", "this needs a new %s", "bike needs a new %s", "needs a %s", "%s for replacement", "replacement %s needed", "%s requires replacement", "put a new %s on it", "a new %s is needed", "the %s will have to be replaced", "the %s wants renewing"), a.name), []string{a.to("replace")}}
	},
	"cleaned": func(d *deck) drawn {
		a := d.singles[0]
		d.singles = d.singles[1:]
		return drawn{fmt.Sprintf(d.pick("clean the %s", "%s needs cleaning", "%s needs a clean", "%s wants a good clean", "give the %s a clean", "%s to be cleaned", "the %s needs to be cleaned", "%s needs cleaned", "%s: clean"), a.name), []string{a.to("clean")}}
	},
	"list under a verb": func(d *deck) drawn {
		a, _ := d.one()
		b, _ := d.one()
		c, _ := d.one()
		return drawn{fmt.Sprintf(d.pick("replace %s, %s and %s", "replace the %s, the %s and the %s", "new %s, new %s, new %s", "needs: %s, %s, %s", "needs a new %s, %s and %s", "to replace: %s, %s, %s",
			"change %s %s %s", "replace the following: %s, %s, %s", "needs a new %s, a new %s and a new %s", "needs %s, %s and also %s", "%s, %s and %s need replacing", "%s, %s and %s to be replaced", "%s, %s, %s: replace", "%s, %s, %s all need replacing",
			"%s, %s and %s all want changing", "replace %s & %s & %s", "new %s, %s, %s"), a.name, b.name, c.name), []string{a.to("replace"), b.to("replace"), c.to("replace")}}
	},
	"list with one word": func(d *deck) drawn {
		a, _ := d.one()
		b, _ := d.one()
		c, _ := d.one()
		return drawn{fmt.Sprintf(d.pick("%s, %s and %s fine", "%s, %s and %s are all fine", "%s, %s, %s all good", "the %s, %s and %s are OK", "%s and %s and %s are fine", "%s, %s, %s: all fine", "nothing wrong with %s, %s or %s", "%s, %s plus %s fine", "leave %s, %s and %s alone"), a.name, b.name, c.name), []string{a.to("keep"), b.to("keep"), c.to("keep")}}
	},
	"ends of a kind": func(d *deck) drawn {
		t := d.pair()
		x, y := d.two(t)
		return drawn{fmt.Sprintf(d.pick("front %[1]s %[2]s, rear %[3]s", "front %[1]s %[2]s, rear one %[3]s", "%[1]ss: front %[2]s, rear %[3]s", "front %[1]s is %[2]s and the rear is %[3]s", "the front %[1]s's %[2]s but the rear one's %[3]s",
			"front %[1]s %[2]s rear %[1]s %[3]s", "front %[1]s's %[2]s, back one's %[3]s", "%[1]ss, front %[2]s, rear %[3]s", "front %[1]s %[2]s; rear %[3]s", "front %[1]s %[2]s, rear %[1]s %[3]s", "front %[1]s: %[2]s, rear: %[3]s", "of the %[1]ss the front is %[2]s and the rear %[3]s",
			"the front %[1]s is %[2]s, the back is %[3]s", "front %[1]s %[2]s while the rear is %[3]s", "front %[1]s %[2]s, whereas the rear's %[3]s"), t.name, x.words, y.words), []string{t.front(x), t.rear(y)}}
	},
	"both": func(d *deck) drawn {
		t := d.pair()
		x := t.said[d.r.IntN(len(t.said))]
		return drawn{fmt.Sprintf(d.pick("both %[1]ss %[2]s", "both %[1]ss are %[2]s", "%[1]ss both %[2]s", "front and rear %[1]s %[2]s", "front and rear %[1]ss both %[2]s", "both of the %[1]ss are %[2]s", "the %[1]ss are both %[2]s", "front %[1]s and rear %[1]s %[2]s", "front %[1]s %[2]s, rear the same",
			"front %[1]s %[2]s, same at the back", "front %[1]s %[2]s and so is the rear", "front %[1]s %[2]s, ditto rear", "front %[1]s %[2]s, rear %[1]s likewise", "%[1]ss %[2]s front and rear", "%[1]ss are %[2]s at both ends", "front %[1]s's %[2]s and the rear one is too", "front %[1]s's %[2]s as is the rear"), t.name, x.words), []string{t.front(x), t.rear(x)}}
	},
	"neither": func(d *deck) drawn {
		t := d.pair()
		for t.said[0].denied == "" {
			t = d.pair()
		}
		x := t.said[0]
		no := func(end string) string { return strings.Replace(t.place, "*", end, 1) + " " + x.denied }
		return drawn{fmt.Sprintf(d.pick("neither %[1]s is %[2]s", "neither of the %[1]ss is %[2]s", "neither %[1]s %[2]s", "neither the front nor the rear %[1]s is %[2]s", "front %[1]s isn't %[2]s, nor is the rear", "front %[1]s not %[2]s, rear not %[2]s either"), t.name, x.words), []string{no("front"), no("rear")}}
	},
	"some of them": func(d *deck) drawn {
		t := d.pair()
		x := t.said[d.r.IntN(len(t.said))]
		return drawn{fmt.Sprintf(d.pick("one of the %[1]ss is %[2]s", "either the front or the rear %[1]s is %[2]s", "one %[1]s is %[2]s, not sure which", "only one of the %[1]ss is %[2]s", "at least one %[1]s is %[2]s"), t.name, x.words), nil}
	},
	"another bike by what it has": func(d *deck) drawn {
		a, x := d.flag()
		b, y := d.one()
		return drawn{fmt.Sprintf(d.pick("this isn't the one with the %[2]s %[1]s. %[3]s %[4]s", "not the bike with the %[2]s %[1]s. %[3]s %[4]s", "the one with the %[2]s %[1]s is Wednesday's. %[3]s %[4]s", "this isn't the one that has the %[2]s %[1]s, that's another. %[3]s %[4]s",
			"it's not the one with the %[2]s %[1]s; %[3]s %[4]s", "this one is not the one with the %[2]s %[1]s. %[3]s %[4]s"), a.name, x.words, b.name, y.words), []string{b.is(y)}}
	},
	"arms of a crankset": func(d *deck) drawn {
		x := d.pickSaying(cracks, okIs, shot)
		return drawn{fmt.Sprintf(d.pick("crank arms are one seventy each, the left one's %s", "crank arms are 170 each, left one %s", "both crank arms are 170, the left's %s", "each crank arm is 170, the left crank arm is %s"), x.words), []string{"+ crank.arm-left arm_mm=170", "+ crank.arm-right arm_mm=170", "crank.arm-left " + x.claim}}
	},
	"one arm": func(d *deck) drawn {
		x, y := d.pickSaying(cracks, shot), d.pickSaying(okIs, fineIs)
		return drawn{fmt.Sprintf(d.pick("left crank %s, right %s", "left crank arm %s, right one %s", "non-drive side crank is %s, drive side %s", "left crank's %s, the right one's %s"), x.words, y.words), []string{"crank.arm-left " + x.claim, "crank.arm-right " + y.claim}}
	},
	"what was seen first": func(d *deck) drawn {
		a, x := d.one()
		return drawn{fmt.Sprintf(d.pick("so I had it up on the stand and the first thing I noticed was the %s, it's %s", "first thing I noticed was the %s is %s", "next thing I saw was that the %s is %s", "put it up in the stand and the %s is %s", "main thing I noticed was the %s, that's %s",
			"%s's %s, and the owner told me the wheels were new last summer"), a.name, x.words), []string{a.is(x)}}
	},
	"like in passing": func(d *deck) drawn {
		a, x := d.one()
		return drawn{fmt.Sprintf(d.pick("%s is like %s", "%s's like %s", "um the %s is like %s", "the %s, it's like %s", "so the %s was checked and is like %s"), a.name, x.words), []string{a.is(x)}}
	},
	"spokes of a wheel": func(d *deck) drawn {
		return drawn{d.pick("rear wheel - 3 spokes snapped non drive side", "rear wheel: 3 spokes snapped non drive side", "rear wheel - three broken spokes, non drive side", "rear wheel – 3 spokes broken on the non drive side", "3 spokes snapped on the non drive side of the rear wheel"), []string{"rear.spokes-left broken=3"}}
	},
	"done before": func(d *deck) drawn {
		t := d.pair()
		x, y := d.two(t)
		return drawn{fmt.Sprintf(d.pick("%[1]ss were done in spring by some other shop. Front one's %[2]s. Rear's %[3]s.", "the %[1]ss were replaced last year. Front one's %[2]s, rear one's %[3]s", "he says the %[1]ss are new. Front one is %[2]s, rear %[3]s", "owner reckons the %[1]ss are shot. The front one's %[2]s and the rear one's %[3]s"), t.name, x.words, y.words), []string{t.front(x), t.rear(y)}}
	},
	"their own": func(d *deck) drawn {
		a, x := d.reading()
		b, _ := d.one()
		return drawn{fmt.Sprintf(d.pick("%[1]s %[2]s, she's bringing her own on Monday. %[3]s fine", "%[1]s %[2]s, he's got his own at home. %[3]s fine", "%[1]s %[2]s, he'll bring his own on Friday. %[3]s fine", "%[1]s is %[2]s, she's bringing hers tomorrow; %[3]s fine"), a.name, x.words, b.name), []string{a.is(x), b.to("keep")}}
	},
	"its cable": func(d *deck) drawn {
		x := d.pickSaying(frayed, stiff, fineIs)
		end := d.pick("front", "rear")
		kind, of := "brake", "caliper"
		if d.r.IntN(2) == 0 {
			kind, of = "derailleur", "derailleur"
		}
		if t := d.named(strings.Replace(kind, "derailleur", "gear", 1) + " cable"); t.place == "frame.bolt" || kind == "derailleur" && d.named("rear mech").place == "frame.bolt" {
			return drawn{"frame bolt", nil} // it was dealt before
		}
		cable := end + "." + strings.Replace(kind, "derailleur", "gear", 1) + "-cable "
		return drawn{fmt.Sprintf(d.pick("%[1]s %[2]s fine. Its cable's %[3]s", "%[1]s %[2]s is fine, its cable is %[3]s", "%[1]s %[2]s is fine. Its cable is %[3]s", "%[1]s %[2]s fine but its cable's %[3]s"), end, kind, x.words), []string{end + "." + of + " keep", cable + x.claim}}
	},
	"gear cable beside its gears": func(d *deck) drawn {
		x := d.pickSaying(frayed, stiff)
		if d.named("gear cable").place == "frame.bolt" || d.named("rear mech").place == "frame.bolt" {
			return drawn{"frame bolt", nil} // it was dealt before
		}
		return drawn{fmt.Sprintf(d.pick("rear mech fine gear cable %s gear housing kinked", "rear derailleur fine, gear cable %s, gear outer kinked", "rear mech fine, gear cable's %s and the gear housing is kinked"), x.words), []string{"rear.derailleur keep", "rear.gear-cable " + x.claim, "rear.gear-housing damaged=yes"}}
	},
	"the same of an end": func(d *deck) drawn {
		a, b := d.pair(), d.pair()
		switch { // of a gear cable it is not sure that the end of another part holds
		case a.name == "gear cable":
			a = d.pair()
		case b.name == "gear cable":
			b = d.pair()
		}
		x, y := a.said[0], b.said[0]
		return drawn{fmt.Sprintf(d.pick("front %[1]s %[2]s, front %[3]s %[4]s. Same at the back.", "front: %[1]s %[2]s, %[3]s %[4]s. Rear the same", "front %[1]s's %[2]s and the front %[3]s is %[4]s. Rear the same", "at the front the %[1]s is %[2]s and the %[3]s %[4]s. The rear's the same"),
			a.name, x.words, b.name, y.words), []string{a.front(x), a.rear(x), b.front(y), b.rear(y)}}
	},
	"the same of a brake": func(d *deck) drawn {
		if d.named("brake cable").place == "frame.bolt" {
			return drawn{"frame bolt", nil} // it was dealt before
		}
		claims := []string{"front.brake-cable frayed=yes", "front.brake-housing damaged=yes", "rear.brake-cable frayed=yes", "rear.brake-housing damaged=yes"}
		if d.r.IntN(2) == 0 {
			return drawn{d.pick("front brake: cable frayed, housing kinked. Rear the same, but the lever's fine", "front brake: cable frayed, housing kinked. Rear brake the same, lever fine"), append(claims, "rear.lever keep")}
		}
		return drawn{d.pick("front brake: cable frayed, housing kinked. Rear the same", "front brake: cable frayed, housing kinked. Rear brake the same", "front brake cable frayed, brake housing kinked. Same at the back", "front brake: cable frayed, outer kinked; rear brake likewise"), claims}
	},
	"it must be done": func(d *deck) drawn {
		a, x := d.reading()
		if x == smooth {
			a, x = d.named("stem", "saddle"), cracks
		}
		return drawn{fmt.Sprintf(d.pick("%s is %s, it is necessary to change it", "%s %s, must change it", "%s is %s. It's necessary to replace it.", "%s %s, need to replace it", "%s %s; it is necessary to replace it"), a.name, x.words), []string{a.is(x), a.to("replace")}}
	},
	"not all the same of an end": func(d *deck) drawn {
		if d.named("cassette").place != "rear.cassette" {
			return drawn{"frame bolt", nil} // it was dealt before
		}
		t := d.pair()
		x := t.said[0]
		return drawn{fmt.Sprintf(d.pick("rear: cassette hooked, rear %[1]s %[2]s. Same at the front", "rear cassette hooked, rear %[1]s %[2]s. The front's the same"), t.name, x.words), []string{"rear.cassette hooked_teeth=yes", t.rear(x)}}
	},
	"denied": func(d *deck) drawn {
		a, x := d.flag()
		return drawn{fmt.Sprintf(d.pick("%s isn't %s", "%s is not %s", "the %s's not %s", "%s not %s", "%s isn't actually %s", "%s is not in fact %s"), a.name, x.words), []string{a.place + " " + x.denied}}
	},
	"denied before": func(d *deck) drawn {
		a := d.named("stem", "seatpost", "saddle")
		return drawn{fmt.Sprintf(d.pick("no cracks in the %s", "no damage to the %s", "no sign of a crack in the %s", "%s has no cracks", "%s shows no cracks", "can't see any cracks in the %s", "couldn't find any damage on the %s", "%s without cracks", "%s free of cracks"), a.name), []string{a.place + " damaged=no"}}
	},
	"pronoun": func(d *deck) drawn {
		a, x := d.reading()
		if x == smooth {
			a, x = d.named("stem", "saddle"), cracks
		}
		return drawn{fmt.Sprintf(d.pick("%s is %s, replace it", "%s's %s so it needs replacing", "%s %s, needs replacing", "the %s, which is %s, needs replacing", "the %s that's %s needs replacing", "%s %s: replace", "%s is %s and needs replacing", "%s is %s. It needs replacing.", "%s's %s, it wants replacing", "%s is %s therefore replace it",
			"%s %s - replace", "%s %s, replace", "%s %s and wants changing", "because the %s is %s it needs replacing", "%s is %s, so replace it", "%s (%s) needs replacing"), a.name, x.words), []string{a.is(x), a.to("replace")}}
	},
	"said after": func(d *deck) drawn {
		a, x := d.one()
		return drawn{fmt.Sprintf(d.pick("it's %[2]s, the %[1]s", "that %[1]s is %[2]s", "that's %[2]s, that %[1]s"), a.name, x.words), []string{a.is(x)}}
	},
	"aside": func(d *deck) drawn {
		a, x := d.one()
		return drawn{fmt.Sprintf(d.pick("%s, by the way, is %s", "%s, to be honest, is %s", "the %s (checked twice) is %s", "%s I'm afraid is %s", "I found the %s to be %s", "I can confirm the %s is %s", "note that the %s is %s", "checked the %s and it's %s", "had a look at the %s, it's %s", "turns out the %s is %s", "it's clear that the %s is %s"), a.name, x.words), []string{a.is(x)}}
	},
	"crack in": func(d *deck) drawn {
		a := d.named("stem", "seatpost", "rim")
		return drawn{fmt.Sprintf(d.pick("there's a crack in the %s", "found a crack in the %s", "%s has a crack in it", "crack in %s", "crack in the %s", "%s has a crack", "%s has got a crack in it", "the %s has developed a crack", "%s: crack", "a crack runs through the %s", "I can see a crack in the %s", "%s with a crack"), a.name), []string{a.place + " damaged=yes"}}
	},
	"play": func(d *deck) drawn {
		a := d.named("headset", "hub", "bottom bracket")
		return drawn{fmt.Sprintf(d.pick("a bit of play in the %s", "%s has slight play", "there's slight play in the %s", "%s has a touch of play", "%s: slight play", "%s with a bit of play", "%s has got a little play in it", "I can feel a bit of play in the %s", "%s, a bit of play"), a.name), []string{a.place + " play=slight"}}
	},
	"corrected part": func(d *deck) drawn {
		a, _ := d.one()
		b, _ := d.one()
		x := d.pickSaying(shot, fineIs)
		return drawn{fmt.Sprintf(d.pick("%[1]s %[3]s, no wait, %[2]s %[3]s", "%[1]s %[3]s, sorry, the %[2]s", "%[1]s %[3]s, make that the %[2]s", "%[1]s %[3]s. Scratch that, %[2]s %[3]s", "%[1]s %[3]s, no, the %[2]s", "%[1]s %[3]s. No, sorry, I mean the %[2]s.", "%[1]s %[3]s - correction, %[2]s %[3]s", "%[1]s, sorry, %[2]s %[3]s", "the %[1]s is %[3]s, I mean the %[2]s is %[3]s", "%[1]s %[3]s, not the %[1]s, the %[2]s"), a.name, b.name, x.words), []string{b.to(x.claim)}}
	},
	"corrected saying": func(d *deck) drawn {
		a, _ := d.one()
		return drawn{fmt.Sprintf(d.pick("%s fine, no wait, shot", "%s fine, sorry, shot", "%s OK, no, it's shot", "%s is fine. Actually no, it's shot.", "%s fine, I mean shot", "%s fine, correction, shot", "%s fine, scratch that, it's shot", "%s is OK, well no, it's shot actually"), a.name), []string{a.to("replace")}}
	},
	"all but": func(d *deck) drawn {
		a, x := d.reading()
		if x == smooth {
			a, x = d.named("stem", "seatpost"), cracks
		}
		return drawn{fmt.Sprintf(d.pick("everything's fine except the %s, that's %s", "all good apart from the %s which is %s", "all fine but the %s is %s", "everything OK bar the %s, it's %s", "other than the %s, which is %s, all good", "nothing wrong except the %s's %s", "all but the %s is fine, that one's %s"), a.name, x.words), []string{a.is(x)}}
	},
	"not of all": func(d *deck) drawn {
		a, _ := d.one()
		b, _ := d.one()
		return drawn{fmt.Sprintf(d.pick("%s fine but not the %s", "%s fine, not so the %s", "%s is fine, unlike the %s", "%s is fine, the %s less so", "%s is OK, can't say the same of the %s"), a.name, b.name), []string{a.to("keep")}}
	},
	"worse": func(d *deck) drawn {
		t := d.pair()
		x := t.said[0]
		return drawn{fmt.Sprintf(d.pick("front %[1]s %[2]s, rear worse", "front %[1]s %[2]s, rear a bit better", "front %[1]s %[2]s and the rear not much better", "front %[1]s %[2]s, rear not as bad", "front %[1]s %[2]s, rear on its way"), t.name, x.words), []string{t.front(x)}}
	},
	"worse than": func(d *deck) drawn {
		t := d.pair()
		return drawn{fmt.Sprintf(d.pick("front %[1]s is worse than the rear", "rear %[1]s better than the front", "rear %[1]s not as good as the front", "the front %[1]s has more wear than the rear", "rear %[1]s as good as the front one"), t.name), nil}
	},
	"run on": func(d *deck) drawn {
		a, x := d.one()
		b, y := d.one()
		c, z := d.one()
		return drawn{fmt.Sprintf("%s %s %s %s %s %s", a.name, x.words, b.name, y.words, c.name, z.words), []string{a.is(x), b.is(y), c.is(z)}}
	},
	"run on with is": func(d *deck) drawn {
		a, x := d.one()
		b, y := d.one()
		return drawn{fmt.Sprintf(d.pick("%s is %s the %s is %s", "%s's %s and the %s's %s", "the %s is %s but the %s is %s", "%s %s then the %s is %s", "%s %s and %s %s", "the %s looks %s the %s's %s", "%s %s also %s %s", "%s is %s oh and the %s is %s", "%s is %s while the %s is %s"), a.name, x.words, b.name, y.words), []string{a.is(x), b.is(y)}}
	},
	"mixed with work": func(d *deck) drawn {
		a, _ := d.one()
		b, x := d.one()
		return drawn{fmt.Sprintf(d.pick("replace the %s, %s %s", "replace the %s, the %s is %s", "new %s, %s is %s", "needs a new %s but the %s is %s", "%s needs replacing, %s is %s", "%s to be replaced but the %s's %s", "%s wants replacing and the %s is %s"), a.name, b.name, x.words), []string{a.to("replace"), b.is(x)}}
	},
	"not said outright": func(d *deck) drawn {
		a, x := d.one()
		return drawn{fmt.Sprintf(d.pick("%s might be %s", "%s could be %s", "I think the %s is %s", "%s is probably %s", "should the %s be %s let me know", "if the %s is %s replace it", "is the %s %s?", "customer says the %s is %s", "%s was %s last time", "he reckons the %s is %s",
			"%s %s?", "were the %s to be %s, replace it", "I'd not be surprised if the %s was %s", "check whether the %s is %s", "make sure the %s is %s", "see if the %s is %s", "the %s can't be %s, can it", "wonder if the %s is %s", "in case the %s is %s ring me", "she complained that the %s was %s",
			"had the %s been %s I'd have said", "%s looks to be %s", "according to the owner the %s is %s", "the %s would be %s by now", "the other bike's %s is %s", "on the other one the %s is %s", "my own %s is %s", "%s may well be %s", "owner thought %s %s", "was told the %s is %s"), a.name, x.words), nil}
	},
	"not to be done": func(d *deck) drawn {
		a, _ := d.one()
		return drawn{fmt.Sprintf(d.pick("%s might need replacing", "%s will need replacing soon", "we'll do the %s next time", "%s was replaced last year", "%s has been replaced", "replaced the %s", "I've replaced the %s", "don't replace the %s", "no need to replace the %s", "%s doesn't need replacing", "do not change the %s", "if he wants it change the %s",
			"replace the %s if needed", "replace the %s?", "shall I replace the %s", "he wants the %s replacing", "customer asked for a new %s", "ask him about the %s", "new %s is twenty pounds", "a new %s costs thirty", "order a %s", "have we got a %s in stock", "%s needs replacing in the spring", "rather than replace the %s, wait", "not replacing the %s", "instead of a new %s leave it till spring",
			"would replace the %s if it was mine", "%s can be replaced later", "quote for a new %s", "recommend a new %s", "%s may want replacing before long", "the new %s arrives Friday", "before replacing the %s ring her", "he already bought a new %s", "without a new %s it won't last", "thinking about a new %s"), a.name), nil}
	},
	"wheel under a heading": func(d *deck) drawn {
		end, other := "front", "rear"
		if d.r.IntN(2) == 0 {
			end, other = other, end
		}
		tyre, hub, rim := d.pickSaying(cut, shot, fineIs), d.pickSaying(rough, smooth, okIs), d.pickSaying(cracks, wornTo, fineIs)
		tube := d.pickSaying(okIs, shot)
		return drawn{fmt.Sprintf(d.pick("%[1]s wheel: tyre %[2]s, hub %[3]s, rim %[4]s; %[6]s wheel: tube %[5]s", "%[1]s wheel tyre %[2]s hub %[3]s rim %[4]s %[6]s wheel tube %[5]s", "%[1]s: tyre %[2]s, hub %[3]s, rim %[4]s\n%[6]s: tube %[5]s",
			"%[1]s wheel - tyre %[2]s - hub %[3]s - rim %[4]s. %[6]s wheel - tube %[5]s", "on the %[1]s the tyre's %[2]s, the hub's %[3]s and the rim's %[4]s. On the %[6]s the tube is %[5]s", "at the %[1]s: tyre %[2]s, hub %[3]s, rim %[4]s. At the %[6]s: tube %[5]s",
			"%[1]s end: tyre %[2]s, hub %[3]s, rim %[4]s. %[6]s end: tube %[5]s", "the %[1]s wheel has its tyre %[2]s, hub %[3]s, rim %[4]s; the %[6]s wheel's tube is %[5]s"), end, tyre.words, hub.words, rim.words, tube.words, other),
			[]string{end + ".tyre " + tyre.claim, end + ".hub " + hub.claim, end + ".rim " + rim.claim, other + ".tube " + tube.claim}}
	},
	"two readings": func(d *deck) drawn {
		a := d.named("headset", "bottom bracket", "hub")
		x := d.pickSaying(rough, smooth)
		return drawn{fmt.Sprintf(d.pick("%s %s with slight play", "%s is %s and has slight play", "%s: %s, slight play", "%s's %s but has slight play", "%s %s, a bit of play too", "%s %s, also a touch of play", "%s feels %s and there's slight play", "%s is %s, and a little play as well"), a.name, x.words), []string{a.is(x), a.place + " play=slight"}}
	},
	"reading and work": func(d *deck) drawn {
		a := d.named("headset", "bottom bracket", "hub")
		return drawn{fmt.Sprintf(d.pick("%s rough, needs a service", "%s is rough so service it", "%s rough, clean and regrease", "%s rough - overhaul", "%s is rough and wants overhauling", "%s rough; service it", "rough %s, needs servicing", "%s rough, strip and grease it", "service the %s, it's rough"), a.name), []string{a.place + " feel=rough", a.place + " clean"}}
	},
	"chain measured": func(d *deck) drawn {
		if t := d.named("chain"); t.name != "chain" {
			return drawn{t.name, nil}
		}
		return drawn{d.pick("chain at point eight", "chain's 0.8", "chain 0.8%", "chain wear 0.8", "chain measures point eight", "chain is at nought point eight", "chain gauge says point eight", "the chain has stretched to point eight", "chain, point eight", "point eight on the chain", "chain: 0.8 percent", "chain's worn to 0.8", "chain - .8",
			"chain wear is at point eight of a percent", "measured the chain at point eight", "chain came out at 0.8", "chain is showing point eight", "chain's now at 0.8"), []string{"chain wear_percent=0.8"}}
	},
	"chattered": func(d *deck) drawn {
		a, x := d.one()
		return drawn{fmt.Sprintf(d.pick("right, so the %s is %s", "OK next up the %s is %s", "looking at the %s it's %s", "moving on to the %s, that's %s", "now the %s, %s", "um the %s is er %s", "so yeah the %s's %s", "let's see, %s is %s", "and then the %s, %s", "well the %s is %s obviously", "I've just checked the %s and it's %s", "%s, as you can see, is %s", "first the %s: %s", "oh and the %s is %s",
			"the %s on this is %s", "the %s here is %s", "%s looks %s to me", "%s's %s mate", "%s is still %s", "%s was checked and is %s"), a.name, x.words), []string{a.is(x)}}
	},
	"priced": func(d *deck) drawn {
		a, x := d.one()
		b, _ := d.one()
		return drawn{fmt.Sprintf(d.pick("%[1]s %[2]s, new %[3]s is twenty pounds", "%[1]s is %[2]s; %[3]s would be £30", "%[1]s %[2]s, twenty minutes, fifteen quid", "%[1]s %[2]s. A %[3]s is 24.99", "%[1]s %[2]s, %[3]s in stock", "%[1]s %[2]s, no %[3]s left on the shelf", "%[1]s %[2]s (5 Nm)", "%[1]s %[2]s, twelve pounds", "£12 and ten minutes, %[1]s %[2]s", "%[1]s %[2]s - £8"), a.name, x.words, b.name), []string{a.is(x)}}
	},
	"passed over": func(d *deck) drawn {
		a, _ := d.one()
		b, y := d.one()
		return drawn{fmt.Sprintf(d.pick("didn't look at the %s. %s %s", "%s not checked, %s %s", "%s missing, %s %s", "ignore the %s, %s %s", "%s to be checked, %s %s", "%s squeaks, %s %s", "still to do the %s; %s %s", "haven't got to the %s yet, %s %s", "%s needs looking at, %s %s", "%s dirty, %s %s"), a.name, b.name, y.words), []string{b.is(y)}}
	},
	"as well": func(d *deck) drawn {
		a, x := d.one()
		b, _ := d.one()
		c := d.pickSaying(shot, fineIs)
		_ = x
		return drawn{fmt.Sprintf(d.pick("%[1]s %[3]s, %[2]s %[3]s too", "%[1]s %[3]s and %[2]s as well", "%[1]s is %[3]s, as is the %[2]s", "%[1]s %[3]s, same goes for the %[2]s", "%[1]s %[3]s, %[2]s likewise", "%[1]s's %[3]s and so is the %[2]s", "%[1]s %[3]s; the %[2]s is the same", "both the %[1]s and the %[2]s are %[3]s", "the %[1]s as well as the %[2]s is %[3]s", "not only the %[1]s but also the %[2]s is %[3]s", "%[1]s %[3]s, ditto %[2]s"), a.name, b.name, c.words), []string{a.is(c), b.is(c)}}
	},
	"negated list": func(d *deck) drawn {
		a, b := d.named("stem", "seatpost", "saddle"), d.named("stem", "seatpost", "saddle")
		return drawn{fmt.Sprintf(d.pick("no cracks in the %s or the %s", "neither the %s nor the %s is cracked", "%s and %s not cracked", "no damage to the %s or %s", "%s isn't cracked, nor is the %s", "%s not cracked, %s not cracked", "no cracks in the %s, none in the %s", "%s and %s aren't cracked", "no sign of damage to %s or %s"), a.name, b.name), []string{a.place + " damaged=no", b.place + " damaged=no"}}
	},
	"taken back": func(d *deck) drawn {
		a, _ := d.one()
		b, y := d.one()
		return drawn{fmt.Sprintf(d.pick("replace the %s, no, scratch that, leave it. %s %s", "replace the %s. Actually, leave it. %s %s"), a.name, b.name, y.words), []string{a.to("keep"), b.is(y)}}
	},
	"sides": func(d *deck) drawn {
		x, y := d.pickSaying(bent, shot, okIs), d.pickSaying(bent, shot, okIs)
		for x == y {
			y = d.pickSaying(bent, shot, okIs)
		}
		if t := d.named("left shifter"); t.name != "left shifter" {
			return drawn{t.name, nil} // it was dealt before
		}
		return drawn{fmt.Sprintf(d.pick("left shifter %s, right %s", "left shifter's %s, right one's %s", "shifters: left %s, right %s", "left shifter %s, right shifter %s", "left shifter is %s and the right is %s", "left-hand shifter %s, right-hand one %s", "shifter on the left %s, on the right %s", "left shifter %s but the right's %s"), x.words, y.words), []string{"shifter.left " + x.claim, "shifter.right " + y.claim}}
	},
	"many in a row": func(d *deck) drawn {
		var texts, claims []string
		join := d.pick(", ", " ", "; ", " and ", "\n", ". ", " - ", ", and ", ", then ")
		for range 5 {
			a, x := d.one()
			texts, claims = append(texts, fmt.Sprintf(d.pick("%s %s", "%s is %s", "%s's %s", "the %s is %s"), a.name, x.words)), append(claims, a.is(x))
		}
		return drawn{strings.Join(texts, join), claims}
	},
	"work in a row": func(d *deck) drawn {
		a, _ := d.one()
		b, _ := d.one()
		c := d.named("headset", "bottom bracket", "hub")
		return drawn{fmt.Sprintf(d.pick("replace %s and %s, service %s", "replace the %s, change the %s, clean the %s", "new %s and %s, %s to be serviced", "%s and %s need replacing, %s needs servicing", "swap %s, swap %s, overhaul %s", "fit a new %s, fit a new %s and regrease the %s", "needs new %s, new %s and the %s servicing", "jobs: replace %s, replace %s, service %s", "replace %s; replace %s; service %s", "1. replace %s\n2. replace %s\n3. service %s"), a.name, b.name, c.name), []string{a.to("replace"), b.to("replace"), c.to("clean")}}
	},
	"list fine with other": func(d *deck) drawn {
		a, _ := d.one()
		b, _ := d.one()
		c, x := d.reading()
		return drawn{fmt.Sprintf(d.pick("%s and %s fine, %s %s", "%s fine, %s fine, %s %s", "%s and %s are fine but the %s is %s", "%s, %s both fine, %s %s"), a.name, b.name, c.name, x.words), []string{a.to("keep"), b.to("keep"), c.is(x)}}
	},
}

func (d *deck) pickSaying(s ...saying) saying { return s[d.r.IntN(len(s))] }

// TestConstructs says the same things in every way of building a sentence, of parts that are dealt anew, and compares what
// is read with what was meant.
func TestConstructs(t *testing.T) {
	for name, construct := range constructs {
		t.Run(name, func(t *testing.T) {
			for seed := range uint64(150) {
				said := construct(newDeck(seed))
				require.ElementsMatch(t, said.claims, claimsOf(note.Read(said.text, nil)), "%s", said.text)
			}
		})
	}
}

// once reports that no two claims are of one thing, nor a part both fine and faulty.
func once(claims []string) bool {
	seen := map[string]bool{}
	for _, c := range claims {
		place, said, _ := strings.Cut(c, " ")
		if fine := place + " keep"; c != fine && slices.Contains(claims, fine) {
			return false
		}
		of, _, _ := strings.Cut(said, "=")
		if !strings.Contains(said, "=") {
			of = "action"
		}
		if seen[place+of] {
			return false
		}
		seen[place+of] = true
	}
	return true
}

// dealt is a note of several constructs, what it says, and the mark between them; none where a part was dealt twice.
func dealt(seed uint64) (texts, claims []string, joint string) {
	names := slices.Sorted(maps.Keys(constructs))
	d := newDeck(seed)
	joint = d.pick(". ", "; ", "\n", "! ")
	for range 3 {
		if len(d.singles) < 7 || len(d.pairs) < 3 {
			break
		}
		said := constructs[names[d.r.IntN(len(names))]](d)
		texts, claims = append(texts, said.text), append(claims, said.claims...)
	}
	if strings.Contains(strings.Join(texts, joint), "frame bolt") || !once(claims) {
		return nil, nil, joint
	}
	return texts, claims, joint
}

// TestConstructsTogether says several of them in one note: what each says stays what it says.
func TestConstructsTogether(t *testing.T) {
	for seed := range uint64(500) {
		texts, claims, joint := dealt(seed)
		require.ElementsMatch(t, claims, claimsOf(note.Read(strings.Join(texts, joint), nil)), "%s", texts)
	}
}

// Sentences that are drawn, and not only those of a list, say the same in any order.
func TestOrderOfDrawnSentencesMeansNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		texts, claims, joint := dealt(rapid.Uint64().Draw(t, "seed"))
		turned := rapid.Permutation(texts).Draw(t, "turned")
		require.ElementsMatch(t, claims, claimsOf(note.Read(strings.Join(turned, joint), nil)), "%s", turned)
	})
}
