package substitution

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"stead/substitution/standard"
)

// A text dimension has either a closed list of words or a reader that knows its sizes. Both bring what a person types, a
// list holds or an older record says to one form: two parts can then be compared by it.

// A reader gives a text in its one form, or says what was expected.
type reader func(text string) (string, error)

// readers are those of dimensions that are written as sizes and codes, by name or by family and name.
var readers = map[string]reader{
	"thread":              readThread,
	"pedal_thread":        readThread,
	"lockring_thread":     readThread,
	"nipple.thread":       readSpokeThread,
	"spoke.thread":        readSpokeThread,
	"axle":                readAxle,
	"upper":               readHeadsetEnd,
	"lower":               readHeadsetEnd,
	"sprocket.fixing":     readFixing,
	"freehub-body.fixing": readFixing,
	"brake-caliper.mount": readCaliperMount,
	"colour":              readColour,
	"pad_shape":           readCode("the code on the pad's plate, such as B05 or a1"),
	"system":              readCode("the code that the shop gives the system, such as a1"),
	"direct_mount":        readDirectMount,
	"designation":         readDesignation,
	"axle_thread":         readThread,
	"hanger.hanger":       readCode("the frame maker's code, or the code that the shop gives the shape, such as h12"),
	"hanger_code":         readCode("the frame maker's code, or the code that the shop gives the shape, such as h12"),
	"hub_code":            readCode("the number on the hub's shell, or the shop's code for it, such as a3"),
	"model":               readCode("model and year as the shop writes them, such as f34-2021"),
}

// spell gives a text dimension's word in its one form.
func (d Dimension) spell(text string) (string, error) {
	if slices.Contains(d.Words, text) {
		return text, nil
	}
	key := spelled{d.of, d.Name, text}
	if known, ok := spellings.Load(key); ok {
		return known.(string), nil
	}
	word, err := d.spellAnew(text)
	if err == nil && spellings.room() {
		spellings.Store(key, word)
	}
	return word, err
}

func (d Dimension) spellAnew(text string) (string, error) {
	if len(text) > 60 || strings.TrimSpace(text) == "" || len(d.Words) > 0 && belowNothing.MatchString(text) {
		return "", fmt.Errorf("%s is %s, not %q", d.Name, d.expects(text), text)
	}
	if word, ok := d.listed(text); ok {
		return word, nil
	}
	if read := d.reader(); read != nil {
		word, err := read(text)
		if err == nil && len(d.Words) > 0 && strings.HasSuffix(d.Name, "thread") {
			word, err = d.among(word, text)
		}
		if err != nil {
			return "", fmt.Errorf("%s: %w", d.Name, err)
		}
		return word, nil
	}
	return "", fmt.Errorf("%s is %s, not %q", d.Name, d.expects(text), text)
}

// belowNothing is a figure below nothing, which no word of a list stands for: a grease is of no grade -5.
var belowNothing = regexp.MustCompile(`^ *-+ *\.?\d`)

// reader is the dimension's own, that of its family first; nil where it has none.
func (d Dimension) reader() reader {
	if read := readers[string(d.of)+"."+d.Name]; read != nil {
		return read
	}
	return readers[d.Name]
}

// listed finds the word of the list that a text means: its own spelling, another word for it, or the only one that it is
// short for ("6 bolt", "centerlock", "FV", "3/32\"").
func (d Dimension) listed(text string) (string, bool) {
	plain := spelling(text)
	if w, ok := d.inList(plain); ok {
		return w, true
	}
	if d.Name == "chain_width" {
		if w, err := standard.ParseChainWidth(text); err == nil && slices.Contains(d.Words, w.Name) {
			return w.Name, true
		}
	}
	if d.Name == "nlgi" {
		if g, err := standard.ParseNLGI(text); err == nil {
			return g.Grade, true
		}
	}
	if strings.HasSuffix(d.Name, "thread") {
		if w, ok := d.onlyThread(plain); ok {
			return w, true
		}
	}
	return d.amidst(text)
}

