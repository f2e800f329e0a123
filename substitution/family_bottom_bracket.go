package substitution

import (
	"strings"

	"fmt"
	"slices"

	"stead/substitution/standard"
)

var _ = families(&bottomBracket)

var shellWord = word("shell", "shell", "read the cups, or measure the shell's bore or thread; the drive side's hand tells English from Italian and Swiss from French",
	"bsa", "iso", "italian", "french", "swiss", "bb30", "bb30a", "pf30", "pf30a", "bb86", "bb90", "bb92", "bb95", "bb386", "bbright", "t47", "one-piece", "mid", "spanish")

var bottomBracket = Table{
	Family: "bottom-bracket", Plural: "bottom brackets",
	Sites: []Site{
		{Place: "bottom-bracket", Words: "bottom bracket"},
	},
	Readings: houseReadings,
	Work: []Work{
		{Replace, "fit bottom bracket", 40},
		{Adjust, "adjust bottom bracket", 20},
		{Clean, "strip, clean and grease bottom bracket", 45},
	},
	Dimensions: []Dimension{
		shellWord,
		millimetres("shell_mm", "shell width", 50, 130, "face to face of the shell, caliper"),
		spindleInterface,
		millimetres("spindle_mm", "spindle length", 80, 190, "end to end of the spindle, caliper"),
	},
	Agrees: []Agreement{shellOfWidth},
	Rules: []Rule{
		{
			ID: "bottom-bracket.shell", Severity: Mating,
			Says: "the bottom bracket is made for the frame's shell: thread and hand, or bore",
			Test: Lookup{
				Of: []Ref{mine("shell"), theirs("frame", "shell")},
				Rows: append(alike(shellWord.Words...),
					Row{Keys: []string{"bsa", "iso"}, Answer: Holds, Words: "English and ISO threads go together"},
					Row{Keys: []string{"iso", "bsa"}, Answer: Holds, Words: "English and ISO threads go together"},
					Row{Keys: []string{"french", "swiss"}, Answer: Breaks, Words: "the same thread with the other hand on the drive side"},
					Row{Keys: []string{"swiss", "french"}, Answer: Breaks, Words: "the same thread with the other hand on the drive side"},
				),
				Otherwise: Breaks, Why: "another thread, hand or bore",
			},
			Source: Source{"published tables of bottom bracket shells (wikipedalia.de, bikeraceinfo.com); ISO 6696 means English and ISO to interchange", Handbook},
		},
		{
			ID: "bottom-bracket.shell-width", Severity: Mating,
			Says:   "the bottom bracket is made for the shell's width",
			Test:   Match{Mine: "shell_mm", Theirs: []Ref{theirs("frame", "shell_mm")}, Within: 0.5, Doubt: 1.1, Ask: "most cranks take up a millimetre, or a spacer of one does: the crank maker's chart"},
			Source: Source{"shell widths in makers' charts: 68, 70, 73, 83, 86.5, 92 mm", Catalogue},
		},
		{
			ID: "bottom-bracket.spindle-room", Severity: Mating,
			Says: "the spindle is no shorter than it was: ring and arm clear the chainstay",
			Test: Limit{Sum: []Term{plus(mine("spindle_mm"))}, AtLeast: []Ref{old("spindle_mm")}, Optional: true, Plus: 3,
				Doubt: 100, Ask: "measure the gap of inner ring and arm from the chainstay: it shrinks by half the difference"},
			Source: byArithmetic,
		},
		{
			ID: "bottom-bracket.spindle", Severity: Mating, Presumed: true,
			Says: "the spindle is made for the crank: square tapers of JIS and ISO are two things",
			Test: Lookup{
				Of: []Ref{mine("spindle_interface"), theirs("crank", "spindle_interface")},
				Rows: append(alike(spindleInterface.Words...),
					Row{Keys: []string{"jis-taper", "iso-taper"}, Answer: CantTell, Words: mixedTapers},
					Row{Keys: []string{"iso-taper", "jis-taper"}, Answer: CantTell, Words: mixedTapers},
				),
				Otherwise: Breaks, Why: "another spindle",
			},
			Source: Source{"moultoneer.wordpress.com and jitetan.com on square tapers; sources disagree on the end width", Handbook},
		},
		{
			ID: "bottom-bracket.spindle-length", Severity: Function,
			Says: "the spindle is as long as it was, and the chainline stays",
			Test: Same{Mine: []string{"spindle_mm"}, Feel: func(s Scene, at Place) string {
				was, _ := s.Was[at].Get("spindle_mm")
				now, _ := s.Now[at].Get("spindle_mm")
				way := "out"
				if now.number < was.number {
					way = "in"
				}
				return fmt.Sprintf("spindle of %s mm in place of %s mm: the chainline moves about %s mm %s, if the spindle is symmetrical",
					now, was, figure(abs(now.number-was.number)/2), way)
			}},
			Source: byArithmetic,
		},
	},
}

const mixedTapers = "a JIS crank goes about 4.5 mm further onto an ISO spindle, an ISO crank as much less far onto a JIS one; measure the chainline and the clearance with the crank on"

// widthsOf lists a shell's widths in words: "68, 73 or 83".
func widthsOf(shell standard.Shell) string {
	var words []string
	for _, mm := range shell.WidthsMM {
		words = append(words, figure(mm))
	}
	last := len(words) - 1
	if last == 0 {
		return words[0]
	}
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// shellOfWidth: each shell is made in its widths only, and one made in a single width names it.
func shellOfWidth(p *Part) []Follows {
	name, known := p.Get("shell")
	shell, listed := standard.ShellByName(name.word)
	if !known || !listed || !shell.Confidence.Firm() {
		return nil
	}
	wide, told := p.Get("shell_mm")
	switch {
	case told && !slices.ContainsFunc(shell.WidthsMM, func(mm float64) bool { return near(mm, wide.number, 1) }):
		return []Follows{{Wrong: fmt.Sprintf("shell %s is listed %s mm wide, not %s (shell_mm)", name, widthsOf(shell), wide)}}
	case !told && len(shell.WidthsMM) == 1:
		return []Follows{{Dimension: "shell_mm", Value: Num(shell.WidthsMM[0]), Loose: true}}
	}
	return nil
}
