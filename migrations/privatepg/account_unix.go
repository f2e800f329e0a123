//go:build unix

package privatepg

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"syscall"
)

// account is who the server runs as. Switch is set only for root, who must become somebody else.
type account struct {
	uid, gid   uint32
	switchUser bool
}

func checkSupported() error { return nil }

// serverAccount picks the account for the server of a data directory: ourselves, or for root whoever owns the data
// already, else postgres, else nobody.
func serverAccount(dataDir string) (account, error) {
	self := account{uid: uint32(os.Geteuid()), gid: uint32(os.Getegid())}
	info, err := os.Stat(dataDir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return account{}, &DirectoryError{Dir: filepath.Dir(dataDir), Problem: fmt.Sprintf("cannot be looked at (%v): %s", err, nameAnother)}
	}
	if err == nil {
		owner := info.Sys().(*syscall.Stat_t)
		switch {
		case owner.Uid == self.uid && self.uid != 0:
			return self, nil
		case self.uid == 0 && owner.Uid != 0:
			return account{uid: owner.Uid, gid: owner.Gid, switchUser: true}, nil
		case self.uid != 0:
			// Root's data is its server's; who uses it stands on the folder around it.
			if around, err := os.Stat(filepath.Dir(dataDir)); err == nil {
				info = around
			}
			return account{}, &DirectoryError{Dir: filepath.Dir(dataDir), Problem: belongsTo(info)}
		}
	}
	if self.uid != 0 {
		return self, nil
	}
	for _, name := range []string{"postgres", "nobody"} {
		u, err := user.Lookup(name)
		if err != nil {
			continue
		}
		uid, err := strconv.ParseUint(u.Uid, 10, 32)
		if err != nil {
			return account{}, fmt.Errorf("read the number of user %s: %w", name, err)
		}
		gid, err := strconv.ParseUint(u.Gid, 10, 32)
		if err != nil {
			return account{}, fmt.Errorf("read the group of user %s: %w", name, err)
		}
		return account{uid: uint32(uid), gid: uint32(gid), switchUser: true}, nil
	}
	return account{}, errors.New("the database cannot run as root and there is no user postgres or nobody to run it as: run stead as an ordinary user")
}

// dress makes a command run as the account. Its own session keeps the terminal's Ctrl-C from the server.
func (a account) dress(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true}
	if a.switchUser {
		cmd.SysProcAttr.Credential = &syscall.Credential{Uid: a.uid, Gid: a.gid}
	}
}

// detach lets a command outlive this program and its terminal.
func detach(cmd *exec.Cmd) { cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true} }

// alive tells whether there is a process of a number.
func alive(pid int) bool {
	err := syscall.Kill(pid, 0)
	return err == nil || errors.Is(err, syscall.EPERM)
}

// own gives a file to the account.
func (a account) own(path string) error {
	if !a.switchUser {
		return nil
	}
	if err := os.Chown(path, int(a.uid), int(a.gid)); err != nil {
		return fmt.Errorf("give %s to the database's user: %w", path, err)
	}
	return nil
}

// owns tells whether the account is the owner of a file.
func (a account) owns(info fs.FileInfo) bool {
	return info.Sys().(*syscall.Stat_t).Uid == a.uid
}

// canWalk tells whether the account may pass through a directory.
func (a account) canWalk(info fs.FileInfo) bool {
	owner := info.Sys().(*syscall.Stat_t)
	mode := info.Mode().Perm()
	switch {
	case owner.Uid == a.uid:
		return mode&0o100 != 0
	case owner.Gid == a.gid:
		return mode&0o010 != 0
	default:
		return mode&0o001 != 0
	}
}

func (a account) name() string { return userName(a.uid) }

// ownedByUs tells whether a file belongs to the user that runs this program.
func ownedByUs(info fs.FileInfo) bool {
	return int(info.Sys().(*syscall.Stat_t).Uid) == os.Geteuid()
}

// belongsTo says whose a folder is that is not for this user. Root may use everybody's.
func belongsTo(info fs.FileInfo) string {
	owner := info.Sys().(*syscall.Stat_t).Uid
	if owner == 0 {
		return "belongs to root: run stead as root, or " + nameAnother
	}
	return fmt.Sprintf("belongs to user %s: run stead as that user, or %s", userName(owner), nameAnother)
}

func userName(uid uint32) string {
	number := strconv.FormatUint(uint64(uid), 10)
	if u, err := user.LookupId(number); err == nil {
		return u.Username
	}
	return number
}