// inList finds the word that a text without case and gaps is, by itself or as another word for it.
func (d Dimension) inList(plain string) (string, bool) {
	for _, w := range d.Words {
		if spelling(w) == plain {
			return w, true
		}
	}
	for _, key := range []string{string(d.of) + "." + d.Name, d.Name} {
		w, ok := synonyms[key][plain]
		if ok && (len(d.Words) == 0 || slices.Contains(d.Words, w)) {
			return w, true
		}
	}
	return "", false
}

// onlyThread finds the listed thread whose diameter is written alone: a pedal's 9/16 is the 9/16x20.
func (d Dimension) onlyThread(plain string) (string, bool) {
	found := ""
	for _, w := range d.Words {
		if spelling(w[:max(0, strings.IndexByte(w, 'x'))]) == strings.TrimSuffix(strings.TrimSuffix(plain, "in"), `"`) {
			if found != "" {
				return "", false
			}
			found = w
		}
	}
	return found, found != ""
}

// among finds a thread, read in full, among the listed ones, which do not name the hand.
func (d Dimension) among(read, text string) (string, error) {
	word := strings.TrimSuffix(read, " left")
	if slices.Contains(d.Words, word) {
		return word, nil
	}
	return "", fmt.Errorf("it is %s, not %q", d.expects(text), text)
}

// blanks are what people put between the pieces of a word. A replacer is costly to make, and a catalogue holds a million words.
var blanks = strings.NewReplacer(" ", "", "-", "", "_", "", ".", "")

// spelling is a word without its case and without what people put between its pieces.
func spelling(text string) string {
	return blanks.Replace(standard.Plain(text))
}

// expects says what may be written for the dimension.
func (d Dimension) expects(text string) string {
	switch {
	case len(d.Words) > 1:
		return "one of " + Among(text, d.Words)
	case d.Form == Word && d.reader() == nil:
		return "one word"
	case d.Form == Word:
		return "a short text"
	}
	return d.Form.String()
}

type spelled struct {
	of         Family
	name, text string
}

// spellings remembers what texts were read as: lists and catalogues say the same words over and over.
var spellings memory

// memory forgets nothing and stops taking in when it is full.
type memory struct {
	sync.Map
	mu    sync.Mutex
	taken int
}

const memorySize = 20_000

func (m *memory) room() bool {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.taken++
	return m.taken <= memorySize
}

func readThread(text string) (string, error) {
	plain := national.ReplaceAllString(fineOrCoarse.ReplaceAllString(standard.Plain(text), ""), "")
	t, err := standard.ParseThread(looseThread.ReplaceAllString(plain, "$1 x $2"))
	if err != nil {
		return "", err
	}
	if inch, ok := inchAs[t.String()]; ok {
		return inch, nil
	}
	return t.String(), nil
}

// looseThread is a thread whose cross was left out; beside its pitch a thread may say again that it is fine or coarse.
var (
	looseThread  = regexp.MustCompile(`^(m?[\d./]+)"? (\d+ ?tpi|\d+\.\d+)$`)
	national     = regexp.MustCompile(`^(?:french|english|british|italian|iso|metric) (?:thread )?|,? ?\(?(?:french|english|british|italian|iso|metric)\)?$`)
	fineOrCoarse = regexp.MustCompile(` (?:fine|coarse)$`)
)

// inchAs are inch threads as they read in millimetres.
var inchAs = map[string]string{"M34.92x1.058": "1.375x24", "M34.9x1.058": "1.375x24", "M34.8x1.058": "1.37x24", "M35x1.058": "1.378x24"}

