package standard

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
	threaded("bsa", inchThread(1.37, 24, true), inchThread(1.37, 24, false), refBBPage, 68, 73, 83, 100),
	threaded("italian", mixedThread(36, 24, false), mixedThread(36, 24, false), refBBPage, 70),
	threaded("french", metricThread(35, 1, false), metricThread(35, 1, false), refBBPage, 68),
	threaded("swiss", metricThread(35, 1, true), metricThread(35, 1, false), refBBPage, 68),
	threaded("bsa-26", inchThread(1.375, 26, true), inchThread(1.375, 26, false), refBBPage, 71, 76),
	threaded("t47", metricThread(47, 1, true), metricThread(47, 1, false), fromMemory("hand of T47"), 68, 73, 77, 85.5, 86.5),
	pressed("bb30", 41.96, 30, refShellPage, 68, 73, 83),
	pressed("pf30", 46, 30, refShellChart, 68, 73, 83),
	pressed("bbright", 46, 30, refShellChart, 79),
	pressed("bb386", 46, 30, refShellChart, 86.5),
	pressed("bb86", 41, 24, refShellChart, 86.5),
	pressed("bb92", 41, 24, refShellChart, 89.5, 92, 104.5, 107, 121),
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
