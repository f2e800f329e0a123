package choose

import (
	"flag"
	"os"
	"runtime/debug"
	"testing"
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
