//go:build unix

package remember

import (
	"os"
	"path/filepath"
	"syscall"
)

// Root may work on the data of an ordinary user. What root makes there is given to that user, who could else neither
// remember a request nor ask after one any more.

// giveFolder gives a folder that was just made to the owner of the one around it.
func giveFolder(folder string) error {
	uid, gid, is, err := notRoots(filepath.Dir(folder))
	if err != nil || !is {
		return err
	}
	return os.Lchown(folder, uid, gid) // never through a link that somebody has put there meanwhile
}

// giveFile gives a new file to the owner of its folder.
func giveFile(file *os.File, folder string) error {
	uid, gid, is, err := notRoots(folder)
	if err != nil || !is {
		return err
	}
	return file.Chown(uid, gid)
}

// notRoots is the owner of a folder, if root is at it and it is somebody else's.
func notRoots(folder string) (uid, gid int, is bool, err error) {
	if os.Geteuid() != 0 {
		return 0, 0, false, nil
	}
	info, err := os.Lstat(folder)
	if err != nil {
		return 0, 0, false, err
	}
	owner := info.Sys().(*syscall.Stat_t)
	return int(owner.Uid), int(owner.Gid), owner.Uid != 0, nil
}
