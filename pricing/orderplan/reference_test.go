package orderplan

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/require"
)

const (
	python          = "/usr/bin/python3"
	referenceScript = "../../testdata/orderplan/reference.py"
)

// answer is what a reference solver says.
type answer struct {
	Status  string   `json:"status"`
	Total   *float64 `json:"total"`
	Seconds float64  `json:"seconds"`
}

// missing says why a reference solver can't be run, or "".
func missing(solver string) string {
	if solver == "highs" {
		if err := exec.Command(python, "-c", "import scipy.optimize; scipy.optimize.milp").Run(); err != nil {
			return "python3 with scipy (HiGHS) is not installed"
		}
		return ""
	}
	if solver == "glpk" {
		solver = "glpsol"
	}
	if _, err := exec.LookPath(solver); err != nil {
		return solver + " is not installed"
	}
	return ""
}

// reference solves problems with an independent solver.
func reference(t testing.TB, solver string, seconds float64, problems []Problem) []answer {
	var in bytes.Buffer
	enc := json.NewEncoder(&in)
	for _, p := range problems {
		require.NoError(t, enc.Encode(p))
	}
	cmd := exec.Command(python, referenceScript, solver, fmt.Sprint(seconds))
	var stderr bytes.Buffer
	cmd.Stdin, cmd.Stderr = &in, &stderr
	out, err := cmd.Output()
	require.NoError(t, err, stderr.String())
	var answers []answer
	for lines := bufio.NewScanner(bytes.NewReader(out)); lines.Scan(); {
		var a answer
		require.NoError(t, json.Unmarshal(lines.Bytes(), &a))
		answers = append(answers, a)
	}
	require.Len(t, answers, len(problems))
	return answers
}
