package privatepg

import (
	"os"
	"syscall"
)

// tmpfs is the number by which Linux tells a file system that is kept in memory (linux/magic.h).
const tmpfs = 0x01021994

// enough is the room that the tests of all packages at once may take, generously: each database of a test is 10 MB.
const enough = 2 << 30

// ThrowawayDir is where a server for data of no worth is quickest. A database is some 500 files, and making those takes
// most of the time of making one on many a disk: where Linux has a folder in memory with room in it, they are made there.
// A TMPDIR that is set is a wish and is followed. The folder is everybody's, as the temporary directory is.
func ThrowawayDir() string {
	const memory = "/dev/shm"
	var fs syscall.Statfs_t
	if os.Getenv("TMPDIR") != "" || syscall.Statfs(memory, &fs) != nil ||
		int64(fs.Type) != tmpfs || fs.Bavail*uint64(fs.Bsize) < enough {
		return os.TempDir()
	}
	try, err := os.MkdirTemp(memory, "stead-")
	if err != nil {
		return os.TempDir()
	}
	_ = os.Remove(try) // an empty folder that stays harms nobody
	return memory
}
