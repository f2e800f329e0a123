//go:build unix

package remember

import (
	"os"
	"syscall"
)

// tryLock holds a file as long as it is open; the kernel frees it however a program ends.
func tryLock(f *os.File) bool {
	return syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) == nil
}
