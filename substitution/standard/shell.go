package standard

import (
	"math"
	"regexp"
	"strings"
)

// Shell is a bottom-bracket shell: what the frame offers.
type Shell struct {
	Name      string    `json:"shell"`                         // as in the vocabulary: bsa, italian, bb30, …
	Drive     *Thread   `json:"drive_thread,omitempty"`        // drive side; absent for press fits
	Other     *Thread   `json:"other_thread,omitempty"`        // non-drive side
	BoreMM    float64   `json:"bore_mm,omitempty"`             // inside of a press-fit shell
	WidthsMM  []float64 `json:"shell_mm"`                      // shell widths in use
	SpindleMM float64   `json:"spindle_diameter_mm,omitempty"` // the spindle it is made for, where there is one
	Reference
}

func threaded(name string, drive, other Thread, ref Reference, widths ...float64) Shell {
	return Shell{Name: name, Drive: &drive, Other: &other, WidthsMM: widths, Reference: ref}
}

func pressed(name string, bore, spindle float64, ref Reference, widths ...float64) Shell {
	return Shell{Name: name, BoreMM: bore, SpindleMM: spindle, WidthsMM: widths, Reference: ref}
}

var refShellChart = Reference{"published makers' bottom-bracket charts", Catalogue}
var refShellPage = Reference{"bottom-bracket reference pages", Practice}

var shells = []Shell{
	threaded("bsa", InchThread(1.37, 24, true), InchThread(1.37, 24, false), refBBPage, 68, 73, 83, 100),
	threaded("italian", MixedThread(36, 24, false), MixedThread(36, 24, false), refBBPage, 70),
	threaded("french", MetricThread(35, 1, false), MetricThread(35, 1, false), refBBPage, 68),
	threaded("swiss", MetricThread(35, 1, true), MetricThread(35, 1, false), refBBPage, 68),
	threaded("bsa-26", InchThread(1.375, 26, true), InchThread(1.375, 26, false), refBBPage, 71, 76),
	threaded("t47", MetricThread(47, 1, true), MetricThread(47, 1, false), fromMemory("hand of T47"), 68, 73, 77, 85.5, 86.5),
	pressed("bb30", 41.96, 30, refShellPage, 68, 73, 83),
	pressed("pf30", 46, 30, refShellChart, 68, 73, 83),
	pressed("bbright", 46, 30, refShellChart, 79),
	pressed("bb386", 46, 30, refShellChart, 86.5),
	pressed("bb86", 41, 24, refShellChart, 86.5),
	pressed("bb92", 41, 24, refShellChart, 89.5, 92),
	pressed("bb90", 37, 24, refShellPage, 90),
	pressed("bb95", 37, 24, fromMemory("95 mm shell"), 95),
	pressed("one-piece", 51.3, 0, refShellPage, 65, 68),
}

// Shells are all shells in the table; the slice is the caller's own.
func Shells() []Shell { return append([]Shell(nil), shells...) }

// ShellByName finds a shell by its vocabulary name.
func ShellByName(name string) (Shell, bool) {
	for _, s := range shells {
		if s.Name == name {
			return s, true
		}
	}
	return Shell{}, false
}

// shellNames are other ways of writing a shell's name.
var shellNames = map[string]string{
	"bsa": "bsa", "bsc": "bsa", "english": "bsa", "british": "bsa", "iso": "bsa", "euro": "bsa",
	"italian": "italian", "ita": "italian", "french": "french", "swiss": "swiss", "t47": "t47",
	"bb30": "bb30", "pf30": "pf30", "pressfit 30": "pf30", "press fit 30": "pf30", "pf 30": "pf30",
	"bbright": "bbright", "bb386": "bb386", "bb386 evo": "bb386", "386": "bb386",
	"bb86": "bb86", "bb92": "bb92", "pf86": "bb86", "pf92": "bb92", "bb90": "bb90", "bb95": "bb95",
	"one-piece": "one-piece", "one piece": "one-piece", "american": "one-piece", "bsa-26": "bsa-26",
}

// BottomBracket is a bottom bracket as named: its shell, and the width and spindle length where the name gives them.
type BottomBracket struct {
	Shell     Shell   `json:"shell"`
	ShellMM   float64 `json:"shell_mm,omitempty"`   // absent when the name does not say and the shell has several widths
	SpindleMM float64 `json:"spindle_mm,omitempty"` // length; absent when the name does not say
}

// String is "bsa 68x110", or less where less is known; [ParseBottomBracket] reads it back.
func (b BottomBracket) String() string {
	text := b.Shell.Name
	if b.ShellMM != 0 {
		text += " " + trim(b.ShellMM)
	}
	if b.SpindleMM != 0 {
		text += "x" + trim(b.SpindleMM)
	}
	return text
}

var (
	pressWords = regexp.MustCompile(` (?:press ?fit|press-fit)$`)
	widthFirst = regexp.MustCompile(`^(\d{2,3}(?:\.\d+)?)(?: ?mm)? ([a-z].*)$`)
)

var shellForm = regexp.MustCompile(`^([a-z][a-z0-9 -]*?)(?: ?(\d{2,3}(?:\.\d+)?)(?: ?mm)?(?: ?[x-] ?(\d{2,3}(?:\.\d+)?)(?: ?mm)?)?)?$`)

// ParseBottomBracket reads "BSA 68×110", "Italian 70", "BB86", "T47 86.5": shell, shell width, spindle length. A width
// that the shell is not made in is an error naming the widths that it is made in.
func ParseBottomBracket(s string) (BottomBracket, error) {
	const what = "a bottom-bracket size"
	if err := checkText(what, s); err != nil {
		return BottomBracket{}, err
	}
	text := pressWords.ReplaceAllString(plain(s), "")
	if form := widthFirst.FindStringSubmatch(text); form != nil {
		text = form[2] + " " + form[1]
	}
	name, known := shellNames[text]
	var width, spindle string
	if !known {
		form := shellForm.FindStringSubmatch(text)
		if form == nil {
			return BottomBracket{}, &ReadingError{What: what, Input: s, Problem: "write the shell, its width and the spindle length: BSA 68x110"}
		}
		name, known = shellNames[strings.TrimSpace(form[1])]
		width, spindle = form[2], form[3]
	}
	if !known {
		return BottomBracket{}, &ReadingError{What: what, Input: s, Problem: "no shell of the table goes by that name", Nearest: []string{"bsa", "italian", "french", "bb30", "pf30", "bb86", "bb92", "t47"}}
	}
	shell, _ := ShellByName(name)
	b := BottomBracket{Shell: shell}
	if len(shell.WidthsMM) == 1 {
		b.ShellMM = shell.WidthsMM[0]
	}
	if width != "" {
		b.ShellMM, _ = number(width)
		if !holds(shell.WidthsMM, b.ShellMM) {
			return BottomBracket{}, &ReadingError{What: what, Input: s, Problem: "a " + name + " shell is not made " + width + " mm wide", Nearest: trimAll(shell.WidthsMM)}
		}
	}
	if spindle != "" {
		b.SpindleMM, _ = number(spindle)
		if b.SpindleMM < 95 || b.SpindleMM > 180 {
			return BottomBracket{}, &ReadingError{What: what, Input: s, Problem: "a spindle is between 95 and 180 mm long, not " + spindle}
		}
	}
	return b, nil
}

func holds(list []float64, v float64) bool {
	for _, x := range list {
		if math.Abs(x-v) < 1e-9 {
			return true
		}
	}
	return false
}

func trimAll(list []float64) []string {
	texts := make([]string, len(list))
	for i, v := range list {
		texts[i] = trim(v)
	}
	return texts
}
