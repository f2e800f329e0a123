//go:build !container

// Container runs a PostgreSQL in a container for as long as its input is open, and prints its address. It is package
// testdb that asks for it, as `go run -tags container`: with the engine's client, which is a hundred packages, in here
// alone, no test waits for those to be compiled and linked but where there is nothing else to run a server.
//
// Whoever asked holds the other end of the input. When they let go of it, or are killed, the container goes.
package main

import (
	"fmt"
	"os"
)

func main() {
	fmt.Fprintln(os.Stderr, "this was built without an engine's client: go run -tags container stead/migrations/testdb/container IMAGE")
	os.Exit(2)
}
