package migrations

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"syscall"
)

// DiskFullError says that something failed for want of room on a disk of this machine.
type DiskFullError struct {
	Where string // a file or folder on that disk
	cause error
}

func (e *DiskFullError) Error() string {
	return fmt.Sprintf("there is no room left on the disk of %s: free some space there", e.Where)
}
func (e *DiskFullError) Unwrap() error { return e.cause }

// DiskFull makes an error that came for want of room a *[DiskFullError]; others pass as they are. The tools of Postgres
// say it in words, the system by a number.
func DiskFull(err error, where string) error {
	if err == nil || errors.As(err, new(*DiskFullError)) {
		return err
	}
	if errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) || isDiskFull(err.Error()) {
		var at *fs.PathError
		if where == "" && errors.As(err, &at) {
			where = at.Path
		}
		return &DiskFullError{Where: where, cause: err}
	}
	return err
}

// isDiskFull tells whether a program complains of a full disk.
func isDiskFull(text string) bool {
	for _, words := range []string{
		"No space left on device", "Disk quota exceeded",
		"Check free disk space", // Postgres, where the system has written the beginning of what it was given
	} {
		if strings.Contains(text, words) {
			return true
		}
	}
	return false
}
