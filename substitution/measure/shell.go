package measure

import (
	"fmt"
	"math"
	"strings"

	"stead/substitution/standard"
)

// Shell is what was measured on a frame's bottom-bracket shell.
type Shell struct {
	Inside    *Reading `json:"inside,omitempty"`     // inside diameter: across the thread's crests if it has a thread
	Width     *Reading `json:"width,omitempty"`      // across the shell's faces
	Threaded  bool     `json:"threaded"`             // is there a thread inside?
	DriveHand Hand     `json:"drive_hand,omitempty"` // hand of the drive-side thread
}

// A bored shell may be this far over its nominal size; cups press it wider with each use. Common practice.
const (
	boreUnderMM  = 0.06
	boreOverMM   = 0.06
	shellWidthMM = 0.6 // faces are trimmed, painted and worn
)

// Identify names the shell.
func (s Shell) Identify() (Result, error) {
	if s.Inside == nil && s.Width == nil {
		return Result{}, fmt.Errorf("nothing was measured: give the shell's inside diameter and its width")
	}
	if err := check("inside of the shell", s.Inside, 30, 55); err != nil {
		return Result{}, err
	}
	if err := check("width of the shell", s.Width, 55, 130); err != nil {
		return Result{}, err
	}
	if s.DriveHand != HandUnknown && !s.Threaded {
		return Result{}, fmt.Errorf("a shell without a thread has no hand: is it threaded?")
	}
	r := Result{Part: "bottom-bracket shell", ReadsBadly: append(tooFine(s.Inside), "Paint, rust and burrs make inside jaws read low: measure at two places a quarter turn apart, on clean metal.")}
	for _, shell := range standard.Shells() {
		if (shell.Drive != nil) != s.Threaded {
			continue
		}
		out := s.outside(shell)
		switch {
		case len(out) == 0:
			r.Matches = append(r.Matches, Match{shell.Name, shellDetail(shell), shell.Reference})
		case len(out) == 1 && (s.Inside == nil || math.Abs(inside(shell)-s.Inside.MM) <= 1.5):
			r.NearMisses = append(r.NearMisses, NearMiss{shell.Name, shellDetail(shell), out[0], shell.Reference})
		}
	}
	r.Matches = firmFirst(r.Matches)
	switch {
	case sole(r.Matches) && s.Inside != nil && s.Width != nil:
		r.Verdict = fmt.Sprintf("The shell is %s: %s.", r.Matches[0].Name, r.Matches[0].Detail)
	case anyFirm(r.Matches):
		r.Verdict = fmt.Sprintf("It could be %s.", choice(r.Matches))
	case len(r.Matches) > 0:
		r.Verdict = fmt.Sprintf("It reads as %s, known here from memory only.", or(matchNames(r.Matches)))
	default:
		r.Verdict = "No shell in the table reads so: measure on clean metal, and look at what came out of it."
	}
	if s.Threaded && s.DriveHand == HandUnknown {
		r.Next = append(r.Next, Step{"See which way the drive-side cup unscrews", "the old cup", "left hand is English, ISO or Swiss; right hand is Italian or French"})
	}
	if s.Threaded {
		r.Next = append(r.Next, Step{"Find the pitch", "thread gauge", "24 to the inch is English, ISO or Italian; 1.0 mm is French, Swiss or T47"})
	}
	if s.Threaded {
		r.Cautions = append(r.Cautions, "A cup forced into the wrong thread ruins the frame: stop when it does not turn in by hand.")
	} else {
		r.Cautions = append(r.Cautions, "Each pressing widens the bore a little: a used shell may need a cup made for it (a press-fit page, common practice).")
	}
	return r, nil
}

// inside is the inside diameter that a caliper finds: the bore, or the crests of the thread.
func inside(shell standard.Shell) float64 {
	if shell.Drive == nil {
		return shell.BoreMM
	}
	for _, k := range standard.KnownThreads() {
		if k.Thread.Same(*shell.Drive) && k.CoreMM != 0 {
			return k.CoreMM
		}
	}
	return shell.Drive.DiameterMM - corePitches*shell.Drive.PitchMM
}

// outside says which readings keep a shell out, each in words.
func (s Shell) outside(shell standard.Shell) []string {
	var out []string
	if s.Inside != nil {
		under, over := boreUnderMM, boreOverMM
		if shell.Drive != nil {
			under, over = femaleBandMM, femaleBandMM
		}
		if nominal := inside(shell); !s.Inside.allows(nominal-under, nominal+over) {
			out = append(out, fmt.Sprintf("it is %s mm inside, yours reads %s", mm2(nominal), mm(s.Inside.MM)))
		}
	}
	if s.Width != nil {
		fits, widths := false, make([]string, len(shell.WidthsMM))
		for i, w := range shell.WidthsMM {
			widths[i] = mm(w)
			fits = fits || s.Width.allows(w-shellWidthMM, w+shellWidthMM)
		}
		if !fits {
			out = append(out, fmt.Sprintf("it is %s mm wide, yours reads %s", or(widths), mm(s.Width.MM)))
		}
	}
	if s.DriveHand != HandUnknown && shell.Drive != nil && (s.DriveHand == LeftHand) != shell.Drive.Left {
		out = append(out, "its drive side has the other hand")
	}
	return out
}

func shellDetail(shell standard.Shell) string {
	widths := make([]string, len(shell.WidthsMM))
	for i, w := range shell.WidthsMM {
		widths[i] = mm(w)
	}
	text := strings.Join(widths, ", ") + " mm wide"
	if shell.Drive != nil {
		return fmt.Sprintf("drive side %s, other side %s, %s", shell.Drive, shell.Other, text)
	}
	text = fmt.Sprintf("%s mm bore, %s", mm(shell.BoreMM), text)
	if shell.SpindleMM != 0 {
		text += fmt.Sprintf(", for a %s mm spindle", mm(shell.SpindleMM))
	}
	return text
}
