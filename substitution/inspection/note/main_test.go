package note_test

import (
	"flag"
	"os"
	"runtime/debug"
	"testing"

	_ "stead/testdata/drawn" // the same values in every run
)

// Tests keep little of what they allocate: to collect it less often saves a fifth of their time and more. A benchmark
// has the collector that the program has.
func TestMain(m *testing.M) {
	flag.Parse()
	if flag.Lookup("test.bench").Value.String() == "" {
		debug.SetGCPercent(400)
	}
	os.Exit(m.Run())
}
