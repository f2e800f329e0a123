package standard

import (
	"strings"
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
			name, _, _ := strings.Cut(c.Canonical, " ")
			shell, known := ShellByName(name)
			require.True(t, known)
			require.Equal(t, c.BoreMM, shell.BoreMM)
			if c.ShellMM != 0 {
				require.Contains(t, shell.WidthsMM, c.ShellMM)
			}
			if c.Drive != "" {
				require.Equal(t, c.Drive, shell.Drive.String())
				require.Equal(t, c.Other, shell.Other.String())
			} else {
				require.Nil(t, shell.Drive)
			}
		})
	}
}
