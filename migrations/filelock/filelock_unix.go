//go:build unix

// Package filelock locks files between programs. A lock is a flock: it belongs to the open file, not to the process, so two
// in one process exclude each other as two processes do, a child that is given the open file shares it, and the kernel
// frees it however a program ends.
package filelock

import (
	"context"
	"errors"
	"fmt"
	"os"
	"syscall"
	"time"
)

// Lock is a file that can be locked.
type Lock struct {
	file *os.File
}

// Open opens, or makes, the file of a lock without locking it.
func Open(path string) (*Lock, error) {
	file, err := os.OpenFile(path, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return nil, fmt.Errorf("open the lock: %w", err)
	}
	return &Lock{file}, nil
}

// Exclusive waits until nobody else has the lock, or ctx ends.
func (l *Lock) Exclusive(ctx context.Context) error { return l.wait(ctx, syscall.LOCK_EX) }

// Shared waits until nobody has the lock to itself alone, or ctx ends.
func (l *Lock) Shared(ctx context.Context) error { return l.wait(ctx, syscall.LOCK_SH) }

// TryExclusive has the lock to itself at once, or not at all.
func (l *Lock) TryExclusive() bool { return Try(l.file) }

// Release gives the lock up; it may be had again.
func (l *Lock) Release() { _ = syscall.Flock(int(l.file.Fd()), syscall.LOCK_UN) }

// Close gives the lock up with its file.
func (l *Lock) Close() { _ = l.file.Close() }

// Try locks an open file for itself alone, or says that another has it. Closing the file gives the lock up.
func Try(f *os.File) bool { return try(f, syscall.LOCK_EX) == nil }

// wait polls, because a blocking flock cannot be given up when ctx ends.
func (l *Lock) wait(ctx context.Context, how int) error {
	for {
		err := try(l.file, how)
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

func try(f *os.File, how int) error {
	for {
		err := syscall.Flock(int(f.Fd()), how|syscall.LOCK_NB)
		if !errors.Is(err, syscall.EINTR) {
			return err
		}
	}
}
