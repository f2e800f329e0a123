package filelock_test

import (
	"fmt"
	"os"
	"path/filepath"

	"stead/migrations/filelock"
)

func Example() {
	dir, err := os.MkdirTemp("", "lock")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	mine, err := filelock.Open(filepath.Join(dir, "lock"))
	if err != nil {
		fmt.Println(err)
		return
	}
	defer mine.Close()
	yours, err := filelock.Open(filepath.Join(dir, "lock"))
	if err != nil {
		fmt.Println(err)
		return
	}
	defer yours.Close()
	fmt.Println(mine.TryExclusive(), yours.TryExclusive())
	mine.Release()
	fmt.Println(yours.TryExclusive())
	// Output:
	// true false
	// true
}
