package note

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"stead/substitution/standard"
)

// item is a phrase, a number word or a mark of the note.
type item struct {
	first, last int // its tokens
	s           *sense
	text        string
	figure      bool
	value       float64
	sep         separator
	glued       bool
}

// separator is how strongly a mark parts what stands before it from what follows.
type separator uint8

const (
	noSep  separator = iota
	joint            // a hyphen inside a word, a slash inside a fraction
	comma            // a comma, a dash, a bracket
	colon            //
	stop             // the end of a sentence
	asking           // a question mark
)

// number is a reading of the number at an item.
type number struct {
	v      float64
	next   int    // the item after it
	broken bool   // it has a fraction
	plural bool   // "thirty-twos"
	mixed  string // "1 3/8" where it is said as a whole and a fraction: an inch size so named is another than 1.375
}

// size is the number as a size is written.
func (n number) size() string { return cmp.Or(n.mixed, figure(n.v)) }

// withFraction is a whole and a fraction said after it.
func withFraction(whole float64, num, den, next int) number {
	return number{v: whole + float64(num)/float64(den), next: next, broken: true, mixed: fmt.Sprintf("%d %d/%d", int(whole), num, den)}
}

func (p *parser) at(i int) item {
	if i < 0 || i >= len(p.items) {
		return item{sep: stop}
	}
	return p.items[i]
}

func (p *parser) class(i int) numberClass {
	if it := p.at(i); it.s != nil && !it.figure {
		return it.s.class
	}
	return noNumber
}

// skipJoint steps over a hyphen inside "twenty-five".
func (p *parser) skipJoint(i int) int {
	if p.at(i).sep == joint && p.at(i).text == "-" {
		return i + 1
	}
	return i
}

func plural(text string) bool { return len(text) > 3 && strings.HasSuffix(text, "s") }

// wholes are the whole numbers that may begin at item i, the longest first: "one eighty" is 180 and 1.
func (p *parser) wholes(i int) []number {
	it := p.at(i)
	if it.text == "a" && p.class(i+1) == hundred {
		return p.wholes(i + 1) // "a hundred"
	}
	if it.figure {
		if it.value != float64(int(it.value)) {
			return nil
		}
		return []number{{v: it.value, next: i + 1}}
	}
	var out []number
	add := func(v float64, next int) {
		out = append(out, number{v: v, next: next, plural: plural(p.at(next - 1).text)})
	}
	switch p.class(i) {
	case hundred:
		p.underHundred(p.skipAnd(i+1), func(v float64, next int) { add(100+v, next) })
		add(100, i+1)
	case teens:
		add(it.s.number, i+1)
	case tens:
		p.underHundred(i, add)
	case ones:
		j := p.skipJoint(i + 1)
		switch p.class(j) {
		case hundred:
			p.underHundred(p.skipAnd(j+1), func(v float64, next int) { add(it.s.number*100+v, next) })
			add(it.s.number*100, j+1)
		case tens, teens:
			p.underHundred(j, func(v float64, next int) { add(it.s.number*100+v, next) })
		case oh:
			if k := p.skipJoint(j + 1); p.class(k) == ones {
				add(it.s.number*100+p.at(k).s.number, k+1)
			}
		case ones:
			if k := p.skipJoint(j + 1); (p.class(k) == ones || p.class(k) == oh) && (p.unit(k+1, "mm") || it.s.number >= 3 && p.isEnd(k+1)) {
				add(it.s.number*100+p.at(j).s.number*10+p.at(k).s.number, k+1) // "two nine two mil", "six two two"
			}
		}
		add(it.s.number, i+1)
	case oh:
		add(0, i+1)
	}
	return out
}

// skipAnd steps over the "and" of "a hundred and sixteen".
func (p *parser) skipAnd(i int) int {
	if p.at(i).text == "and" {
		i++
	}
	return p.skipJoint(i)
}

// underHundred reads one to ninety-nine.
func (p *parser) underHundred(i int, add func(float64, int)) {
	it := p.at(i)
	switch p.class(i) {
	case tens:
		if j := p.skipJoint(i + 1); p.class(j) == ones {
			add(it.s.number+p.at(j).s.number, j+1)
		}
		add(it.s.number, i+1)
	case teens, ones:
		add(it.s.number, i+1)
	}
}

