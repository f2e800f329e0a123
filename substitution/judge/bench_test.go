package judge

import (
	"bufio"
	"bytes"
	"os"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// Questions a second on one core: every worked pair, read and answered.
func BenchmarkLine(b *testing.B) {
	data, err := os.ReadFile("../../testdata/fit/pairs.jsonl")
	require.NoError(b, err)
	var lines [][]byte
	for scan := bufio.NewScanner(bytes.NewReader(data)); scan.Scan(); {
		lines = append(lines, bytes.Clone(scan.Bytes()))
	}
	b.ReportAllocs()
	asked, before := 0, worked(b)
	for b.Loop() {
		for _, line := range lines {
			Line(line)
		}
		asked += len(lines)
	}
	b.ReportMetric(float64(asked)/b.Elapsed().Seconds(), "questions/s")
	b.ReportMetric(float64(asked)/(worked(b)-before).Seconds(), "questions/core-s")
}

// worked is how long a core has worked for the test: other work on the machine does not count.
func worked(b *testing.B) time.Duration {
	var use syscall.Rusage
	require.NoError(b, syscall.Getrusage(syscall.RUSAGE_SELF, &use))
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}
