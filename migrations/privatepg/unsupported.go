//go:build !unix

package privatepg

import (
	"io/fs"
	"os/exec"
	"runtime"
)

// Where there is no flock and no unix account, Open stops at supported and nothing below is reached.

func checkSupported() error { return &UnsupportedError{OS: runtime.GOOS} }

type account struct{ switchUser bool }

func serverAccount(string) (account, error) { return account{}, checkSupported() }
func (account) dress(*exec.Cmd)             {}
func (account) own(string) error            { return nil }
func (account) owns(fs.FileInfo) bool       { return true }
func (account) canWalk(fs.FileInfo) bool    { return true }
func (account) name() string                { return "" }
func ownedByUs(fs.FileInfo) bool            { return true }
func alive(int) bool                        { return true }
func belongsTo(fs.FileInfo) string          { return "" }
func detach(*exec.Cmd)                      {}