// readSpokeThread reads a rolled thread, or the wire that carries it: a 14 g or 2.0 mm nipple has an FG 2.3 thread.
func readSpokeThread(text string) (string, error) {
	word, err := readThread(strings.Replace(standard.Plain(text), "fg-", "fg ", 1))
	if err == nil {
		return word, nil
	}
	wire, notOne := standard.ParseSpoke(text)
	if thread, known := standard.SpokeThread(wire.EndMM); notOne == nil && known {
		return thread.String(), nil
	}
	return "", err
}

var solidAxle = regexp.MustCompile(`^(solid|((m?\d+|\d/\d)"? ?(mm)? ?)?(solid|(axle |track )?nuts?|nutted|bolt|bolted|bolt ?on)|track)( axle)?$`)
var quickAxle = regexp.MustCompile(`^((5|9) ?(mm)? ?x ?\d{2,3} ?(mm)?|10 ?(mm)? ?x ?1(30|35|41) ?(mm)?|(qr|quick ?release) ?\d{2,3}|hollow|open( ends)?|(open |vertical |horizontal )?dropouts?|(qr|q/r|quick ?release|(5|9) ?mm|skewer)? ?(dropouts?|ends|skewer)|qr|q/r|quick ?release|skewer|(qr|q/r|quick ?release)? ?(5|9|10) ?(mm)?( ?x ?\d{2,3} ?(mm)?)? ?(qr|q/r|quick ?release)|(qr|quick ?release) ?(5|9|10)?( ?mm)?( ?x ?\d{2,3})?( ?mm)?)( axle)?$`)

// turnedAxle is a thru-axle written width first; thruWidths are hub widths that are made for 12 mm thru-axles only.
var (
	turnedAxle = regexp.MustCompile(`^(\d{3}) ?(?:mm)? ?x ?(\d{2}) ?(?:mm)?$`)
	looseAxle  = regexp.MustCompile(`^(12|15|20) ?(?:mm)? ?(?:thru|/| ) ?(\d{3}) ?(?:mm)?$`)
	thruWidths = map[string]bool{"142": true, "148": true, "157": true}
)

// readAxle reads "QR", "quick release", "solid", "nutted" and thru-axles, "12 x 142 mm".
func readAxle(text string) (string, error) {
	plain := strings.ReplaceAll(standard.Plain(text), "-", " ")
	switch {
	case quickAxle.MatchString(plain):
		return "qr", nil
	case solidAxle.MatchString(plain):
		return "solid", nil
	}
	for _, word := range []string{"thru axle", "through axle", "thruaxle", "thru", "axle", "boost", "ta"} {
		plain = strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(plain, word), word))
	}
	plain = strings.TrimPrefix(plain, "m")
	if form := turnedAxle.FindStringSubmatch(plain); form != nil {
		plain = form[2] + "x" + form[1]
	} else if form := looseAxle.FindStringSubmatch(plain); form != nil {
		plain = form[1] + "x" + form[2]
	} else if thruWidths[plain] {
		plain = "12x" + plain
	}
	axle, err := standard.ParseThruAxle(plain)
	if err != nil {
		return "", fmt.Errorf("%w; or write qr or solid", err)
	}
	return axle.Key(), nil
}

func readHeadsetEnd(text string) (string, error) {
	end, err := standard.ParseHeadsetEnd(text)
	if err != nil {
		return "", err
	}
	return end.String(), nil
}

var fixings = []string{"freehub", "3-lug", "splined-ring", "hollow-bolt", "threaded", "splined", "bayonet", "press-fit", "pawl"}

// readFixing reads how a sprocket or a freehub body is held: a thread, lugs, splines or a hollow bolt.
func readFixing(text string) (string, error) {
	for _, w := range fixings {
		if spelling(w) == spelling(text) {
			return w, nil
		}
	}
	word, err := readThread(strings.ReplaceAll(text, "x24-left", "x24 left"))
	if err != nil {
		return "", fmt.Errorf("%q is none of %s, and no thread such as 1.37x24 either", text, Among(text, fixings))
	}
	return word, nil
}

