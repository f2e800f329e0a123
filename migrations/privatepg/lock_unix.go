//go:build unix

package privatepg

import (
	"context"
	"errors"
	"fmt"
	"os"
	"syscall"
	"time"
)

// lock is a flock on a file. It belongs to the open file, not to the process: two shares in one process exclude each
// other as two processes do, and the kernel frees it when the process ends.
type lock struct {
	file *os.File
}

func openLock(path string) (*lock, error) {
	file, err := os.OpenFile(path, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return nil, fmt.Errorf("open the lock: %w", err)
	}
	return &lock{file}, nil
}

func (l *lock) exclusive(ctx context.Context) error { return l.wait(ctx, syscall.LOCK_EX) }
func (l *lock) shared(ctx context.Context) error    { return l.wait(ctx, syscall.LOCK_SH) }

func (l *lock) tryExclusive() bool { return l.try(syscall.LOCK_EX) == nil }

func (l *lock) release() { _ = syscall.Flock(int(l.file.Fd()), syscall.LOCK_UN) }
func (l *lock) close()   { _ = l.file.Close() }

// wait polls, because a blocking flock cannot be given up when ctx ends.
func (l *lock) wait(ctx context.Context, how int) error {
	for {
		err := l.try(how)
		if !errors.Is(err, syscall.EWOULDBLOCK) {
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(5 * time.Millisecond):
		}
	}
}

func (l *lock) try(how int) error {
	for {
		err := syscall.Flock(int(l.file.Fd()), how|syscall.LOCK_NB)
		if !errors.Is(err, syscall.EINTR) {
			return err
		}
	}
}