// decimals are the numbers that may begin at item i, with or without a fraction, the longest first.
func (p *parser) decimals(i int) []number {
	it := p.at(i)
	if it.figure && it.value != float64(int(it.value)) {
		return []number{{v: it.value, next: i + 1, broken: true}}
	}
	if it.figure && strings.Contains(it.text, ".") {
		return []number{{v: it.value, next: i + 1, broken: true}} // "1.0"
	}
	if dot := p.at(i + 1); (it.figure && it.text == "0" || p.class(i) == oh) && dot.figure && dot.text[0] == '.' {
		return []number{{v: dot.value, next: i + 2, broken: true}} // "0 .8"
	}
	var out []number
	if num, den, next, ok := p.fraction(i); ok && num < den && !p.isShare(next) && !p.afterWhole(i) {
		if p.at(next).text == "a" && p.unit(next+1, "percent", "mm", "left") {
			next++ // "half a mil"
		}
		out = append(out, number{v: float64(num) / float64(den), next: next, broken: true})
	}
	out = append(out, p.mils(i)...)
	wholes := p.wholes(i)
	if p.class(i) == point {
		wholes = append(wholes, number{v: 0, next: i})
	}
	for _, w := range wholes {
		out = append(out, p.broken(w, it.figure)...)
	}
	out = append(out, wholes...)
	slices.SortStableFunc(out, func(a, b number) int { return b.next - a.next })
	return out
}

// broken are the numbers that begin with a whole one, a figure or words, and go on: with a point, thousandths or a fraction.
func (p *parser) broken(w number, figure bool) (out []number) {
	if p.class(w.next) == point {
		if digits, next := p.afterPoint(w.next + 1); digits != "" {
			v, _ := strconv.ParseFloat(strconv.Itoa(int(w.v))+"."+digits, 64)
			out = append(out, number{v: v, next: next, broken: true})
		}
	}
	if p.at(w.next).text == "thou" {
		out = append(out, number{v: math.Round(w.v*standard.Inch/10) / 100, next: w.next + 1, broken: true}) // to a hundredth, as calipers read
	}
	if p.at(w.next).text == "and" {
		if num, den, next, ok := p.fraction(p.skipA(w.next + 1)); ok && num < den {
			out = append(out, withFraction(w.v, num, den, next))
		}
	}
	if figure {
		if num, den, next, ok := p.fraction(w.next); ok && p.at(w.next).figure && num < den && (!p.at(w.next).glued || vulgar[p.at(w.next).text] != [2]int{}) {
			out = append(out, withFraction(w.v, num, den, next))
		}
		if j := p.skipJoint(w.next); j > w.next && p.at(j).figure {
			if num, den, next, ok := p.fraction(j); ok && num < den {
				out = append(out, withFraction(w.v, num, den, next)) // "1-3/8"
			}
		}
	}
	return out
}

// afterWhole reports that the fraction at item i is the rest of "twelve and a quarter".
func (p *parser) afterWhole(i int) bool {
	return p.at(i-1).text == "and" && (p.at(i-2).figure || p.class(i-2) != noNumber && p.class(i-2) != point)
}

// isShare reports that the fraction before item i is of a part and no figure: "half the pad", "a third of the lining".
func (p *parser) isShare(i int) bool {
	it := p.at(i)
	if it.text == "of" {
		it = p.at(i + 1)
	}
	return it.text == "the" || it.text == "its" || it.text == "their"
}

func (p *parser) skipA(i int) int {
	if t := p.at(i).text; t == "a" || t == "an" {
		return i + 1
	}
	return i
}

// afterPoint reads "seven five", "seventy-five" or "05". A last digit that a price or a time claims is left to it.
func (p *parser) afterPoint(i int) (digits string, next int) {
	if it := p.at(i); it.figure && it.value == float64(int(it.value)) {
		return it.text, i + 1
	}
	for {
		j := p.skipJoint(i)
		switch p.class(j) {
		case ones, oh:
			if digits != "" && p.isVoidUnit(j+1) && !(p.at(j+1).text == "min" && p.startsNumber(j+2)) {
				return digits, i
			}
			digits += strconv.Itoa(int(p.at(j).s.number))
			i = j + 1
		case tens:
			if digits != "" {
				return digits, i
			}
			p.underHundred(j, func(v float64, end int) {
				if digits == "" {
					digits, i = strconv.Itoa(int(v)), end
				}
			})
			return digits, i
		default:
			return digits, i
		}
		if len(digits) >= 3 {
			return digits, i
		}
	}
}

func (p *parser) isVoidUnit(i int) bool {
	s := p.at(i).s
	return s != nil && s.role == voidUnit
}