var caliperMounts = []string{"post", "flat", "is", "direct", "cantilever", "u-brake", "single-bolt"}
var reach = regexp.MustCompile(`^(?:(?:long |short |medium )?reach ?)?(?:\d{2} ?[-/] ?)?(\d{2}(?:\.\d)?) ?(?:mm)?(?: ?reach)?$`)

// readCaliperMount reads the mounts of disc and rim calipers; a caliper on one bolt is named by its reach.
func readCaliperMount(text string) (string, error) {
	for _, w := range caliperMounts {
		if spelling(w) == spelling(text) {
			return w, nil
		}
	}
	if form := reach.FindStringSubmatch(standard.Plain(text)); form != nil {
		return form[len(form)-1] + "mm", nil
	}
	return "", fmt.Errorf("%q is none of %s, and no reach such as 57mm either", text, Among(text, caliperMounts))
}

// readColour reads two colours beside each other, "black/red".
func readColour(text string) (string, error) {
	d := Dimension{Name: "colour", Words: vocabulary["colour"]}
	var both []string
	for _, one := range strings.FieldsFunc(standard.Plain(text), func(r rune) bool { return r == '/' || r == '+' || r == '&' }) {
		word, ok := d.listed(one)
		if !ok || len(both) == 2 {
			return "", fmt.Errorf("%q is none of %s, nor two of them with a stroke between", text, Among(text, d.Words))
		}
		both = append(both, word)
	}
	return strings.Join(both, "/"), nil
}

var (
	codeForm  = regexp.MustCompile(`^[a-z0-9]+([ ./+-][a-z0-9]+)*$`)
	longWord  = regexp.MustCompile(`[a-z]{3,}`)
	shortPart = regexp.MustCompile(`(^|[ ./+-])[a-z]{1,2}($|[ ./+-])`)
	hasFigure = regexp.MustCompile(`[0-9]|\b(one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)\b`)
	letterGap = regexp.MustCompile(`([A-Z])-([0-9])`)
	codeWords = []string{"road", "mountain", "spline", "splined", "none"}
)

// readCode reads a shop's or a supplier's code. Nobody lists them all: what tells a code from a word is its figure, or a
// single letter. Codes in capitals and in small letters are one, and so are those with a gap between letter and figure.
func readCode(expected string) reader {
	return func(text string) (string, error) {
		code := strings.ReplaceAll(standard.Plain(text), " ", "-")
		switch {
		case !codeForm.MatchString(code), !hasFigure.MatchString(code) && !shortPart.MatchString(code) && !slices.Contains(codeWords, code):
			return "", fmt.Errorf("%q is no code: write %s", text, expected)
		case longWord.MatchString(code):
			return code, nil
		}
		return letterGap.ReplaceAllString(strings.ToUpper(code), "$1$2"), nil
	}
}

var numberOfBolts = regexp.MustCompile(`^(\d|three|four|six|eight)[ -]?(bolt|hole|spline|lug)s?$`)

// readDirectMount reads the name of a spiderless interface; one that is named by its bolts is spelt 3-bolt.
func readDirectMount(text string) (string, error) {
	if form := numberOfBolts.FindStringSubmatch(standard.Plain(text)); form != nil {
		for n, word := range []string{3: "three", 4: "four", 6: "six", 8: "eight"} {
			if word != "" && form[1] == word {
				form[1] = strconv.Itoa(n)
			}
		}
		return form[1] + "-" + form[2], nil
	}
	return readCode("the interface's name with its figure, such as 3-bolt or spline-8")(text)
}

// readDesignation reads a maker's number, as it is marked on the part: capitals and figures.
func readDesignation(text string) (string, error) {
	code := strings.ToUpper(standard.Plain(text))
	if len(code) > 30 || !hasFigure.MatchString(code) {
		return "", fmt.Errorf("%q is no maker's number: write what is marked on the part, such as 6902-2RS", text)
	}
	return code, nil
}
