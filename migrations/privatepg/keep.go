package privatepg

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"stead/migrations/filelock"
)

// Starting the server takes half a second, joining it a twentieth. Where a program asks for it (Options.Linger), the
// server therefore stays for a while after the last program has left. A keeper, a process of its own, ends it then: it
// holds keeper.lock, so that a keeper which died is noticed and the last program out stops the server itself, as ever.

// startKeeper starts the keeper unless there is one. The lock is handed over with the open file, so that at no moment a
// keeper that is on its way is taken for none. The caller holds the gate.
func (s *Server) startKeeper(command func(dir string) *exec.Cmd) error {
	file, err := os.OpenFile(s.keeperLock(), os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return fmt.Errorf("open the lock of the database's keeper: %w", err)
	}
	defer file.Close()
	if !filelock.Try(file) {
		return nil
	}
	log, err := s.openLog()
	if err != nil {
		return err
	}
	defer log.Close()
	cmd := command(s.dir)
	cmd.Dir = "/"
	cmd.ExtraFiles = []*os.File{file}
	cmd.Stdout, cmd.Stderr = log, log
	detach(cmd)
	if err := cmd.Start(); err != nil {
		return fmt.Errorf("start the database's keeper: %w", err)
	}
	go cmd.Wait() // so that a program that runs longer than its keeper leaves no zombie
	return nil
}

func (s *Server) keeperLock() string { return filepath.Join(s.dir, "keeper.lock") }

// kept tells whether a keeper will stop the server. The caller holds the gate.
func (s *Server) kept() bool {
	lock, err := filelock.Open(s.keeperLock())
	if err != nil {
		return false
	}
	defer lock.Close()
	return !lock.TryExclusive()
}

// lookTime is how often a keeper looks whether anybody uses the server.
const lookTime = 5 * time.Second

// Keep is the keeper's whole life, in a process that startKeeper has started: it returns when the server has been
// stopped, after nobody has used it for so long, or when ctx ends.
func Keep(ctx context.Context, dir string, linger time.Duration) (err error) {
	if err := checkSupported(); err != nil {
		return err
	}
	own := os.NewFile(3, "keeper.lock") // what startKeeper hands over
	defer own.Close()
	s := &Server{dir: dir}
	if s.account, err = serverAccount(s.dataDir()); err != nil {
		return err
	}
	if s.gate, err = filelock.Open(filepath.Join(dir, "gate.lock")); err != nil {
		return err
	}
	defer s.gate.Close()
	if s.users, err = filelock.Open(filepath.Join(dir, "users.lock")); err != nil {
		return err
	}
	defer s.users.Close()
	seen := time.Now() // somebody at it
	for {
		select {
		case <-ctx.Done():
		case <-time.After(min(lookTime, linger/3)):
		}
		ended, err := s.look(ctx, &seen, linger)
		if ended || err != nil {
			return err
		}
	}
}

// look stops the server if nobody has used it for long enough.
func (s *Server) look(ctx context.Context, seen *time.Time, linger time.Duration) (ended bool, err error) {
	told := ctx.Err() != nil // to end at once
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), patience)
	defer cancel()
	if err := s.gate.Exclusive(ctx); err != nil {
		return false, fmt.Errorf("wait to look after the database in %s: %w", s.dir, err)
	}
	defer s.gate.Release()
	if !s.users.TryExclusive() {
		*seen = time.Now()
		return told, nil // the last one out stops it, for the keeper is gone then
	}
	defer s.users.Release()
	if left, err := os.Stat(filepath.Join(s.dir, "users.lock")); err == nil && left.ModTime().After(*seen) {
		*seen = left.ModTime()
	}
	if !told && time.Since(*seen) < linger {
		return false, nil
	}
	return true, s.stop(ctx)
}
