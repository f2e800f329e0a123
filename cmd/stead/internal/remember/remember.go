// Package remember keeps the request keys of changes whose end this program may never hear of: it is killed, the line is
// cut while the change is committed, the machine loses power. The key is written down before the change is tried and
// forgotten when its end is known, so what is kept is what nobody knows, and nothing grows.
//
// The very same command, given again, takes up the key that was left: what was done is then not done twice.
package remember

import (
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"stead/migrations/filelock"
)

// tooOld is when a key is forgotten without being asked for: long after anybody would repeat the command.
const tooOld = 90 * 24 * time.Hour

// Change is a change that was begun.
type Change struct {
	Key      string    `json:"key"`
	What     string    `json:"what"`
	Database string    `json:"database"` // where it was to be done
	Begun    time.Time `json:"begun"`
}

// Kept is a change that is written down, held by this program until it is forgotten or left.
type Kept struct {
	Change
	Earlier bool // an earlier run has begun it, and its end is not known
	file    *os.File
}

// Begin writes a change down in a folder, or takes up the same change that an earlier run has left there. A change that
// another program is at this moment doing is that program's own, and never taken up.
func Begin(folder string, c Change) (*Kept, error) {
	if err := makeFolder(folder); err != nil {
		return nil, fmt.Errorf("remember the request: %w", err)
	}
	kept, err := files(folder)
	if err != nil {
		return nil, err
	}
	for _, path := range kept {
		if !strings.HasPrefix(filepath.Base(path), nameOf(c)+"-") {
			continue
		}
		if k := takeUp(path, c); k != nil {
			return k, nil
		}
	}
	return write(folder, c)
}

// makeFolder makes a folder for this user alone, within the data folder: through that one others may walk, because
// root's database server, which is another user's, lives in it too.
func makeFolder(folder string) error {
	if folder == "" {
		return errors.New("there is no place for data")
	}
	if err := os.MkdirAll(filepath.Dir(folder), 0o711); err != nil {
		return err
	}
	err := os.Mkdir(folder, 0o700)
	switch {
	case errors.Is(err, os.ErrExist):
		return nil
	case err != nil:
		return err
	}
	return giveFolder(folder)
}

// nameOf is the same for the same change.
func nameOf(c Change) string {
	sum := sha256.Sum256([]byte(c.Database + "\n" + c.What))
	return fmt.Sprintf("%x", sum[:12])
}

// takeUp is the earlier run's change; nil where it is another's, or somebody is at it.
func takeUp(path string, c Change) *Kept {
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return nil
	}
	earlier, err := read(path)
	if err != nil || earlier.What != c.What || earlier.Database != c.Database || !filelock.Try(file) {
		file.Close()
		return nil
	}
	if _, err := os.Stat(path); err != nil { // forgotten while we looked
		file.Close()
		return nil
	}
	return &Kept{Change: earlier, Earlier: true, file: file}
}

// write makes the file under another name first: under its own it is whole and locked.
func write(folder string, c Change) (*Kept, error) {
	file, err := os.CreateTemp(folder, "new-")
	if err != nil {
		return nil, fmt.Errorf("remember the request: %w", err)
	}
	filelock.Try(file)
	text, err := json.Marshal(c)
	if err == nil {
		_, err = file.Write(text)
	}
	if err == nil {
		err = giveFile(file, folder)
	}
	if err == nil {
		err = file.Sync() // the change is synced too: after a power cut both are there
	}
	path := filepath.Join(folder, nameOf(c)+"-"+c.Key+".json")
	if err == nil {
		err = os.Rename(file.Name(), path)
	}
	if err != nil {
		file.Close()
		os.Remove(file.Name())
		return nil, fmt.Errorf("remember the request: %w", err)
	}
	return &Kept{Change: c, file: file}, nil
}

// Forget is called when the change's end is known.
func (k *Kept) Forget(folder string) {
	os.Remove(filepath.Join(folder, nameOf(k.Change)+"-"+k.Key+".json"))
	k.file.Close()
}

// Leave keeps the change for a later run.
func (k *Kept) Leave() { k.file.Close() }

// All are the changes whose end is not known, the oldest first.
func All(folder string) ([]Change, error) {
	paths, err := files(folder)
	if err != nil {
		return nil, err
	}
	var out []Change
	for _, path := range paths {
		if c, err := read(path); err == nil {
			out = append(out, c)
		}
	}
	slices.SortFunc(out, func(a, b Change) int { return a.Begun.Compare(b.Begun) })
	return out, nil
}

// ForgetKey forgets the change under a key, whatever it was, unless somebody is at it.
func ForgetKey(folder, key string) {
	paths, _ := filepath.Glob(filepath.Join(folder, "*-"+key+".json")) // the only error is a bad pattern
	for _, path := range paths {
		if file, err := os.OpenFile(path, os.O_RDWR, 0); err == nil {
			if filelock.Try(file) {
				os.Remove(path)
			}
			file.Close()
		}
	}
}

// files are the changes that are kept; those that are too old, and what a killed program left half written, go.
func files(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("look for remembered requests: %w", err)
	}
	var out []string
	for _, e := range entries {
		path := filepath.Join(folder, e.Name())
		info, err := e.Info()
		switch {
		case err != nil: // gone meanwhile
		case time.Since(info.ModTime()) > tooOld, strings.HasPrefix(e.Name(), "new-") && time.Since(info.ModTime()) > time.Hour:
			os.Remove(path)
		case strings.HasSuffix(e.Name(), ".json"):
			out = append(out, path)
		}
	}
	return out, nil
}

func read(path string) (c Change, err error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return c, err
	}
	return c, json.Unmarshal(text, &c)
}