// fraction reads "5/32", "five thirty-seconds", "three quarters", "an eighth", "half", "eighths".
func (p *parser) fraction(i int) (num, den, next int, ok bool) {
	it := p.at(i)
	switch it.text {
	case "½", "¼", "¾", "⅛", "⅜":
		num, den = vulgar[it.text][0], vulgar[it.text][1]
		return num, den, i + 1, true
	}
	if it.figure && it.value == float64(int(it.value)) && p.at(i+1).text == "/" && p.at(i+2).figure && p.at(i+2).value > it.value {
		return int(it.value), int(p.at(i + 2).value), i + 3, true
	}
	if p.class(i) == partOf {
		return 1, int(it.s.number), i + 1, true
	}
	if p.at(i).text == "a" || p.at(i).text == "an" {
		if p.class(i+1) == partOf {
			return 1, int(p.at(i + 1).s.number), i + 2, true
		}
		return
	}
	for _, w := range p.wholes(i) {
		if j := p.skipJoint(w.next); p.class(j) == partOf && int(w.v) < int(p.at(j).s.number) && w.v > 0 {
			return int(w.v), int(p.at(j).s.number), j + 1, true
		}
	}
	return
}

var vulgar = map[string][2]int{"½": {1, 2}, "¼": {1, 4}, "¾": {3, 4}, "⅛": {1, 8}, "⅜": {3, 8}}

// mils are the numbers that begin with "a mil": 1, and "a mil and a half".
func (p *parser) mils(i int) (out []number) {
	if !p.aMil(i) {
		return nil
	}
	if num, den, next, ok := p.fraction(p.skipA(i + 3)); p.at(i+2).text == "and" && ok && num < den {
		out = append(out, number{v: 1 + float64(num)/float64(den), next: next, broken: true})
	}
	return append(out, number{v: 1, next: i + 1})
}

// aMil reports "a mil", and "a litre".
func (p *parser) aMil(i int) bool {
	if p.at(i).text != "a" {
		return false
	}
	switch text := p.at(i + 1).text; text {
	case "mil", "mill", "millimetre", "millimeter", "mm":
		return true
	default:
		return strings.HasPrefix(text, "litre") || strings.HasPrefix(text, "liter")
	}
}

// startsNumber reports whether a number may begin at item i.
func (p *parser) startsNumber(i int) bool {
	return p.at(i).figure || p.class(i) != noNumber || p.unit(i, "inch") && p.at(p.skipJoint(i+1)).text == "and" ||
		(p.at(i).text == "a" || p.at(i).text == "an") && (p.class(i+1) == partOf || p.class(i+1) == hundred) || p.aMil(i)
}

// digits writes the groups of a spoken number one after another: "sixty-nine oh two" is 6902. It gives every length.
func (p *parser) digits(i int) (texts []string, nexts []int) {
	text := ""
	for len(text) < 7 {
		j := i
		if text != "" {
			j = p.skipJoint(i)
		}
		it := p.at(j)
		switch {
		case it.figure && it.value == float64(int(it.value)) && (text == "" || it.glued):
			text += it.text
			i = j + 1
		case it.figure:
			return
		case p.class(j) == tens:
			k := p.skipJoint(j + 1)
			if p.class(k) == ones {
				text += strconv.Itoa(int(it.s.number + p.at(k).s.number))
				i = k + 1
			} else {
				text += strconv.Itoa(int(it.s.number))
				i = j + 1
			}
		case it.text == "double" && (p.class(p.skipJoint(j+1)) == ones || p.class(p.skipJoint(j+1)) == oh): // "six double-oh one"
			j = p.skipJoint(j + 1)
			text += strings.Repeat(strconv.Itoa(int(p.at(j).s.number)), 2)
			i = j + 1
		case it.text == "ones" && len(text) >= 3: // "six double-oh ones"
			text += "1"
			i = j + 1
		case p.class(j) == ones, p.class(j) == oh, p.class(j) == teens:
			text += strconv.Itoa(int(it.s.number))
			i = j + 1
		case p.class(j) == thousand && len(text) == 1: // "six thousand and one"
			text += "000"
			i = j + 1
			if k := p.skipAnd(i); p.at(k).text == "ones" && k > i {
				text, i = text[:1]+"001", k+1 // "six thousand and ones"
			}
			p.underHundred(p.skipAnd(i), func(v float64, next int) {
				if text[1:] == "000" {
					text, i = text[:1]+fmt.Sprintf("%03d", int(v)), next
				}
			})
		case p.class(j) == hundred && text != "":
			text += "00"
			i = j + 1
		default:
			return
		}
		texts, nexts = append(texts, text), append(nexts, i)
	}
	return
}
