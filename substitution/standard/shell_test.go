package standard

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestShellPublished(t *testing.T) {
	type row struct {
		cite
		Name      string  `json:"name"`
		Canonical string  `json:"canonical"`
		Drive     string  `json:"drive_thread"` // absent for press fits
		Other     string  `json:"other_thread"`
		BoreMM    float64 `json:"bore_mm"` // absent for threaded shells
		ShellMM   float64 `json:"shell_mm"`
		SpindleMM float64 `json:"spindle_mm"`
	}
	for _, c := range readCases[row](t, "shells.json") {
		t.Run(c.Case, func(t *testing.T) {
			b, err := ParseBottomBracket(c.Name)
			require.NoError(t, err)
			require.Equal(t, c.Canonical, b.String())
			require.Equal(t, c.BoreMM, b.Shell.BoreMM)
			require.Equal(t, c.ShellMM, b.ShellMM)
			require.Equal(t, c.SpindleMM, b.SpindleMM)
			if c.Drive != "" {
				require.Equal(t, c.Drive, b.Shell.Drive.String())
				require.Equal(t, c.Other, b.Shell.Other.String())
			} else {
				require.Nil(t, b.Shell.Drive)
			}
		})
	}
}

func TestParseBottomBracketRefuses(t *testing.T) {
	for in, says := range map[string]string{
		"BSA 70": "not made 70 mm wide; nearest: 68", "Italian 70x20": "between 95 and 180", "sealed unit": "no shell of the table",
		"68x110": "write the shell", "": "nothing is written",
	} {
		_, err := ParseBottomBracket(in)
		require.ErrorContains(t, err, says, in)
	}
}

func TestShellRoundTrip(t *testing.T) {
	for _, shell := range Shells() {
		for _, width := range shell.WidthsMM {
			for _, spindle := range []float64{0, 110.5} {
				b := BottomBracket{shell, width, spindle}
				again, err := ParseBottomBracket(b.String())
				require.NoError(t, err)
				require.Equal(t, b, again)
			}
		}
	}
}

func FuzzParseBottomBracket(f *testing.F) {
	for _, seed := range []string{"BSA 68×110", "BB86", "T47 86.5", "Italian 70"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		b, err := ParseBottomBracket(s)
		if err != nil {
			return
		}
		again, err := ParseBottomBracket(b.String())
		require.NoError(t, err, "%q reads as %s", s, b)
		require.Equal(t, b, again)
	})
}

func TestShellSpellings(t *testing.T) {
	for want, spellings := range map[string][]string{
		"bsa 68x110": {"BSA 68×110", "english 68-110", "BSC 68 mm x 110 mm"},
		"bsa 68":     {"BSA68", "68mm BSA", "British 68"},
		"bb86 86.5":  {"BB86", "bb86 press fit", "PF86"},
		"pf30 73":    {"PF30 73", "PressFit 30 73mm"},
	} {
		for _, s := range spellings {
			b, err := ParseBottomBracket(s)
			require.NoError(t, err, s)
			require.Equal(t, want, b.String(), s)
		}
	}
}
