// Package drawn has property tests draw the same values in every run: a verdict on the tree is then no matter of luck. A
// test package that uses rapid imports it for that alone.
//
// New values are looked for by .ci/hunt. By hand, -rapid.seed=N draws what N gives, and RAPID_SEED=0 anew in every run;
// what once failed is kept by rapid in testdata/rapid and tried first, whatever the seed.
package drawn

import (
	"flag"
	"os"

	_ "pgregory.net/rapid" // its flag stands before it is set here; one on the command line is read later and wins
)

// seed has no meaning but that it stays.
const seed = "20261128"

func init() {
	if _, chosen := os.LookupEnv("RAPID_SEED"); chosen {
		return
	}
	if err := flag.Set("rapid.seed", seed); err != nil {
		panic(err)
	}
}
