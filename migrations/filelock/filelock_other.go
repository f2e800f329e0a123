//go:build !unix

// Package filelock locks files between programs. Where there is no flock nothing is ever locked: Open fails, and Try says
// that another has it, so that what is not known to be free is left alone.
package filelock

import (
	"context"
	"errors"
	"os"
)

var errUnsupported = errors.New("files cannot be locked on this system")

type Lock struct{}

func Open(string) (*Lock, error)              { return nil, errUnsupported }
func (*Lock) Exclusive(context.Context) error { return errUnsupported }
func (*Lock) Shared(context.Context) error    { return errUnsupported }
func (*Lock) TryExclusive() bool              { return false }
func (*Lock) Release()                        {}
func (*Lock) Close()                          {}

func Try(*os.File) bool { return false }
