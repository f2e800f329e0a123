//go:build !linux

package privatepg

import "os"

// ThrowawayDir is where a server for data of no worth is quickest: here nothing is known to be quicker than the temporary
// directory.
func ThrowawayDir() string { return os.TempDir() }
